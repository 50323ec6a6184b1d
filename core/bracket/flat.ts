import { requireMakeable } from './check';
import { type Contour, contourAreaMm2, type Point2 } from './contour';
import { blankHoles, blankLayout, blankOutline } from './layout';
import type { BentAngle } from './spec';

/** A hole in the blank. */
export interface FlatHole {
  readonly id: 'base-left' | 'base-right' | 'stud';
  readonly centre: Point2;
  readonly diameterMm: number;
}

/**
 * The blank, lying with the bend's inside face up. Coordinates mm: [across from the centre line, along from the base
 * leg's free end].
 */
export interface FlatPattern {
  readonly outline: Contour;
  readonly holes: readonly FlatHole[];
  readonly bend: {
    /** Where the bend begins, its middle line and its end, along the blank. */
    readonly startMm: number;
    readonly lineMm: number;
    readonly endMm: number;
    readonly halfWidthMm: number;
    readonly insideRadiusMm: number;
    readonly angleDeg: 90;
  };
  readonly developedLengthMm: number;
  /** Length of the neutral axis in the bend. */
  readonly allowanceMm: number;
  /** Neutral-axis factor of DIN 6935 and the axis' distance from the inside face. */
  readonly k: number;
  readonly neutralDepthMm: number;
}

/** The blank of a bracket by DIN 6935. Throws a LidwrightError when `checkBracket` finds a failing issue. */
export function flatPattern(spec: BentAngle): FlatPattern {
  requireMakeable(spec);
  const blank = blankLayout(spec);
  const at = blankHoles(spec, blank);
  return {
    outline: blankOutline(spec, blank),
    holes: [
      { id: 'base-left', centre: at.left, diameterMm: spec.baseHole.diameterMm },
      { id: 'base-right', centre: at.right, diameterMm: spec.baseHole.diameterMm },
      { id: 'stud', centre: at.stud, diameterMm: spec.studHole.diameterMm },
    ],
    bend: {
      startMm: blank.bendStartMm,
      lineMm: (blank.bendStartMm + blank.bendEndMm) / 2,
      endMm: blank.bendEndMm,
      halfWidthMm: spec.baseWidthMm / 2,
      insideRadiusMm: spec.insideRadiusMm,
      angleDeg: 90,
    },
    developedLengthMm: blank.lengthMm,
    allowanceMm: blank.allowanceMm,
    k: blank.k,
    neutralDepthMm: blank.neutralDepthMm,
  };
}

/** Area of the blank without its holes' area, mm². */
export function blankAreaMm2(flat: FlatPattern): number {
  const holes = flat.holes.reduce((sum, hole) => sum + (Math.PI * hole.diameterMm ** 2) / 4, 0);
  return contourAreaMm2(flat.outline) - holes;
}

/** Mass of the bracket, kg: that of its blank, as bending takes nothing away. Throws as `flatPattern` does. */
export function massKg(spec: BentAngle): number {
  return blankAreaMm2(flatPattern(spec)) * spec.thicknessMm * spec.material.densityKgM3 * 1e-9;
}
