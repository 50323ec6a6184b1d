import { type BracketSpec, type Fixing } from '../../../core/bracket';
import {
  type Box,
  boundsOf,
  type DimensionMark,
  dimensionLabel,
  type Mark,
  type Part,
  type Point,
  type Sheet,
} from '../../../core/drawing';
import { rad, toDeg } from '../../../core/space';

/*
 * A bracket as a workshop would read it off its drawing: every number is a printed one. What is drawn only tells which number belongs to what, and on
 * which side of the centre line a thing lies; where drawing and number differ by more than READ_MM it throws.
 */
const READ_MM = 0.02;

const number = (text: string): number => Number(text.replace('−', '-'));

interface Seen {
  readonly at: Point;
  readonly diameterMm: number;
  readonly slotMm: number;
  /** 0 to 180, from the right towards up. */
  readonly deg: number;
}

const half = (deg: number): number => ((deg % 180) + 180) % 180;
const apartDeg = (a: number, b: number): number => Math.min(half(a - b), 180 - half(a - b));

class PrintedSheet {
  readonly notes: string;
  constructor(readonly sheet: Sheet) {
    // a note's lines follow each other; its number stands before the first
    this.notes = this.part('notes')!
      .marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))
      .join(' ');
  }

  part(name: string): Part | undefined {
    return this.sheet.parts.find((p) => p.name === name);
  }

  dimensions(): { part: Part; d: DimensionMark; label: string }[] {
    return this.sheet.parts.flatMap((part) =>
      part.marks.flatMap((d) => (d.kind === 'dimension' ? [{ part, d, label: dimensionLabel(d) }] : [])),
    );
  }

  /** The printed figure of a size; undefined where the sheet has none of that name. */
  figure(id: string): number | undefined {
    const found = this.dimensions().filter(({ d }) => d.id === id);
    if (found.length > 1) throw new Error(`${id} stands on the sheet twice`);
    if (!found[0]) return undefined;
    const text = found[0].label
      .replace(/^\d+× /, '')
      .replace(/90°/, '')
      .replace(/bend \d/, '');
    return Number(/\d+(\.\d+)?/.exec(text)![0]);
  }

  must(id: string): number {
    const value = this.figure(id);
    if (value === undefined) throw new Error(`no ${id} on the sheet`);
    return value;
  }

  /** Sizes whose name begins so, with what they measure. */
  all(stem: string): { d: DimensionMark; label: string; value: number }[] {
    return this.dimensions()
      .filter(({ d }) => d.id === stem || new RegExp(`^${stem}-\\d+$`).test(d.id))
      .map(({ d, label }) => ({ d, label, value: this.must(d.id) }));
  }

  /** +1 or −1: which way the second place of a size lies from the first, along x. */
  sense(id: string): number {
    const { measured } = this.dimensions().find(({ d }) => d.id === id)!.d;
    return measured.of === 'distance' ? Math.sign(measured.to[0] - measured.from[0]) : NaN;
  }
}

/** The box round the part's own outline: the largest closed line of its view. */
const outlineOf = (part: Part): Box =>
  part.marks
    .filter((m) => m.kind === 'path' && m.closed)
    .map((m) => boundsOf([m]))
    .reduce((a, b) => (b.right - b.left + b.top - b.bottom > a.right - a.left + a.top - a.bottom ? b : a));

/** Holes drawn in a view, from its centre line and free end, real mm; across to the right, along away from that end. */
function seenHoles(part: Part, scale: number, freeEnd: 'top' | 'bottom', not: Point | null): Seen[] {
  const paths = part.marks.filter((m): m is Extract<Mark, { kind: 'path' }> => m.kind === 'path' && m.closed);
  const outline = outlineOf(part);
  const middle = (outline.left + outline.right) / 2;
  const place = ([x, y]: Point): Point => [
    (x - middle) / scale,
    (freeEnd === 'top' ? outline.top - y : y - outline.bottom) / scale,
  ];
  const isNot = (p: Point): boolean => not !== null && Math.hypot(p[0] - not[0], p[1] - not[1]) < 1e-6;
  const round = part.marks.flatMap((m): Seen[] =>
    // thin rings are the weld symbol's and the origin's; in the blank, thin holes are drilled later
    m.kind === 'circle' &&
    (m.role === 'visible' || freeEnd === 'bottom') &&
    !isNot(m.centre) &&
    Math.abs(place(m.centre)[1]) > 1e-6
      ? [{ at: place(m.centre), diameterMm: (2 * m.radiusMm) / scale, slotMm: 0, deg: 0 }]
      : [],
  );
  const slots = paths.flatMap((m): Seen[] => {
    const arcs = m.segments.filter((s) => s.kind === 'arc');
    if (
      m.segments.length !== 4 ||
      arcs.length !== 2 ||
      !arcs.every((a) => Math.abs(Math.abs(a.sweepRad) - Math.PI) < 1e-9)
    )
      return [];
    const [a, b] = arcs.map((arc) => arc.centre) as [Point, Point];
    return [
      {
        at: place([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]),
        diameterMm: (2 * arcs[0]!.radiusMm) / scale,
        slotMm: Math.hypot(b[0] - a[0], b[1] - a[1]) / scale,
        deg: half(toDeg(rad(Math.atan2(b[1] - a[1], b[0] - a[0])))),
      },
    ];
  });
  return [...round, ...slots];
}

