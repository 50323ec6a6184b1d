import type { Object3D, OrthographicCamera } from 'three';
import { cos, rad, sin } from '../../../core/space';
import { InkLines, type LineInk } from './lines';
import { Segments } from './segments';

/** Marks that keep their size on screen and face the viewer; drawn in units of 1 = their radius. */
export class Billboards {
  private readonly radiusPx = new Map<Object3D, number>();

  add(object: Object3D, radiusPx: number): void {
    this.radiusPx.set(object, radiusPx);
  }

  remove(object: Object3D): void {
    this.radiusPx.delete(object);
  }

  /** Before each frame; the camera's zoom is pixels per mm. */
  face(camera: OrthographicCamera): void {
    for (const [object, px] of this.radiusPx) {
      if (!object.visible) continue;
      object.quaternion.copy(camera.quaternion);
      object.scale.setScalar(px / camera.zoom);
    }
  }
}

const circle = (radius: number, out: Segments, count = 32): void => {
  for (let i = 0; i < count; i++) {
    const a = rad((i / count) * 2 * Math.PI);
    const b = rad(((i + 1) / count) * 2 * Math.PI);
    out.push(cos(a) * radius, sin(a) * radius, 0, cos(b) * radius, sin(b) * radius, 0);
  }
};

/** A ring with a cross in it: out of range. */
export function crossRing(material: LineInk): InkLines {
  const segments = new Segments(40);
  circle(1, segments);
  const k = Math.SQRT1_2;
  segments.push(-k, -k, 0, k, k, 0);
  segments.push(-k, k, 0, k, -k, 0);
  const lines = new InkLines(material, 40);
  lines.set(segments);
  lines.object.renderOrder = 5;
  return lines;
}

/** A ring with four ticks: what is selected. */
export function sightRing(material: LineInk): InkLines {
  const segments = new Segments(40);
  circle(1, segments);
  for (const [x, y] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const)
    segments.push(x, y, 0, x * 1.5, y * 1.5, 0);
  const lines = new InkLines(material, 40);
  lines.set(segments);
  lines.object.renderOrder = 6;
  return lines;
}

/** Strokes of the letters X, Y, Z in a box from −0.6 to 0.6 wide and −1 to 1 high. */
const LETTERS: Record<'X' | 'Y' | 'Z', readonly (readonly [number, number, number, number])[]> = {
  X: [
    [-0.6, -1, 0.6, 1],
    [-0.6, 1, 0.6, -1],
  ],
  Y: [
    [-0.6, 1, 0, 0],
    [0.6, 1, 0, 0],
    [0, 0, 0, -1],
  ],
  Z: [
    [-0.6, 1, 0.6, 1],
    [0.6, 1, -0.6, -1],
    [-0.6, -1, 0.6, -1],
  ],
};

export function letter(name: 'X' | 'Y' | 'Z', material: LineInk): InkLines {
  const segments = new Segments(4);
  for (const [a, b, c, d] of LETTERS[name]) segments.push(a, b, 0, c, d, 0);
  const lines = new InkLines(material, 4);
  lines.set(segments);
  return lines;
}
