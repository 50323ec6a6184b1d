import { BufferAttribute, BufferGeometry, Group, type Mesh } from 'three';
import { type Vec3, add, angleBetween, cross, norm, scale, sub, toDeg } from '../../../core/space';
import { type Figure, type JointFigure, type StrutFigure, stemAt, strutPose } from './figure';
import { type Bodies, type Inks, PIN_LENGTH, layCylinder, mesh, standAlong } from './ink';
import { InkLines } from './lines';
import { type Billboards, crossRing } from './billboards';
import { Segments, dashed } from './segments';
import { bandMesh, bandRims } from './working-band';
import { inRange } from '../../../core/joint';

/** One ball joint: ball, stem as a pin, and the belt that the stem must pass through. */
class JointPart {
  readonly group = new Group();
  private readonly belt: Mesh;
  private readonly rims: InkLines;
  private readonly pin: Mesh;
  private readonly ball: Mesh;
  private readonly cross: InkLines;
  private rangeDeg = NaN;

  constructor(
    private readonly inks: Inks,
    bodies: Bodies,
    private readonly billboards: Billboards,
  ) {
    this.belt = mesh(new BufferGeometry(), inks.band);
    this.rims = new InkLines(inks.narrow, 96);
    this.pin = mesh(bodies.pin, inks.dark);
    this.ball = mesh(bodies.bead, inks.dark);
    this.cross = crossRing(inks.badMarker);
    billboards.add(this.cross.object, 9);
    this.belt.renderOrder = 2;
    const parts = [this.belt, this.rims.object, this.pin, this.ball, this.cross.object];
    this.group.add(...parts);
  }

  update(at: Vec3, direction: Vec3 | null, joint: JointFigure, stem: Vec3 | null, size: number, ballMm: number): void {
    if (joint.rangeDeg !== this.rangeDeg) this.reshape(joint.rangeDeg);
    this.ball.position.set(...at);
    this.ball.scale.setScalar(ballMm);
    const ok = direction && stem ? inRange(toDeg(angleBetween(stem, direction)), joint.rangeDeg) : null;
    for (const part of [this.belt, this.rims.object]) {
      part.visible = direction !== null;
      if (direction) standAlong(part, at, direction, size);
    }
    this.belt.material = ok === false ? this.inks.bandBad : this.inks.band;
    this.rims.object.material = ok === false ? this.inks.badLine : this.inks.narrow;
    this.pin.material = ok === false ? this.inks.bad : this.inks.dark;
    this.pin.visible = stem !== null;
    if (stem) {
      standAlong(this.pin, at, stem, size);
      this.cross.object.position.set(...add(at, scale(stem, size * PIN_LENGTH)));
    }
    this.cross.object.visible = ok === false;
  }

  private reshape(rangeDeg: number): void {
    this.rangeDeg = rangeDeg;
    const data = bandMesh(rangeDeg);
    this.belt.geometry.dispose();
    this.belt.geometry = new BufferGeometry();
    this.belt.geometry.setAttribute('position', new BufferAttribute(data.positions, 3));
    this.belt.geometry.setIndex(new BufferAttribute(data.index, 1));
    const rims = new Segments(96);
    for (const ring of bandRims(rangeDeg)) dashed(ring, [], rims, true);
    this.rims.set(rims);
  }

  dispose(): void {
    this.belt.geometry.dispose();
    this.rims.dispose();
    this.billboards.remove(this.cross.object);
    this.cross.dispose();
  }
}

/** A gas spring: tube, rod, shanks and both joints; or a broken line where it can't be. */
export class StrutPart {
  readonly group = new Group();
  private readonly whole = new Group();
  private readonly tube: Mesh;
  private readonly tubeHull: Mesh;
  private readonly rod: Mesh;
  private readonly rodHull: Mesh;
  private readonly shanks: readonly Mesh[];
  private readonly broken: InkLines;
  private readonly segments = new Segments(128);
  private readonly joints: { readonly base: JointPart; readonly lid: JointPart };

