import { type Job, type JobRelation, addRelation, movePoint, setRelation } from '../job';
import { Projector, findConflict, findState, freedom } from '../solve';
import { type Vec3, distance, toDeg } from '../space';
import { pointAt } from './layout';
import { type Network, makeNetwork } from './network';
import { relationName, relationBlocks } from './relations';
import { directionText } from './words';

/** What came of asking for a relation: the job with its points moved as little as needed, or the refusal. */
export type Kept =
  | { readonly ok: true; readonly job: Job; readonly moved: readonly MovedPoint[] }
  | {
      readonly ok: false;
      /** A sentence that names what fights. */
      readonly text: string;
      /** Ids of the relations that can't hold together with the one asked for. */
      readonly fights: readonly string[];
    };

export interface MovedPoint {
  readonly id: string;
  readonly at: Vec3;
  readonly byMm: number;
}

/** Less than this is rounding, mm. */
const MOVED_MM = 5e-4;

/** How hard each point is pulled to its target: the dragged one to the pointer, the others to where they were. */
export const PULL = { dragged: 1e6, hinge: 1e4, other: 1 } as const;

/**
 * Adds a relation if it can be met together with those there are, moving points as little as needed; otherwise says which
 * relations it fights, and nothing changes.
 */
export function tryRelation(job: Job, args: { relation: Omit<JobRelation, 'id'> }): Kept {
  const next = addRelation(job, args);
  return settle(next, next.relations!.at(-1)!.id);
}

/** Changes a relation if it can be met then; otherwise says which relations it fights, and nothing changes. */
export const trySetRelation = (job: Job, args: { id: string; patch: Partial<Omit<JobRelation, 'id'>> }): Kept =>
  settle(setRelation(job, args), args.id);

/**
 * Brings all relations in use to hold, as after a given has changed: points move as little as needed (the hinge least
 * willingly). `newest` is the id to blame last. Throws a LidwrightError for a relation that refers to what isn't there.
 */
export function settle(job: Job, newest?: string): Kept {
  const network = makeNetwork(job, { readings: false });
  const { layout, problem } = network;
  const start = layout.values;
  const weights = Float64Array.from(start, () => PULL.other as number);
  for (const id of [layout.job.hinge.a, layout.job.hinge.b])
    for (const j of layout.variablesOf(id)) weights[j] = PULL.hinge;
  const projector = new Projector(problem, { weights });
  let near = projector.project(start, start);
  if (!near.held) {
    const state = findState(problem);
    if (state) near = projector.project(state, start);
  }
  if (near.held) {
    const moved = movedPoints(network, near.x);
    return { ok: true, job: moved.reduce((next, m) => movePoint(next, { id: m.id, at: m.at }), job), moved };
  }
  const conflict = findConflict(problem, newest === undefined ? {} : { keep: [newest] });
  const ids = conflict?.names ?? [newest ?? near.hardWorst!];
  const nameOf = (id: string): string =>
    relationName(
      network.relations.find((r) => r.id === id)!,
      layout,
    );
  const others = ids.filter((id) => id !== newest);
  const held = layout.held.length > 0 ? ' Coordinates that givens hold stay where they are.' : '';
  const text =
    newest !== undefined && ids.includes(newest)
      ? others.length === 0
        ? `It can't be met: ${nameOf(newest)}.${held}`
        : `It can't be met together with: ${others.map(nameOf).join('; ')}.${held}`
      : `These can't hold together: ${ids.map(nameOf).join('; ')}.${held}`;
  return { ok: false, text, fights: others };
}

function movedPoints({ layout }: Network, x: Float64Array): MovedPoint[] {
  return layout.ids.flatMap((id, i) => {
    const at = pointAt(x, i);
    const byMm = distance(at, pointAt(layout.values, i));
    return byMm > MOVED_MM ? [{ id, at, byMm }] : [];
  });
}

export interface DragStep {
  /** False: the relations could not be kept there; positions are the last that held. */
  readonly held: boolean;
  /** Every point that is not where the drag began. */
  readonly moved: readonly MovedPoint[];
  /** How far the dragged point lags behind its target, mm. */
  readonly lagMm: number;
}

