import { fail } from '../error';
import { type Bracket, indexOf, type Job, type Path, resolveJob, setValue, valueAt } from '../job';
import { fixingHoles, PATTERN_ACROSS } from './pattern';

/** A place on a leg, mm: from the centre line (+y), and along: fixings from the free end; the stud by its height, or on a flat plate from its own end. */
export interface LegPlace {
  readonly acrossMm: number;
  readonly alongMm: number;
}

/**
 * What can be dragged, and what `toMm` then is: free-end: outside length of the base leg (flat plates: whole length, the stud's end stays);
 * stud-end: whole length of a flat plate, the free end stays; upright-top: outside length of the upright; side, stud-side: from the centre line to that
 * side, both sides move; gap: clear width of a channel.
 */
export type BracketEdge = 'free-end' | 'stud-end' | 'upright-top' | 'side' | 'stud-side' | 'gap';

const LONGEST_MM = 5000;
const SAME_MM = 0.01;
const fine = (mm: number): number => Math.round(mm * 100) / 100;

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
function putAcross(job: Job, path: Path, valueMm: number): Job {
  return put(job, path, valueMm, 'distance from the centre line', -LONGEST_MM);
}

const isFlat = ({ kind }: Bracket): boolean => kind === 'flat-tab' || kind === 'wedge-plate';
const baseLengthMm = (b: Bracket): number => (b.kind === 'channel' ? (b.gapMm ?? 0) + 2 * b.thicknessMm : b.baseLegMm);

/** Half the width of the fixed leg at a distance from its free end, mm. */
function halfWidthAt(b: Bracket, fromEndMm: number): number {
  if (!isFlat(b)) return b.baseWidthMm / 2;
  const top = b.topWidthMm ?? b.baseWidthMm;
  return (b.baseWidthMm + (top - b.baseWidthMm) * Math.min(1, Math.max(0, fromEndMm / b.baseLegMm))) / 2;
}

const clamp = (value: number, low: number, high: number): number =>
  low > high ? (low + high) / 2 : Math.min(high, Math.max(low, value));

/** Keeps a fixing's centre as far from the edges as the bracket's relation says. */
function keptInside(b: Bracket, to: LegPlace): LegPlace {
  const edge = b.keep?.edgeMm;
  if (edge === undefined) return to;
  const channel = b.kind === 'channel';
  const alongMm = channel ? to.alongMm : clamp(to.alongMm, edge, isFlat(b) ? b.baseLegMm - edge : b.baseLegMm);
  const room = halfWidthAt(b, alongMm) - edge;
  return { alongMm, acrossMm: clamp(to.acrossMm, -room, room) };
}

function onLeg(b: Bracket, to: LegPlace, where: Path): void {
  const long = baseLengthMm(b);
  if (!(to.alongMm > 0 && to.alongMm < long && Math.abs(to.acrossMm) < halfWidthAt(b, to.alongMm)))
    fail(
      `a hole at ${fine(to.acrossMm)} mm from the centre line and ${fine(to.alongMm)} mm from the end is not on the leg`,
      where,
      'Drag it less far, or make the leg larger first.',
    );
}

function dragPattern(job: Job, i: number, plain: Bracket, index: number, to: LegPlace): Job {
  const pattern = plain.baseHole!;
  const across = pattern.across ?? PATTERN_ACROSS;
  const row = Math.floor(index / across);
  const column = (index % across) - (across - 1) / 2;
  const at = (key: string): Path => ['brackets', i, 'baseHole', key];
  let next = job;
  if (Math.abs(column) > 1e-9)
    next = put(next, at('spacingMm'), to.acrossMm / column, 'spacing of the holes', pattern.diameterMm);
  if (row === 0) return put(next, at('fromEndMm'), to.alongMm, 'distance from the end');
  return put(
    next,
    at('rowSpacingMm'),
    (to.alongMm - pattern.fromEndMm) / row,
    'spacing of the rows',
    pattern.diameterMm,
  );
}

