import { type Vec3, acos, atan2, cos, dot, sin, toDeg, toRad } from '../space';
import { type Mount, type MountFrame, mountFrame, stemFromMount } from './stem';
import { type Swing, anglesOver, directionAt, worstDeviation } from './swing';

/** Joint angle against azimuth: closed, fully open, and the worst deviation over the travel between. Degrees. */
export interface AzimuthChart {
  readonly azimuthDeg: Float64Array;
  readonly closedDeg: Float64Array;
  readonly openDeg: Float64Array;
  /** Largest |90° − φ| over the travel, and the opening angle where. */
  readonly worstDeg: Float64Array;
  readonly worstAtDeg: Float64Array;
}

/** Angles against azimuth, −180° to 180° in steps of `stepDeg`, on a mount at a fixed tilt. */
export function angleAgainstAzimuth(swing: Swing, mount: Mount, tiltDeg: number, stepDeg = 1): AzimuthChart {
  const n = Math.round(360 / stepDeg);
  const row = (): Float64Array => new Float64Array(n + 1);
  const chart = { azimuthDeg: row(), closedDeg: row(), openDeg: row(), worstDeg: row(), worstAtDeg: row() };
  for (let i = 0; i <= n; i++) {
    const azimuthDeg = -180 + (360 * i) / n;
    const angles = anglesOver(swing, stemFromMount(mount, toRad(azimuthDeg), toRad(tiltDeg)));
    let worst = 0;
    for (let k = 0; k < angles.length; k++) if (Math.abs(90 - angles[k]!) > Math.abs(90 - angles[worst]!)) worst = k;
    chart.azimuthDeg[i] = azimuthDeg;
    chart.closedDeg[i] = angles[0]!;
    chart.openDeg[i] = angles[angles.length - 1]!;
    chart.worstDeg[i] = Math.abs(90 - angles[worst]!);
    chart.worstAtDeg[i] = swing.angleDeg[worst]!;
  }
  return chart;
}

/** Azimuths from `fromDeg` on, turning positive, for `widthDeg`. */
export interface Band {
  readonly fromDeg: number;
  readonly toDeg: number;
  readonly widthDeg: number;
}

/** −180 < x ≤ 180. */
export const wrapDeg = (x: number): number => {
  const y = ((x % 360) + 360) % 360;
  return y > 180 ? y - 360 : y;
};

/** Runs [from, to] within 0° … 360°, cut at 0°, ascending and apart. */
type Runs = readonly (readonly [number, number])[];
const ALL: Runs = [[0, 360]];

/** What lies in both. */
function meetRuns(runs: Runs, other: Runs): Runs {
  const found: [number, number][] = [];
  for (const [a, b] of runs)
    for (const [c, d] of other) {
      const from = Math.max(a, c);
      const to = Math.min(b, d);
      if (to > from) found.push([from, to]);
    }
  return found.sort((x, y) => x[0] - y[0]);
}

/** n·u as a·cos(ψ − α) + c over the azimuth, for one strut direction. */
interface Wave {
  readonly amplitude: number;
  readonly phaseDeg: number;
  readonly level: number;
}

function waveOf({ e, side, m }: MountFrame, tiltDeg: number, u: Vec3): Wave {
  const [p, q] = [dot(e, u), dot(side, u)];
  return {
    amplitude: cos(toRad(tiltDeg)) * Math.hypot(p, q),
    phaseDeg: toDeg(atan2(q, p)),
    level: sin(toRad(tiltDeg)) * dot(m, u),
  };
}

/** Azimuths with |a·cos(ψ − α) + c| ≤ most, in closed form. */
function runsOf({ amplitude, phaseDeg, level }: Wave, most: number): Runs {
  const top = most - level;
  const low = -most - level;
  if (amplitude < 1e-15) return top >= 0 && low <= 0 ? ALL : [];
  if (top < -amplitude || low > amplitude) return [];
  const nearest = toDeg(acos(Math.min(1, Math.max(-1, top / amplitude))));
  const furthest = toDeg(acos(Math.min(1, Math.max(-1, low / amplitude))));
  if (nearest <= 0 && furthest >= 180) return ALL;
  const run = (from: number, to: number): Runs => {
    const start = ((from % 360) + 360) % 360;
    const end = start + (to - from);
    return end <= 360
      ? [[start, end]]
      : [
          [0, end - 360],
          [start, 360],
        ];
  };
  if (nearest <= 0) return run(phaseDeg - furthest, phaseDeg + furthest);
  if (furthest >= 180) return run(phaseDeg + nearest, phaseDeg + 360 - nearest);
  return [...run(phaseDeg + nearest, phaseDeg + furthest), ...run(phaseDeg - furthest, phaseDeg - nearest)];
}

