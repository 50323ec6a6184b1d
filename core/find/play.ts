import { stemOf } from '../travel';
import { type Vec3, acos, asin, dot, toDeg } from '../space';
import type { EndName, Job } from '../job';
import { METRIC } from '../quantity';
import { type Workings, workingsOf } from '../workings';
import { judged } from './verdict';
import { type Fitted, applyPlace } from './apply';
import { type Body, type Field, fieldOf, toAxes } from './field';
import { type Quick, quickOf } from './quick';
import { gaussian, seeded } from './random';

/** No play is looked for over this, mm. */
const MOST_MM = 60;
/** Slopes are taken over so much either way, mm. */
const STEP_MM = 0.02;
/** Demands told apart: the judge's six, both joints, the dead centre, the twin. */
const DEMANDS = 10;
/** Directions tried at random against what the slopes found. */
const TRIES = 120;

const ENDS = ['base', 'lid'] as const;

/** What of a place its play asks. */
type Posed = Pick<Fitted, 'base' | 'lid' | 'quantity' | 'openDeg'> & {
  readonly ends: Readonly<Record<EndName, { readonly stem: Vec3 }>>;
};

/** Where both balls may go: six numbers, mm. */
type Off = Float64Array;

/**
 * The least radius, mm, rounded down to 0.1, by which both balls may be off their marks at once, each in any direction, before a
 * demand breaks: stems, strut and opening stay as they are. Each demand is followed the way it falls fastest (a way of its own for
 * either ball, the slope taken anew where that leads); then random directions are tried against what came out. A gap to what stands
 * in the way shrinks by no more than the balls move, so its margin bounds the play directly; what only the full findings know (let
 * go, rated hinges) is bounded by its slope.
 */
