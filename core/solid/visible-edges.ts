import { type Vec3, cos, cross, dot, norm, scale, sub, toRad, unit } from '../space';
import type { TriangleMesh } from './mesh';
import type { Flat } from './triangulate';

const CREASE_COS = cos(toRad(25));
const EPS_MM = 1e-3;
const BISECTIONS = 10;

/** A visible straight piece as the eye sees it, [right, up], mm. */
export interface SeenEdge {
  readonly from: Flat;
  readonly to: Flat;
}

interface Face {
  readonly at: readonly [Vec3, Vec3, Vec3];
  readonly box: readonly [number, number, number, number];
}

/** Triangles as the eye sees them, [right, up, towards the eye], sorted into squares of the picture. */
class Screen {
  private readonly cells = new Map<number, Face[]>();
  private readonly size: number;

  constructor(faces: readonly Face[]) {
    const widths = faces.map((f) => Math.max(f.box[1] - f.box[0], f.box[3] - f.box[2]));
    this.size = Math.max(1, widths.reduce((a, b) => a + b, 0) / Math.max(1, widths.length));
    for (const face of faces)
      for (let i = this.cell(face.box[0]); i <= this.cell(face.box[1]); i++)
        for (let j = this.cell(face.box[2]); j <= this.cell(face.box[3]); j++) {
          const key = i * 100_003 + j;
          const list = this.cells.get(key);
          if (list) list.push(face);
          else this.cells.set(key, [face]);
        }
  }

  private cell(v: number): number {
    return Math.floor(v / this.size);
  }

  /** Whether something stands before this place. */
  hides([x, y, z]: Vec3): boolean {
    for (const { at, box } of this.cells.get(this.cell(x) * 100_003 + this.cell(y)) ?? []) {
      if (x < box[0] || x > box[1] || y < box[2] || y > box[3]) continue;
      const [a, b, c] = at;
      const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
      if (Math.abs(area) < 1e-9) continue;
      const v = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area;
      const w = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area;
      // inside, not on the rim: an edge does not hide itself
      if (v < 1e-6 || w < 1e-6 || v + w > 1 - 1e-6) continue;
      if (a[2] + v * (b[2] - a[2]) + w * (c[2] - a[2]) > z + EPS_MM * 10) return true;
    }
    return false;
  }
}

/** Creases over 25° and rims of a closed mesh as an eye far off in the direction `eye` (unit) sees them, hidden ones removed; z is up. */
export function visibleEdges(mesh: TriangleMesh, eye: Vec3): SeenEdge[] {
  const right = unit(cross([0, 0, 1], eye));
  const up = cross(eye, right);
  const p = mesh.positionsMm;
  const vertex = (i: number): Vec3 => [p[3 * i]!, p[3 * i + 1]!, p[3 * i + 2]!];
  const seen: Vec3[] = Array.from({ length: p.length / 3 }, (_, i) => {
    const v = vertex(i);
    return [dot(v, right), dot(v, up), dot(v, eye)];
  });
  const faces: Face[] = [];
  const edges = new Map<number, { a: number; b: number; normals: Vec3[] }>();
  const count = seen.length;
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const ids = [mesh.triangles[i]!, mesh.triangles[i + 1]!, mesh.triangles[i + 2]!] as const;
    const raw = cross(sub(vertex(ids[1]), vertex(ids[0])), sub(vertex(ids[2]), vertex(ids[0])));
    const size = norm(raw);
    if (size < 1e-10) continue;
    const normal = scale(raw, 1 / size);
    if (dot(normal, eye) > 1e-9) {
      const at = [seen[ids[0]]!, seen[ids[1]]!, seen[ids[2]]!] as const;
      const xs = at.map((q) => q[0]);
      const ys = at.map((q) => q[1]);
      faces.push({ at, box: [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] });
    }
    for (let k = 0; k < 3; k++) {
      const [a, b] = [ids[k]!, ids[(k + 1) % 3]!];
      const key = Math.min(a, b) * count + Math.max(a, b);
      const edge = edges.get(key);
      if (edge) edge.normals.push(normal);
      else edges.set(key, { a, b, normals: [normal] });
    }
  }
  const screen = new Screen(faces);
  const found: SeenEdge[] = [];
  for (const { a, b, normals } of edges.values()) {
    const [n, m] = normals;
    const facing = normals.map((k) => dot(k, eye) > 1e-9);
    if (!facing.includes(true)) continue;
    const crease = m === undefined || dot(n!, m) < CREASE_COS;
    const rim = facing.includes(false);
    if (!crease && !rim) continue;
    found.push(...visibleRuns(seen[a]!, seen[b]!, screen));
  }
  return joined(found);
}

/** The pieces of one edge that nothing hides. */
function visibleRuns(a: Vec3, b: Vec3, screen: Screen): SeenEdge[] {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (long < 1e-6) return [];
  const at = (k: number): Vec3 => [a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k, a[2] + (b[2] - a[2]) * k];
  const steps = Math.min(60, Math.max(3, Math.ceil(long / 1.5)));
  const shown = Array.from({ length: steps }, (_, i) => !screen.hides(at((i + 0.5) / steps)));
  const turn = (low: number, high: number, lowShown: boolean): number => {
    for (let i = 0; i < BISECTIONS; i++) {
      const middle = (low + high) / 2;
      if (!screen.hides(at(middle)) === lowShown) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  const runs: SeenEdge[] = [];
  let start: number | null = shown[0] ? 0 : null;
  for (let i = 1; i < steps; i++) {
    if (shown[i] === shown[i - 1]) continue;
    const k = turn((i - 0.5) / steps, (i + 0.5) / steps, shown[i - 1]!);
    if (shown[i]) start = k;
    else if (start !== null) {
      runs.push(edge(at(start), at(k)));
      start = null;
    }
  }
  if (start !== null) runs.push(edge(at(start), at(1)));
  return runs;
}

const edge = (a: Vec3, b: Vec3): SeenEdge => ({ from: [a[0], a[1]], to: [b[0], b[1]] });

/** Straight pieces that follow each other in one line become one; doubles go. */
function joined(edges: readonly SeenEdge[]): SeenEdge[] {
  const key = (p: Flat): string => `${Math.round(p[0] * 1e3)},${Math.round(p[1] * 1e3)}`;
  const kept = new Map<string, SeenEdge>();
  for (const e of edges) {
    const [p, q] = [key(e.from), key(e.to)];
    if (p !== q) kept.set(p < q ? `${p} ${q}` : `${q} ${p}`, e);
  }
  return [...kept.values()];
}
