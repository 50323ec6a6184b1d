import { strToU8, zipSync } from 'fflate';
import type { TriangleMesh } from './mesh';

const HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n';
const TYPES = `${HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>`;
const RELATIONS = `${HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>`;
/** The earliest day a ZIP can name: the same part is the same file. */
const NO_DAY = '1980-01-01T00:00:00';

const n = (value: number): string => String(Math.round(value * 1e6) / 1e6 + 0);

/**
 * The mesh as a 3MF file in millimetres, one object; corners that stand at one place are one vertex, as the format asks of a closed shape.
 * Source: 3MF Core Specification 1.x (from memory); read back in the tests.
 */
export function threeMf(mesh: TriangleMesh): Uint8Array {
  const places = new Map<string, number>();
  const vertices: string[] = [];
  const vertex = (i: number): number => {
    const [x, y, z] = [0, 1, 2].map((k) => n(mesh.positionsMm[3 * i + k]!));
    const key = `x="${x}" y="${y}" z="${z}"`;
    let at = places.get(key);
    if (at === undefined) {
      at = vertices.length;
      places.set(key, at);
      vertices.push(`<vertex ${key}/>`);
    }
    return at;
  };
  const triangles: string[] = [];
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => vertex(mesh.triangles[t + k]!)) as [number, number, number];
    if (a !== b && b !== c && c !== a) triangles.push(`<triangle v1="${a}" v2="${b}" v3="${c}"/>`);
  }
  const model = `${HEAD}<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1" type="model"><mesh><vertices>${vertices.join('')}</vertices><triangles>${triangles.join('')}</triangles></mesh></object></resources><build><item objectid="1"/></build></model>`;
  return zipSync(
    { '[Content_Types].xml': strToU8(TYPES), '_rels/.rels': strToU8(RELATIONS), '3D/3dmodel.model': strToU8(model) },
    { mtime: NO_DAY },
  );
}
