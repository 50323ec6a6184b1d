import { fail } from '../error';
import type { Job, ResolvedJob } from '../job';
import type { Vec3 } from '../space';
import { openingAxis } from '../travel';

/** Points of a job as variables: three a point, in the job's order. */
export interface Layout {
  readonly job: ResolvedJob;
  readonly ids: readonly string[];
  readonly names: readonly string[];
  /** Start values, mm. */
  readonly values: Float64Array;
  /** Variables that a given or an expression holds: they change at their source only. */
  readonly held: readonly number[];
  /** +1 where a positive turn about A → B opens the lid, −1 where it shuts it. */
  readonly opening: 1 | -1;
  indexOf(id: string): number;
  variablesOf(id: string): readonly [number, number, number];
}

/** Lays a job's points out. `raw` is the job as filed, which tells what givens hold; `job` the same one resolved. */
export function layOut(raw: Job, job: ResolvedJob): Layout {
  const place = new Map(job.points.map((p, i) => [p.id, i]));
  const held: number[] = [];
  raw.points.forEach((p, i) => p.at.forEach((v, k) => typeof v !== 'number' && held.push(3 * i + k)));
  const indexOf = (id: string): number =>
    place.get(id) ?? fail(`there is no point "${id}"`, ['points'], 'It may have been removed meanwhile.');
  let sign: 1 | -1 | null = null;
  return {
    job,
    ids: job.points.map((p) => p.id),
    names: job.points.map((p) => p.name ?? p.id),
    values: Float64Array.from(job.points.flatMap((p) => p.at)),
    held,
    // worked out only where a reading or relation turns the lid: a lid without a sense of opening can still be measured
    get opening() {
      return (sign ??= openingAxis(job).sign);
    },
    indexOf,
    variablesOf: (id) => {
      const i = 3 * indexOf(id);
      return [i, i + 1, i + 2];
    },
  };
}

/** Position of the point at place i. */
export const pointAt = (x: ArrayLike<number>, i: number): Vec3 => [x[3 * i]!, x[3 * i + 1]!, x[3 * i + 2]!];
