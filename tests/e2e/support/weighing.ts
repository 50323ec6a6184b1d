// A lid whose masses are known, read as a person with a scale would: moments about the hinge and the edges worked out here.
import { type Vec3, add, cross, dot, rad, rotateVec, scale, sub, unit } from '../../../core/space';

const G = 9.80665;

export interface Weight {
  readonly kg: number;
  readonly at: Vec3;
}

export interface KnownLid {
  readonly hingeA: Vec3;
  readonly hingeB: Vec3;
  readonly grip: Vec3;
  readonly weights: readonly Weight[];
}

/** Axis about which the lid opens upwards. */
export const openingOf = (lid: KnownLid): Vec3 => {
  const along = unit(sub(lid.hingeB, lid.hingeA));
  return cross(along, sub(lid.grip, lid.hingeA))[2] > 0 ? along : scale(along, -1);
};

/** What a scale pulling square to the lid reads, kg. */
export function pullKg(lid: KnownLid, angleDeg: number): number {
  const axis = openingOf(lid);
  const turned = (p: Vec3): Vec3 => rotateVec(sub(p, lid.hingeA), axis, rad((angleDeg * Math.PI) / 180));
  const moment = lid.weights.reduce((s, w) => s + dot(axis, cross(turned(w.at), [0, 0, -w.kg])), 0);
  const grip = turned(lid.grip);
  return -moment / dot(axis, cross(grip, unit(cross(axis, grip))));
}

/** First moment about the hinge with the lid closed and level, N·m. */
export const closedNm = (lid: KnownLid): number =>
  lid.weights.reduce((s, w) => s + dot(openingOf(lid), cross(sub(w.at, lid.hingeA), [0, 0, -w.kg * G])), 0) / -1000;

/** What the two scales read under edges through p and q that run along `edge`, the second raised by the tilt, kg. */
export function edgesKg(lid: KnownLid, p: Vec3, q: Vec3, edge: Vec3, tiltDeg: number): [number, number] {
  const kg = lid.weights.reduce((s, w) => s + w.kg, 0);
  const c = scale(
    lid.weights.reduce<Vec3>((s, w) => add(s, scale(w.at, w.kg)), [0, 0, 0]),
    1 / kg,
  );
  let u = unit(cross([0, 0, 1], edge));
  if (dot(u, sub(q, p)) < 0) u = scale(u, -1);
  let w = cross(u, edge);
  if (w[2] < 0) w = scale(w, -1);
  const t = (tiltDeg * Math.PI) / 180;
  const level = (v: Vec3): number => dot(sub(v, p), u) * Math.cos(t) - dot(sub(v, p), w) * Math.sin(t);
  const share = level(c) / level(q);
  return [kg * (1 - share), kg * share];
}
