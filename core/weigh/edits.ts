import { fail } from '../error';
import { type Job, type JobLifted, type JobPull, setValue } from '../job';

/** Pulls at the grip, or the lid lifted off and weighed. */
export type WeighWay = 'pulls' | 'lifted';
type Reading = { readonly id: string };

const readingsOf = (job: Job, way: WeighWay): readonly Reading[] => job.weighings?.[way]?.readings ?? [];

const withReadings = (job: Job, way: WeighWay, readings: readonly Reading[]): Job =>
  setValue(job, { path: ['weighings', way, 'readings'], value: readings });

function added(job: Job, way: WeighWay, items: readonly object[], stem: string): Job {
  const all = [...readingsOf(job, way)];
  const off = job.weighings?.[way]?.off ?? [];
  const on = job.masses.map((m) => m.id).filter((id) => !off.includes(id));
  let n = 1;
  for (const item of items) {
    while (all.some((r) => r.id === `${stem}${n}`)) n++;
    all.push({ id: `${stem}${n}`, on, ...item } as Reading);
  }
  return items.length === 0 ? job : withReadings(job, way, all);
}

function indexIn(job: Job, way: WeighWay, id: string): number {
  const i = readingsOf(job, way).findIndex((r) => r.id === id);
  return i >= 0
    ? i
    : fail(`there is no reading "${id}"`, ['weighings', way, 'readings'], 'It may have been removed meanwhile.');
}

function removed(job: Job, way: WeighWay, id: string): Job {
  const i = indexIn(job, way, id);
  return withReadings(
    job,
    way,
    readingsOf(job, way).filter((_, k) => k !== i),
  );
}

function patched(job: Job, way: WeighWay, id: string, patch: object): Job {
  const i = indexIn(job, way, id);
  return Object.entries(patch).reduce<Job>(
    (next, [key, value]) => setValue(next, { path: ['weighings', way, 'readings', i, key], value }),
    job,
  );
}

/** Adds pulls read at the grip, each with an id of its own; one step, as from a pasted list. */
export const addPulls = (job: Job, args: { pulls: readonly Omit<JobPull, 'id'>[] }): Job =>
  added(job, 'pulls', args.pulls, 'pull');

/** Changes keys of a pull; undefined takes a key away. Throws a LidwrightError when it isn't there. */
export const setPull = (job: Job, args: { id: string; patch: Partial<Omit<JobPull, 'id'>> }): Job =>
  patched(job, 'pulls', args.id, args.patch);

/** Removes a pull. Throws a LidwrightError when it isn't there. */
export const removePull = (job: Job, args: { id: string }): Job => removed(job, 'pulls', args.id);

/** Adds a weighing of the lifted lid. */
export const addLifted = (job: Job, args: { weighing: Omit<JobLifted, 'id'> }): Job =>
  added(job, 'lifted', [args.weighing], 'weighing');

/** Changes keys of a weighing; undefined takes a key away. Throws a LidwrightError when it isn't there. */
export const setLifted = (job: Job, args: { id: string; patch: Partial<Omit<JobLifted, 'id'>> }): Job =>
  patched(job, 'lifted', args.id, args.patch);

/** Removes a weighing. Throws a LidwrightError when it isn't there. */
export const removeLifted = (job: Job, args: { id: string }): Job => removed(job, 'lifted', args.id);

/**
 * Says which mass item was weighed (null: one that is not in the job yet). What was typed of the former one (its mass, its
 * arm) goes, and the item counts as on the lid.
 */
export function chooseWeighed(job: Job, args: { way: WeighWay; of: string | null }): Job {
  const { way, of } = args;
  const begun = job.weighings?.[way] ? job : withReadings(job, way, []);
  let next = setValue(begun, { path: ['weighings', way, 'of'], value: of ?? undefined });
  if (way === 'pulls')
    for (const key of ['kg', 'sigmaKg', 'armMm', 'sigmaArmMm'])
      if (next.weighings?.pulls?.[key as 'kg'] !== undefined)
        next = setValue(next, { path: ['weighings', way, key], value: undefined });
  return of === null ? next : setOnWhenWeighed(next, { way, mass: of, on: true });
}

/** Says whether a mass item was on the lid when it was weighed: at one reading, or at all there are and those to come. */
export function setOnWhenWeighed(job: Job, args: { way: WeighWay; mass: string; on: boolean; reading?: string }): Job {
  const { way, mass, on, reading } = args;
  const off = job.weighings?.[way]?.off ?? [];
  const others = job.masses.map((m) => m.id).filter((id) => !off.includes(id));
  let next = job;
  if (reading === undefined && off.includes(mass) === on)
    next = setValue(next, {
      path: ['weighings', way, 'off'],
      value: on ? off.filter((m) => m !== mass) : [...off, mass],
    });
  (job.weighings?.[way]?.readings ?? []).forEach((r, i) => {
    const was = r.on ?? others;
    if ((reading !== undefined && r.id !== reading) || was.includes(mass) === on) return;
    const now = on ? [...was, mass] : was.filter((m) => m !== mass);
    next = setValue(next, { path: ['weighings', way, 'readings', i, 'on'], value: now });
  });
  return next;
}
