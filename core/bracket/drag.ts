import { fail } from '../error';
import { type Bracket, indexOf, type Job, type Path, resolveJob, setValue, valueAt } from '../job';
import { isBent, isPinned } from './body';
import { LONGEST_MM } from './check/issue';
import { type BracketEdge, KINDS } from './kinds';
import { PATTERN_ACROSS } from './pattern';
import { bracketSpecOf } from './spec';
import type { BracketSpec } from './types';

/** A place on a leg, mm: from the centre line (+y), and along: fixings from the free end; the stud by its height, or on a flat plate from its own end. */
export interface LegPlace {
  readonly acrossMm: number;
  readonly alongMm: number;
}

const SAME_MM = 0.01;
const fine = (mm: number): number => Math.round(mm * 100) / 100;
const clamp = (value: number, low: number, high: number): number =>
  low > high ? (low + high) / 2 : Math.min(high, Math.max(low, value));

/** A job's bracket as it is dragged: resolved, as a spec, and the way to its keys. */
interface Dragged {
  readonly plain: Bracket;
  readonly spec: BracketSpec;
  readonly at: (...keys: (string | number)[]) => Path;
}
function draggedIn(job: Job, id: string): Dragged {
  const i = indexOf(job, 'brackets', id);
  const plain = resolveJob(job).brackets[i]!;
  return { plain, spec: bracketSpecOf(plain), at: (...keys) => ['brackets', i, ...keys] };
}

/** Writes a length over a plain number; refuses one that a given or an expression holds. */
function put(job: Job, path: Path, valueMm: number, name: string, leastMm = 0): Job {
  const raw = valueAt(job, path);
  if (raw !== undefined && typeof raw !== 'number') {
    if (Math.abs(valueMm - (valueAt(resolveJob(job) as unknown as Job, path) as number)) < SAME_MM) return job;
    const held = raw as { given?: string; expression?: string };
    return fail(
      `the ${name} is held by ${held.given ? `the given "${held.given}"` : `the expression ${held.expression ?? ''}`}`,
      path,
      'Change it at its source, or type a number over it.',
    );
  }
  if (!Number.isFinite(valueMm) || Math.abs(valueMm) > LONGEST_MM || valueMm <= leastMm)
    return fail(
      `the ${name} cannot be ${fine(valueMm)} mm`,
      path,
      `Keep it over ${fine(leastMm)} and up to ${LONGEST_MM} mm.`,
    );
  const value = fine(valueMm);
  return raw === value ? job : setValue(job, { path, value });
}

/** As `put`, for a distance that may have either sign. */
const putAcross = (job: Job, path: Path, valueMm: number): Job =>
  put(job, path, valueMm, 'distance from the centre line', -LONGEST_MM);

/** Half the width of the fixed leg at a distance from its free end, mm. */
function halfWidthAt(spec: BracketSpec, fromEndMm: number): number {
  if (isBent(spec)) return spec.baseWidthMm / 2;
  const along = Math.min(1, Math.max(0, fromEndMm / spec.baseLegMm));
  return (spec.baseWidthMm + (spec.topWidthMm - spec.baseWidthMm) * along) / 2;
}

/** Keeps a fixing's centre as far from the edges as the bracket's relation says. */
function keptInside({ plain, spec }: Dragged, to: LegPlace): LegPlace {
  const edge = plain.keep?.edgeMm;
  if (edge === undefined) return to;
  const most = isBent(spec) ? spec.baseLegMm : spec.baseLegMm - edge;
  const alongMm = isPinned(spec) ? to.alongMm : clamp(to.alongMm, edge, most);
  const room = halfWidthAt(spec, alongMm) - edge;
  return { alongMm, acrossMm: clamp(to.acrossMm, -room, room) };
}

