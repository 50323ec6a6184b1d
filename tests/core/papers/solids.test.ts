import fc from 'fast-check';
import { unzipSync } from 'fflate';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { foldedVolumeMm3, bracketMesh, bracketSpecOf, mirroredSpec } from '../../../core/bracket';
import { BRACKET_KINDS, readJob, type ResolvedJob, resolveJob } from '../../../core/job';
import { paperFiles, papersOf } from '../../../core/papers';
import { stlBinary, threeMf } from '../../../core/solid';
import { runs } from '../../support/tier';
import { makeableOf } from '../bracket/samples';
import { fontBytes } from '../drawing/font';

type V = readonly [number, number, number];

/** Triangles of a binary STL, by its published layout. */
function readStl(file: Uint8Array): V[][] {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  return Array.from({ length: view.getUint32(80, true) }, (_, t) =>
    [0, 1, 2].map(
      (k): V => [0, 1, 2].map((c) => view.getFloat32(84 + 50 * t + 12 * (k + 1) + 4 * c, true)) as unknown as V,
    ),
  );
}

/** Triangles of a 3MF's model, its unit looked at. */
function read3mf(file: Uint8Array): V[][] {
  const parts = unzipSync(file);
  expect(Object.keys(parts).sort()).toEqual(['3D/3dmodel.model', '[Content_Types].xml', '_rels/.rels']);
  const xml = new TextDecoder().decode(parts['3D/3dmodel.model']);
  expect(xml).toContain('unit="millimeter"');
  const vertices = [...xml.matchAll(/<vertex x="([^"]+)" y="([^"]+)" z="([^"]+)"\/>/g)].map((m): V => [
    Number(m[1]),
    Number(m[2]),
    Number(m[3]),
  ]);
  expect(new Set(vertices.map((v) => v.join())).size).toBe(vertices.length);
  return [...xml.matchAll(/<triangle v1="(\d+)" v2="(\d+)" v3="(\d+)"\/>/g)].map((m) =>
    [1, 2, 3].map((k) => vertices[Number(m[k])]!),
  );
}

const volume = (triangles: readonly (readonly V[])[]): number =>
  triangles.reduce((sum, [a, b, c]) => {
    const [p, q, r] = [a!, b!, c!];
    return (
      sum +
      (p[0] * (q[1] * r[2] - q[2] * r[1]) - p[1] * (q[0] * r[2] - q[2] * r[0]) + p[2] * (q[0] * r[1] - q[1] * r[0])) / 6
    );
  }, 0);

/** Edges that are not run along once each way. */
function openEdges(triangles: readonly (readonly V[])[]): number {
  const count = new Map<string, number>();
  const key = (v: V): string => v.map((x) => Math.round(x * 1e3)).join();
  for (const t of triangles)
    for (const k of [0, 1, 2]) {
      const [a, b] = [key(t[k]!), key(t[(k + 1) % 3]!)];
      if (a === b) continue;
      const [name, way] = a < b ? [`${a} ${b}`, 1] : [`${b} ${a}`, -1];
      count.set(name, (count.get(name) ?? 0) + way);
    }
  return [...count.values()].filter((v) => v !== 0).length;
}

describe.each(BRACKET_KINDS)('the solid of a %s', (kind) => {
  it('is closed in STL and 3MF, and as large as the folded part within 0.5 %', () => {
    fc.assert(
      fc.property(makeableOf(kind), (spec) => {
        const mesh = bracketMesh(spec, 96);
        for (const triangles of [readStl(stlBinary(mesh)), read3mf(threeMf(mesh))]) {
          expect(openEdges(triangles)).toBe(0);
          expect(Math.abs(volume(triangles) / foldedVolumeMm3(spec) - 1)).toBeLessThan(0.005);
        }
      }),
      { numRuns: runs(40) },
    );
  });
});

describe('files of solids', () => {
  it('are one a hand: the twin’s is the mirror image', async () => {
    const text = readFileSync(join(import.meta.dirname, '../../../tests/fixtures/jobs/workboat-hatch.lidjob'), 'utf8');
    const job = resolveJob(readJob(text));
    const bracket = { ...job.brackets[0]!, studHole: { ...job.brackets[0]!.studHole, acrossMm: 5 } };
    const pair: ResolvedJob = { ...job, struts: [{ ...job.struts[0]!, quantity: 2 }], brackets: [bracket] };
    const papers = papersOf(pair, null, { date: '2026-11-29', program: 'test' }).filter((p) => p.kind === 'bracket');
    const { files } = await paperFiles(papers, ['stl', '3mf'], { date: '2026-11-29', font: fontBytes });
    expect(files.map((f) => f.name.replace(/^.*bracket-b1/, ''))).toEqual([
      '.right.stl',
      '.left.stl',
      '.right.3mf',
      '.left.3mf',
    ]);
    const spec = bracketSpecOf(bracket);
    expect(files[0]!.content).toEqual(stlBinary(bracketMesh(spec)));
    expect(files[1]!.content).toEqual(stlBinary(bracketMesh(mirroredSpec(spec))));
  });
});
