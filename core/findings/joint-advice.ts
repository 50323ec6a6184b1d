import type { EndName, ResolvedJob, StrutEnd } from '../job';
import {
  type Mount,
  type Swing,
  bestAtTilt,
  bestAxialStem,
  bestStem,
  fittingKind,
  overRange,
  roundStem,
  sizedFitting,
  wedgeWithTurn,
} from '../joint';
import { type Vec3, mapVec } from '../space';
import type { Plan, StrutPlan, TravelTable } from '../travel';
import type { Proposal, formatter } from './finding';
import { offNominal, rodEnd, stemOfEnd } from './joint-travel';

export interface Cure {
  readonly advice: string;
  readonly proposal?: Proposal;
}

/** Room left inside the range that a rounded stem should keep, degrees: hands and drills are no better. */
const ROOM_DEG = 1;
/** A wedge steeper than this is another mount. */
const STEEP_WEDGE_DEG = 45;
/** Bare stems are rounded in heading from X and rise over level. */
const LEVEL: Mount = { normal: [0, 0, 1], reference: [1, 0, 0] };

/** Rounds to 5° where that keeps room, else to 1° where that holds, else to 0.1°; null where no rounding holds. */
function workable(swing: Swing, mount: Mount, stem: Vec3, limit: number, off: ReturnType<typeof offNominal>) {
  for (const [stepDeg, room] of [
    [5, ROOM_DEG],
    [1, 0],
    [0.1, 0],
  ] as const) {
    const rounded = roundStem(swing, mount, stem, stepDeg, off);
    if (rounded.deviationDeg <= limit - room + 1e-9) return { ...rounded, stepDeg };
  }
  return null;
}

const tidy = (x: number): number => Math.round(x * 10) / 10;

/** What mends a joint that leaves its range: the azimuth alone, else turn and wedge, else a free stem; in words and values. */
export function cureOf(
  swing: Swing,
  strut: StrutPlan,
  end: EndName,
  spec: StrutEnd,
  path: Proposal['path'],
  f: ReturnType<typeof formatter>,
): Cure {
  const limit = spec.rangeDeg;
  const axial = fittingKind(spec.fitting) === 'axial-ball';
  const off = offNominal(spec.fitting);
  const line = axial ? 'the strut’s line' : 'square';
  const present = stemOfEnd(strut, end);
  if (spec.mount && !axial) {
    const tiltDeg = spec.tiltDeg ?? 0;
    const best = bestAtTilt(swing, spec.mount, tiltDeg, spec.azimuthDeg ?? 0);
    if (best.deviationDeg <= limit) {
      const value = tidy(best.azimuthDeg);
      return {
        advice: `Turn the mount to ${f(value, 'angle')}: then it stays within ${f(best.deviationDeg, 'angle')} of square.`,
        proposal: { label: `Turn to ${f(value, 'angle')}`, path: [...path, 'azimuthDeg'], value },
      };
    }
  }
  const free = axial ? bestAxialStem(swing, present) : bestStem(swing, present);
  if (free.deviationDeg > limit)
    return {
      advice: `No way to set the stud holds: the best still goes ${f(free.deviationDeg, 'angle')} off ${line}. It needs a joint with a wider range, or another pivot.`,
    };
  const mount = spec.mount ?? LEVEL;
  const rounded = workable(swing, mount, free.stem, limit, off) ?? {
    ...roundStem(swing, mount, free.stem, 0.1, off),
    stepDeg: 0.1,
  };
  const cost = `${f(rounded.deviationDeg, 'angle')} off ${line} at worst; rounding to ${rounded.stepDeg}° costs ${f(Math.max(0, rounded.costDeg), 'angle')} of it`;
  if (!spec.mount) {
    const value = mapVec(rounded.stem, (x) => Math.round(x * 1e4) / 1e4);
    return {
      advice: `Turn the stud to ${value.join(', ').replaceAll('-', '−')}: then it gets ${cost}. Give the end a mount to see it as azimuth and wedge.`,
      proposal: {
        label: 'Turn the stud',
        path: [...path, 'stem', 0],
        value: value[0],
        more: [
          { path: [...path, 'stem', 1], value: value[1] },
          { path: [...path, 'stem', 2], value: value[2] },
        ],
      },
    };
  }
  const wedge = wedgeWithTurn(spec.mount, present, rounded.stem);
  const [azimuthDeg, tiltDeg] = [tidy(rounded.azimuthDeg), tidy(rounded.tiltDeg)];
  const turn = `turn the mount to ${f(azimuthDeg, 'angle')}`;
  const how =
    wedge.angleDeg > STEEP_WEDGE_DEG
      ? `It needs another surface: ${turn} and lean the stud to ${f(tiltDeg, 'angle')}, too steep for a wedge`
      : `No azimuth at this tilt holds: ${turn} and put a wedge of ${f(wedge.angleDeg, 'angle')} under it, thick end toward ${f(wedge.thickAzimuthDeg, 'angle')}`;
  return {
    advice: `${how}: then it gets ${cost}. A wedge lifts the ball by its own thickness: measure the pivot again.`,
    proposal: {
      label: `Turn to ${f(azimuthDeg, 'angle')}, tilt ${f(tiltDeg, 'angle')}`,
      path: [...path, 'azimuthDeg'],
      value: azimuthDeg,
      more: [{ path: [...path, 'tiltDeg'], value: tiltDeg }],
    },
  };
}

/**
 * What a joint past its range does to the rod's end, in words: where the strongest strut over all cases pushes it there.
 * Empty where no force is known.
 */
export function harmOf(
  job: Pick<ResolvedJob, 'struts'>,
  plans: readonly Plan[],
  tables: readonly TravelTable[],
  k: number,
  end: EndName,
  broken: (row: number) => boolean,
  excessDeg: number,
  f: ReturnType<typeof formatter>,
): string {
  const strut = job.struts[k]!;
  let forceN = 0;
  let lengthMm = Infinity;
  tables.forEach((table) => {
    const row = table.struts[k]!;
    for (let i = 0; i < row.lengthMm.length; i++) {
      if (!broken(i)) continue;
      if (row.compressingN[i]! > forceN) forceN = row.compressingN[i]!;
      lengthMm = Math.min(lengthMm, row.lengthMm[i]!);
    }
  });
  if (!(forceN > 0) || !Number.isFinite(lengthMm) || plans.length === 0) return '';
  const { fitting, assumed } = sizedFitting(strut.ends[end].fitting, strut.spec.rodMm);
  const harm = overRange({ fitting, excessDeg, forceN, rodMm: strut.spec.rodMm, lengthMm });
  const mpa = (x: number): string => `${Math.round(x)} N/mm²`;
  const size = `${fitting.thread!.name}${assumed ? ' (size assumed from the rod)' : ''}`;
  const where = rodEnd(plans[0]!, k) === end ? 'rod-end thread' : 'tube-end thread';
  return ` The socket’s rim then carries ${f(forceN, 'force')} at ${f(harm.armMm, 'length')} off the middle: ${mpa(harm.threadMPa)} at the root of the ${size} ${where}. If the lid forces it round by ${f(toDegTidy(excessDeg), 'angle')}, up to ${mpa(harm.forcedThreadMPa)}, ${harm.yields ? 'over' : 'under'} the yield of class 8.8 (640): ${harm.yields ? 'the thread bends, and snaps after some closings' : 'it wears and loosens'}. An estimate.`;
}

const toDegTidy = (deg: number): number => Math.round(deg * 10) / 10;
