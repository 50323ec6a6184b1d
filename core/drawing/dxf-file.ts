/** A group of a DXF file: code and value. */
export type Group = readonly [number, string | number];

/** A layer: its name, line type and width in hundredths of a millimetre. */
export interface DxfLayer {
  readonly name: string;
  readonly lineType: string;
  readonly widthHundredths: number;
  /** Colour number of the format. */
  readonly colour: number;
}

/** A line type: lengths in mm, pens down positive, gaps negative; empty for a continuous line. */
export interface DxfLineType {
  readonly name: string;
  readonly words: string;
  readonly dashMm: readonly number[];
}

/** One entity without its handle and owner: its type, layer, then its classes with their groups. */
export interface DxfEntity {
  readonly type: string;
  readonly layer: string;
  readonly classes: readonly { readonly name: string; readonly groups: readonly Group[] }[];
}

export interface DxfContent {
  readonly layers: readonly DxfLayer[];
  readonly lineTypes: readonly DxfLineType[];
  /** Font file of the text style. */
  readonly fontFile: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Dashes are drawn so much longer than their line types say. */
  readonly lineScale: number;
  readonly entities: readonly DxfEntity[];
}

/** At most 6 decimals (a nanometre), always with a decimal point where the format wants a real. */
export function real(value: number): string {
  const text = value.toFixed(6).replace(/0+$/, '');
  const tidy = text.endsWith('.') ? `${text}0` : text;
  return tidy === '-0.0' ? '0.0' : tidy;
}

const TYPES_BY_CODE = (code: number): boolean =>
  (code >= 10 && code <= 59) || (code >= 140 && code <= 149) || (code >= 210 && code <= 239);

const line = ([code, value]: Group): string =>
  `${String(code).padStart(3)}\n${typeof value === 'number' ? (TYPES_BY_CODE(code) ? real(value) : String(value)) : value}\n`;

/** Hands out handles and writes groups. */
class Writer {
  private text = '';
  private last = 0x20;
  handle(): string {
    return (++this.last).toString(16).toUpperCase();
  }
  get next(): string {
    return (this.last + 1).toString(16).toUpperCase();
  }
  add(...groups: Group[]): void {
    for (const group of groups) this.text += line(group);
  }
  section(name: string, body: () => void): void {
    this.add([0, 'SECTION'], [2, name]);
    body();
    this.add([0, 'ENDSEC']);
  }
  take(): string {
    const { text } = this;
    this.text = '';
    return text;
  }
}

const MODEL = '1F';
const PAPER = '1E';

function tables(w: Writer, content: DxfContent): void {
  const table = (name: string, rows: readonly Group[][], extra: readonly Group[] = []): void => {
    const own = w.handle();
    w.add([0, 'TABLE'], [2, name], [5, own], [330, '0'], [100, 'AcDbSymbolTable'], [70, rows.length], ...extra);
    for (const [first, ...rest] of rows) {
      const key = first![0] === 105 ? 105 : 5;
      const given = first![0] === 5 || first![0] === 105 ? String(first![1]) : '';
      const body = given === '' ? [first!, ...rest] : rest;
      w.add([0, name], [key, given === '' ? w.handle() : given], [330, own], [100, 'AcDbSymbolTableRecord'], ...body);
    }
    w.add([0, 'ENDTAB']);
  };
  table('VPORT', [
    [
      [100, 'AcDbViewportTableRecord'],
      [2, '*Active'],
      [70, 0],
      [10, 0],
      [20, 0],
      [11, 1],
      [21, 1],
      [12, content.widthMm / 2],
      [22, content.heightMm / 2],
      [13, 0],
      [23, 0],
      [14, 10],
      [24, 10],
      [15, 10],
      [25, 10],
      [16, 0],
      [26, 0],
      [36, 1],
      [17, 0],
      [27, 0],
      [37, 0],
      [40, content.heightMm * 1.05],
      [41, content.widthMm / content.heightMm],
      [42, 50],
      [43, 0],
      [44, 0],
      [50, 0],
      [51, 0],
      [71, 0],
      [72, 1000],
      [73, 1],
      [74, 3],
      [75, 0],
      [76, 0],
      [77, 0],
      [78, 0],
    ],
  ]);
  const lineType = ({ name, words, dashMm }: DxfLineType): Group[] => [
    [100, 'AcDbLinetypeTableRecord'],
    [2, name],
    [70, 0],
    [3, words],
    [72, 65],
    [73, dashMm.length],
    [40, dashMm.reduce((sum, d) => sum + Math.abs(d), 0)],
    ...dashMm.flatMap((d): Group[] => [
      [49, d],
      [74, 0],
    ]),
  ];
  table('LTYPE', [
    ...['ByBlock', 'ByLayer'].map((name) => lineType({ name, words: '', dashMm: [] })),
    lineType({ name: 'Continuous', words: 'Solid line', dashMm: [] }),
    ...content.lineTypes.map(lineType),
  ]);
  const layer = ({ name, lineType: type, widthHundredths, colour }: DxfLayer): Group[] => [
    [100, 'AcDbLayerTableRecord'],
    [2, name],
    [70, 0],
    [62, colour],
    [6, type],
    [370, widthHundredths],
    [390, 'F'],
  ];
  table('LAYER', [
    layer({ name: '0', lineType: 'Continuous', widthHundredths: 25, colour: 7 }),
    ...content.layers.map(layer),
  ]);
  table('STYLE', [
    [
      [100, 'AcDbTextStyleTableRecord'],
      [2, 'Standard'],
      [70, 0],
      [40, 0],
      [41, 1],
      [50, 0],
      [71, 0],
      [42, 2.5],
      [3, content.fontFile],
      [4, ''],
    ],
  ]);
  table('VIEW', []);
  table('UCS', []);
  table('APPID', [
    [
      [100, 'AcDbRegAppTableRecord'],
      [2, 'ACAD'],
      [70, 0],
    ],
  ]);
  table(
    'DIMSTYLE',
    [
      [
        [105, w.handle()],
        [100, 'AcDbDimStyleTableRecord'],
        [2, 'Standard'],
        [70, 0],
      ],
    ],
    [[100, 'AcDbDimStyleTable']],
  );
  table('BLOCK_RECORD', [
    [
      [5, MODEL],
      [100, 'AcDbBlockTableRecord'],
      [2, '*Model_Space'],
    ],
    [
      [5, PAPER],
      [100, 'AcDbBlockTableRecord'],
      [2, '*Paper_Space'],
    ],
  ]);
}