/**
 * A drag with relations kept: made once when the drag begins, asked at every move. The dragged point follows the target,
 * the others move as little as needed from where the drag began, and the hinge stays unless it is what is dragged.
 * Positions are those with the lid closed, mm.
 */
export class RelationDrag {
  private readonly network: Network;
  private readonly projector: Projector;
  private readonly state: Float64Array;
  private readonly target: Float64Array;
  private readonly place: number;

  /** Throws a LidwrightError for a relation that refers to what isn't there, or a point that isn't. */
  constructor(
    private readonly job: Job,
    pointId: string,
  ) {
    this.network = makeNetwork(job, { readings: false });
    const { layout, problem } = this.network;
    this.place = layout.indexOf(pointId);
    const own = layout.variablesOf(pointId);
    const { a, b } = layout.job.hinge;
    const hinge = pointId === a || pointId === b ? [] : [...layout.variablesOf(a), ...layout.variablesOf(b)];
    const weights = Float64Array.from(layout.values, () => PULL.other as number);
    for (const j of own) weights[j] = PULL.dragged;
    // a point without relations is free although the network leaves it out
    const fixed = (problem.fixed ?? []).filter((j) => !own.includes(j as never) || layout.held.includes(j));
    this.state = Float64Array.from(layout.values);
    this.target = Float64Array.from(layout.values);
    this.projector = new Projector({ ...problem, fixed: [...fixed, ...hinge] }, { weights, moved: own });
  }

  /** Where everything goes with the dragged point led to `target`. */
  to(target: Vec3): DragStep {
    const { layout } = this.network;
    for (const k of [0, 1, 2] as const) this.target[3 * this.place + k] = target[k];
    const step = this.projector.project(this.state, this.target);
    if (step.held) this.state.set(step.x);
    return {
      held: step.held,
      moved: layout.ids.flatMap((id, i) => {
        const at = pointAt(this.state, i);
        const byMm = distance(at, pointAt(layout.values, i));
        return byMm > MOVED_MM ? [{ id, at, byMm }] : [];
      }),
      lagMm: distance(pointAt(this.state, this.place), target),
    };
  }

  /** The job as it is at the last step: one edit from the job at the start. */
  result(): Job {
    return movedPoints(this.network, this.state).reduce((next, m) => movePoint(next, { id: m.id, at: m.at }), this.job);
  }
}

/** One drag step by itself: leads a point to `target` (mm, lid closed) with all relations kept. Use RelationDrag for many. */
export function dragWithRelations(job: Job, pointId: string, target: Vec3): DragStep & { readonly job: Job } {
  const drag = new RelationDrag(job, pointId);
  const step = drag.to(target);
  return { ...step, job: drag.result() };
}

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
  /** Related points that can still move, each with the directions it can move in. */
  readonly canMove: readonly { readonly id: string; readonly share: number; readonly text: string }[];
}

/** A relation holds to a person within this, mm or degrees: job files round to a thousandth. */
export const HOLDS_WITHIN = { mm: 0.01, deg: 0.001 } as const;

/** Which relations hold, which repeat others, and what can still move, with the lid closed as the job stands. */
export function relationReport(job: Job): RelationReport {
  const network = makeNetwork(job, { readings: false });
  const { layout, problem } = network;
  const f = freedom(problem, layout.values, 'hard');
  const relations = network.relations.map((r): RelationState => {
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
    if (unit === 'deg') off = toDeg(off);
    const said = f.redundant.find((d) => d.name === r.id)?.saidBy ?? [];
    return { id: r.id, name: relationName(r, layout), unit, off, holds: off <= HOLDS_WITHIN[unit], saidBy: said };
  });
  const canMove = layout.ids.flatMap((id, i) => {
    if (!network.points.has(id)) return [];
    const share = Math.hypot(...layout.variablesOf(id).map((j) => f.mobility[j]!));
    if (share < 1e-6) return [];
    const single = f.directions.length === 1 ? pointAt(f.directions[0]!, i) : null;
    const length = single ? Math.hypot(...single) : 0;
    const text = single
      ? directionText([single[0] / length, single[1] / length, single[2] / length])
      : 'in more than one way';
    return [{ id, share, text }];
  });
  return { relations, degrees: f.degrees, canMove };
}
