import { Group } from 'three';
import type { Vec3 } from '../../../core/space';
import { type Inks } from './ink';
import { InkLines } from './lines';
import { Segments, dashed } from './segments';

/** A round step (1, 2 or 5 times a power of ten) of which about `count` go into the length. */
export function roundStep(lengthMm: number, count: number): number {
  const raw = lengthMm / count;
  if (!(raw > 0) || !Number.isFinite(raw)) return 1;
  const power = 10 ** Math.floor(Math.log10(raw));
  const head = raw / power;
  return (head < 1.5 ? 1 : head < 3.5 ? 2 : head < 7.5 ? 5 : 10) * power;
}

/** The sheet that the scene stands on, mm. */
export interface GroundSheet {
  readonly z: number;
  readonly min: readonly [number, number];
  readonly max: readonly [number, number];
  readonly stepMm: number;
}

/** A sheet under all the points, its edges on whole steps. */
export function sheetUnder(points: readonly Vec3[]): GroundSheet {
  const box = (k: 0 | 1 | 2): [number, number] => {
    const values = points.map((p) => p[k]);
    return values.length > 0 ? [Math.min(...values), Math.max(...values)] : [0, 0];
  };
  const [x, y, z] = [box(0), box(1), box(2)];
  const stepMm = roundStep(Math.max(x[1] - x[0], y[1] - y[0], 100), 10);
  const down = (v: number): number => Math.floor(v / stepMm - 0.2) * stepMm;
  const up = (v: number): number => Math.ceil(v / stepMm + 0.2) * stepMm;
  return { z: z[0], min: [down(x[0]), down(y[0])], max: [up(x[1]), up(y[1])], stepMm };
}

/** Frame of the sheet with ticks at every step, longer at every fifth, and a cross at the origin where it is on it. */
export function sheetLines(sheet: GroundSheet, out: Segments): void {
  const { z, min, max, stepMm } = sheet;
  const [x0, y0] = min;
  const [x1, y1] = max;
  dashed(
    [
      [x0, y0, z],
      [x1, y0, z],
      [x1, y1, z],
      [x0, y1, z],
    ],
    [],
    out,
    true,
  );
  const tick = (i: number): number => stepMm * (i % 5 === 0 ? 0.34 : 0.18);
  for (let i = Math.round(x0 / stepMm); i <= Math.round(x1 / stepMm); i++) {
    out.push(i * stepMm, y0, z, i * stepMm, y0 + tick(i), z);
    out.push(i * stepMm, y1, z, i * stepMm, y1 - tick(i), z);
  }
  for (let i = Math.round(y0 / stepMm); i <= Math.round(y1 / stepMm); i++) {
    out.push(x0, i * stepMm, z, x0 + tick(i), i * stepMm, z);
    out.push(x1, i * stepMm, z, x1 - tick(i), i * stepMm, z);
  }
  if (x0 <= 0 && x1 >= 0 && y0 <= 0 && y1 >= 0) {
    out.push(-stepMm * 0.4, 0, z, stepMm * 0.4, 0, z);
    out.push(0, -stepMm * 0.4, z, 0, stepMm * 0.4, z);
  }
}

export class GroundPart {
  readonly group = new Group();
  private readonly lines: InkLines;
  private readonly out = new Segments(128);

  constructor(inks: Inks) {
    this.lines = new InkLines(inks.faint, 128);
    this.group.add(this.lines.object);
  }

  reshape(sheet: GroundSheet): void {
    const out = this.out.clear();
    sheetLines(sheet, out);
    this.lines.set(out);
  }

  dispose(): void {
    this.lines.dispose();
  }
}