interface SizeRead {
  readonly diameterMm: number;
  readonly slotMm: number;
  /** Null: along or across, as drawn. */
  readonly deg: number | null;
}

/** "2× slot 6.6 × 12, 30° to the right" as sizes; the angle is from the upright centre line. */
function readSize(text: string): SizeRead {
  const slot = /slot ([\d.]+) × ([\d.]+)(?:, ([\d.]+)° to the (right|left))?/.exec(text);
  if (!slot) return { diameterMm: Number(/⌀([\d.]+)/.exec(text)![1]), slotMm: 0, deg: null };
  const [, wide, long, lean, side] = slot;
  return {
    diameterMm: Number(wide),
    slotMm: Number(long) - Number(wide),
    deg: lean === undefined ? null : half(90 + (side === 'right' ? -1 : 1) * Number(lean)),
  };
}

const nearest = <T>(list: readonly T[], off: (one: T) => number): T => {
  const best = list.reduce((a, b) => (off(b) < off(a) ? b : a));
  if (!(off(best) < READ_MM)) throw new Error(`nothing printed is within ${READ_MM} of what is drawn: ${off(best)}`);
  return best;
};

/** The rows of the hole table: name, x, y, size. */
function tableRows(part: Part): string[][] {
  const texts = part.marks.flatMap((m) => (m.kind === 'text' ? [m] : []));
  const heads = texts.slice(0, 4);
  const column = (x: number): number => heads.findIndex((h) => Math.abs(h.at[0] - x) < 0.01);
  const rows: string[][] = [];
  for (const { text, at } of texts.slice(4)) {
    const c = column(at[0]);
    if (c === 0) rows.push(['', '', '', '']);
    const row = rows.at(-1)!;
    row[c] = `${row[c]} ${text}`.trim();
  }
  return rows;
}

/** Fixings by the numbers on the sheet, in the view's own hand: across to the right of the centre line as it is seen. */
function printedFixings(
  sheet: PrintedSheet,
  view: Part,
  scale: number,
  freeEnd: 'top' | 'bottom',
  not: Point | null,
): Fixing[] {
  const seen = seenHoles(view, scale, freeEnd, not);
  const table = sheet.part('hole-table');
  // a slot seen at deg lies so far from "along": counter-clockwise where the free end is below
  const slotDeg = (deg: number): number => half(deg);
  if (table)
    return tableRows(table).map(([name, x, y, text], i) => {
      const size = readSize(text!);
      const at: Point = [number(x!), number(y!)];
      const drawn = nearest(seen, (s) => Math.hypot(s.at[0] - at[0], s.at[1] - at[1]));
      return {
        id: `${name}-${i}`,
        acrossMm: at[0],
        fromEndMm: at[1],
        ...size,
        slotDeg: slotDeg(size.slotMm > 0 ? (size.deg ?? Math.round(drawn.deg / 90) * 90) : 90),
      };
    });
  const baseWidth = sheet.must('base-width');
  const across = [
    0,
    ...sheet.all('hole-spacing').flatMap(({ value }) => [-value / 2, value / 2]),
    ...sheet.all('hole-across').map(({ d, value }) => {
      const { from, to } = d.measured as Extract<DimensionMark['measured'], { of: 'distance' }>;
      const drawn = Math.abs(to[0] - from[0]) / d.scale;
      const box = outlineOf(view);
      const start = (from[0] - (box.left + box.right) / 2) / d.scale;
      if (Math.abs(drawn - value) > READ_MM) throw new Error('a size is not drawn as long as it says');
      const zero = Math.abs(start) < READ_MM ? 0 : Math.sign(start) * (baseWidth / 2);
      return zero + Math.sign(to[0] - from[0]) * value;
    }),
  ];
  const along = sheet.all('hole-from-end').map(({ value }) => value);
  const sizes = sheet.all('base-holes').map(({ label }) => readSize(label));
  return seen.map((s, i): Fixing => {
    const size = nearest(
      sizes.filter((z) => z.slotMm > 0 === s.slotMm > 0),
      (z) =>
        Math.abs(z.diameterMm - s.diameterMm) +
        Math.abs(z.slotMm - s.slotMm) / 2 +
        // a tenth of a degree is printed
        (z.deg === null ? apartDeg(Math.round(s.deg / 90) * 90, s.deg) : Math.max(0, apartDeg(z.deg, s.deg) - 0.06)),
    );
    return {
      id: `h${i}`,
      acrossMm: nearest(across, (x) => Math.abs(x - s.at[0])),
      fromEndMm: nearest(along, (y) => Math.abs(y - s.at[1])),
      ...size,
      slotDeg: slotDeg(s.slotMm > 0 ? (size.deg ?? Math.round(s.deg / 90) * 90) : 90),
    };
  });
}

