import { fail } from '../error';
import { type Bracket, type BracketKind, indexOf, type Job, type JobBracket, resolveJob, setValue } from '../job';
import { fixingHoles, type LaidHole } from './pattern';

/** Most fixings that are reckoned with. */
export const MOST_FIXINGS = 6;

const BENT: readonly BracketKind[] = ['bent-angle', 'gusset-angle', 'channel'];
const half = (mm: number): number => Math.ceil(mm * 2 - 1e-9) / 2;

/** Room round a screw or stud, mm, from its hole: half a washer, and half a joint's socket. Rules of thumb for defaults only. */
const washerMm = (holeMm: number): number => holeMm;
const socketMm = (holeMm: number): number => 1.3 * holeMm + 2;

/** How far the outermost fixing reaches from the free end, washer included. */
const reachMm = (bracket: Bracket): number =>
  Math.max(0, ...fixingHoles(bracket).map((f) => f.fromEndMm + f.slotMm / 2 + washerMm(f.diameterMm)));

type Change = { -readonly [K in keyof JobBracket]?: JobBracket[K] };

/** A longer base leg where the one there is too short for its holes; not where a given or an expression holds it. */
function longEnough(raw: JobBracket, plain: Bracket, needMm: number): Change {
  return typeof raw.baseLegMm === 'number' && plain.baseLegMm < needMm ? { baseLegMm: half(needMm) } : {};
}

function bentChange(raw: JobBracket, plain: Bracket): Change {
  const { thicknessMm: t } = plain;
  const d = plain.studHole.diameterMm;
  const r = plain.insideRadiusMm ?? half(1.5 * t);
  const heightMm = plain.studHole.heightMm ?? half(r + 3 * t + 1.2 * d);
  return {
    ...(raw.insideRadiusMm === undefined ? { insideRadiusMm: r } : {}),
    ...(raw.studHole.heightMm === undefined ? { studHole: { ...raw.studHole, heightMm } } : {}),
    ...(raw.uprightLegMm === undefined ? { uprightLegMm: half(heightMm + 1.5 * d) } : {}),
  };
}

function gussetOf(plain: Bracket, change: Change): JobBracket['gusset'] {
  const t = plain.thicknessMm;
  const num = (value: unknown, other: number | undefined): number => (typeof value === 'number' ? value : (other ?? 0));
  const r = num(change.insideRadiusMm, plain.insideRadiusMm);
  const upright = num(change.uprightLegMm, plain.uprightLegMm);
  const height = num(change.studHole?.heightMm, plain.studHole.heightMm);
  const leg = num(change.baseLegMm, plain.baseLegMm);
  const nut = washerMm(plain.studHole.diameterMm);
  const narrow = Math.min(plain.baseWidthMm, plain.topWidthMm ?? plain.baseWidthMm);
  const onMiddle = Math.abs(plain.studHole.acrossMm ?? 0) < nut + t;
  const least = Math.max(1.5 * r, 8);
  for (const count of [1, 2] as const) {
    const acrossMm = count === 1 ? 0 : half(narrow / 2 - t / 2) - 0.5;
    const besideStud = count === 2 && acrossMm - t / 2 > nut + Math.abs(plain.studHole.acrossMm ?? 0);
    const up = Math.min(0.7 * (upright - t), besideStud || !onMiddle ? Infinity : height - nut - t - 1);
    const free = fixingHoles(plain).map((f) =>
      Math.abs(Math.abs(f.acrossMm) - acrossMm) > t / 2 + washerMm(f.diameterMm)
        ? Infinity
        : leg - t - f.fromEndMm - washerMm(f.diameterMm) - f.slotMm / 2,
    );
    const along = Math.min(0.7 * (leg - t), ...free);
    if (up < least || along < least) continue;
    const sizes = { thicknessMm: t, alongMm: Math.floor(along * 2) / 2, upMm: Math.floor(up * 2) / 2 };
    return count === 1 ? { ...sizes, count } : { ...sizes, count, acrossMm };
  }
  // No room beside holes and nut: a small one, and the check says what is in its way.
  return { thicknessMm: t, alongMm: half(least), upMm: half(least), count: 1 };
}

function channelChange(raw: JobBracket, plain: Bracket, bent: Change): Change {
  const t = plain.thicknessMm;
  const r = typeof bent.insideRadiusMm === 'number' ? bent.insideRadiusMm : (plain.insideRadiusMm ?? t);
  const widest = Math.max(0, ...fixingHoles(plain).map((f) => f.diameterMm));
  const gap = plain.gapMm ?? half(Math.max(2 * socketMm(plain.studHole.diameterMm), 2 * (r + washerMm(widest))));
  const middle = gap / 2 + t;
  const change: Change = raw.gapMm === undefined ? { gapMm: gap } : {};
  if (raw.fixings)
    // holes of a longer leg come in between the uprights
    change.fixings = raw.fixings.map((f, i) => {
      const { fromEndMm, diameterMm } = plain.fixings![i]!;
      const out = Math.abs(fromEndMm - middle) > gap / 2 - r - diameterMm / 2;
      return out && typeof f.fromEndMm === 'number' ? { ...f, fromEndMm: middle } : f;
    });
  else if (raw.baseHole) {
    const { rows: _rows, rowSpacingMm: _pitch, ...row } = raw.baseHole;
    change.baseHole = typeof row.fromEndMm === 'number' ? { ...row, fromEndMm: middle } : row;
  }
  return change;
}

