import type { BracketKind, EndName, JobBracket, Strut } from '../job';
import { azimuthAndTilt, fittingKind, sizedFitting } from '../joint';
import { toDeg, unit } from '../space';
import { leastInsideRadiusMm } from './bend-tables';
import { clearanceHolesMm, hardwareOf, type ThreadName, threadNames } from './tables';

/** To the next half millimetre up. */
const half = (mm: number): number => Math.ceil(mm * 2 - 1e-9) / 2;
const STEEL = 'Steel S235JR';
const even = (mm: number): number => Math.ceil(mm / 2) * 2;

/** Plate that a stud of this thread usually stands on, mm: half its diameter, in stock sizes. Common practice, no source. */
const usualPlateMm = (studMm: number): number => [3, 4, 5, 6, 8].find((t) => t >= studMm / 2) ?? 8;

/** The ball stud's thread for an end: as its fitting has it, else as the fitting that common practice puts on such a rod. */
export function studFor(strut: Strut, end: EndName): ThreadName {
  const mm = sizedFitting(strut.ends[end].fitting, strut.spec.rodMm).fitting.thread?.diameterMm ?? 8;
  return threadNames.find((name) => Number(name.slice(1)) >= mm) ?? 'M16';
}

/**
 * A bracket to begin with at an end of a strut: a bent angle that can be made, its stud and holes by the end's fitting, the rest in proportion to the
 * stud, of plate as usual for that or of another thickness. Nothing of it is judged: its strength is for the findings. `kind` other than a bent
 * angle is reached by `setBracketKind`. Lengths mm.
 */
export function firstBracket(strut: Strut, end: EndName, id: string, name: string, plateMm?: number): JobBracket {
  const stud = studFor(strut, end);
  const d = Number(stud.slice(1));
  const hole = clearanceHolesMm[stud].medium;
  const { washerDiameterMm, washerThicknessMm, jointHeadDiameterMm, acrossCornersMm, headHeightMm } = hardwareOf(stud);
  const thicknessMm = plateMm ?? usualPlateMm(d);
  const insideRadiusMm = leastInsideRadiusMm(STEEL, thicknessMm)?.alongMm ?? half(1.5 * thicknessMm);
  const takes = thicknessMm + insideRadiusMm;
  const fromEndMm = half(Math.max(1.5 * hole, washerDiameterMm / 2 + 2) + 2);
  const baseLegMm = even(fromEndMm + acrossCornersMm / 2 + headHeightMm + takes + 4);
  // two thicknesses from the bend, or bending pulls the hole oval
  const clear = Math.max(2 * thicknessMm + clearanceHolesMm[stud].fine / 2, acrossCornersMm / 2 + 4);
  // as a channel the joint's socket hangs over the fixings' heads
  const overHeads = thicknessMm + washerThicknessMm + headHeightMm + jointHeadDiameterMm / 2 + 2;
  const heightMm = half(Math.max(takes + clear, overHeads));
  const topWidthMm = even(Math.max(3 * hole, jointHeadDiameterMm + 8));
  const spacingMm = even(Math.max(3 * hole, washerDiameterMm + 6));
  return {
    id,
    name,
    kind: 'bent-angle',
    strut: strut.id,
    end,
    thicknessMm,
    insideRadiusMm,
    baseLegMm,
    uprightLegMm: even(heightMm + topWidthMm / 2),
    baseWidthMm: even(Math.max(topWidthMm, spacingMm + 3.6 * hole)),
    topWidthMm,
    baseCornerRadiusMm: 5,
    topCornerRadiusMm: Math.floor(topWidthMm / 4),
    baseHole: { diameterMm: hole, spacingMm, fromEndMm },
    studHole: { diameterMm: clearanceHolesMm[stud].fine, heightMm },
    ballOffsetMm: half(1.5 * d + 1),
    stud: { thread: stud },
    attach: { by: 'bolts', thread: stud },
    material: { name: STEEL, densityKgM3: 7850 },
  };
}

/** Steeper than this a wedge plate is no use, degrees from the mount's normal. */
const STEEPEST_LEAN_DEG = 45;

/**
 * The kind that suits an end as it stands: a channel for a pin; by the stem's tilt on its mount a flat tab where it stands nearly square to the mount, a
 * wedge plate where it leans less than 45° from that, else a bent angle.
 */
export function suitingKind(strut: Strut, end: EndName): BracketKind {
  const { fitting, mount, stem, tiltDeg = 0 } = strut.ends[end];
  if (['fork', 'eye'].includes(fittingKind(fitting))) return 'channel';
  if (!mount) return 'bent-angle';
  const tilt = stem ? toDeg(azimuthAndTilt(mount, unit(stem)).tiltRad) : tiltDeg;
  if (tilt > 88) return 'flat-tab';
  return tilt >= 90 - STEEPEST_LEAN_DEG ? 'wedge-plate' : 'bent-angle';
}
