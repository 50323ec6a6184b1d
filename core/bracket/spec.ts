/**
 * A bracket bent once by 90° from flat stock. Plain resolved numbers, all lengths mm: the job's own schema mirrors it.
 * The base leg lies on the mount; the upright leg stands off it and carries the ball stud.
 */
export interface BentAngle {
  readonly id: string;
  readonly name: string;
  readonly kind: 'bent-angle';
  readonly thicknessMm: number;
  readonly insideRadiusMm: number;
  /** Outside length: outer face of the upright to the free end of the base leg. */
  readonly baseLegMm: number;
  /** Outside length: underside of the base leg to the top of the upright. */
  readonly uprightLegMm: number;
  /** The base leg is a rectangle of this width; also the width at the bend. */
  readonly baseWidthMm: number;
  /** The upright tapers straight from baseWidthMm at the bend's tangent line to this at its top (measured at the sharp corners). */
  readonly topWidthMm: number;
  readonly baseCornerRadiusMm: number;
  readonly topCornerRadiusMm: number;
  /** Two holes, symmetric about the centre line; fromEndMm from their centres to the free end of the base leg. */
  readonly baseHole: { readonly diameterMm: number; readonly spacingMm: number; readonly fromEndMm: number };
  /** On the centre line; height of its centre above the underside of the base leg. */
  readonly studHole: { readonly diameterMm: number; readonly heightMm: number };
  readonly material: { readonly name: string; readonly densityKgM3: number };
}
