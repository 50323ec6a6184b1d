import type { Job, JobPhoto } from '../job';
import { type Pixel, type Underlay, type ViewMm, levelTurnDeg, mmPerPixel, pixelToMm, underlayOf } from '../photo';
import { PLACES, type PlaceName, jobOfLid } from './lid';

/** A lid being traced from one side photo. Everything is kept in photo pixels, so that any step can be redone. */
export interface Trace {
  readonly photo: {
    readonly dataUrl: string;
    readonly widthPx: number;
    readonly heightPx: number;
    readonly name: string;
    readonly focal?: JobPhoto['focal'] | null;
  };
  /** Two marks that are level or plumb with each other; left out, the photo is turned by rotationDeg as typed. */
  readonly levelFrom: Pixel | null;
  readonly levelTo: Pixel | null;
  readonly along: 'level' | 'plumb';
  /** Turn of the photo, anticlockwise; null until levelled or passed over. */
  readonly rotationDeg: number | null;
  readonly scaleFrom: Pixel | null;
  readonly scaleTo: Pixel | null;
  readonly lengthMm: number | null;
  readonly marks: Partial<Record<PlaceName, Pixel>>;
  /** From hinge to free edge, where it is known: held against what is traced, mm. */
  readonly depthMm: number | null;
  /** What one side photo can't show; assumed until typed. */
  readonly widthMm: number;
  readonly kg: number;
  readonly openDeg: number;
}

/** What is asked for, in this order: the places once the photo is levelled and has its scale. */
export const TRACE_STEPS = ['levelFrom', 'levelTo', 'scaleFrom', 'scaleTo', 'length', ...PLACES] as const;
export type TraceStep = (typeof TRACE_STEPS)[number];

/** What one side photo can't show, until somebody says it. */
const TAKEN = { widthMm: 900, kg: 25, openDeg: 75 } as const;

/** Nothing clicked yet; a width, a mass and a travel assumed. */
export const startTrace = (photo: Trace['photo']): Trace => ({
  photo,
  levelFrom: null,
  levelTo: null,
  along: 'level',
  rotationDeg: null,
  scaleFrom: null,
  scaleTo: null,
  lengthMm: null,
  marks: {},
  depthMm: null,
  ...TAKEN,
});

/** Whether a step has its answer. */
export function stepDone(t: Trace, step: TraceStep): boolean {
  switch (step) {
    case 'levelFrom':
      return t.rotationDeg !== null || t.levelFrom !== null;
    case 'levelTo':
      return t.rotationDeg !== null;
    case 'scaleFrom':
    case 'scaleTo':
      return t[step] !== null;
    case 'length':
      return t.lengthMm !== null;
    case 'hinge':
    case 'edge':
    case 'base':
    case 'lid':
    case 'grip':
    case 'mass':
      return t.marks[step] !== undefined;
  }
}

/** The first step that still lacks its answer, or null when all are there. */
export const nextStep = (t: Trace): TraceStep | null => TRACE_STEPS.find((step) => !stepDone(t, step)) ?? null;

const apart = (a: Pixel, b: Pixel): boolean => mmPerPixel(a, b, 1) !== null;

/** A lid is no shallower than this from hinge to free edge, mm; without a scale yet, share of the photo's longer side. */
const LEAST_DEPTH_MM = 50;
const LEAST_DEPTH_SHARE = 0.02;

/** Why a click can't answer a step, in a sentence; null where it can. */
export function clickIssue(t: Trace, step: TraceStep, px: Pixel): string | null {
  if (step === 'edge' || step === 'hinge') {
    const other = t.marks[step === 'edge' ? 'hinge' : 'edge'];
    if (!other) return null;
    const far = Math.hypot(px[0] - other[0], px[1] - other[1]);
    const { mmPerPx } = traceUnderlay(t);
    const scaled = t.scaleFrom && t.scaleTo && t.lengthMm !== null;
    const near = scaled
      ? far * mmPerPx < LEAST_DEPTH_MM
      : far < LEAST_DEPTH_SHARE * Math.max(t.photo.widthPx, t.photo.heightPx);
    return near ? 'The free edge can’t lie on the hinge: it is the edge that swings. Click again.' : null;
  }
  return answerStep(t, step, px) ? null : 'That is where the other mark is. Click its fellow, well apart.';
}

/** From hinge to free edge as traced, mm; null until both are marked and the photo has its scale. */
export function tracedDepth(t: Trace): number | null {
  const { hinge, edge } = t.marks;
  if (!hinge || !edge || !t.scaleFrom || !t.scaleTo || t.lengthMm === null) return null;
  return Math.hypot(edge[0] - hinge[0], edge[1] - hinge[1]) * traceUnderlay(t).mmPerPx;
}

