import { fail } from '../error';
import {
  type Job,
  type JobObservation,
  type JobRelation,
  type KnownKind,
  type Num,
  append,
  freshId,
  indexOf,
  removeFrom,
  resolveJob,
  setValue,
} from '../job';
import { KNOWN, knownReadings } from './known';

/** Adds a reading with an id of its own. */
export const addObservation = (job: Job, args: { observation: Omit<JobObservation, 'id'> }): Job =>
  append(job, 'observations', { id: freshId(job, 'observations', 'reading'), ...args.observation });

/** Adds many readings in one step, as from a pasted list. */
export const addObservations = (job: Job, args: { observations: readonly Omit<JobObservation, 'id'>[] }): Job =>
  args.observations.reduce((next, observation) => addObservation(next, { observation }), job);

/** Changes keys of a reading; undefined takes a key away. */
export const setObservation = (job: Job, args: { id: string; patch: Partial<Omit<JobObservation, 'id'>> }): Job =>
  patched(job, 'observations', args.id, args.patch);

/** Removes a reading. */
export const removeObservation = (job: Job, args: { id: string }): Job => removeFrom(job, 'observations', args.id);

/** Switches a reading off (kept, left out of the adjustment) or on. */
export const useObservation = (job: Job, args: { id: string; use: boolean }): Job =>
  setObservation(job, { id: args.id, patch: { use: args.use ? undefined : false } });

/**
 * Takes something for known, each of its readings with the ± given (mm; the usual one where not), or takes it back with all
 * that follows from it. A rectangle takes the place of square corners. The job as it is where nothing follows from it.
 */
export function setKnown(job: Job, args: { what: KnownKind; on: boolean; sigmaMm?: Num | undefined }): Job {
  const { what, on, sigmaMm = KNOWN[what].sigmaMm } = args;
  const gone: readonly KnownKind[] = on && what === 'rectangle' ? ['rectangle', 'square'] : [what];
  const observations = (job.observations ?? []).filter((o) => !o.known || !gone.includes(o.known));
  const bare: Job = { ...job, observations };
  if (!on) return bare;
  const found = knownReadings(resolveJob(bare), what);
  return 'why' in found ? job : addObservations(bare, { observations: found.readings.map((r) => ({ ...r, sigmaMm })) });
}

/**
 * Adds a relation as it is, without asking whether it can be met: see `tryRelation` in core/survey for the edit that asks.
 * Its id is the new last one's.
 */
export const addRelation = (job: Job, args: { relation: Omit<JobRelation, 'id'> }): Job =>
  append(job, 'relations', { id: freshId(job, 'relations', 'relation'), ...args.relation });

/** Changes keys of a relation, without asking whether it can be met; undefined takes a key away. */
export const setRelation = (job: Job, args: { id: string; patch: Partial<Omit<JobRelation, 'id'>> }): Job =>
  patched(job, 'relations', args.id, args.patch);

/** Removes a relation. */
export const removeRelation = (job: Job, args: { id: string }): Job => removeFrom(job, 'relations', args.id);

function patched(job: Job, section: 'observations' | 'relations', id: string, patch: object): Job {
  const i = indexOf(job, section, id);
  if ('id' in patch) return fail('an id stays as it is', [section, i, 'id'], 'Add a new one instead.');
  return Object.entries(patch).reduce<Job>(
    (next, [key, value]) => setValue(next, { path: [section, i, key], value }),
    job,
  );
}
