import { type Rad, cos, sin } from './angle';

/** A point or direction [x, y] in a plane. */
export type Vec2 = readonly [number, number];

/** The point of a circle at an angle, counter-clockwise from +x. @example onCircle([1, 2], 5, toRad(0)) // [6, 2] */
export const onCircle = (centre: Vec2, radius: number, angle: Rad): Vec2 => [
  centre[0] + radius * cos(angle),
  centre[1] + radius * sin(angle),
];
