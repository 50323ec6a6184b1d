import { cos, rad, sin, toRad } from '../space';
import { type Flat, slabMesh, type TriangleMesh } from '../solid';
import {
  type WedgeHole,
  type WedgeSpec,
  footprintSize,
  holeOnFace,
  holeReach,
  requireWedge,
  thicknessAt,
} from './wedge-spec';

const TAU = 2 * Math.PI;

/** The footprint's corners, counter-clockwise from above. */
function footprintRing(spec: WedgeSpec, facets: number): Flat[] {
  const { lengthMm, widthMm } = footprintSize(spec);
  if (spec.footprint.kind === 'rectangle') {
    const [x, y] = [lengthMm / 2, widthMm / 2];
    return [
      [-x, -y],
      [x, -y],
      [x, y],
      [-x, y],
    ];
  }
  return Array.from({ length: facets }, (_, i): Flat => [
    (lengthMm / 2) * cos(rad((TAU * i) / facets)),
    (lengthMm / 2) * sin(rad((TAU * i) / facets)),
  ]);
}

/** A hole's rim in plan on one of the two faces, clockwise from above; the same number means the same line along the hole. */
function rim(spec: WedgeSpec, hole: WedgeHole, on: 'face' | 'underside', facets: number): Flat[] {
  const x = on === 'face' ? holeOnFace(spec, hole) : hole.xMm;
  const [a, b] = [holeReach(spec, hole, on), hole.diameterMm / 2];
  return Array.from({ length: facets }, (_, i): Flat => [
    x + a * cos(rad((-TAU * i) / facets)),
    hole.yMm + b * sin(rad((-TAU * i) / facets)),
  ]);
}

/**
 * The wedge as a closed mesh in its own frame: underside in z = 0, middle of the footprint at x = y = 0, thick end at +x.
 * Round edges as facets whose corners lie on the true circle. Throws a LidwrightError when it can't be made (checkWedge).
 */
export function wedgeMesh(spec: WedgeSpec, facetsPerTurn = 64): TriangleMesh {
  requireWedge(spec);
  const ring = footprintRing(spec, facetsPerTurn);
  const lower = [ring, ...spec.holes.map((h) => rim(spec, h, 'underside', facetsPerTurn))];
  const upper = [ring, ...spec.holes.map((h) => rim(spec, h, 'face', facetsPerTurn))];
  return slabMesh(lower, upper, ([x, y], up) => [x, y, up ? thicknessAt(spec, x) : 0]);
}

/** Volume of the wedge with its round edges true, mm³: the prism under the face less the cylinders of its holes. */
export function wedgeVolumeMm3(spec: WedgeSpec): number {
  requireWedge(spec);
  const { lengthMm, widthMm } = footprintSize(spec);
  const area = spec.footprint.kind === 'round' ? (Math.PI * lengthMm * lengthMm) / 4 : lengthMm * widthMm;
  // a cylinder cut by two planes has the length of its axis between them, whatever the planes' slopes
  const axisMm = (hole: WedgeHole): number =>
    spec.squareTo === 'face' ? thicknessAt(spec, hole.xMm) * cos(toRad(spec.angleDeg)) : thicknessAt(spec, hole.xMm);
  return spec.holes.reduce((v, h) => v - ((Math.PI * h.diameterMm ** 2) / 4) * axisMm(h), area * thicknessAt(spec, 0));
}

/** Mass, kg. */
export const wedgeMassKg = (spec: WedgeSpec): number => wedgeVolumeMm3(spec) * 1e-9 * spec.material.densityKgM3;