function blocks(w: Writer): void {
  for (const [record, name, paper] of [
    [MODEL, '*Model_Space', []],
    [PAPER, '*Paper_Space', [[67, 1] as Group]],
  ] as const) {
    w.add([0, 'BLOCK'], [5, w.handle()], [330, record], [100, 'AcDbEntity'], ...paper, [8, '0']);
    w.add([100, 'AcDbBlockBegin'], [2, name], [70, 0], [10, 0], [20, 0], [30, 0], [3, name], [1, '']);
    w.add(
      [0, 'ENDBLK'],
      [5, w.handle()],
      [330, record],
      [100, 'AcDbEntity'],
      ...paper,
      [8, '0'],
      [100, 'AcDbBlockEnd'],
    );
  }
}

/**
 * A whole DXF file, ASCII, version AC1015 (the year-2000 form, which every reader in use takes), drawing unit one
 * millimetre. Source: the format's published reference (from memory); read back in the tests by independent readers.
 */
export function dxfFile(content: DxfContent): string {
  const w = new Writer();
  w.section('CLASSES', () => undefined);
  w.section('TABLES', () => tables(w, content));
  w.section('BLOCKS', () => blocks(w));
  w.section('ENTITIES', () => {
    for (const { type, layer, classes } of content.entities) {
      w.add([0, type], [5, w.handle()], [330, MODEL], [100, 'AcDbEntity'], [8, layer]);
      for (const { name, groups } of classes) w.add([100, name], ...groups);
    }
  });
  w.section('OBJECTS', () => {
    w.add([0, 'DICTIONARY'], [5, 'C'], [330, '0'], [100, 'AcDbDictionary'], [281, 1]);
    w.add([3, 'ACAD_GROUP'], [350, 'D'], [3, 'ACAD_PLOTSTYLENAME'], [350, 'E']);
    w.add([0, 'DICTIONARY'], [5, 'D'], [330, 'C'], [100, 'AcDbDictionary'], [281, 1]);
    w.add([0, 'ACDBDICTIONARYWDFLT'], [5, 'E'], [330, 'C'], [100, 'AcDbDictionary'], [281, 1]);
    w.add([3, 'Normal'], [350, 'F'], [100, 'AcDbDictionaryWithDefault'], [340, 'F']);
    w.add([0, 'ACDBPLACEHOLDER'], [5, 'F'], [330, 'E']);
  });
  const body = w.take();
  const variable = (name: string, ...groups: Group[]): void => w.add([9, name], ...groups);
  w.section('HEADER', () => {
    variable('$ACADVER', [1, 'AC1015']);
    variable('$DWGCODEPAGE', [3, 'ANSI_1252']);
    variable('$HANDSEED', [5, w.next]);
    variable('$INSUNITS', [70, 4]);
    variable('$MEASUREMENT', [70, 1]);
    variable('$LUNITS', [70, 2]);
    variable('$LUPREC', [70, 4]);
    variable('$LTSCALE', [40, content.lineScale]);
    variable('$EXTMIN', [10, 0], [20, 0], [30, 0]);
    variable('$EXTMAX', [10, content.widthMm], [20, content.heightMm], [30, 0]);
    variable('$LIMMIN', [10, 0], [20, 0]);
    variable('$LIMMAX', [10, content.widthMm], [20, content.heightMm]);
  });
  return `${w.take()}${body}${line([0, 'EOF'])}`;
}
