import { fitEntry, geometryOf, rank } from '../choose';
import { attempt } from '../error';
import { type Job, movePoint, resolveJob } from '../job';
import { type Vec3, toRad } from '../space';
import { genericMetricList } from '../strut';
import { deadCentres } from '../travel';
import { workings } from '../workings';

/** Where a first strut may stand, in the lid's own axes, mm. */
interface Room {
  readonly heightMm: number;
  readonly reachMm: number;
  /** Of the strut's plane, to the left of the middle. */
  readonly sideMm: number;
  readonly spot: (outMm: number, overMm: number, leftMm: number) => Vec3;
}

/** A pair of pivots: base and lid out from the hinge as shares of the lid's reach, base inside as a share of the room. */
type Pivots = readonly [baseOut: number, baseDeep: number, lidOut: number];

/** Pivots that are tried first: inside, under the lid; then before the hinge line and outside, for lids that fall open. */
const UNDER: Pivots[] = grid([0.1, 0.25, 0.4, 0.55, 0.7], [0.3, 0.55, 0.8], [0.25, 0.4, 0.55, 0.7]);
const BEYOND: Pivots[] = grid([-0.5, -0.3, -0.15, 0.1], [-0.6, -0.3, 0.3, 0.7], [0.15, 0.3, 0.5]);
/** Steps of the refinement, shares. */
const STEPS = [0.07, 0.035];
/** A ball stands so far off what carries it, mm. */
const BALL_OFF_MM = 25;

function grid(...axes: readonly [number[], number[], number[]]): Pivots[] {
  const [a, b, c] = axes;
  return a.flatMap((x) => b.flatMap((y) => c.map((z): Pivots => [x, y, z])));
}

/** A dead centre nearer to the travel than this is one too many, degrees. */
const CLEAR_OF_DEAD_DEG = 3;
/** So many of the best are held against every finding. */
const MOST_LOOKED_AT = 8;

interface Tried {
  readonly share: number;
  readonly pivots: Pivots;
  readonly job: Job;
}

/**
 * A strut of the generic list between the pivots of a coarse grid, moved a little, that leave it most to spare and break
 * no finding; else the one with most to spare; the job as it is where none meets the demands.
 */
export function firstStrut(job: Job, { heightMm, reachMm, sideMm, spot }: Room): Job {
  const list = genericMetricList();
  const all: Tried[] = [];
  const tryAt = ([baseOut, deep, lidOut]: Pivots): Tried | null => {
    const under = Math.max(Math.abs(deep) * heightMm, 2 * BALL_OFF_MM) * Math.sign(deep);
    const base = spot(Math.round(baseOut * reachMm), -Math.round(under), sideMm);
    const lid = spot(Math.round(lidOut * reachMm), -BALL_OFF_MM, sideMm);
    const placed = movePoint(movePoint(job, { id: 's1-base', at: base }), { id: 's1-lid', at: lid });
    const { value: g } = attempt(() => geometryOf(resolveJob(placed)));
    if (
      !g ||
      deadCentres(g.law).some((at) => at > toRad(-CLEAR_OF_DEAD_DEG) && at < toRad(g.openDeg + CLEAR_OF_DEAD_DEG))
    )
      return null;
    const first = attempt(() => rank(g.job, list, { sieve: true })).value?.ranked[0];
    if (!first) return null;
    const fitted = fitEntry(placed, { strut: 's1', entry: list[first.entry]!, forceN: first.forceN });
    const tried = { share: first.merits.tightest.share, pivots: [baseOut, deep, lidOut] as const, job: fitted };
    all.push(tried);
    return tried;
  };
  const bestOf = (pivots: readonly Pivots[], start: Tried | null): Tried | null =>
    pivots
      .map(tryAt)
      .reduce((best, tried) => (tried && tried.share > (best?.share ?? -Infinity) ? tried : best), start);

  let best = bestOf(UNDER, null) ?? bestOf(BEYOND, null);
  for (const step of STEPS)
    for (let round = 0; best && round < 3; round++) {
      const [x, y, z]: Pivots = best.pivots;
      const near: Pivots[] = [-step, step].flatMap((d): Pivots[] => [
        [x + d, y, z],
        [x, y + d, z],
        [x, y, z + d],
      ]);
      const next: Tried | null = bestOf(near, best);
      if (next === best) break;
      best = next;
    }
  all.sort((a, b) => b.share - a.share);
  const breaksNothing = (tried: Tried): boolean =>
    workings(resolveJob(tried.job)).findings.every((finding) => finding.state !== 'fails');
  return (all.slice(0, MOST_LOOKED_AT).find(breaksNothing) ?? all[0])?.job ?? job;
}
