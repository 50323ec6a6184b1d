import { type Job, type JobRelation, type Relation, movePoint } from '../job';
import { Projector, findConflict, findState } from '../solve';
import { type Vec3, add, distance, dot, norm, scale, sub } from '../space';
import { addRelation, setRelation } from './edits';
import { pointAt } from './layout';
import { type Network, makeNetwork } from './network';
import { relationName } from './relations';

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

/** A move shorter than this is no move to a person, mm. */
const MOVED_MM = 5e-4;

/** Most tries to find the shift along the line of sight, and what is left of it that is nothing, mm. */
const MOST_SHIFTS = 5;
const SHIFT_MM = 1e-3;

/** A lag over this is worth a second look at where the others went, mm. */
const FAR_MM = 1;

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

/** Changes a relation if it can be met then; otherwise says which relations it fights, and nothing changes. @internal for tests */
export const trySetRelation = (job: Job, args: { id: string; patch: Partial<Omit<JobRelation, 'id'>> }): Kept =>
  settle(setRelation(job, args), args.id);

/** How hard a settling pulls each variable to where it is: the hinge gives way last. */
function restWeights({ layout }: Network): Float64Array {
  const weights = Float64Array.from(layout.values, () => PULL.other as number);
  for (const id of [layout.job.hinge.a, layout.job.hinge.b])
    for (const j of layout.variablesOf(id)) weights[j] = PULL.hinge;
  return weights;
}

/** The point that a relation is about, where its wording has one: "A level with B" moves A. */
function subjectsOf(r: Relation): readonly string[] {
  const ids = r.points ?? [];
  switch (r.kind) {
    case 'level-with':
    case 'plumb-with':
    case 'on-line':
    case 'on-plane':
    case 'on-circle':
      return ids.slice(0, 1);
    case 'mirrored':
      return ids.slice(1, 2);
    case 'in-line':
      return ids.slice(2);
    case 'fixed':
    case 'distance':
    case 'equal-distance':
    case 'angle':
    case 'closed-length':
    case 'open-length':
      return [];
  }
}

/**
 * Variables that stay if they can: all but those of strut and spring ends and of what relations are about. A person measured
 * the hinge, the corners and the masses; the pivots are theirs to choose.
 */
function stayIfTheyCan({ layout, relations }: Network): number[] {
  const { struts, springs } = layout.job;
  const willing = new Set([
    ...struts.flatMap((s) => [s.base, s.lid]),
    ...springs.flatMap((s) => [s.base, s.lid]),
    ...relations.flatMap(subjectsOf),
  ]);
  for (const id of [layout.job.hinge.a, layout.job.hinge.b]) willing.delete(id);
  return layout.ids.flatMap((id) => (willing.has(id) ? [] : layout.variablesOf(id)));
}

const moveTo = (job: Job, network: Network, x: Float64Array): Extract<Kept, { ok: true }> => ({
  ok: true,
  job: placed(job, network, x),
  moved: movedPoints(network, x),
});

/**
 * The quick part of `settle`, for a page that must not wait: the nearest state in which all relations hold, or null where the
 * way there from the present state is not found at once (which does not say that there is none). `put` names coordinates
 * that a person has just typed: they stay as they are, and the point's others are given up last.
 * Throws a LidwrightError for a relation that refers to what isn't there.
 */
export function settleNear(
  job: Job,
  put?: { readonly id: string; readonly axes: readonly (0 | 1 | 2)[] },
): Extract<Kept, { ok: true }> | null {
  const network = makeNetwork(job, { readings: false });
  const { layout, problem } = network;
  const weights = restWeights(network);
  const own = put ? layout.variablesOf(put.id) : [];
  for (const j of own) weights[j] = PULL.dragged;
  const typed = put ? put.axes.map((k) => own[k]!) : [];
  for (const stay of [stayIfTheyCan(network).filter((j) => !own.includes(j as never)), []]) {
    const fixed = [...(problem.fixed ?? []), ...typed, ...stay];
    const near = new Projector({ ...problem, fixed }, { weights }).project(layout.values, layout.values);
    if (near.held) return moveTo(job, network, near.x);
  }
  return null;
}

