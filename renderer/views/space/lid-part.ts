import { BufferAttribute, BufferGeometry, Group, Matrix4, type Mesh } from 'three';
import { type Vec3, rotationMatrix, sub, add, applyMat, toRad, scale } from '../../../core/space';
import type { Axis } from '../../../core/travel';
import { type Figure, pathOf, spotAt, sweepingCorners } from './figure';
import { type Inks, mesh } from './ink';
import { InkLines } from './lines';
import { panelOver } from './panel';
import { Segments, dashed } from './segments';

/** The rigid motion of the lid as a matrix. */
export function lidMatrix(axis: Axis | null, angleDeg: number, out = new Matrix4()): Matrix4 {
  if (!axis) return out.identity();
  const r = rotationMatrix(axis.opening, toRad(angleDeg));
  const shift = sub(axis.origin, applyMat(r, axis.origin));
  const [x, y, z] = r;
  return out.set(
    ...[x[0], x[1], x[2], shift[0], y[0], y[1], y[2], shift[1], z[0], z[1], z[2], shift[2]],
    ...([0, 0, 0, 1] as const),
  );
}

/** Plate thickness of a lid, as a share of its size and never fat, mm. */
const thicknessMm = (sizeMm: number): number => Math.min(Math.max(sizeMm * 0.006, 3), 10);

/** The lid: panel over its outline, ghosts of it closed and open, its shadow on the sheet, and the traces of its travel. */
export class LidPart {
  /** Fixed in base axes. */
  readonly group = new Group();
  /** Turns with the lid. */
  readonly turned = new Group();
  readonly traces = new Group();
  private readonly plate: Mesh;
  private readonly edges: InkLines;
  private readonly ghosts: InkLines;
  private readonly spine: InkLines;
  private readonly shade: Mesh;
  private readonly cornerTrace: InkLines;
  private readonly handTrace: InkLines;
  private readonly strutTrace: InkLines;
  private readonly out = new Segments(512);

  constructor(inks: Inks) {
    this.plate = mesh(new BufferGeometry(), inks.panel);
    this.shade = mesh(new BufferGeometry(), inks.shadow);
    this.edges = new InkLines(inks.wide, 64);
    this.ghosts = new InkLines(inks.faint, 256);
    this.spine = new InkLines(inks.narrow, 64);
    this.cornerTrace = new InkLines(inks.accentThin, 256);
    this.handTrace = new InkLines(inks.accentLine, 256);
    this.strutTrace = new InkLines(inks.accentThin, 256);
    this.plate.renderOrder = 1;
    this.turned.matrixAutoUpdate = false;
    this.turned.add(this.plate, this.edges.object, this.spine.object);
    this.traces.add(this.cornerTrace.object, this.handTrace.object, this.strutTrace.object);
    this.group.add(this.shade, this.ghosts.object, this.traces, this.turned);
  }

  /** After the job changed. sizeMm: size of the whole scene. */
  reshape(figure: Figure, sizeMm: number): void {
    const outline = figure.outline.map((s) => s.closed);
    const panel = panelOver(outline, thicknessMm(sizeMm));
    this.plate.visible = this.shade.visible = panel !== null;
    const out = this.out.clear();
    if (panel) {
      fill(this.plate.geometry, panel.positions, panel.index);
      fill(this.shade.geometry, panel.positions.slice(0, outline.length * 3), faceOnly(panel.index, outline.length));
      dashed(panel.top, [], out, true);
      dashed(panel.bottom, [], out, true);
      panel.top.forEach((p, i) => out.line(p, panel.bottom[i]!));
    } else dashed(outline, [], out, outline.length > 2);
    for (const line of figure.bodies) dashed(line, [], out);
    this.edges.set(out);

    // no outline: the lid is a thought line from the hinge to the grip
    out.clear();
    if (!panel && figure.grip) {
      const [a, b] = figure.hinge;
      const dash = [sizeMm / 40, sizeMm / 80];
      dashed([a, figure.grip.closed, b], dash, out);
    }
    this.spine.set(out);

    // ISO 128-2, line 05.1: long dash, two dots, for the extreme positions of movable parts
    const unit = sizeMm / 90;
    const chain = [unit * 3, unit * 0.7, unit * 0.4, unit * 0.7, unit * 0.4, unit * 0.7];
    out.clear();
    for (const angle of [0, figure.openDeg])
      dashed(
        figure.outline.map((s) => spotAt(figure, s, angle)),
        chain,
        out,
        true,
      );
    this.ghosts.set(out);

    const samples = Math.min(Math.max(Math.ceil(figure.openDeg / 2.5), 8), 120) + 1;
    out.clear();
    for (const spot of sweepingCorners(figure)) dashed(pathOf(figure, spot, samples), [], out);
    this.cornerTrace.set(out);
    out.clear();
    if (figure.grip?.turning) dashed(pathOf(figure, figure.grip, samples), [unit * 3, unit, unit * 0.4, unit], out);
    this.handTrace.set(out);
    out.clear();
    for (const strut of figure.struts) dashed(pathOf(figure, strut.lid, samples), [unit * 0.8, unit * 0.8], out);
    this.strutTrace.set(out);
  }

  /** After a turn. */
  pose(figure: Figure, angleDeg: number, groundMm: number): void {
    lidMatrix(figure.axis, angleDeg, this.turned.matrix);
    this.turned.matrixWorldNeedsUpdate = true;
    if (!this.shade.visible) return;
    const position = this.shade.geometry.getAttribute('position') as BufferAttribute;
    figure.outline.forEach((spot, i) => {
      const p = spotAt(figure, spot, angleDeg);
      position.setXYZ(i, p[0], p[1], groundMm);
    });
    position.needsUpdate = true;
  }

  dispose(): void {
    this.plate.geometry.dispose();
    this.shade.geometry.dispose();
    for (const lines of [this.edges, this.ghosts, this.spine, this.cornerTrace, this.handTrace, this.strutTrace])
      lines.dispose();
  }
}

/** The triangles of an index that use only the first `count` vertices: one face of a panel. */
function faceOnly(index: Uint16Array, count: number): Uint16Array {
  const kept: number[] = [];
  for (let i = 0; i < index.length; i += 3) {
    const [a, b, c] = [index[i]!, index[i + 1]!, index[i + 2]!];
    if (a < count && b < count && c < count) kept.push(a, b, c);
  }
  return Uint16Array.from(kept);
}

/** Puts positions and index into a geometry; in place where the sizes are the same. */
export function fill(geometry: BufferGeometry, positions: Float32Array, index: Uint16Array | Uint32Array): void {
  const had = geometry.getAttribute('position') as BufferAttribute | undefined;
  const hadIndex = geometry.getIndex();
  if (had && hadIndex && had.array.length === positions.length && hadIndex.array.length === index.length) {
    (had.array as Float32Array).set(positions);
    had.needsUpdate = true;
    (hadIndex.array as Uint16Array).set(index);
    hadIndex.needsUpdate = true;
    return;
  }
  geometry.dispose();
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setIndex(new BufferAttribute(index, 1));
}

/** The handle's ends and feet about a grip point, along a direction, mm. */
export function handleOf(at: Vec3, along: Vec3, out: Vec3, widthMm: number, standMm: number): Vec3[] {
  const side = scale(along, widthMm / 2);
  const foot = scale(out, -standMm);
  const [l, r] = [sub(at, side), add(at, side)];
  return [add(l, foot), l, r, add(r, foot)];
}
