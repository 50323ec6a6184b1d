import { fail } from '../error';
import { type BracketKind, indexOf, type Job, resolveJob, setValue } from '../job';
import { KINDS } from './kinds';
import { fixingHoles, type LaidHole, MOST_FIXINGS } from './pattern';

/**
 * Makes a bracket another kind. What the new kind needs and the job does not say gets a workable default; numbers the new kind does not use stay in the
 * file, so that the way back finds them. Values held by a given or an expression are left alone. Throws for an id that isn't there.
 */
export function setBracketKind(job: Job, { id, kind }: { id: string; kind: BracketKind }): Job {
  const i = indexOf(job, 'brackets', id);
  const raw = job.brackets![i]!;
  if (raw.kind === kind) return job;
  const resolved = resolveJob(job);
  const plain = resolved.brackets[i]!;
  const strut = resolved.struts.find((s) => s.id === plain.strut);
  return setValue(job, {
    path: ['brackets', i],
    value: { ...raw, ...KINDS[kind].become({ raw, plain, strut }), kind },
  });
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
