// A reader of STL files of its own: knows nothing of what wrote them.

export type P = [number, number, number];
export interface Solid {
  readonly facets: readonly (readonly [P, P, P])[];
  readonly normals: readonly P[];
}

/** Reads a text STL; throws where the grammar is not kept. */
export function readText(text: string): Solid {
  const words = text.trim().split(/\s+/);
  let i = 0;
  const take = (...expected: string[]): void => {
    for (const word of expected)
      if (words[i++] !== word) throw new Error(`"${words[i - 1]}" at word ${i}, expected "${word}"`);
  };
  const three = (): P =>
    [0, 1, 2].map(() => {
      const n = Number(words[i++]);
      if (!Number.isFinite(n)) throw new Error(`no number at word ${i}`);
      return n;
    }) as P;
  take('solid');
  const name = words[i++];
  const facets: [P, P, P][] = [];
  const normals: P[] = [];
  while (words[i] === 'facet') {
    take('facet', 'normal');
    normals.push(three());
    take('outer', 'loop');
    const corners = [0, 1, 2].map(() => {
      take('vertex');
      return three();
    });
    facets.push(corners as [P, P, P]);
    take('endloop', 'endfacet');
  }
  take('endsolid', name!);
  if (i !== words.length) throw new Error('something follows the end');
  return { facets, normals };
}

/** Reads a binary STL; throws where its length does not fit its count. */
export function readBinary(bytes: Uint8Array): Solid {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = view.getUint32(80, true);
  if (bytes.length !== 84 + 50 * count) throw new Error(`${bytes.length} bytes for ${count} facets`);
  if (String.fromCharCode(...bytes.slice(0, 5)) === 'solid') throw new Error('a binary file that calls itself text');
  const facets: [P, P, P][] = [];
  const normals: P[] = [];
  for (let t = 0; t < count; t++) {
    const p = (k: number): P => [0, 4, 8].map((o) => view.getFloat32(84 + 50 * t + 12 * k + o, true)) as P;
    normals.push(p(0));
    facets.push([p(1), p(2), p(3)]);
    if (view.getUint16(84 + 50 * t + 48, true) !== 0) throw new Error('attribute bytes are not 0');
  }
  return { facets, normals };
}

const key = (p: P): string => p.map((x) => Math.round(x * 1e4)).join(',');
export const crossOf = ([a, b, c]: readonly [P, P, P]): P => {
  const u = b.map((x, i) => x - a[i]!) as P;
  const v = c.map((x, i) => x - a[i]!) as P;
  return [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
};

/** Closed: every directed edge is met once, and once the other way. Gives the signed volume, positive when oriented outward. */
export function inspect({ facets, normals }: Solid): {
  closed: boolean;
  volume: number;
  normalsAgree: boolean;
  flat: number;
} {
  const edges = new Map<string, number>();
  let volume = 0;
  let normalsAgree = true;
  let flat = 0;
  facets.forEach((f, t) => {
    for (let k = 0; k < 3; k++) {
      const edge = `${key(f[k]!)}|${key(f[(k + 1) % 3]!)}`;
      edges.set(edge, (edges.get(edge) ?? 0) + 1);
    }
    const n = crossOf(f);
    const size = Math.hypot(...n);
    if (size < 1e-9) flat++;
    else if (n.reduce((s, x, i) => s + (x / size) * normals[t]![i]!, 0) < 0.99) normalsAgree = false;
    volume += (f[0][0] * n[0] + f[0][1] * n[1] + f[0][2] * n[2]) / 6;
  });
  let closed = true;
  for (const [edge, times] of edges) {
    const [a, b] = edge.split('|');
    if (times !== 1 || edges.get(`${b}|${a}`) !== 1) closed = false;
  }
  return { closed, volume, normalsAgree, flat };
}
