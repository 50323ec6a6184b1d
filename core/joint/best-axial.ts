import { type Vec3, add, cross, dot, norm, scale, unit } from '../space';
import type { BestStem } from './best-stem';
import { type Swing, directionAt, worstFromLine } from './swing';

/** Middles of the caps whose rim goes through two or three of the directions. */
function* middles(set: readonly Vec3[]): Generator<Vec3> {
  for (let i = 0; i < set.length; i++)
    for (let k = i + 1; k < set.length; k++) {
      const sum = add(set[i]!, set[k]!);
      if (norm(sum) > 1e-9) yield unit(sum);
      for (let m = k + 1; m < set.length; m++) {
        const [ab, ac] = [set[k]!, set[m]!].map((v) => add(v, scale(set[i]!, -1)));
        const normal = cross(ab!, ac!);
        if (norm(normal) > 1e-14) yield dot(normal, set[i]!) < 0 ? unit(scale(normal, -1)) : unit(normal);
      }
    }
}

/**
 * The stem of an axial joint that stays nearest to the strut's line over the whole travel: the middle of the smallest cap
 * that holds every direction. Caps of a few directions are listed and the smallest that holds those is tried against the
 * whole travel; what sticks out joins them, until nothing does. Returned on the side of `near`.
 */
export function bestAxialStem(swing: Swing, near: Vec3): BestStem {
  const set: Vec3[] = [directionAt(swing, 0)];
  let stem = set[0]!;
  for (let round = 0; round < 30; round++) {
    const worst = worstFromLine(swing, stem);
    const out = swing.at(worst.atDeg);
    const rim = Math.min(...set.map((u) => dot(u, stem)));
    if (dot(out, stem) >= rim - 1e-13) break;
    set.push(out);
    let least = -Infinity;
    for (const n of middles(set)) {
      const reach = Math.min(...set.map((u) => dot(u, n)));
      if (reach > least) [least, stem] = [reach, n];
    }
  }
  return {
    stem: dot(stem, near) < 0 ? scale(stem, -1) : stem,
    deviationDeg: worstFromLine(swing, stem).deviationDeg,
  };
}