/**
 * Brings all relations in use to hold, as after a given has changed: points move as little as needed. What was measured
 * (corners, masses, the grip) stays where pivots alone can do it, and the hinge gives way last. `newest` is the id to blame last. Throws a LidwrightError for a relation that refers to what isn't there.
 */
export function settle(job: Job, newest?: string): Kept {
  const quick = settleNear(job);
  if (quick) return quick;
  const network = makeNetwork(job, { readings: false });
  const { layout, problem } = network;
  const start = layout.values;
  const projector = new Projector(problem, { weights: restWeights(network) });
  const state = findState(problem);
  const near = projector.project(state ?? start, start);
  if (near.held) return moveTo(job, network, near.x);
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

/** The job with every free point where x has it, fine enough for relations to hold in the file. */
const placed = (job: Job, { layout }: Network, x: Float64Array): Job =>
  layout.ids.reduce((next, id, i) => movePoint(next, { id, at: pointAt(x, i), fine: true }), job);

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

  /**
   * Where everything goes with the dragged point led to `target`. `along`: a unit vector that the person can't see (a view's
   * line of sight); the point may shift along it to come nearer to the target as seen, and the lag does not count it.
   */
  to(target: Vec3, along?: Vec3): DragStep {
    let shift = 0;
    let step = this.lead(target);
    if (along && step.held) {
      const missed = (): number => dot(sub(pointAt(this.state, this.place), target), along) - shift;
      let off = missed();
      let before: { shift: number; off: number } | null = null;
      for (let k = 0; k < MOST_SHIFTS && Math.abs(off) > SHIFT_MM; k++) {
        // the shift that leaves nothing to wish for, by secant; a plain step where the two last say nothing
        const slope = before ? (off - before.off) / (shift - before.shift) : -1;
        const by = slope < -0.01 && slope > -1.5 ? -off / slope : off;
        before = { shift, off };
        shift += by;
        step = this.lead(add(target, scale(along, shift)));
        if (!step.held) break;
        off = missed();
      }
    }
    const reached = pointAt(this.state, this.place);
    const short = sub(reached, target);
    if (step.held && norm(along ? sub(short, scale(along, dot(short, along))) : short) > FAR_MM) this.leadBack(reached);
    const lag = sub(pointAt(this.state, this.place), target);
    return {
      held: step.held,
      moved: movedPoints(this.network, this.state),
      lagMm: norm(along ? sub(lag, scale(along, dot(lag, along))) : lag),
    };
  }

  private lead(target: Vec3): { readonly held: boolean } {
    for (const k of [0, 1, 2] as const) this.target[3 * this.place + k] = target[k];
    const step = this.projector.project(this.state, this.target);
    if (step.held) this.state.set(step.x);
    return step;
  }

  /**
   * A target far out of reach can carry the other points to where they need not be (an angle met from its other side):
   * from where the drag began, straight to the place that was reached, they move less.
   */
  private leadBack(reached: Vec3): void {
    const { values } = this.network.layout;
    const far = (x: Float64Array): number => x.reduce((sum, v, j) => sum + (v - values[j]!) ** 2, 0);
    const before = far(this.state);
    for (const k of [0, 1, 2] as const) this.target[3 * this.place + k] = reached[k];
    const step = this.projector.project(values, this.target);
    const same = distance(pointAt(step.x, this.place), reached) < SHIFT_MM;
    if (step.held && same && far(step.x) < before) this.state.set(step.x);
  }

  /** The job as it is at the last step: one edit from the job at the start. */
  result(): Job {
    return placed(this.job, this.network, this.state);
  }
}

/** One drag step by itself: leads a point to `target` (mm, lid closed) with all relations kept. Use RelationDrag for many. @internal for tests */
export function dragWithRelations(job: Job, pointId: string, target: Vec3): DragStep & { readonly job: Job } {
  const drag = new RelationDrag(job, pointId);
  const step = drag.to(target);
  return { ...step, job: drag.result() };
}