function dragPattern(job: Job, { plain, at }: Dragged, index: number, to: LegPlace): Job {
  const pattern = plain.baseHole!;
  const across = pattern.across ?? PATTERN_ACROSS;
  const row = Math.floor(index / across);
  const column = (index % across) - (across - 1) / 2;
  const key = (name: string): Path => at('baseHole', name);
  const d = pattern.diameterMm;
  let next = job;
  if (Math.abs(column) > 1e-9) next = put(next, key('spacingMm'), to.acrossMm / column, 'spacing of the holes', d);
  if (row === 0) return put(next, key('fromEndMm'), to.alongMm, 'distance from the end');
  return put(next, key('rowSpacingMm'), (to.alongMm - pattern.fromEndMm) / row, 'spacing of the rows', d);
}

function dragFree(job: Job, { plain, spec, at }: Dragged, index: number, to: LegPlace): Job {
  const hole = spec.fixings[index]!;
  const mirrored = plain.keep?.mirrored === true;
  const onMiddle = mirrored && Math.abs(hole.acrossMm) < SAME_MM;
  const twin = spec.fixings.findIndex(
    (h, k) =>
      k !== index && Math.abs(h.acrossMm + hole.acrossMm) < SAME_MM && Math.abs(h.fromEndMm - hole.fromEndMm) < SAME_MM,
  );
  const acrossMm = onMiddle ? 0 : to.acrossMm;
  const move = (from: Job, k: number, y: number): Job =>
    put(
      putAcross(from, at('fixings', k, 'acrossMm'), y),
      at('fixings', k, 'fromEndMm'),
      to.alongMm,
      'distance from the end',
    );
  const moved = move(job, index, acrossMm);
  return mirrored && twin >= 0 && !onMiddle ? move(moved, twin, -acrossMm) : moved;
}

function dragStud(job: Job, { plain, spec, at }: Dragged, to: LegPlace): Job {
  const bent = isBent(spec);
  const edge = plain.keep?.edgeMm;
  const [key, name] = bent ? ['heightMm', 'height of the stud'] : ['fromEndMm', 'distance from the end'];
  const most = bent ? spec.uprightLegMm : spec.baseLegMm;
  const alongMm = edge === undefined ? to.alongMm : clamp(to.alongMm, bent ? 0 : edge, most - edge);
  if (!(alongMm > 0 && alongMm < most))
    fail(
      `the stud at ${fine(alongMm)} mm is off the plate`,
      at('studHole', key),
      `Keep it between 0 and ${fine(most)} mm.`,
    );
  const wasMm = spec.studHole.acrossMm;
  const widest = Math.max(spec.topWidthMm, spec.baseWidthMm) / 2;
  const inside = edge === undefined ? to.acrossMm : clamp(to.acrossMm, edge - widest, widest - edge);
  const acrossMm = plain.keep?.mirrored === true && Math.abs(wasMm) < SAME_MM ? 0 : inside;
  if (Math.abs(acrossMm) >= widest)
    fail(
      `the stud at ${fine(acrossMm)} mm from the centre line is off the plate`,
      at('studHole', 'acrossMm'),
      'Drag it less far.',
    );
  const next = put(job, at('studHole', key), alongMm, name);
  return Math.abs(acrossMm - wasMm) < 1e-9 ? next : putAcross(next, at('studHole', 'acrossMm'), acrossMm);
}

/**
 * Moves a hole of a bracket to a place on its leg: a fixing by its id (`fix1`… in a pattern, which stays a pattern: its spacing and rows follow), or
 * "stud". Keeps what the bracket's relations say: mirrored holes move in pairs, and none comes nearer to an edge than `keep.edgeMm`. Throws a
 * LidwrightError when a given or an expression holds a value that would change, or the hole would leave its leg.
 */