export function playOf(
  field: Field,
  quick: Quick,
  place: Posed,
  fit: {
    readonly body: Body;
    readonly force: number;
    readonly workings: Workings;
    /** Which balls may be off; both where not said. */
    readonly balls?: readonly EndName[];
    /** The job with one ball elsewhere; the place applied there where not said. */
    readonly jobWith?: (end: EndName, at: Vec3) => Job;
  },
): number {
  const { body, force, workings, balls = ENDS } = fit;
  const jobWith =
    fit.jobWith ??
    ((end: EndName, at: Vec3): Job =>
      applyPlace(field.raw, { strutIndex: field.strutIndex, place: { ...(place as Fitted), [end]: at } }));
  const o = field.opens.findIndex((end) => end.deg === place.openDeg);
  const quantity = place.quantity === 2 ? 1 : 0;
  const [base, lid] = [toAxes(field, place.base), toAxes(field, place.lid)];
  const inAxes = (v: Vec3): Vec3 => [dot(v, field.x), dot(v, field.y), dot(v, field.axis.opening)];
  const stems = { base: inAxes(place.ends.base.stem), lid: inAxes(place.ends.lid.stem) };
  const one = new Float64Array(3);
  const offDeg = (end: 'base' | 'lid'): number => {
    const n = stems[end];
    const { axial } = field.ends[end];
    let worst = axial ? 1 : 0;
    for (let i = 0, rows = quick.rows(); i < rows; i++) {
      quick.direction(end, i, one);
      const d = Math.abs(n[0] * one[0]! + n[1] * one[1]! + n[2] * one[2]!);
      worst = axial ? Math.min(worst, d) : Math.max(worst, d);
    }
    return toDeg(axial ? acos(Math.min(1, worst)) : asin(Math.min(1, worst)));
  };
  /** Every demand with both balls off by so much: under 0 it is broken. */
  const demands = (off: Off, into: Float64Array): void => {
    quick.pose(
      [base[0] + off[0]!, base[1] + off[1]!, base[2] + off[2]!],
      [lid[0] + off[3]!, lid[1] + off[4]!, lid[2] + off[5]!],
      o,
      1,
    );
    quick.shares(body, force, quantity, into);
    into[6] = field.ends.base.rangeDeg - offDeg('base');
    into[7] = field.ends.lid.rangeDeg - offDeg('lid');
    into[8] = quick.dead() < 0 ? quick.dead() : 1;
    into[9] = quantity === 1 ? quick.twinGapMm(body) : 1;
  };
  const off = new Float64Array(6);
  const [high, low, now] = [new Float64Array(DEMANDS), new Float64Array(DEMANDS), new Float64Array(DEMANDS)];
  const slopesAt = (at: Off): Float64Array[] => {
    const rows = Array.from({ length: DEMANDS }, () => new Float64Array(6));
    const moved = new Float64Array(at);
    for (let i = 0; i < 6; i++) {
      moved[i] = at[i]! + STEP_MM;
      demands(moved, high);
      moved[i] = at[i]! - STEP_MM;
      demands(moved, low);
      moved[i] = at[i]!;
      for (let d = 0; d < DEMANDS; d++) rows[d]![i] = (high[d]! - low[d]!) / (2 * STEP_MM);
    }
    return rows;
  };
  const [ofBase, ofLid] = [Number(balls.includes('base')), Number(balls.includes('lid'))];
  const sizeOf = (row: Float64Array): [number, number] => [
    ofBase * Math.hypot(row[0]!, row[1]!, row[2]!),
    ofLid * Math.hypot(row[3]!, row[4]!, row[5]!),
  ];
  const downhill = (row: Float64Array, radius: number, into: Off): void => {
    const [b, l] = sizeOf(row);
    for (let i = 0; i < 3; i++) {
      into[i] = b > 0 ? (-radius * row[i]!) / b : 0;
      into[i + 3] = l > 0 ? (-radius * row[i + 3]!) / l : 0;
    }
  };
  demands(off, now);
  const [at0, slopes] = [Float64Array.from(now), slopesAt(off)];
  let radius = MOST_MM;
  const guesses = Array.from(slopes, (row, d) => {
    const [b, l] = sizeOf(row);
    return { d, mm: b + l > 1e-12 ? at0[d]! / (b + l) : Infinity };
  }).sort((a, b) => a.mm - b.mm);
  for (const { d, mm } of guesses) {
    if (!(mm < 2 * radius)) continue;
    // where the way down leads, the slope is taken again, twice
    let row = slopes[d]!;
    let found = Math.min(mm, radius);
    for (let round = 0; round < 2; round++) {
      downhill(row, found, off);
      demands(off, now);
      const slope = sizeOf(row);
      const per = slope[0] + slope[1];
      if (per > 1e-12) found = Math.max(0, found + now[d]! / per);
      downhill(row, Math.min(found, MOST_MM), off);
      row = slopesAt(off)[d]!;
    }
    // the root along the last way
    let [ok, bad] = [0, Math.min(MOST_MM, found * 1.5 + 0.5)];
    downhill(row, bad, off);
    demands(off, now);
    if (now[d]! >= 0) continue;
    for (let i = 0; i < 14; i++) {
      const middle = (ok + bad) / 2;
      downhill(row, middle, off);
      demands(off, now);
      if (now[d]! >= 0) ok = middle;
      else bad = middle;
    }
    radius = Math.min(radius, ok);
  }
  const draw = seeded(7);
  for (let t = 0; t < TRIES && radius > 0.05; t++) {
    const way = new Float64Array(6);
    for (const from of [0, 3]) {
      const v = [gaussian(draw), gaussian(draw), gaussian(draw)];
      const size = Math.hypot(...v) || 1;
      for (let i = 0; i < 3; i++) way[from + i] = ((from === 0 ? ofBase : ofLid) * v[i]!) / size;
    }
    const broken = (r: number): boolean => {
      for (let i = 0; i < 6; i++) off[i] = way[i]! * r;
      demands(off, now);
      return now.some((v) => v < 0);
    };
    while (radius > 0.05 && broken(radius)) radius -= Math.max(0.05, 0.03 * radius);
  }
  return Math.max(0, Math.floor(Math.min(radius, slowPlay(place, workings, balls, jobWith)) * 10 + 1e-9) / 10);
}

