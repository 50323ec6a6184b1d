import type { Mark, Measured, Point } from '../../drawing';
import { atan2, onCircle, rad } from '../../space';

/** A straight size to be placed beside a view; points in paper mm of the view. */
export interface Straight {
  readonly kind: 'straight';
  readonly id: string;
  readonly axis: 'x' | 'y';
  readonly from: Point;
  readonly to: Point;
  /** How far off each end its extension line begins. */
  readonly gapsMm: readonly [number, number];
  /** Where it is better placed: 1 above or right, −1 below or left. */
  readonly side: 1 | -1;
  readonly before: string;
  readonly after: string;
  readonly decimals: number;
}

/** A size or symbol at the end of a leader. */
export interface Leader {
  readonly kind: 'leader';
  readonly id: string;
  /** The arrow's point when the leader comes from there. */
  readonly tip: (landing: Point) => Point;
  /** What it draws, the leader included: to the right (1) or the left (−1) of its landing. */
  readonly draw: (tip: Point, landing: Point, side: 1 | -1) => Mark[];
}

/** What a view must say, before anything has a place. */
export type Wanted = Straight | Leader;

interface Words {
  readonly before?: string;
  readonly after?: string;
  readonly decimals?: number;
}

/** A leader whose words are a measured figure. */
export const leaderOf = (
  id: string,
  scale: number,
  measured: Measured,
  tip: Leader['tip'],
  { before = '', after = '', decimals = 2 }: Words,
): Leader => ({
  kind: 'leader',
  id,
  tip,
  draw: (at, landing, side) => [
    {
      ...{ kind: 'dimension', id, measured, scale, before, after, decimals },
      layout: { style: 'leader', tip: at, landing, side },
    },
  ],
});

/** A radius or diameter, its arrow on the circle and aimed at the centre. `range`: the angles that are drawn of it. Paper mm. */
export const roundOf = (
  id: string,
  scale: number,
  of: 'radius' | 'diameter',
  centre: Point,
  radiusMm: number,
  words: Words,
  range?: readonly [number, number],
): Leader =>
  leaderOf(
    id,
    scale,
    { of, centre, radiusMm },
    (landing) => {
      let angle: number = atan2(landing[1] - centre[1], landing[0] - centre[0]);
      if (range) {
        const [low, high] = range[0] < range[1] ? range : [range[1], range[0]];
        const middle = (low + high) / 2;
        while (angle < middle - Math.PI) angle += 2 * Math.PI;
        while (angle > middle + Math.PI) angle -= 2 * Math.PI;
        // from behind the arc there is no arrow: the landing itself is no leader
        if (angle < low - 0.3 || angle > high + 0.3) return landing;
        angle = Math.min(high, Math.max(low, angle));
      }
      return onCircle(centre, radiusMm, rad(angle));
    },
    words,
  );
