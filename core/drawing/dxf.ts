import { onCircle, rad, tan, toDeg } from '../space';
import { explodeDimension } from './dimension';
import { type DxfEntity, type DxfLayer, type DxfLineType, dxfFile, type Group } from './dxf-file';
import { dxfText } from './dxf-text';
import { drawingFont } from './lettering';
import { lineStyles, NARROW_MM } from './lines';
import type { LineRole, Mark, PathSegment, PlainMark, Point, Sheet } from './model';

/** Layer of each line role. Plain words of our own. */
const ROLE_LAYERS: Readonly<Record<LineRole, string>> = {
  visible: 'EDGES',
  narrow: 'THIN',
  hidden: 'EDGES-BEHIND',
  centre: 'AXES',
  phantom: 'OTHER-POSE',
  bend: 'BEND',
  frame: 'SHEET',
};

/** Colour numbers of the format (1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white, 8 grey), one a layer. */
const LAYER_COLOURS: Readonly<Record<string, number>> = {
  ...{ CUT: 7, BEND: 5, NOTE: 3 },
  ...{ EDGES: 7, THIN: 8, 'EDGES-BEHIND': 2, AXES: 1, 'OTHER-POSE': 6, SHEET: 9 },
};
const OTHER_COLOUR = 8;
const TEXT_LAYER = 'TEXT';
const ARROW_LAYER = 'ARROWS';

/** The dashed roles; the rest are continuous. */
const DASHED = (Object.keys(lineStyles) as LineRole[]).filter((role) => lineStyles[role].dashMm.length > 0);
const lineTypeOf = (role: LineRole): string => (DASHED.includes(role) ? ROLE_LAYERS[role] : 'Continuous');
const WORDS: Readonly<Partial<Record<LineRole, string>>> = {
  hidden: 'Dashed: hidden edges',
  centre: 'Long dash, dot: centre lines',
  phantom: 'Long dash, two dots: extreme positions',
};

const LINE_TYPES: readonly DxfLineType[] = DASHED.map((role) => ({
  name: lineTypeOf(role),
  words: WORDS[role] ?? '',
  dashMm: lineStyles[role].dashMm.map((mm, i) => (i % 2 === 0 ? mm : -mm)),
}));

const at = ([x, y]: Point, code = 0): Group[] => [
  [10 + code, x],
  [20 + code, y],
  [30 + code, 0],
];
const turn = (angle: number): number => ((toDeg(rad(angle)) % 360) + 360) % 360;
const startOf = (s: PathSegment): Point => (s.kind === 'line' ? s.from : onCircle(s.centre, s.radiusMm, s.startRad));
const endOf = (s: PathSegment): Point =>
  s.kind === 'line' ? s.to : onCircle(s.centre, s.radiusMm, rad(s.startRad + s.sweepRad));

type Body = { readonly type: string; readonly classes: DxfEntity['classes'] };
const body = (type: string, name: string, groups: readonly Group[]): Body[] => [{ type, classes: [{ name, groups }] }];

/** One polyline; arcs as bulges: the tangent of a quarter of their sweep. */
function polyline(segments: readonly PathSegment[], closed: boolean): Body[] {
  const vertices = segments.map((s) => ({ at: startOf(s), bulge: s.kind === 'arc' ? tan(rad(s.sweepRad / 4)) : 0 }));
  if (!closed) vertices.push({ at: endOf(segments[segments.length - 1]!), bulge: 0 });
  return body('LWPOLYLINE', 'AcDbPolyline', [
    [90, vertices.length],
    [70, closed ? 1 : 0],
    [43, 0],
    ...vertices.flatMap((v): Group[] => [
      [10, v.at[0]],
      [20, v.at[1]],
      ...(v.bulge === 0 ? [] : [[42, v.bulge] as Group]),
    ]),
  ]);
}

/** A filled polygon: up to four corners as SOLID (whose third and fourth corner are crossed over), more as a filled HATCH. */
function area(points: readonly Point[]): Body[] {
  if (points.length <= 4) {
    const [a, b, c, d] = points as readonly [Point, Point, Point, Point?];
    return body('SOLID', 'AcDbTrace', [...at(a), ...at(b, 1), ...at(d ?? c, 2), ...at(c, 3)]);
  }
  return body('HATCH', 'AcDbHatch', [
    ...at([0, 0]),
    [210, 0],
    [220, 0],
    [230, 1],
    [2, 'SOLID'],
    [70, 1],
    [71, 0],
    [91, 1],
    [92, 3],
    [72, 0],
    [73, 1],
    [93, points.length],
    ...points.flatMap(([x, y]): Group[] => [
      [10, x],
      [20, y],
    ]),
    [97, 0],
    [75, 0],
    [76, 1],
    [98, 0],
  ]);
}