/**
 * What only the full findings know: gaps by their margin, ratings and let go by their slope. What is past its limit in a place that nothing
 * fails can't fail (its limit is assumed): it bounds nothing.
 */
function slowPlay(
  place: Pick<Fitted, EndName>,
  workings: Workings,
  balls: readonly EndName[],
  jobWith: (end: EndName, at: Vec3) => Job,
): number {
  const brackets = new Set(workings.job.brackets.flatMap((b) => [`clearance-${b.id}`, `clearance-joint-${b.id}`]));
  let radius = Infinity;
  for (const { id, margin } of workings.findings)
    if (id.startsWith('clearance-') && !brackets.has(id) && margin !== null && margin >= 0)
      radius = Math.min(radius, margin);
  const rated = ['let-go-open', 'let-go-shut', 'hinge-load', 'hinge-screws', 'socket-pull'];
  const margins = (w: Workings): number[] =>
    rated.map((id) => w.findings.find((f) => f.id === id && f.limit !== null)?.margin ?? Infinity);
  const here = margins(workings).map((margin) => (margin < 0 ? Infinity : margin));
  if (here.every((m) => m === Infinity)) return Math.max(0, radius);
  const mm = 0.5;
  const slopes = balls.map((end) =>
    [0, 1, 2].map((k) => {
      const at = [-1, 1].map((sign) => {
        const moved = place[end].map((v, i) => (i === k ? v + sign * mm : v)) as unknown as Vec3;
        const job = jobWith(end, moved);
        return margins(workingsOf(job, METRIC, workings));
      });
      return here.map((_, i) => (at[1]![i]! - at[0]![i]!) / (2 * mm));
    }),
  );
  here.forEach((margin, i) => {
    if (margin === Infinity) return;
    const per = slopes.reduce((sum, ways) => sum + Math.hypot(...ways.map((w) => w[i]!)), 0);
    if (per > 0) radius = Math.min(radius, margin / per);
  });
  return Math.max(0, radius);
}

/** How far the balls of a strut as it is fitted may be off their marks, mm: both at once, and either alone. */
export interface Play {
  readonly bothMm: number;
  readonly baseMm: number;
  readonly lidMm: number;
}

/**
 * The play of a strut as it is fitted (by id; the first without one), rounded down to 0.1 mm; null where something fails as it is. What is
 * worked out of the job already is not worked out again.
 * Throws a LidwrightError where the job can't be computed.
 */
export function playNow(raw: Job, strutId?: string, workings = workingsOf(raw, METRIC)): Play | null {
  const field = fieldOf(raw, { asFitted: true, ...(strutId === undefined ? {} : { strutId }) });
  const { job, strutIndex } = field;
  const strut = job.struts[strutIndex]!;
  if (judged(workings, strutIndex).refused.length > 0) return null;
  const at = (end: EndName): Vec3 => job.points.find((p) => p.id === strut[end])!.at;
  const ends = { base: { stem: stemOf(strut.ends.base) }, lid: { stem: stemOf(strut.ends.lid) } };
  const place = { base: at('base'), lid: at('lid'), quantity: strut.quantity, openDeg: field.opens[0]!.deg, ends };
  const jobWith = (end: EndName, to: Vec3): Job => ({
    ...raw,
    points: raw.points.map((p) => (p.id === strut[end] ? { ...p, at: to } : p)),
  });
  const quick = quickOf(field);
  const of = (balls: readonly EndName[]): number =>
    playOf(field, quick, place, { body: field.bodies[0]!, force: 0, workings, balls, jobWith });
  return { bothMm: of(ENDS), baseMm: of(['base']), lidMm: of(['lid']) };
}
