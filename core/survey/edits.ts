import { fail } from '../error';
import {
  type Job,
  type JobObservation,
  type JobRelation,
  append,
  freshId,
  indexOf,
  removeFrom,
  setValue,
} from '../job';

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
