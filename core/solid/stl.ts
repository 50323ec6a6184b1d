import type { TriangleMesh } from './mesh';

const corner = ({ positionsMm }: TriangleMesh, vertex: number): [number, number, number] => [
  positionsMm[3 * vertex]!,
  positionsMm[3 * vertex + 1]!,
  positionsMm[3 * vertex + 2]!,
];

function normalOf(a: readonly number[], b: readonly number[], c: readonly number[]): [number, number, number] {
  const [p, q] = [b, c].map((v) => [v[0]! - a[0]!, v[1]! - a[1]!, v[2]! - a[2]!]) as [number[], number[]];
  const n: [number, number, number] = [
    p[1]! * q[2]! - p[2]! * q[1]!,
    p[2]! * q[0]! - p[0]! * q[2]!,
    p[0]! * q[1]! - p[1]! * q[0]!,
  ];
  const length = Math.hypot(...n);
  return length > 0 ? [n[0] / length, n[1] / length, n[2] / length] : [0, 0, 0];
}

/** To a millionth: engines differ in the last digit of sines, and the same part should be the same file. */
const rounded = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;

/** The mesh as a binary STL file: 80 bytes of header, then 50 bytes a triangle, little-endian. STL has no unit; these are mm. */
export function stlBinary(mesh: TriangleMesh, name = 'lengths in mm'): Uint8Array {
  const count = mesh.triangles.length / 3;
  const bytes = new Uint8Array(84 + 50 * count);
  // a binary file must not begin with "solid": readers tell the two kinds apart by that word
  const header = `part: ${name}`.slice(0, 80);
  for (let i = 0; i < header.length; i++) bytes[i] = header.charCodeAt(i) < 128 ? header.charCodeAt(i) : 63;
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count, true);
  for (let t = 0; t < count; t++) {
    const corners = [0, 1, 2].map((k) => corner(mesh, mesh.triangles[3 * t + k]!));
    const numbers = [...normalOf(corners[0]!, corners[1]!, corners[2]!), ...corners.flat()];
    numbers.forEach((value, i) => view.setFloat32(84 + 50 * t + 4 * i, rounded(value), true));
  }
  return bytes;
}

/** The mesh as a text STL file; lengths in mm. @internal for tests */
export function stlText(mesh: TriangleMesh, name = 'wedge'): string {
  const word = name.replace(/[^\w-]+/g, '-');
  const shown = (v: readonly number[]): string => v.map((x) => Number(x.toPrecision(9)).toString()).join(' ');
  const lines = [`solid ${word}`];
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const corners = [0, 1, 2].map((k) => corner(mesh, mesh.triangles[t + k]!));
    lines.push(`  facet normal ${shown(normalOf(corners[0]!, corners[1]!, corners[2]!))}`, '    outer loop');
    for (const c of corners) lines.push(`      vertex ${shown(c)}`);
    lines.push('    endloop', '  endfacet');
  }
  lines.push(`endsolid ${word}`);
  return `${lines.join('\n')}\n`;
}
