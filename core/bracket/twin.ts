import type { BracketSpec } from './types';

const SAME_MM = 1e-6;
const turnOf = (deg: number, period: number): number => ((deg % period) + period) % period;
const sameTurn = (a: number, b: number, period: number): boolean => {
  const off = turnOf(a - b, period);
  return Math.min(off, period - off) < 1e-6;
};

/** The other hand of a bracket: its true mirror image about the plane of its centre line (y turned round in the bracket frame). */
export function mirroredSpec(spec: BracketSpec): BracketSpec {
  return {
    ...spec,
    fixings: spec.fixings.map((f) => ({ ...f, acrossMm: 0 - f.acrossMm, slotDeg: 0 - f.slotDeg })),
    studHole: { ...spec.studHole, acrossMm: 0 - spec.studHole.acrossMm },
    wedge: spec.wedge && { ...spec.wedge, directionDeg: 0 - spec.wedge.directionDeg },
  };
}

/** Whether both hands of a bracket are one and the same part, which then serves either side. */
export function isOwnMirror(spec: BracketSpec): boolean {
  const twin = mirroredSpec(spec);
  const fits = spec.fixings.every((f) =>
    twin.fixings.some(
      (t) =>
        Math.abs(t.acrossMm - f.acrossMm) < SAME_MM &&
        Math.abs(t.fromEndMm - f.fromEndMm) < SAME_MM &&
        Math.abs(t.diameterMm - f.diameterMm) < SAME_MM &&
        Math.abs(t.slotMm - f.slotMm) < SAME_MM &&
        (f.slotMm === 0 || sameTurn(t.slotDeg, f.slotDeg, 180)),
    ),
  );
  const leansAside =
    spec.wedge !== null && spec.wedge.tiltDeg > 0 && !sameTurn(spec.wedge.directionDeg, twin.wedge!.directionDeg, 360);
  return fits && Math.abs(spec.studHole.acrossMm) < SAME_MM && !leansAside;
}