function dragFree(job: Job, i: number, plain: Bracket, index: number, to: LegPlace): Job {
  const holes = fixingHoles(plain);
  const hole = holes[index]!;
  const mirrored = plain.keep?.mirrored === true;
  const onMiddle = mirrored && Math.abs(hole.acrossMm) < SAME_MM;
  const twin = mirrored
    ? holes.findIndex(
        (h, k) =>
          k !== index &&
          Math.abs(h.acrossMm + hole.acrossMm) < SAME_MM &&
          Math.abs(h.fromEndMm - hole.fromEndMm) < SAME_MM,
      )
    : -1;
  const acrossMm = onMiddle ? 0 : to.acrossMm;
  const move = (from: Job, k: number, y: number): Job => {
    const at: Path = ['brackets', i, 'fixings', k];
    return put(putAcross(from, [...at, 'acrossMm'], y), [...at, 'fromEndMm'], to.alongMm, 'distance from the end');
  };
  const moved = move(job, index, acrossMm);
  return twin >= 0 && !onMiddle ? move(moved, twin, -acrossMm) : moved;
}

function dragStud(job: Job, i: number, plain: Bracket, to: LegPlace): Job {
  const flat = isFlat(plain);
  const edge = plain.keep?.edgeMm;
  const most = flat ? plain.baseLegMm : (plain.uprightLegMm ?? 0);
  const top = (plain.topWidthMm ?? plain.baseWidthMm) / 2;
  const least = edge ?? 0;
  const alongMm =
    edge === undefined
      ? to.alongMm
      : flat
        ? clamp(to.alongMm, least, most - least)
        : clamp(to.alongMm, 0, most - least);
  const at: Path = ['brackets', i, 'studHole'];
  if (!(alongMm > 0 && alongMm < most))
    fail(
      `the stud at ${fine(alongMm)} mm is off the plate`,
      [...at, flat ? 'fromEndMm' : 'heightMm'],
      `Keep it between 0 and ${fine(most)} mm.`,
    );
  const middle = plain.keep?.mirrored === true && Math.abs(plain.studHole.acrossMm ?? 0) < SAME_MM;
  const widest = Math.max(top, plain.baseWidthMm / 2);
  const acrossMm = middle ? 0 : edge === undefined ? to.acrossMm : clamp(to.acrossMm, least - widest, widest - least);
  if (Math.abs(acrossMm) >= widest)
    fail(
      `the stud at ${fine(acrossMm)} mm from the centre line is off the plate`,
      [...at, 'acrossMm'],
      'Drag it less far.',
    );
  const next = put(
    job,
    [...at, flat ? 'fromEndMm' : 'heightMm'],
    alongMm,
    flat ? 'distance from the end' : 'height of the stud',
  );
  const still = Math.abs(acrossMm - (plain.studHole.acrossMm ?? 0)) < 1e-9;
  return still ? next : putAcross(next, [...at, 'acrossMm'], acrossMm);
}

/**
 * Moves a hole of a bracket to a place on its leg: a fixing by its id (`fix1`… in a pattern, which stays a pattern: its spacing and rows follow), or
 * "stud". Keeps what the bracket's relations say: mirrored holes move in pairs, and none comes nearer to an edge than `keep.edgeMm`. Throws a
 * LidwrightError when a given or an expression holds a value that would change, or the hole would leave its leg.
 */
export function dragHole(job: Job, args: { id: string; hole: string; to: LegPlace }): Job {
  const i = indexOf(job, 'brackets', args.id);
  const plain = resolveJob(job).brackets[i]!;
  if (args.hole === 'stud' || args.hole.startsWith('pin')) return dragStud(job, i, plain, args.to);
  const index = fixingHoles(plain).findIndex((h) => h.id === args.hole);
  if (index < 0)
    return fail(`there is no hole "${args.hole}"`, ['brackets', i, 'fixings'], 'It may have been removed meanwhile.');
  const to = keptInside(plain, args.to);
  onLeg(plain, to, ['brackets', i, plain.fixings ? 'fixings' : 'baseHole']);
  return plain.fixings ? dragFree(job, i, plain, index, to) : dragPattern(job, i, plain, index, to);
}

/** Sizes that are drawn as a place of their own, and what they are called in a message. */
const SIZES = {
  ball: { path: ['ballOffsetMm'], name: 'distance of the ball from its face' },
  'gusset-along': { path: ['gusset', 'alongMm'], name: 'gusset’s leg along the base' },
  'gusset-up': { path: ['gusset', 'upMm'], name: 'gusset’s leg up the upright' },
} as const;

