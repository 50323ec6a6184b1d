import type { Job, JobPhoto } from '../../core/job';
import { type Pixel, type Underlay, levelTurnDeg, mmPerPixel, pixelToMm } from '../../core/photo';

/** What is clicked on the photo, in this order, once its scale is set. */
export const MARKS = [
  { key: 'hinge', ask: 'Click the hinge pin.', name: 'Hinge' },
  { key: 'edge', ask: 'Click the free edge of the lid, closed.', name: 'Free edge' },
  { key: 'grip', ask: 'Click where the hand lifts.', name: 'Grip' },
  { key: 'base', ask: 'Click where the strut is fixed to the base.', name: 'Strut, base end' },
  { key: 'lid', ask: 'Click where the strut is fixed to the lid.', name: 'Strut, lid end' },
  { key: 'mass', ask: 'Click the middle of the weight.', name: 'Centre of mass' },
] as const;
export type MarkKey = (typeof MARKS)[number]['key'];
export type WizardStep = 'levelFrom' | 'levelTo' | 'scaleFrom' | 'scaleTo' | 'length' | MarkKey;

/** A lid being traced from one side photo. Everything is kept in photo pixels, so that any step can be redone. */
export interface Wizard {
  readonly photo: {
    readonly dataUrl: string;
    readonly widthPx: number;
    readonly heightPx: number;
    readonly name: string;
    readonly focal?: JobPhoto['focal'] | null;
  };
  readonly step: WizardStep;
  /** Two marks that are level or plumb with each other; left out, the photo is turned by rotationDeg as typed. */
  readonly levelFrom: Pixel | null;
  readonly levelTo: Pixel | null;
  readonly along: 'level' | 'plumb';
  /** Turn of the photo, anticlockwise; null until levelled or passed over. */
  readonly rotationDeg: number | null;
  readonly scaleFrom: Pixel | null;
  readonly scaleTo: Pixel | null;
  readonly lengthMm: number | null;
  readonly marks: Partial<Record<MarkKey, Pixel>>;
  /** What one side photo can't show; assumed until typed. */
  readonly widthMm: number;
  readonly kg: number;
}

export const WIZARD_STEPS: readonly WizardStep[] = [
  'levelFrom',
  'levelTo',
  'scaleFrom',
  'scaleTo',
  'length',
  ...MARKS.map((m) => m.key),
];

export function startWizard(photo: Wizard['photo']): Wizard {
  return {
    photo,
    step: 'levelFrom',
    levelFrom: null,
    levelTo: null,
    along: 'level',
    rotationDeg: null,
    scaleFrom: null,
    scaleTo: null,
    lengthMm: null,
    marks: {},
    widthMm: 900,
    kg: 25,
  };
}

export const stepDone = (w: Wizard, step: WizardStep): boolean =>
  step === 'levelFrom' || step === 'levelTo'
    ? w.rotationDeg !== null || (step === 'levelFrom' && w.levelFrom !== null)
    : step === 'scaleFrom'
      ? w.scaleFrom !== null
      : step === 'scaleTo'
        ? w.scaleTo !== null
        : step === 'length'
          ? w.lengthMm !== null
          : w.marks[step] !== undefined;

/** The first step that still lacks its answer, or null when all are there. */
export const nextStep = (w: Wizard): WizardStep | null => WIZARD_STEPS.find((step) => !stepDone(w, step)) ?? null;

const advance = (w: Wizard): Wizard => ({ ...w, step: nextStep(w) ?? w.step });

/** A click on the photo answers the present step. */
export function clickWizard(w: Wizard, px: Pixel): Wizard {
  switch (w.step) {
    case 'levelFrom':
      if (!w.levelTo) return advance({ ...w, levelFrom: px, rotationDeg: null });
      if (mmPerPixel(px, w.levelTo, 1) === null) return w;
      return advance({ ...w, levelFrom: px, rotationDeg: levelTurnDeg(px, w.levelTo, w.along) });
    case 'levelTo':
      // after a typed turn there is no first mark yet: this is it
      if (!w.levelFrom) return advance({ ...w, levelFrom: px, rotationDeg: null });
      if (mmPerPixel(w.levelFrom, px, 1) === null) return w;
      return advance({ ...w, levelTo: px, rotationDeg: levelTurnDeg(w.levelFrom, px, w.along) });
    case 'scaleFrom':
      return advance({ ...w, scaleFrom: px });
    case 'scaleTo':
      // both marks on one pixel are no length: wait for another click
      return w.scaleFrom && mmPerPixel(w.scaleFrom, px, 1) !== null ? advance({ ...w, scaleTo: px }) : w;
    case 'length':
      return w;
    default:
      return advance({ ...w, marks: { ...w.marks, [w.step]: px } });
  }
}

/** The photo's turn as typed (0: the camera was level), instead of two marks. */
export const setWizardTurn = (w: Wizard, rotationDeg: number): Wizard =>
  advance({ ...w, levelFrom: null, levelTo: null, rotationDeg });
/** Whether the two marks are level or plumb with each other. */
export const setWizardAlong = (w: Wizard, along: Wizard['along']): Wizard => ({
  ...w,
  along,
  ...(w.levelFrom && w.levelTo ? { rotationDeg: levelTurnDeg(w.levelFrom, w.levelTo, along) } : {}),
});
export const setWizardLength = (w: Wizard, lengthMm: number): Wizard => advance({ ...w, lengthMm });
export const redoStep = (w: Wizard, step: WizardStep): Wizard => ({ ...w, step });