export function dragHole(job: Job, args: { id: string; hole: string; to: LegPlace }): Job {
  const it = draggedIn(job, args.id);
  const { spec, at } = it;
  if (args.hole === 'stud' || args.hole.startsWith('pin')) return dragStud(job, it, args.to);
  const index = spec.fixings.findIndex((h) => h.id === args.hole);
  if (index < 0) return fail(`there is no hole "${args.hole}"`, at('fixings'), 'It may have been removed meanwhile.');
  const to = keptInside(it, args.to);
  if (!(to.alongMm > 0 && to.alongMm < spec.baseLegMm && Math.abs(to.acrossMm) < halfWidthAt(spec, to.alongMm)))
    fail(
      `a hole at ${fine(to.acrossMm)} mm from the centre line and ${fine(to.alongMm)} mm from the end is not on the leg`,
      at(it.plain.fixings ? 'fixings' : 'baseHole'),
      'Drag it less far, or make the leg larger first.',
    );
  return (it.plain.fixings ? dragFree : dragPattern)(job, it, index, to);
}

/** Sets a size that is dragged by itself, mm; `called` in a message. Throws a LidwrightError when a given or an expression holds it, or it would leave the bounds. */
export const dragSize = (job: Job, args: { id: string; path: Path; called: string; toMm: number }): Job =>
  put(job, ['brackets', indexOf(job, 'brackets', args.id), ...args.path], args.toMm, args.called);

/** Fixings stay where they are on the mount while the free end moves by `byMm`. */
function shiftFixings(job: Job, { plain, at }: Dragged, byMm: number): Job {
  if (plain.fixings)
    return plain.fixings.reduce(
      (next, f, k) => put(next, at('fixings', k, 'fromEndMm'), f.fromEndMm + byMm, 'hole’s distance from the end'),
      job,
    );
  const pattern = plain.baseHole;
  return pattern
    ? put(job, at('baseHole', 'fromEndMm'), pattern.fromEndMm + byMm, 'holes’ distance from the end')
    : job;
}

/**
 * Moves an edge of a bracket. `toMm` is: free-end: outside length of the base leg (plates: whole length, the stud's end stays); stud-end: whole length of a
 * plate, the free end stays; upright-top: outside length of the upright; side, stud-side: from the centre line to that side, both sides move; gap:
 * clear width of a channel. Where `keep.fromEnd` is not set, holes stay where they are while their end moves; where it is, they go with it; a channel's
 * stay as far from the middle of its gap. A side does not come nearer to a fixing than `keep.edgeMm`. Throws a LidwrightError when the kind has no such
 * edge, a given or an expression holds the size, or it would leave the bounds.
 */
export function dragEdge(job: Job, args: { id: string; edge: BracketEdge; toMm: number }): Job {
  const { edge, toMm } = args;
  const it = draggedIn(job, args.id);
  const { plain, spec, at } = it;
  const keepMm = plain.keep?.edgeMm ?? 0;
  if (!KINDS[spec.kind].edges.includes(edge))
    return fail(`a ${spec.kind} has no such edge`, at('kind'), 'Drag another edge, or choose another kind.');
  switch (edge) {
    case 'side': {
      const outermost = Math.max(0, ...spec.fixings.map((f) => Math.abs(f.acrossMm)));
      const half = Math.max(Math.abs(toMm), keepMm > 0 ? outermost + keepMm : 0);
      return put(job, at('baseWidthMm'), 2 * half, 'base width');
    }
    case 'stud-side':
      return put(job, at('topWidthMm'), 2 * Math.abs(toMm), 'width at the stud’s end');
    case 'upright-top': {
      const least = keepMm > 0 ? spec.studHole.heightMm + keepMm : toMm;
      return put(job, at('uprightLegMm'), Math.max(toMm, least), 'upright leg');
    }
    case 'gap': {
      const next = put(job, at('gapMm'), toMm, 'gap', 2 * spec.insideRadiusMm);
      return shiftFixings(next, it, (toMm - spec.gapMm) / 2);
    }
    case 'free-end':
    case 'stud-end': {
      const next = put(job, at('baseLegMm'), toMm, isBent(spec) ? 'base leg' : 'length of the plate');
      if (plain.keep?.fromEnd === true) return next;
      const by = toMm - plain.baseLegMm;
      if (edge === 'free-end') return shiftFixings(next, it, by);
      return put(next, at('studHole', 'fromEndMm'), spec.studHole.fromEndMm + by, 'stud’s distance from its end');
    }
  }
}
