// The best place by brute force: places drawn all over both zones with every strut of the list, then a scatter round the luckiest.
import { SIZE, aimOf } from '../../../core/find/aim';
import type { Field } from '../../../core/find/field';
import { seeded } from '../../../core/find/random';

interface Lucky {
  pairing: number;
  quantity: 0 | 1;
  body: number;
  at: Float64Array;
  score: number;
}

/** Score of the best of `draws` random places, refined; under 0 none works. */
export function bruteForce(field: Field, draws: number, seed = 1): number {
  const aim = aimOf(field);
  const draw = seeded(seed);
  const hit = { score: 0, force: 0 };
  const luckiest: Lucky[] = [];
  const at = new Float64Array(SIZE);
  for (let i = 0; i < draws; i++) {
    const pairing = Math.floor(draw() * aim.pairings.length);
    aim.scatter(pairing, draw, at);
    aim.pose(pairing, at, 1);
    if (aim.quick.dead() < 0) continue;
    for (let body = 0; body < field.bodies.length; body++) {
      if (aim.quick.lengths(field.bodies[body]!) < 0) continue;
      for (const size of field.quantities) {
        const quantity = size === 2 ? 1 : 0;
        const least = luckiest.length < 12 ? -Infinity : luckiest.at(-1)!.score;
        const score = aim.score(pairing, quantity, field.bodies[body]!, at, least, hit);
        if (score <= least) continue;
        luckiest.push({ pairing, quantity, body, at: Float64Array.from(at), score });
        luckiest.sort((a, b) => b.score - a.score);
        if (luckiest.length > 12) luckiest.pop();
      }
    }
  }
  for (const one of luckiest)
    for (let width = 0.1; width > 0.002; width *= 0.7)
      for (let i = 0; i < 120; i++) {
        const near = one.at.map((v) => v + width * (2 * draw() - 1));
        const score = aim.score(one.pairing, one.quantity, field.bodies[one.body]!, near, one.score, hit);
        if (score > one.score) [one.score, one.at] = [score, near];
      }
  return Math.max(-Infinity, ...luckiest.map((l) => l.score));
}

/** Share of random places, both ends drawn all over their zones, at which some strut of the list works. */
export function workingShare(field: Field, draws: number, seed = 7): number {
  const aim = aimOf(field);
  const draw = seeded(seed);
  const hit = { score: 0, force: 0 };
  const at = new Float64Array(SIZE);
  const works = (pairing: number): boolean =>
    field.bodies.some(
      (body) =>
        aim.quick.lengths(body) >= 0 &&
        field.quantities.some((size) => aim.score(pairing, size === 2 ? 1 : 0, body, at, -1e-3, hit) > 0),
    );
  let count = 0;
  for (let i = 0; i < draws; i++) {
    const pairing = Math.floor(draw() * aim.pairings.length);
    aim.scatter(pairing, draw, at);
    aim.pose(pairing, at, 1);
    if (aim.quick.dead() >= 0 && works(pairing)) count++;
  }
  return count / draws;
}