/** How far the traced depth is off the known one, as a share of it; null where either is not there. */
export const depthOff = (t: Trace): number | null => {
  const mm = tracedDepth(t);
  return mm === null || t.depthMm === null ? null : mm / t.depthMm - 1;
};

/** The photo's scale from the depth that is known: the length between the scale's marks follows. */
export const scaleByDepth = <T extends Trace>(t: T): T => {
  const off = depthOff(t);
  return off === null ? t : { ...t, lengthMm: t.lengthMm! / (1 + off) };
};

/** A click on the photo as the answer to a step; null where it is none (a second mark on the pixel of the first). */
export function answerStep<T extends Trace>(t: T, step: TraceStep, px: Pixel): T | null {
  switch (step) {
    case 'levelFrom':
    case 'levelTo': {
      const other = step === 'levelFrom' ? t.levelTo : t.levelFrom;
      // after a typed turn there is no first mark yet: this is it
      if (!other) return { ...t, levelFrom: px, rotationDeg: null };
      return apart(px, other) ? levelled({ ...t, [step]: px }) : null;
    }
    case 'scaleFrom':
      return { ...t, scaleFrom: px };
    case 'scaleTo':
      return t.scaleFrom && apart(t.scaleFrom, px) ? { ...t, scaleTo: px } : null;
    case 'length':
      return null;
    case 'hinge':
    case 'edge':
    case 'base':
    case 'lid':
    case 'grip':
    case 'mass':
      return { ...t, marks: { ...t.marks, [step]: px } };
  }
}

const levelled = <T extends Trace>(t: T): T =>
  t.levelFrom && t.levelTo ? { ...t, rotationDeg: levelTurnDeg(t.levelFrom, t.levelTo, t.along) } : t;

/** The photo's turn as typed (0: the camera was level), instead of two marks. */
export const turnTrace = <T extends Trace>(t: T, rotationDeg: number): T => ({
  ...t,
  levelFrom: null,
  levelTo: null,
  rotationDeg,
});

/** Whether the two marks are level or plumb with each other. */
export const traceAlong = <T extends Trace>(t: T, along: Trace['along']): T => levelled({ ...t, along });

/** The photo as a job keeps it, as far as it is traced: the hinge at 0, 0. */
function tracedPhoto(t: Trace) {
  const { scaleFrom, scaleTo, lengthMm, photo } = t;
  return {
    id: 'side',
    name: photo.name,
    view: 'side' as const,
    source: { inside: photo.dataUrl },
    widthPx: photo.widthPx,
    heightPx: photo.heightPx,
    ...(scaleFrom && scaleTo && lengthMm !== null
      ? { scale: { from: [...scaleFrom] as [number, number], to: [...scaleTo] as [number, number], lengthMm } }
      : {}),
    rotationDeg: t.rotationDeg ?? 0,
    ...(photo.focal ? { focal: photo.focal } : {}),
    anchorPx: [...(t.marks.hinge ?? [photo.widthPx / 2, photo.heightPx / 2])] as [number, number],
    anchorMm: [0, 0] as [number, number],
    opacity: 0.6,
  };
}

/** The photo under the side view while tracing: its middle at 0, 0 until the hinge is clicked. */
export const traceUnderlay = (t: Trace): Underlay => underlayOf(tracedPhoto(t));

const tenth = (x: number): number => Math.round(x * 10) / 10;

/** The job that the clicks describe: origin at the hinge, places to 0.1 mm. Null while a click is missing. */
export function jobFromTrace(t: Trace): Job | null {
  if (nextStep(t) !== null) return null;
  const underlay = traceUnderlay(t);
  const photo = tracedPhoto(t);
  const place = (name: PlaceName): [PlaceName, ViewMm] => {
    const [x, z] = pixelToMm(underlay, t.marks[name]!);
    return [name, [tenth(x), tenth(z)]];
  };
  return jobOfLid({
    title: `Lid from ${t.photo.name}`,
    places: Object.fromEntries(PLACES.map(place)) as Record<PlaceName, ViewMm>,
    widthMm: t.widthMm,
    kg: t.kg,
    openDeg: t.openDeg,
    assumed: [
      ...(t.kg === TAKEN.kg ? ['masses.lid.kg'] : []),
      ...(t.openDeg === TAKEN.openDeg ? ['travel.openDeg'] : []),
    ],
    photos: [{ ...photo, rotationDeg: Math.round(photo.rotationDeg * 1000) / 1000 }],
  });
}