/** What holds against all waves at this limit (a sine). */
const runsOfAll = (waves: readonly Wave[], most: number): Runs => {
  let runs: Runs = ALL;
  for (const wave of waves) {
    runs = meetRuns(runs, runsOf(wave, most));
    if (runs.length === 0) return runs;
  }
  return runs;
};

/** Joins the run that ends at 360° to the one that starts at 0°, and gives them as bands. */
function bandsOf(runs: Runs): Band[] {
  const first = runs[0];
  const last = runs.at(-1);
  if (!first || !last) return [];
  if (first[0] <= 0 && first[1] >= 360) return [{ fromDeg: -180, toDeg: 180, widthDeg: 360 }];
  const wraps = runs.length > 1 && first[0] <= 0 && last[1] >= 360;
  const whole: (readonly [number, number])[] = wraps ? [...runs.slice(1, -1), [last[0], first[1] + 360]] : [...runs];
  return whole.map(([a, b]) => ({ fromDeg: wrapDeg(a), toDeg: wrapDeg(b), widthDeg: b - a }));
}

const wavesOf = (swing: Swing, frame: MountFrame, tiltDeg: number): Wave[] =>
  Array.from({ length: swing.angleDeg.length }, (_, i) => waveOf(frame, tiltDeg, directionAt(swing, i)));

/**
 * The azimuths at which the joint stays within `rangeDeg` of square over the whole travel: empty when none does. Each row
 * of the travel gives its runs of azimuths in closed form and they are intersected; where an edge still breaks the range
 * between two rows, that opening angle is added and it is done again, so that edges hold to 1e-6°.
 */
export function azimuthBand(swing: Swing, mount: Mount, tiltDeg: number, rangeDeg: number): Band[] {
  const frame = mountFrame(mount);
  const waves = wavesOf(swing, frame, tiltDeg);
  const most = sin(toRad(Math.min(90, rangeDeg)));
  for (let round = 0; ; round++) {
    const bands = bandsOf(runsOfAll(waves, most));
    const edges = bands.flatMap((b) => (b.widthDeg >= 360 ? [] : [b.fromDeg, b.toDeg]));
    const inside = bands.flatMap((b) => {
      const pieces = Math.min(90, Math.ceil(b.widthDeg / 4));
      return Array.from({ length: Math.max(0, pieces - 1) }, (_, i) => b.fromDeg + (b.widthDeg * (i + 1)) / pieces);
    });
    let added = false;
    for (const azimuthDeg of [...edges, ...inside]) {
      const worst = worstDeviation(swing, stemFromMount(mount, toRad(azimuthDeg), toRad(tiltDeg)));
      if (worst.deviationDeg <= rangeDeg + 1e-10) continue;
      waves.push(waveOf(frame, tiltDeg, swing.at(worst.atDeg)));
      added = true;
    }
    if (!added || round > 30) return bands;
  }
}

/** A stem on a mount and how far off square it gets over the travel. Degrees. */
export interface MountedStem {
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
  readonly deviationDeg: number;
}

/**
 * The azimuth that keeps the joint nearest to square over the travel at a fixed tilt: the least range at which any azimuth
 * holds, halved down on the closed-form runs. Of several equals the one nearest to `nearDeg`.
 */
export function bestAtTilt(swing: Swing, mount: Mount, tiltDeg: number, nearDeg = 0): MountedStem {
  const frame = mountFrame(mount);
  const waves = wavesOf(swing, frame, tiltDeg);
  let azimuthDeg = wrapDeg(nearDeg);
  let reached = Infinity;
  for (let round = 0; round < 12; round++) {
    let [low, high] = [0, 1];
    for (let i = 0; i < 52; i++) {
      const middle = (low + high) / 2;
      if (runsOfAll(waves, middle).length > 0) high = middle;
      else low = middle;
    }
    const bands = bandsOf(runsOfAll(waves, high));
    if (bands.length === 0) break;
    const away = (b: Band): number => Math.abs(wrapDeg(b.fromDeg + b.widthDeg / 2 - nearDeg));
    const band = bands.reduce((x, y) => (away(y) < away(x) ? y : x));
    azimuthDeg = band.widthDeg >= 360 ? wrapDeg(nearDeg) : wrapDeg(band.fromDeg + band.widthDeg / 2);
    const worst = worstDeviation(swing, stemFromMount(mount, toRad(azimuthDeg), toRad(tiltDeg)));
    reached = worst.deviationDeg;
    if (sin(toRad(reached)) <= high + 1e-12) break;
    waves.push(waveOf(frame, tiltDeg, swing.at(worst.atDeg)));
  }
  return { azimuthDeg, tiltDeg, deviationDeg: reached };
}
