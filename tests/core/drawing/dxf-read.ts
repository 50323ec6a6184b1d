import DxfParser from 'dxf-parser';

export type P = readonly [number, number];

/** What a DXF holds, read by a parser from outside the project. Angles rad. */
export interface DxfRead {
  readonly header: Readonly<Record<string, unknown>>;
  readonly layers: readonly string[];
  readonly handles: readonly string[];
  readonly lines: readonly { layer: string; from: P; to: P }[];
  readonly circles: readonly { layer: string; centre: P; radius: number }[];
  readonly arcs: readonly { layer: string; centre: P; radius: number; start: number; end: number }[];
  readonly polylines: readonly { layer: string; closed: boolean; vertices: { at: P; bulge: number }[] }[];
  readonly solids: readonly P[][];
  readonly texts: readonly { layer: string; at: P; text: string; size: number; rotationDeg: number; align: number }[];
  readonly kinds: readonly string[];
}

/** A text as its reader shows it: control codes and \U+XXXX turned into letters. Written apart from the writer. */
export const shownText = (raw: string): string =>
  raw
    .replace(/%%d/gi, '°')
    .replace(/%%p/gi, '±')
    .replace(/%%c/gi, '⌀')
    .replace(/((?:\\U\+[0-9A-F]{4})+)/g, (run) =>
      String.fromCharCode(...[...run.matchAll(/\\U\+([0-9A-F]{4})/g)].map((m) => parseInt(m[1]!, 16))),
    );

interface Raw {
  type: string;
  handle: string;
  layer: string;
  vertices?: { x: number; y: number; bulge?: number }[];
  shape?: boolean;
  center?: { x: number; y: number };
  radius?: number;
  startAngle?: number;
  endAngle?: number;
  points?: { x: number; y: number }[];
  startPoint?: { x: number; y: number };
  endPoint?: { x: number; y: number };
  text?: string;
  textHeight?: number;
  rotation?: number;
  halign?: number;
}

export function readDxf(text: string): DxfRead {
  if (!/^[\x00-\x7f]*$/.test(text)) throw new Error('not plain ASCII');
  const dxf = new DxfParser().parseSync(text);
  if (!dxf) throw new Error('not read');
  const all = dxf.entities as unknown as Raw[];
  const of = (type: string): Raw[] => all.filter((e) => e.type === type);
  const p = (v: { x: number; y: number }): P => [v.x, v.y];
  return {
    header: dxf.header,
    layers: Object.keys((dxf.tables as unknown as { layer: { layers: Record<string, unknown> } }).layer.layers),
    handles: all.map((e) => e.handle),
    kinds: all.map((e) => e.type),
    lines: of('LINE').map((e) => ({ layer: e.layer, from: p(e.vertices![0]!), to: p(e.vertices![1]!) })),
    circles: of('CIRCLE').map((e) => ({ layer: e.layer, centre: p(e.center!), radius: e.radius! })),
    arcs: of('ARC').map((e) => ({
      layer: e.layer,
      centre: p(e.center!),
      radius: e.radius!,
      start: e.startAngle!,
      end: e.endAngle!,
    })),
    polylines: of('LWPOLYLINE').map((e) => ({
      layer: e.layer,
      closed: e.shape === true,
      vertices: e.vertices!.map((v) => ({ at: p(v), bulge: v.bulge ?? 0 })),
    })),
    solids: of('SOLID').map((e) => e.points!.map(p)),
    texts: of('TEXT').map((e) => ({
      layer: e.layer,
      at: p(e.halign ? e.endPoint! : e.startPoint!),
      text: shownText(e.text!),
      size: e.textHeight!,
      rotationDeg: e.rotation ?? 0,
      align: e.halign ?? 0,
    })),
  };
}

/** Area inside a closed polyline with bulges: shoelace plus the circular segments. Written apart from the writer. */
export function polylineArea(vertices: readonly { at: P; bulge: number }[]): number {
  let twice = 0;
  vertices.forEach(({ at: a, bulge }, i) => {
    const b = vertices[(i + 1) % vertices.length]!.at;
    twice += a[0] * b[1] - b[0] * a[1];
    if (bulge === 0) return;
    const angle = 4 * Math.atan(bulge);
    const r = Math.hypot(b[0] - a[0], b[1] - a[1]) / 2 / Math.sin(angle / 2);
    twice += r * r * (angle - Math.sin(angle));
  });
  return twice / 2;
}
