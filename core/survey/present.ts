import { type Job, type JobRelation, RELATION_SHAPE, resolveJob } from '../job';
import { rad, toDeg } from '../space';
import { addRelation } from './edits';
import { makeNetwork } from './network';
import { relationBlocks } from './relations';

/**
 * The value that a relation would have as the points now stand: its length in mm or its angle in degrees; null where its kind
 * takes none. Any value that it already has is left out of account. Throws a LidwrightError where it is not whole yet.
 */
export function presentValue(
  job: Job,
  relation: Omit<JobRelation, 'id'>,
): { readonly key: 'valueMm' | 'valueDeg'; readonly value: number } | null {
  const { kind, axis, points = [] } = relation;
  const onAxis = axis !== undefined && (kind === 'mirrored' || (kind === 'on-plane' && points.length === 1));
  const key = RELATION_SHAPE[kind].value ?? (onAxis ? 'valueMm' : null);
  if (key === null) return null;
  // every residual is what is measured less what is asked for: ask for 1 and add it again
  const asked = addRelation(
    { ...job, relations: [], observations: [] },
    { relation: { ...relation, use: true, [key]: 1 } },
  );
  const { layout, relations } = makeNetwork(asked, { readings: false });
  const block = relationBlocks(relations[0]!, layout)[0]!;
  const out = new Float64Array(block.size);
  block.residual(
    Float64Array.from(block.variables, (j) => layout.values[j]!),
    out,
  );
  if (key === 'valueDeg') return { key, value: toDeg(rad(out[0]!)) + 1 };
  // a mirror plane: the image misses by twice what the plane does
  if (kind === 'mirrored') return { key, value: out[['x', 'y', 'z'].indexOf(axis!)]! / 2 + 1 };
  return { key, value: out[0]! + 1 };
}

/** A relation's coordinates where it fixes a point: where the point now stands, mm. */
export const presentPlace = (job: Job, id: string): readonly [number, number, number] | null =>
  resolveJob(job).points.find((p) => p.id === id)?.at ?? null;
