// First brackets: at an end whose zone says what it is made of, a place comes with a bracket that bears its strut.
import { FIRST_TILTS, bracketSpecOf, bracketsTo, firstHeights, standBracket, withBallAt } from '../bracket';
import { attempt } from '../error';
import { type Bracket, type EndName, type Job, type JobBracket, type Strut, onPlane, setValue } from '../job';
import { type Change, WATCH_FACTOR, assessBracket, repairer } from '../strength';
import type { Workings } from '../workings';
import type { Fitted } from './apply';
import type { Field } from './field';
import { type Site, siteOf } from './site';

/** A stem's tilt that a first bracket can give, and how high over the mount the ball may stand then, mm. */
export interface Standing {
  readonly tiltDeg: number;
  readonly heightMm: readonly [number, number];
}

const ENDS = ['base', 'lid'] as const;

/** Whether a place on a zone comes with a first bracket. */
export const wantsBracket = ({ zone }: Site): boolean => zone.material !== undefined;

/** What first brackets can do at an end of the field's strut on a rod, mm; worked out once a rod. */
export function standingsOf(field: Field): (end: EndName, rodMm: number) => readonly Standing[] {
  const known = new Map<string, readonly Standing[]>();
  return (end, rodMm) => {
    const key = `${end} ${rodMm}`;
    if (!known.has(key)) known.set(key, standings(field, end, rodMm));
    return known.get(key)!;
  };
}

function standings(field: Field, end: EndName, rodMm: number): Standing[] {
  const own = field.job.struts[field.strutIndex]!;
  const { fitting } = field.ends[end];
  const strut: Strut = {
    ...own,
    spec: { ...own.spec, rodMm },
    ends: { ...own.ends, [end]: { ...own.ends[end], fitting } },
  };
  return FIRST_TILTS.flatMap((tiltDeg) => {
    const heightMm = firstHeights(strut, end, tiltDeg);
    return heightMm ? [{ tiltDeg, heightMm }] : [];
  });
}

/** How far a ball's height over its zone is from what some first bracket reaches, mm; 0 where one does. */
export const heightMiss = (all: readonly Standing[], offMm: number): number =>
  all.reduce((least, { heightMm: [low, high] }) => Math.min(least, Math.max(0, low - offMm, offMm - high)), Infinity);

/** The tilts that first brackets give at a height. */
export const tiltsAt = (all: readonly Standing[], offMm: number): number[] =>
  all.filter(({ heightMm: [low, high] }) => low <= offMm && offMm <= high).map((s) => s.tiltDeg);

/** Not what would take the ball off its place, its thread off the joint's, or spoil the bend: thicker ones are begun anew. */
const keepsPlace = ({ settings }: Change): boolean =>
  !settings.some(
    ({ path }) => path.join('.') === 'stud.thread' || ['studHole', 'thicknessMm'].includes(String(path[0])),
  );

/** Repairs one after the other. */
const MOST_REPAIRS = 12;

/** A bracket with what is weak of it repaired as far as changes that keep its ball in place do; null where a part still fails. */
function strengthened(begun: JobBracket, heightMm: number, { job, plans, tables }: Workings): JobBracket | null {
  let bracket = begun;
  for (let round = 0; ; round++) {
    const plain = bracket as unknown as Bracket;
    const assessment = assessBracket(job, plans, tables, plain);
    const weak = assessment.results.filter((r) => r.safetyFactor < WATCH_FACTOR && r.id !== 'weld-simple');
    const fails = weak.some((r) => r.safetyFactor < 1 && r.gravity === 'fails');
    const strut = job.struts.find((s) => s.id === plain.strut)!;
    const repair = repairer(plans, tables, plain, strut, assessment, keepsPlace);
    const found = round < MOST_REPAIRS ? firstOf(weak, ({ id }) => repair(id)) : null;
    const next = found && withBallAt(found.settings.reduce(setValue, bracket), heightMm);
    if (!next) return fails ? null : bracket;
    bracket = next;
  }
}

/** Whether a bracket's stud points as the end's: nearer than anybody bends, degrees. */
function holdsStem(strut: Strut, end: EndName, place: Fitted, bracket: JobBracket): boolean {
  const spec = bracketSpecOf(bracket as unknown as Bracket);
  const stand = attempt(() => standBracket({ end: strut.ends[end], ball: place[end], spec })).value;
  return !!stand && stand.stemMismatchDeg < 0.05;
}

function firstOf<T, U>(list: readonly T[], of: (one: T) => U | null): U | null {
  for (const one of list) {
    const found = of(one);
    if (found) return found;
  }
  return null;
}

/** What of a zone its bracket is fixed to; nothing where its thickness is not said. */
const seatOf = ({ material, thicknessMm }: Site['zone']): Pick<JobBracket, 'seat'> =>
  thicknessMm === undefined ? {} : { seat: { thicknessMm, material: { name: material! } } };

/**
 * First brackets for a place that stands in `workings`: at each end whose zone says what it is made of, the bracket that is there, its ball
 * put where the place has it, or one begun anew, repaired until no part fails. `lacking`: ends where none was found.
 */
export function bracketsFor(
  field: Field,
  place: Fitted,
  workings: Workings,
): { readonly brackets: NonNullable<Fitted['brackets']>; readonly lacking: readonly EndName[] } {
  const brackets: Partial<Record<EndName, JobBracket>> = {};
  const lacking: EndName[] = [];
  const strut = workings.job.struts[field.strutIndex]!;
  const own = (end: EndName): NonNullable<Job['brackets']>[number] | undefined =>
    field.raw.brackets?.find((b) => b.strut === strut.id && b.end === end);
  for (const end of ENDS) {
    const { zoneId, tiltDeg } = place.ends[end];
    const site = siteOf(field.job.zones.find((z) => z.id === zoneId)!);
    if (!wantsBracket(site)) continue;
    const heightMm = onPlane(site, place[end]).offMm;
    const there = own(end);
    const moved = there && withBallAt(there, heightMm);
    const kept = moved && holdsStem(strut, end, place, moved) ? moved : null;
    const fresh = bracketsTo(strut, end, tiltDeg, heightMm).map((begun) => ({
      ...begun,
      ...{ strut: strut.id, end, name: end === 'base' ? 'Base bracket' : 'Lid bracket' },
      ...seatOf(site.zone),
    }));
    const found = firstOf([kept, ...fresh], (one) => (one ? strengthened(one, heightMm, workings) : null));
    if (found) brackets[end] = found;
    else lacking.push(end);
  }
  return { brackets, lacking };
}