  constructor(
    private readonly inks: Inks,
    bodies: Bodies,
    billboards: Billboards,
  ) {
    this.tube = mesh(bodies.cylinder, inks.metal);
    this.tubeHull = mesh(bodies.cylinder, inks.hull);
    this.rod = mesh(bodies.cylinder, inks.rod);
    this.rodHull = mesh(bodies.cylinder, inks.hull);
    this.shanks = [0, 1].map(() => mesh(bodies.cylinder, inks.dark));
    this.broken = new InkLines(inks.badLine, 128);
    this.joints = { base: new JointPart(inks, bodies, billboards), lid: new JointPart(inks, bodies, billboards) };
    this.whole.add(this.tube, this.tubeHull, this.rod, this.rodHull, ...this.shanks);
    this.group.add(this.whole, this.broken.object, this.joints.base.group, this.joints.lid.group);
  }

  /** bandMm: radius of the working-range belts. */
  update(figure: Figure, strut: StrutFigure, angleDeg: number, bandMm: number, selected: boolean): void {
    const pose = strutPose(figure, strut, angleDeg);
    const { spec } = strut;
    const { split, direction } = pose;
    const ballMm = Math.max(spec.rodMm * 0.75, 4.5);
    for (const end of ['base', 'lid'] as const)
      this.joints[end].update(pose[end], direction, strut.ends[end], stemAt(strut.ends[end], angleDeg), bandMm, ballMm);

    this.whole.visible = split.fits && direction !== null;
    this.broken.object.visible = !split.fits && direction !== null;
    if (!direction) return;
    if (!split.fits) return this.breakLine(pose.base, pose.lid, direction, spec.tubeMm);
    // along from the end that the tube is on
    const [foot, way] = strut.rodAtBase ? [pose.lid, scale(direction, -1)] : [pose.base, direction];
    const at = (mm: number): Vec3 => add(foot, scale(way, mm));
    const tubeRadius = spec.tubeMm / 2;
    const rodRadius = spec.rodMm / 2;
    this.tube.material = selected ? this.inks.accent : this.inks.metal;
    this.lay(this.tube, this.tubeHull, at(split.tubeFromMm), at(split.tubeToMm), tubeRadius, bandMm);
    this.lay(this.rod, this.rodHull, at(split.tubeToMm), at(split.rodToMm), rodRadius, bandMm);
    layCylinder(this.shanks[0]!, foot, at(split.tubeFromMm), rodRadius * 1.1);
    layCylinder(this.shanks[1]!, at(split.rodToMm), at(pose.lengthMm), rodRadius * 1.1);
  }

  private lay(body: Mesh, hull: Mesh, a: Vec3, b: Vec3, radius: number, bandMm: number): void {
    layCylinder(body, a, b, radius);
    layCylinder(hull, a, b, radius + bandMm * 0.025);
  }

  /** Dashes from ball to ball with a zigzag in the middle: the strut can't be there. */
  private breakLine(base: Vec3, lid: Vec3, direction: Vec3, tubeMm: number): void {
    const length = norm(sub(lid, base));
    const helper: Vec3 = Math.abs(direction[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
    const raw = cross(direction, helper);
    const side = scale(raw, 1 / norm(raw));
    const half = Math.min(Math.max(1.6 * tubeMm, 20), length / 4);
    const at = (mm: number, off: number): Vec3 => add(add(base, scale(direction, mm)), scale(side, off));
    const middle = length / 2;
    const out = this.segments.clear();
    const dash = Math.max(length / 18, 6);
    dashed([base, at(middle - half, 0)], [dash, dash * 0.6], out);
    dashed(
      [at(middle - half, 0), at(middle - half / 3, half), at(middle + half / 3, -half), at(middle + half, 0)],
      [],
      out,
    );
    dashed([lid, at(middle + half, 0)], [dash, dash * 0.6], out);
    this.broken.set(out);
  }

  dispose(): void {
    this.joints.base.dispose();
    this.joints.lid.dispose();
    this.broken.dispose();
  }
}