const ALIGN = { start: 0, middle: 1, end: 2 } as const;

const write: { readonly [K in PlainMark['kind']]: (mark: Extract<PlainMark, { kind: K }>) => Body[] } = {
  line: (m) => body('LINE', 'AcDbLine', [...at(m.from), ...at(m.to, 1)]),
  path: (m) => polyline(m.segments, m.closed),
  arc: (m) => {
    const [from, to] = m.sweepRad > 0 ? [m.startRad, m.startRad + m.sweepRad] : [m.startRad + m.sweepRad, m.startRad];
    return [
      {
        type: 'ARC',
        classes: [
          { name: 'AcDbCircle', groups: [...at(m.centre), [40, m.radiusMm]] },
          {
            name: 'AcDbArc',
            groups: [
              [50, turn(from)],
              [51, turn(to)],
            ],
          },
        ],
      },
    ];
  },
  circle: (m) => body('CIRCLE', 'AcDbCircle', [...at(m.centre), [40, m.radiusMm]]),
  area: (m) => area(m.points),
  text: (m) => [
    {
      type: 'TEXT',
      classes: [
        {
          name: 'AcDbText',
          groups: [
            ...at(m.at),
            [40, m.sizeMm],
            [1, dxfText(m.text)],
            [50, m.rotationDeg],
            [7, 'Standard'],
            [72, ALIGN[m.anchor]],
            ...(m.anchor === 'start' ? [] : at(m.at, 1)),
          ],
        },
        { name: 'AcDbText', groups: [] },
      ],
    },
  ],
};

const layerOf = (mark: PlainMark): string =>
  'role' in mark ? ROLE_LAYERS[mark.role] : mark.kind === 'text' ? TEXT_LAYER : ARROW_LAYER;

const plain = (mark: Mark): PlainMark[] => (mark.kind === 'dimension' ? explodeDimension(mark) : [mark]);

/** Layer names as every reader takes them. */
const cleanLayer = (name: string): string => name.replace(/[<>/\\":;?*|=`,\s]+/g, '-').slice(0, 60) || 'LAYER';

const bigger = (mark: PlainMark, k: number): PlainMark => {
  const at = ([x, y]: Point): Point => [x * k, y * k];
  const arc = <A extends { readonly centre: Point; readonly radiusMm: number }>(a: A): A => ({
    ...a,
    ...{ centre: at(a.centre), radiusMm: a.radiusMm * k },
  });
  switch (mark.kind) {
    case 'line':
      return { ...mark, from: at(mark.from), to: at(mark.to) };
    case 'circle':
    case 'arc':
      return arc(mark);
    case 'path':
      return {
        ...mark,
        segments: mark.segments.map((s) => (s.kind === 'line' ? { ...s, from: at(s.from), to: at(s.to) } : arc(s))),
      };
    case 'area':
      return { ...mark, points: mark.points.map(at) };
    case 'text':
      return { ...mark, at: at(mark.at), sizeMm: mark.sizeMm * k };
  }
};

/**
 * One sheet as DXF in true millimetres of the thing shown: model space is 1:1, and a sheet drawn to a scale is as much larger; closed outlines as closed
 * polylines with bulges, round holes as circles, text as text. ASCII; ⌀ ° ± by the format's own codes. Layers: the part's
 * own where it names one, else one a line role. The same text for the same sheet every time.
 */
export function writeDxf(sheet: Sheet): string {
  const k = sheet.realPerPaper ?? 1;
  const layers = new Map<string, DxfLayer>();
  const entities: DxfEntity[] = [];
  for (const part of sheet.parts)
    for (const mark of part.marks.flatMap(plain).map((m) => (k === 1 ? m : bigger(m, k)))) {
      const name = cleanLayer(part.layer ?? layerOf(mark));
      if (!layers.has(name)) {
        const role = 'role' in mark ? mark.role : undefined;
        const width = role ? lineStyles[role].widthMm : NARROW_MM;
        layers.set(name, {
          name,
          lineType: role ? lineTypeOf(role) : 'Continuous',
          colour: LAYER_COLOURS[name] ?? OTHER_COLOUR,
          widthHundredths: Math.round(width * 100),
        });
      }
      for (const { type, classes } of (write[mark.kind] as (m: PlainMark) => Body[])(mark))
        entities.push({ type, layer: name, classes });
    }
  return dxfFile({
    layers: [...layers.values()],
    lineTypes: LINE_TYPES,
    fontFile: drawingFont.file.replace(/^.*\//, ''),
    widthMm: sheet.widthMm * k,
    heightMm: sheet.heightMm * k,
    lineScale: k,
    entities,
  });
}
