import type { Job, Relation } from '../job';
import { freedom } from '../solve';
import { type Vec3, rad, toDeg } from '../space';
import { type Layout, pointAt } from './layout';
import { makeNetwork } from './network';
import { relationBlocks, relationName } from './relations';
import { principal } from './spread';
import { directionText } from './words';

export interface RelationState {
  readonly id: string;
  readonly name: string;
  readonly unit: 'mm' | 'deg';
  /** How far it is from holding, in unit. */
  readonly off: number;
  readonly holds: boolean;
  /** Ids of the relations that already say the same; empty where it adds something. */
  readonly saidBy: readonly string[];
}

export interface RelationReport {
  readonly relations: readonly RelationState[];
  /** How many independent ways the related points can still move together. */
  readonly degrees: number;
  /** Related points that can still move, each with where to: "left and right", "every way but forward and back", "every way". */
  readonly canMove: readonly { readonly id: string; readonly share: number; readonly text: string }[];
}

/** A relation holds to a person within this, mm or degrees: job files round to a thousandth. */
export const HOLDS_WITHIN = { mm: 0.01, deg: 0.001 } as const;

/** How far a relation is from holding, with the lid closed as the job stands. */
function stateOf(
  r: Relation,
  layout: Layout,
  within: { readonly mm: number; readonly deg: number } = HOLDS_WITHIN,
): Pick<RelationState, 'unit' | 'off' | 'holds'> {
  const unit = r.kind === 'angle' ? 'deg' : 'mm';
  let off = 0;
  for (const block of relationBlocks(r, layout)) {
    const out = new Float64Array(block.size);
    block.residual(
      Float64Array.from(block.variables, (j) => layout.values[j]!),
      out,
    );
    off = Math.max(off, ...out.map(Math.abs));
  }
  if (unit === 'deg') off = toDeg(rad(off));
  return { unit, off, holds: off <= within[unit] };
}

/** Ids of the relations in use that don't hold (mm, degrees). Throws a LidwrightError for one that refers to what isn't there. */
export function relationsOff(
  job: Job,
  within: { readonly mm: number; readonly deg: number } = HOLDS_WITHIN,
): readonly string[] {
  const { relations, layout } = makeNetwork(job, { readings: false });
  return relations.filter((r) => !stateOf(r, layout, within).holds).map((r) => r.id);
}

/** A point that moves less than this share of what all move is taken to stay. */
const LEAST_SHARE = 1e-6;

/** Which ways a point can still go, from its part in the free directions of all. */
function waysText(parts: readonly Vec3[], share: number): string {
  const at = (i: 0 | 1 | 2, j: 0 | 1 | 2): number => parts.reduce((sum, d) => sum + d[i] * d[j], 0);
  const row = (i: 0 | 1 | 2): Vec3 => [at(i, 0), at(i, 1), at(i, 2)];
  const ways = principal([row(0), row(1), row(2)]);
  const free = ways.filter((w) => w.value > (LEAST_SHARE * share) ** 2 && w.value > 1e-10 * ways[0]!.value);
  if (free.length === 3) return 'every way';
  return free.length === 2 ? `every way but ${directionText(ways[2]!.direction)}` : directionText(ways[0]!.direction);
}

/** Which relations hold, which repeat others, and what can still move, with the lid closed as the job stands. */
export function relationReport(job: Job): RelationReport {
  const network = makeNetwork(job, { readings: false });
  const { layout, problem } = network;
  const f = freedom(problem, layout.values, 'hard');
  const relations = network.relations.map((r): RelationState => {
    const said = f.redundant.find((d) => d.name === r.id)?.saidBy ?? [];
    return { id: r.id, name: relationName(r, layout), ...stateOf(r, layout), saidBy: said };
  });
  const canMove = layout.ids.flatMap((id, i) => {
    if (!network.points.has(id)) return [];
    const share = Math.hypot(...layout.variablesOf(id).map((j) => f.mobility[j]!));
    return share < LEAST_SHARE
      ? []
      : [
          {
            id,
            share,
            text: waysText(
              f.directions.map((d) => pointAt(d, i)),
              share,
            ),
          },
        ];
  });
  return { relations, degrees: f.degrees, canMove };
}