/** What else of a bracket can be dragged: the ball's distance from its face, and a gusset's two legs. */
export type BracketSize = keyof typeof SIZES;

/** Sets a dragged size, mm. Throws a LidwrightError when a given or an expression holds it, or it would leave the bounds. */
export function dragSize(job: Job, args: { id: string; size: BracketSize; toMm: number }): Job {
  const { path, name } = SIZES[args.size];
  return put(job, ['brackets', indexOf(job, 'brackets', args.id), ...path], args.toMm, name);
}

/** Moves a single hole to a typed place; a pattern's hole moves its pattern. As `dragHole`. */
export const moveFixing = (job: Job, args: { id: string; fixing: string; acrossMm: number; fromEndMm: number }): Job =>
  dragHole(job, { id: args.id, hole: args.fixing, to: { acrossMm: args.acrossMm, alongMm: args.fromEndMm } });

/** Fixings stay where they are on the mount while the free end moves by `byMm`. */
function shiftFixings(job: Job, i: number, plain: Bracket, byMm: number): Job {
  if (plain.fixings)
    return plain.fixings.reduce(
      (next, f, k) =>
        put(next, ['brackets', i, 'fixings', k, 'fromEndMm'], f.fromEndMm + byMm, 'hole’s distance from the end'),
      job,
    );
  if (!plain.baseHole) return job;
  return put(
    job,
    ['brackets', i, 'baseHole', 'fromEndMm'],
    plain.baseHole.fromEndMm + byMm,
    'holes’ distance from the end',
  );
}

/**
 * Moves an edge of a bracket (see BracketEdge for what `toMm` means). Where `keep.fromEnd` is not set, holes stay where they are while their end moves;
 * where it is, they go with it. A side does not come nearer to a fixing than `keep.edgeMm`. Throws a LidwrightError when the kind has no such
 * edge, a given or an expression holds the size, or it would leave the bounds.
 */
export function dragEdge(job: Job, args: { id: string; edge: BracketEdge; toMm: number }): Job {
  const { edge, toMm } = args;
  const i = indexOf(job, 'brackets', args.id);
  const plain = resolveJob(job).brackets[i]!;
  const at = (...keys: string[]): Path => ['brackets', i, ...keys];
  const flat = isFlat(plain);
  const none = (): never =>
    fail(`a ${plain.kind} has no such edge`, at('kind'), 'Drag another edge, or choose another kind.');
  const keepEdge = plain.keep?.edgeMm ?? 0;
  if (edge === 'side' || edge === 'stud-side') {
    const outermost = edge === 'side' || flat ? Math.max(0, ...fixingHoles(plain).map((f) => Math.abs(f.acrossMm))) : 0;
    const wide = 2 * Math.max(Math.abs(toMm), keepEdge > 0 && edge === 'side' ? outermost + keepEdge : 0);
    return edge === 'side'
      ? put(job, at('baseWidthMm'), wide, 'base width')
      : put(job, at('topWidthMm'), wide, 'width at the stud’s end');
  }
  if (edge === 'upright-top')
    return flat
      ? none()
      : put(
          job,
          at('uprightLegMm'),
          Math.max(toMm, keepEdge > 0 ? (plain.studHole.heightMm ?? 0) + keepEdge : toMm),
          'upright leg',
        );
  if (edge === 'gap') return plain.kind === 'channel' ? dragGap(job, i, plain, toMm) : none();
  if (plain.kind === 'channel') return none();
  if (edge === 'stud-end' && !flat) return none();
  const next = put(job, at('baseLegMm'), toMm, flat ? 'length of the plate' : 'base leg');
  if (plain.keep?.fromEnd === true) return next;
  const by = toMm - plain.baseLegMm;
  if (edge === 'free-end') return shiftFixings(next, i, plain, by);
  return put(next, at('studHole', 'fromEndMm'), (plain.studHole.fromEndMm ?? 0) + by, 'stud’s distance from its end');
}

/** The holes of a channel stay as far from the middle of its gap as they were. */
function dragGap(job: Job, i: number, plain: Bracket, toMm: number): Job {
  const next = put(job, ['brackets', i, 'gapMm'], toMm, 'gap', 2 * (plain.insideRadiusMm ?? 0));
  return shiftFixings(next, i, plain, (toMm - (plain.gapMm ?? 0)) / 2);
}