/** The photo under the side view while tracing: its middle at 0, 0 until the hinge is clicked. */
export function wizardUnderlay(w: Wizard): Underlay {
  const scale = w.scaleFrom && w.scaleTo && w.lengthMm !== null ? mmPerPixel(w.scaleFrom, w.scaleTo, w.lengthMm) : null;
  return {
    anchorPx: w.marks.hinge ?? [w.photo.widthPx / 2, w.photo.heightPx / 2],
    anchorMm: [0, 0],
    mmPerPx: scale ?? 1500 / w.photo.widthPx,
    rotationRad: ((w.rotationDeg ?? 0) * Math.PI) / 180,
  };
}

const round = (x: number): number => Math.round(x * 10) / 10;

/**
 * The job that the clicks describe: origin at the hinge, the lid's width and mass as typed (or assumed), a strut whose
 * lengths fit its pivots roughly so that every result is live. Null while a click is missing.
 */
export function jobFromWizard(w: Wizard, openDeg = 75): Job | null {
  if (nextStep(w) !== null) return null;
  const underlay = wizardUnderlay(w);
  const at = (key: MarkKey): [number, number] => {
    const [x, z] = pixelToMm(underlay, w.marks[key] as Pixel);
    return [round(x), round(z)];
  };
  const half = w.widthMm / 2;
  const side = -Math.round(half - 40);
  const [hinge, edge, grip, base, lid, mass] = MARKS.map((m) => at(m.key)) as [number, number][];
  const point = (id: string, name: string, on: 'base' | 'lid', [x, z]: [number, number], y: number) => ({
    id,
    name,
    on,
    at: [x, y, z] as [number, number, number],
  });
  // a strut that fits roughly: closed length over compressed length, open length from turning the lid pivot
  const closed = Math.hypot(lid![0] - base![0], lid![1] - base![1]);
  const sign = edge![0] >= hinge![0] ? 1 : -1;
  const turn = (sign * openDeg * Math.PI) / 180;
  const [rx, rz] = [lid![0] - hinge![0], lid![1] - hinge![1]];
  const opened: [number, number] = [
    hinge![0] + rx * Math.cos(turn) - rz * Math.sin(turn),
    hinge![1] + rx * Math.sin(turn) + rz * Math.cos(turn),
  ];
  const open = Math.hypot(opened[0] - base![0], opened[1] - base![1]);
  const strokeMm = Math.max(20, Math.ceil((Math.max(open, closed) - Math.min(open, closed) + 16) / 5) * 5);
  const extendedMm = Math.max(Math.ceil(Math.max(open, closed)) + 8, 2 * strokeMm + 60);
  const arm = Math.max(30, Math.abs(rx * (base![1] - hinge![1]) - rz * (base![0] - hinge![0])) / Math.max(closed, 1));
  const momentNmm = w.kg * 9.80665 * Math.abs(mass![0] - hinge![0]);
  const forceN = Math.min(5000, Math.max(100, Math.round((1.15 * momentNmm) / arm / 50) * 50));
  const photo: JobPhoto = {
    id: 'side',
    name: w.photo.name,
    view: 'side',
    source: { inside: w.photo.dataUrl },
    widthPx: w.photo.widthPx,
    heightPx: w.photo.heightPx,
    scale: { from: [...(w.scaleFrom as Pixel)], to: [...(w.scaleTo as Pixel)], lengthMm: w.lengthMm as number },
    rotationDeg: Math.round((w.rotationDeg ?? 0) * 1000) / 1000,
    ...(w.photo.focal ? { focal: w.photo.focal } : {}),
    anchorPx: [...(w.marks.hinge as Pixel)],
    anchorMm: [0, 0],
    opacity: 0.6,
  };
  return {
    format: 'lidwright-job',
    version: 1,
    title: `Lid from ${w.photo.name}`,
    points: [
      point('hingeA', 'Port hinge', 'base', hinge!, half),
      point('hingeB', 'Starboard hinge', 'base', hinge!, -half),
      point('c1', 'Corner at port hinge', 'lid', hinge!, half),
      point('c2', 'Corner at port edge', 'lid', edge!, half),
      point('c3', 'Corner at starboard edge', 'lid', edge!, -half),
      point('c4', 'Corner at starboard hinge', 'lid', hinge!, -half),
      point('grip', 'Grip', 'lid', grip!, 0),
      point('s1-base', 'Strut, base end', 'base', base!, side),
      point('s1-lid', 'Strut, lid end', 'lid', lid!, side),
      point('cg-lid', 'Centre of mass', 'lid', mass!, 0),
    ],
    hinge: { a: 'hingeA', b: 'hingeB', opens: 'up', frictionNm: 0 },
    travel: { openDeg, stop: 'lid' },
    grip: 'grip',
    outline: ['c1', 'c2', 'c3', 'c4'],
    masses: [{ id: 'lid', name: 'Lid', kg: w.kg, at: 'cg-lid' }],
    struts: [
      {
        id: 's1',
        name: 'The strut',
        base: 's1-base',
        lid: 's1-lid',
        quantity: 1,
        spec: { extendedMm, strokeMm, forceN, ratio: 1.35, rodMm: 8, tubeMm: 18, frictionN: 30, toleranceN: [-25, 25] },
        ends: {
          base: { fitting: 'ball-stud', rangeDeg: 18, stem: [0, -1, 0] },
          lid: { fitting: 'ball-stud', rangeDeg: 18, stem: [0, -1, 0] },
        },
      },
    ],
    loadCases: [
      { id: 'normal', name: 'As used, 20 °C', off: [], pitchDeg: 0, rollDeg: 0, tempC: 20, force: 'nominal' },
      { id: 'cold', name: 'Cold, weak strut', off: [], pitchDeg: 0, rollDeg: 0, tempC: -10, force: 'low' },
    ],
    limits: { handOpenN: 150, handCloseN: 200, reserveMm: 5, holdOpenNm: 5 },
    photos: [photo],
  };
}