function flatChange(raw: JobBracket, plain: Bracket): Change {
  const d = plain.studHole.diameterMm;
  const fromEndMm = plain.studHole.fromEndMm ?? half(Math.max(1.5 * d, plain.topCornerRadiusMm ?? 0));
  return {
    ...(raw.studHole.fromEndMm === undefined ? { studHole: { ...raw.studHole, fromEndMm } } : {}),
    ...longEnough(raw, plain, reachMm(plain) + socketMm(d) + fromEndMm),
  };
}

/** Steepest wedge taken from an end's tilt, degrees. */
const STEEPEST_DEG = 45;
const USUAL_TILT_DEG = 10;

/**
 * Makes a bracket another kind. What the new kind needs and the job does not say gets a workable default; numbers the new kind does not use stay in the
 * file, so that the way back finds them. Values held by a given or an expression are left alone. Throws for an id that isn't there.
 */
export function setBracketKind(job: Job, args: { id: string; kind: BracketKind }): Job {
  const i = indexOf(job, 'brackets', args.id);
  const raw = job.brackets![i]!;
  if (raw.kind === args.kind) return job;
  const resolved = resolveJob(job);
  const plain = resolved.brackets[i]!;
  let change: Change;
  if (BENT.includes(args.kind)) {
    const { thicknessMm: t } = plain;
    const bent = bentChange(raw, plain);
    const r = typeof bent.insideRadiusMm === 'number' ? bent.insideRadiusMm : (plain.insideRadiusMm ?? t);
    change =
      args.kind === 'channel'
        ? { ...bent, ...channelChange(raw, plain, bent) }
        : { ...bent, ...longEnough(raw, plain, reachMm(plain) + r + t) };
    if (args.kind === 'gusset-angle' && !raw.gusset) change.gusset = gussetOf(plain, change);
  } else {
    change = flatChange(raw, plain);
    if (args.kind === 'wedge-plate' && !raw.wedge) {
      const tilt = resolved.struts.find((s) => s.id === plain.strut)?.ends[plain.end].tiltDeg ?? 0;
      const lean = 90 - tilt;
      change.wedge = { tiltDeg: lean > 0 && lean <= STEEPEST_DEG ? lean : USUAL_TILT_DEG };
    }
    if (args.kind === 'wedge-plate' && raw.ballSide === 'inside') change.ballSide = 'outside';
  }
  return setValue(job, { path: ['brackets', i], value: { ...raw, ...change, kind: args.kind } });
}

/** Turns a bracket's pattern into single holes in the same places; the pattern stays in the file, out of use. The same job where they are single already. */
export function patternToFree(job: Job, args: { id: string }): Job {
  const i = indexOf(job, 'brackets', args.id);
  if (job.brackets![i]!.fixings) return job;
  const holes = fixingHoles(resolveJob(job).brackets[i]!);
  if (holes.length === 0) return job;
  return setValue(job, { path: ['brackets', i, 'fixings'], value: holes.slice(0, MOST_FIXINGS).map(asFixing) });
}

const asFixing = ({ slotMm, slotDeg, ...hole }: LaidHole) => (slotMm > 0 ? { ...hole, slotMm, slotDeg } : hole);

/** Goes back from single holes to the pattern. Throws where the job has none. */
export function freeToPattern(job: Job, args: { id: string }): Job {
  const i = indexOf(job, 'brackets', args.id);
  if (!job.brackets![i]!.baseHole)
    return fail(
      'there is no pattern to go back to',
      ['brackets', i, 'baseHole'],
      'Set diameter, spacing and distance first.',
    );
  return setValue(job, { path: ['brackets', i, 'fixings'], value: undefined });
}

/**
 * Adds a hole (mm, from the centre line and from the free end), like the first one in size where none is given; a pattern becomes single holes first.
 * Throws when there are six already.
 */
export function addFixing(
  job: Job,
  args: { id: string; acrossMm: number; fromEndMm: number; diameterMm?: number },
): Job {
  const free = patternToFree(job, args);
  const i = indexOf(free, 'brackets', args.id);
  const raw = free.brackets![i]!.fixings ?? [];
  if (raw.length >= MOST_FIXINGS)
    return fail(
      `a bracket takes up to ${MOST_FIXINGS} fixings here`,
      ['brackets', i, 'fixings'],
      'Take one away first.',
    );
  const taken = new Set(raw.map((f) => f.id));
  let n = raw.length + 1;
  while (taken.has(`fix${n}`)) n++;
  const { id: _id, acrossMm, fromEndMm, ...size } = { ...args };
  const diameterMm = size.diameterMm ?? raw[0]?.diameterMm ?? 6.6;
  const fixing = { id: `fix${n}`, acrossMm, fromEndMm, diameterMm };
  return setValue(free, { path: ['brackets', i, 'fixings'], value: [...raw, fixing] });
}

/** Takes a hole away; a pattern becomes single holes first. Throws when it is the last one of a bracket that is not welded. */
export function removeFixing(job: Job, args: { id: string; fixing: string }): Job {
  const free = patternToFree(job, args);
  const i = indexOf(free, 'brackets', args.id);
  const bracket = free.brackets![i]!;
  const rest = (bracket.fixings ?? []).filter((f) => f.id !== args.fixing);
  if (rest.length === (bracket.fixings ?? []).length)
    return fail(`there is no hole "${args.fixing}"`, ['brackets', i, 'fixings'], 'It may have been removed meanwhile.');
  if (rest.length > 0) return setValue(free, { path: ['brackets', i, 'fixings'], value: rest });
  if ((bracket.attach?.by ?? 'bolts') !== 'weld')
    return fail(
      'this is the last hole of a bracket that is bolted',
      ['brackets', i, 'fixings'],
      'Weld the bracket, or leave it a hole.',
    );
  const { fixings: _gone, baseHole: _pattern, ...bare } = bracket;
  return setValue(free, { path: ['brackets', i], value: bare });
}