/** The bracket that a sheet's printed numbers describe; nothing of it comes from the specification it was drawn from but its kind. */
export function printedPart(drawn: Sheet, kind: BracketSpec['kind']): BracketSpec {
  const sheet = new PrintedSheet(drawn);
  const bent = kind === 'bent-angle' || kind === 'gusset-angle' || kind === 'channel';
  const channel = kind === 'channel';
  const scale = sheet.dimensions().find(({ d }) => d.id === 'base-width')!.d.scale;
  const fromAbove = !bent || channel;
  const view = sheet.part(fromAbove ? 'top-view' : 'flat-pattern')!;
  const studAt = ((): Point | null => {
    const d = sheet.dimensions().find((one) => one.d.id === (bent ? 'stud-in-blank' : 'stud-hole'))?.d;
    if (!d) return null;
    return d.measured.of === 'distance' ? d.measured.to : d.measured.of === 'angle' ? null : d.measured.centre;
  })();
  const fixings = printedFixings(sheet, view, scale, fromAbove ? 'top' : 'bottom', studAt).map((f): Fixing => ({
    ...f,
    // the blank is seen from inside the bend: its right is the bracket's −y; from above, up is −x and right is +y
    acrossMm: fromAbove ? f.acrossMm : -f.acrossMm,
    slotDeg: f.slotDeg - 90,
  }));
  const thicknessMm =
    kind === 'wedge-plate' ? Number(/least thickness ([\d.]+) mm/.exec(sheet.notes)![1]) : sheet.must('thickness');
  const baseWidthMm = sheet.must('base-width');
  const wedge = ((): BracketSpec['wedge'] => {
    if (kind !== 'wedge-plate') return null;
    const tiltDeg = Number(/top rises by ([\d.]+)°/.exec(sheet.notes)![1]);
    const off = /([\d.]+)° off the centre line, turned from the stud’s end to the (right|left)/.exec(sheet.notes);
    const straight = /centre line, towards the (stud’s|free) end/.exec(sheet.notes);
    const directionDeg = off ? Number(off[1]) * (off[2] === 'right' ? 1 : -1) : straight![1] === 'free' ? 180 : 0;
    return { tiltDeg, directionDeg };
  })();
  const across = sheet.figure('stud-across');
  const gap = sheet.figure('gap') ?? 0;
  const offset = /(?:centre of its ball|middle of the gap,) ([\d.]+) mm from/.exec(sheet.notes)!;
  return {
    ...{ id: 'read', name: 'Read', kind, bought: false, thicknessMm, baseWidthMm },
    insideRadiusMm: bent ? sheet.must(channel ? 'bend-1' : 'bend') : 0,
    baseLegMm: bent ? sheet.must('base-leg') : sheet.must('length'),
    uprightLegMm: bent ? sheet.must('upright-leg') : 0,
    topWidthMm: sheet.figure('top-width') ?? baseWidthMm,
    baseCornerRadiusMm: sheet.figure('base-corner') ?? 0,
    topCornerRadiusMm: sheet.figure('top-corner') ?? 0,
    fixings,
    ...{ patterned: false, attachedBy: 'bolts', into: 'through', fixingThread: null, studThread: null },
    studHole: {
      diameterMm: sheet.must(channel ? 'pin-holes' : 'stud-hole'),
      heightMm: bent ? sheet.must('stud-height') : 0,
      fromEndMm: bent ? 0 : sheet.must('stud-from-end'),
      acrossMm: across === undefined ? 0 : across * sheet.sense('stud-across'),
    },
    ballOffsetMm: Number(offset[1]),
    ballSide: channel || /upright’s inner face|on the underside/.test(sheet.notes) ? 'inside' : 'outside',
    gapMm: gap,
    gusset:
      kind === 'gusset-angle'
        ? {
            thicknessMm: sheet.must('gusset-thickness'),
            alongMm: sheet.must('gusset-along'),
            upMm: sheet.must('gusset-up'),
            count: sheet.figure('gusset-spacing') === undefined ? 1 : 2,
            acrossMm: (sheet.figure('gusset-spacing') ?? 0) / 2,
            weldThroatMm: 1,
          }
        : null,
    wedge,
    material: { name: 'Read', densityKgM3: 1 },
  };
}
