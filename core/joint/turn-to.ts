import { type Vec3, add, scale, toRad } from '../space';
import { type Mount, stemFromMount } from './stem';

/** Most that a stem can be leant by hand, degrees. */
const LARGEST_TILT_DEG = 60;

/**
 * The azimuth (or tilt), degrees to 0.1, that brings the tip of a stem nearest to a place in a view; where the view sees the
 * stem's circle from its edge two do, and the one nearer to the present value is taken.
 * `ball`, `reachMm`: where the stem stands and how far its tip is from there; `seen`: a place as the view shows it, with the
 * stem's body posed (mm on paper); `to`: the wanted place there. Throws a LidwrightError as mountFrame does.
 */
export function turnTo(args: {
  readonly mount: Mount;
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
  readonly what: 'azimuth' | 'tilt';
  readonly ball: Vec3;
  readonly reachMm: number;
  readonly pose: (stem: Vec3) => Vec3;
  readonly seen: (p: Vec3) => readonly [number, number];
  readonly to: readonly [number, number];
}): number {
  const { mount, azimuthDeg, tiltDeg, ball, reachMm, pose, seen, to } = args;
  const turning = args.what === 'azimuth';
  const present = turning ? azimuthDeg : tiltDeg;
  const cost = (value: number): number => {
    const stem = pose(stemFromMount(mount, toRad(turning ? value : azimuthDeg), toRad(turning ? tiltDeg : value)));
    const [x, y] = seen(add(ball, scale(stem, reachMm)));
    // a tie between two places is settled by nearness, worth a hair of distance
    const turn = Math.abs(((value - present + 540) % 360) - 180);
    return Math.hypot(x - to[0], y - to[1]) + (1e-4 * reachMm * turn) / 180;
  };
  let best = present;
  let least = Infinity;
  const scan = (from: number, last: number, step: number): void => {
    for (let v = from; v <= last + 1e-9; v += step) {
      const c = cost(v);
      if (c < least) [best, least] = [v, c];
    }
  };
  const most = turning ? 180 : LARGEST_TILT_DEG;
  scan(-most, most, 3);
  for (const step of [0.5, 0.1]) scan(best - 6 * step, best + 6 * step, step);
  const held = turning ? best : Math.min(Math.max(best, -most), most);
  const wrapped = held > 180 ? held - 360 : held <= -180 ? held + 360 : held;
  return Math.round(wrapped * 10) / 10 + 0;
}
