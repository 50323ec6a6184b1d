import { BufferAttribute, Group, type Mesh, SphereGeometry } from 'three';
import type { ResolvedJob } from '../../../core/job';
import { type Vec3, add, areaVector, cross, dot, norm, rotateVec, scale, sub, toRad } from '../../../core/space';
import { type Figure, spotAt } from './figure';
import { type Bodies, type Inks, layCylinder, mesh } from './ink';
import { InkLines } from './lines';
import { handleOf } from './lid-part';
import { Segments } from './segments';

/** Radius of the sphere that stands for a mass: as the cube root, so that its volume goes with the mass, mm. */
export const massRadiusMm = (kg: number, sizeMm: number): number =>
  Math.max(Math.cbrt(Math.max(kg, 0)) * sizeMm * 0.0075, sizeMm * 0.006);

/** Vertex colours, rgb, that quarter a sphere light and dark by octants, the trade's mark for a centre of mass. */
export function octantColours(
  positions: ArrayLike<number>,
  light: readonly number[],
  dark: readonly number[],
): Float32Array {
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const negative = [0, 1, 2].filter((k) => positions[i + k]! < 0).length;
    out.set(negative % 2 === 0 ? light : dark, i);
  }
  return out;
}

/** Hinge with its pins, mass items, grip and the small balls at points. */
export class MarksPart {
  readonly group = new Group();
  private readonly axis: Mesh;
  private readonly pins: readonly Mesh[];
  private readonly knuckles: InkLines;
  private readonly handle: readonly Mesh[];
  private readonly ticks: InkLines;
  private readonly masses: { readonly ball: Mesh; readonly hull: Mesh }[] = [];
  private readonly massBall: SphereGeometry;
  private readonly out = new Segments(64);

  constructor(
    private readonly inks: Inks,
    private readonly bodies: Bodies,
  ) {
    this.axis = mesh(bodies.cylinder, inks.dark);
    this.pins = [0, 1].map(() => mesh(bodies.cylinder, inks.metal));
    this.knuckles = new InkLines(inks.wide, 64);
    this.handle = [0, 1, 2].map(() => mesh(bodies.cylinder, inks.accent));
    this.ticks = new InkLines(inks.wide, 64);
    // its own triangles, so that octants have hard borders
    this.massBall = new SphereGeometry(1, 16, 12).toNonIndexed() as SphereGeometry;
    this.group.add(this.axis, ...this.pins, this.knuckles.object, ...this.handle, this.ticks.object);
  }

  recolour(paper: readonly number[], ink: readonly number[]): void {
    const position = this.massBall.getAttribute('position') as BufferAttribute;
    // colour by the middle of each triangle
    const middles = new Float32Array(position.array.length);
    for (let i = 0; i < middles.length; i += 9)
      for (let k = 0; k < 3; k++) {
        const m = (position.array[i + k]! + position.array[i + 3 + k]! + position.array[i + 6 + k]!) / 3;
        middles[i + k] = middles[i + 3 + k] = middles[i + 6 + k] = m;
      }
    this.massBall.setAttribute('color', new BufferAttribute(octantColours(middles, paper, ink), 3));
  }

  update(job: ResolvedJob, figure: Figure, angleDeg: number, sizeMm: number): void {
    this.updateHinge(figure, sizeMm);
    this.updateGrip(figure, angleDeg, sizeMm);
    while (this.masses.length < job.masses.length) {
      const made = { ball: mesh(this.massBall, this.inks.quartered), hull: mesh(this.bodies.sphere, this.inks.hull) };
      this.masses.push(made);
      this.group.add(made.ball, made.hull);
    }
    const out = this.out.clear();
    this.masses.forEach(({ ball, hull }, i) => {
      const mass = job.masses[i];
      const spot = mass && figure.spots.get(mass.at);
      ball.visible = hull.visible = spot !== undefined;
      if (!mass || !spot) return;
      const p = spotAt(figure, spot, angleDeg);
      const radius = massRadiusMm(mass.kg, sizeMm);
      ball.position.set(...p);
      hull.position.set(...p);
      ball.scale.setScalar(radius);
      hull.scale.setScalar(radius * 1.08);
      out.push(p[0], p[1], p[2] - radius, p[0], p[1], p[2] - radius * 2.6);
      out.push(p[0] - radius * 0.6, p[1], p[2] - radius * 2.6, p[0] + radius * 0.6, p[1], p[2] - radius * 2.6);
    });
    this.ticks.set(out);
  }

  private updateHinge(figure: Figure, sizeMm: number): void {
    const [a, b] = figure.hinge;
    const d = sub(b, a);
    const span = norm(d);
    const radius = Math.min(Math.max(sizeMm * 0.0035, 2.5), 8);
    layCylinder(this.axis, a, b, radius * 0.5);
    if (!(span > 0)) {
      for (const pin of this.pins) pin.visible = false;
      return;
    }
    const u = scale(d, 1 / span);
    const half = Math.min(Math.max(sizeMm * 0.028, 10), span * 0.2);
    [a, b].forEach((p, i) => {
      const off = scale(u, half);
      layCylinder(this.pins[i]!, sub(p, off), add(p, off), radius * 1.9);
    });
    // the axis runs on past the pins, as a centre line does
    const over = scale(u, half * 2.2);
    const out = this.out.clear();
    out.push(a[0], a[1], a[2], a[0] - over[0], a[1] - over[1], a[2] - over[2]);
    out.push(b[0], b[1], b[2], b[0] + over[0], b[1] + over[1], b[2] + over[2]);
    this.knuckles.set(out);
  }

  private updateGrip(figure: Figure, angleDeg: number, sizeMm: number): void {
    for (const bar of this.handle) bar.visible = false;
    if (!figure.grip) return;
    const at = spotAt(figure, figure.grip, angleDeg);
    const axis = figure.axis;
    const along: Vec3 = axis ? axis.along : [0, 1, 0];
    // the handle stands on the panel's side that it lies on: its foot goes against the panel's normal
    let outward: Vec3 = [0, 0, 1];
    const area = areaVector(figure.outline.map((s) => s.closed));
    if (norm(area) > 0) {
      const n = scale(area, 1 / norm(area));
      const first = figure.outline[0]!.closed;
      const g = figure.grip.closed;
      outward = dot(n, sub(g, first)) < 0 ? scale(n, -1) : n;
    } else if (axis && figure.grip.turning) {
      const raw = cross(axis.opening, figure.grip.turning.even);
      if (norm(raw) > 0) outward = scale(raw, 1 / norm(raw));
    }
    if (axis && figure.grip.turning) outward = rotateVec(outward, axis.opening, toRad(angleDeg));
    const path = handleOf(at, along, outward, sizeMm * 0.075, sizeMm * 0.02);
    this.handle.forEach((bar, i) => layCylinder(bar, path[i]!, path[i + 1]!, Math.max(sizeMm * 0.0045, 2.5)));
  }

  dispose(): void {
    this.massBall.dispose();
    this.knuckles.dispose();
    this.ticks.dispose();
  }
}
