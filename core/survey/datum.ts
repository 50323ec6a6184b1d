import type { Job, JobRelation } from '../job';
import { type Vec3, add, axisVec, cross, mapVec, norm, sub } from '../space';
import type { EquationBlock } from '../solve';
import { pointAt } from './layout';
import { makeNetwork } from './network';

/** What would hold a survey that is free to float as a whole. */
export interface Datum {
  /** Ways in which all the measured points can move and turn together: 0 held, 6 wholly free. */
  readonly free: number;
  /** As few relations as hold it, at the present places: they change no distance between points. */
  readonly relations: readonly Omit<JobRelation, 'id'>[];
  /** In words: "port hinge pin where it is; z of lift handle". */
  readonly words: string;
}

const AXES = ['x', 'y', 'z'] as const;
/** A motion counts as held where it changes an equation by more than this share of its size. */
const HELD = 1e-6;

/**
 * How far readings and relations leave the survey free to move as a stiff whole, and what would hold it: hinge points
 * first, then those points that hold a turn best. Nothing but the datum's own freedom is taken away.
 */
export function datumOf(raw: Job): Datum {
  const network = makeNetwork(raw);
  const { layout, problem } = network;
  const ids = layout.ids.filter((id) => network.points.has(id));
  if (ids.length === 0) return { free: 0, relations: [], words: '' };
  const x = problem.variables;
  const places = ids.map((id) => pointAt(x, layout.indexOf(id)));
  const middle = mapVec(places.reduce(add), (sum) => sum / places.length);
  const reach = Math.max(1, ...places.map((p) => norm(sub(p, middle))));
  // six motions of about the same size at the outermost point: three ways along, three turns
  const motions = AXES.flatMap((_, k) => {
    const e = axisVec(k);
    return [() => e, (p: Vec3) => mapVec(cross(e, sub(p, middle)), (v) => v / reach)];
  });
  const gradients: number[][] = [];
  const fixed = new Set(problem.fixed ?? []);
  for (const i of layout.held)
    if (network.points.has(layout.ids[Math.floor(i / 3)]!))
      gradients.push(motions.map((m) => m(pointAt(x, Math.floor(i / 3)))[i % 3]!));
  for (const id of network.photos.known)
    if (network.points.has(id))
      for (const k of [0, 1, 2]) gradients.push(motions.map((m) => m(pointAt(x, layout.indexOf(id)))[k]!));
  // cameras go along with what they see, so their marks hold nothing by themselves
  const marks = new Set(network.photos.equations);
  for (const block of problem.equations) if (!marks.has(block)) gradients.push(...rates(block, x, motions, fixed));

  const basis: number[][] = [];
  const hold = (g: readonly number[]): boolean => {
    const size = Math.hypot(...g);
    const left = rest(g, basis);
    const spare = Math.hypot(...left);
    if (!(size > 1e-12) || spare < HELD * Math.max(1, size)) return false;
    basis.push(left.map((v) => v / spare));
    return true;
  };
  const gradient = (id: string, k: number): number[] => motions.map((m) => m(pointAt(x, layout.indexOf(id)))[k]!);
  // points in one line can't be seen to turn about it: six ways, or fewer
  for (const id of ids) for (const k of [0, 1, 2]) hold(gradient(id, k));
  const ways = basis.length;
  basis.length = 0;
  for (const g of gradients) hold(g);
  const free = Math.max(0, ways - basis.length);

  const { a, b } = layout.job.hinge;
  const held = new Map<string, number[]>();
  // one stage after the other: hinge A, hinge B, then anything; of a stage always the one that holds best
  for (const stage of [[a], [b], ids]) {
    for (;;) {
      if (basis.length >= ways) break;
      const offers = stage
        .filter((id) => network.points.has(id))
        .flatMap((id) => [0, 1, 2].map((k) => ({ id, k, left: Math.hypot(...rest(gradient(id, k), basis)) })))
        .filter((o) => o.left > 0.02);
      if (offers.length === 0) break;
      const best = offers.reduce((m, o) => (o.left > m.left * (1 + 1e-9) ? o : m));
      if (!hold(gradient(best.id, best.k))) break;
      held.set(best.id, [...(held.get(best.id) ?? []), best.k].sort());
    }
  }
  const plain = (id: string): string => {
    const name = layout.names[layout.indexOf(id)]!;
    return name.charAt(0).toLowerCase() + name.slice(1);
  };
  const relations = [...held].flatMap(([id, axes]): Omit<JobRelation, 'id'>[] => {
    const at = pointAt(x, layout.indexOf(id));
    if (axes.length === 3) return [{ kind: 'fixed', points: [id], at: [...at] }];
    return axes.map((k) => ({ kind: 'on-plane', points: [id], axis: AXES[k]!, valueMm: at[k]! }));
  });
  const words = [...held]
    .map(([id, axes]) =>
      axes.length === 3 ? `${plain(id)} where it is` : `${axes.map((k) => AXES[k]).join(' and ')} of ${plain(id)}`,
    )
    .join('; ');
  return { free, relations, words };
}

/** What is left of a vector across a basis of orthonormal ones. */
const rest = (g: readonly number[], basis: readonly (readonly number[])[]): number[] =>
  basis.reduce<number[]>(
    (left, q) => {
      const along = left.reduce((s, v, i) => s + v * q[i]!, 0);
      return left.map((v, i) => v - along * q[i]!);
    },
    [...g],
  );

/** How fast each residual of a block changes with each motion, in lengths of about the points' own. */
function rates(
  block: EquationBlock,
  x: Float64Array,
  motions: readonly ((p: Vec3) => Vec3)[],
  fixed: ReadonlySet<number>,
): number[][] {
  const step = 1e-3;
  const rows = Array.from({ length: block.size }, () => [] as number[]);
  const at = (motion: (p: Vec3) => Vec3, h: number): Float64Array => {
    const v = Float64Array.from(block.variables, (i) => {
      // what nothing measures stays where it is, as in the adjustment
      return x[i]! + (fixed.has(i) ? 0 : h * motion(pointAt(x, Math.floor(i / 3)))[i % 3]!);
    });
    const out = new Float64Array(block.size);
    block.residual(v, out);
    return out;
  };
  for (const motion of motions) {
    const up = at(motion, step);
    const down = at(motion, -step);
    rows.forEach((row, r) => row.push((up[r]! - down[r]!) / (2 * step)));
  }
  // an angle changes by little for a lot: judged beside its own largest change
  return rows.map((row) => {
    const size = Math.max(...row.map(Math.abs));
    return size > 1e-7 ? row.map((v) => v / size) : row;
  });
}
