import {
  BufferGeometry,
  CylinderGeometry,
  EdgesGeometry,
  Group,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
} from 'three';
import { bracketMesh, bracketSpecOf, hardwareBodies, type HardwareBody, standBracket } from '../../../core/bracket';
import { attempt } from '../../../core/error';
import type { Bracket, ResolvedJob } from '../../../core/job';
import { type Inks, layCylinder } from './ink';
import { fill } from './lid-part';

/** Creases over this many degrees are inked. */
const CREASE_DEG = 25;
const FACETS = 32;

interface Made {
  readonly solid: Mesh;
  readonly edges: LineSegments;
  readonly hardware: Mesh[];
  spec: Bracket | null;
}

/** Along z from 0 to 1, radius 1. */
const prism = (sides: number): BufferGeometry =>
  new CylinderGeometry(1, 1, 1, sides, 1).rotateX(Math.PI / 2).translate(0, 0, 0.5);

/** The job's brackets as solids with stud or pin and fixings: on the base, or turning with the lid. One that can't be made or placed is left out. */
export class BracketPart {
  readonly onBase = new Group();
  readonly onLid = new Group();
  private readonly made: Made[] = [];
  private readonly matrix = new Matrix4();
  private readonly round = prism(20);
  private readonly hexagon = prism(6);
  readonly edgeMaterial = new LineBasicMaterial();

  constructor(private readonly inks: Inks) {}

  reshape(job: ResolvedJob): void {
    while (this.made.length < job.brackets.length) {
      const solid = new Mesh(new BufferGeometry(), this.inks.bracket);
      const edges = new LineSegments(new BufferGeometry(), this.edgeMaterial);
      solid.matrixAutoUpdate = false;
      solid.frustumCulled = edges.frustumCulled = false;
      solid.add(edges);
      this.made.push({ solid, edges, hardware: [], spec: null });
    }
    this.made.forEach((made, i) => {
      const bracket = job.brackets[i];
      made.solid.visible = bracket !== undefined && this.place(job, bracket, made);
    });
  }

  private place(job: ResolvedJob, bracket: Bracket, made: Made): boolean {
    const strut = job.struts.find((s) => s.id === bracket.strut);
    const end = strut?.ends[bracket.end];
    const ball = strut && job.points.find((p) => p.id === strut[bracket.end])?.at;
    // without a mount nobody knows which way the surface faces
    if (!end?.mount || !ball) return false;
    const { value } = attempt(() => {
      const spec = bracketSpecOf(bracket);
      const placed = standBracket({ end, ball, spec });
      if (!placed) return false;
      if (made.spec !== bracket) {
        const data = bracketMesh(spec, FACETS);
        fill(made.solid.geometry, Float32Array.from(data.positionsMm), data.triangles);
        const flat = made.solid.geometry;
        flat.computeVertexNormals();
        made.edges.geometry.dispose();
        made.edges.geometry = new EdgesGeometry(flat, CREASE_DEG);
        this.dress(made, hardwareBodies(spec));
        made.spec = bracket;
      }
      const { x, y, z } = placed.axes;
      const o = placed.originMm;
      made.solid.matrix.copy(
        this.matrix.set(x[0], y[0], z[0], o[0], x[1], y[1], z[1], o[1], x[2], y[2], z[2], o[2], 0, 0, 0, 1),
      );
      made.solid.matrixWorldNeedsUpdate = true;
      (bracket.end === 'lid' ? this.onLid : this.onBase).add(made.solid);
      return true;
    });
    return value ?? false;
  }

  /** Puts screws, stud and pin on the bracket, in its own frame. */
  private dress(made: Made, bodies: readonly HardwareBody[]): void {
    while (made.hardware.length < bodies.length) {
      const mesh = new Mesh(this.round, this.inks.metal);
      made.hardware.push(mesh);
      made.solid.add(mesh);
    }
    made.hardware.forEach((mesh, i) => {
      const body = bodies[i];
      mesh.visible = false;
      if (!body) return;
      mesh.geometry = body.shape === 'hexagon' ? this.hexagon : this.round;
      mesh.material = body.part === 'washer' ? this.inks.rod : this.inks.metal;
      layCylinder(mesh, body.from, body.to, body.radiusMm);
    });
  }

  dispose(): void {
    for (const { solid, edges } of this.made) {
      solid.geometry.dispose();
      edges.geometry.dispose();
    }
    this.round.dispose();
    this.hexagon.dispose();
    this.edgeMaterial.dispose();
  }
}
