import { fail } from '../error';
import { type Job, type Path, type ResolvedJob, setValue, valueAt } from '../job';
import { type Vec3, add, scale } from '../space';
import { ratioFilled } from '../strut';
import { makeFrame } from '../travel';
import { directionsOf } from './patch';
import type { Change } from './types';

/** A value at a path of the job. */
export interface Setting {
  readonly path: Path;
  readonly value: number;
}

const toStep = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6));

/**
 * What a change sets in a job: masses to 0.01 kg, places and lengths to 0.1 mm, forces to 1 N, friction to 0.1 N·m, ratios to
 * 0.001; or exactly. A strut that gives nothing sets nothing: it is no matter of the job, it wants replacing.
 */
export function settingsOfChange(job: ResolvedJob, change: Change, exact = false): Setting[] {
  const rounded = exact ? (value: number): number => value : toStep;
  const found = new Map<string, Setting>();
  const put = (path: Path, value: number): void => void found.set(path.join('.'), { path, value });
  const share = 1 + (change.massShare ?? 0);
  job.masses.forEach((m, i) => {
    const kg = m.kg * share + (change.massKg?.[m.id] ?? 0);
    if (kg !== m.kg) put(['masses', i, 'kg'], Math.max(0, rounded(kg, 0.01)));
  });
  const d = directionsOf(makeFrame(job));
  const moved = new Map<string, Vec3>();
  const move = (id: string, by: readonly [number, number]): void => {
    const from = moved.get(id) ?? job.points.find((p) => p.id === id)!.at;
    moved.set(id, add(from, add(scale(d.out, by[0]), scale(d.opening, by[1]))));
  };
  if (change.centreMm) for (const id of new Set(job.masses.map((m) => m.at))) move(id, change.centreMm);
  if (change.hingeNm !== undefined)
    put(['hinge', 'frictionNm'], Math.max(0, rounded(job.hinge.frictionNm + change.hingeNm, 0.1)));
  job.struts.forEach((s, i) => {
    const c = change.struts?.[s.id];
    if (!c) return;
    const frictionN = Math.max(0, s.spec.frictionN + (c.frictionN ?? 0));
    // friction about the same gas: what it adds to pressing in it takes, by half, from pushing out
    const forceN = s.spec.forceN * (c.forceFactor ?? 1) - (frictionN - s.spec.frictionN) / 2;
    if (c.frictionN !== undefined) put(['struts', i, 'spec', 'frictionN'], rounded(frictionN, 1));
    if (forceN !== s.spec.forceN) put(['struts', i, 'spec', 'forceN'], Math.max(1, rounded(forceN, 1)));
    if (c.fillFactor !== undefined)
      put(['struts', i, 'spec', 'ratio'], rounded(ratioFilled({ ...s.spec, forceN, frictionN }, c.fillFactor), 0.001));
    if (c.extendedMm !== undefined)
      put(['struts', i, 'spec', 'extendedMm'], rounded(s.spec.extendedMm + c.extendedMm, 0.1));
    if (c.baseMm) move(s.base, c.baseMm);
    if (c.lidMm) move(s.lid, c.lidMm);
  });
  job.points.forEach(({ id, at }, i) =>
    moved.get(id)?.forEach((v, k) => {
      // a coordinate that the move leaves alone keeps its digits, and whatever given holds it
      if (Math.abs(v - at[k]!) > (exact ? 1e-9 : 0.05)) put(['points', i, 'at', k], rounded(v, 0.1));
    }),
  );
  return [...found.values()];
}

/** The job as it would be with a change in it, and with struts that give nothing lost in every load case. */
export function changedJob(job: ResolvedJob, change: Change): ResolvedJob {
  const next = settingsOfChange(job, change, true).reduce(
    (now, s) => setValue(now as unknown as Job, s) as unknown as ResolvedJob,
    job,
  );
  const lost = job.struts.filter((s) => (change.struts?.[s.id]?.working ?? s.quantity) < s.quantity).map((s) => s.id);
  if (lost.length === 0) return next;
  return {
    ...next,
    loadCases: next.loadCases.map((c) => ({ ...c, lost: [...new Set([...c.lost, ...lost])] })),
  };
}

/**
 * Takes a change into the job, one edit. Throws a LidwrightError where a number to be set is held by a given or an expression:
 * that one has to be changed where it stands.
 */
export function takeIntoJob(job: Job, args: { resolved: ResolvedJob; change: Change }): Job {
  return settingsOfChange(args.resolved, args.change).reduce((next, setting) => {
    const raw = valueAt(next, setting.path);
    if (typeof raw === 'object' && raw !== null)
      return fail(
        `this number is held by ${'given' in raw ? `the given "${String(raw.given)}"` : 'an expression'}`,
        setting.path,
        'Change it there, or type a plain number first.',
      );
    return setValue(next, setting);
  }, job);
}
