// An entry of its own: the PDF library is large, so nothing in ./index may bring it in. Load this with import().
import fontkit from '@cantoo/fontkit';
import { PDFDocument, type PDFFont, PDFHexString, PDFName, PDFString } from '@cantoo/pdf-lib';
import { fail } from '../error';
import { MM_PER_INCH } from '../quantity';
import { type Rad, cos, onCircle, rad, sin, tan, toRad } from '../space';
import { explodeDimension } from './dimension';
import { drawingFont, fontSizeMm, textWidthMm } from './lettering';
import { boxed } from './letters';
import { lineStyles } from './lines';
import type { LineRole, Mark, PathSegment, Point, Sheet } from './model';

/** Options of the PDF writer. */
export interface PdfOptions {
  /** The drawing font's file (see `drawingFont`); the letters used are embedded. */
  readonly fontBytes: Uint8Array;
  /** Day of the document, YYYY-MM-DD: the only date that goes in, so that the same sheets give the same bytes. */
  readonly date: string;
}

const POINTS_PER_MM = 72 / MM_PER_INCH;
const FONT = 'F1';

const n = (value: number): string => {
  const text = value.toFixed(4).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};
const at = (p: Point): string => `${n(p[0])} ${n(p[1])}`;

function pen(role: LineRole): string {
  const { widthMm, dashMm } = lineStyles[role];
  return `${n(widthMm)} w [${dashMm.map(n).join(' ')}] 0 d`;
}

/** An arc as cubic curves of at most 45° each: off by under 5 millionths of the radius. */
function curves(centre: Point, radius: number, startRad: Rad, sweepRad: Rad): string {
  const pieces = Math.max(1, Math.ceil(Math.abs(sweepRad) / (Math.PI / 4) - 1e-9));
  const step = sweepRad / pieces;
  const pull = (4 / 3) * tan(rad(step / 4)) * radius;
  const out: string[] = [];
  for (let i = 0; i < pieces; i++) {
    const a = rad(startRad + i * step);
    const b = rad(a + step);
    const from = onCircle(centre, radius, a);
    const to = onCircle(centre, radius, b);
    const c1: Point = [from[0] - pull * sin(a), from[1] + pull * cos(a)];
    const c2: Point = [to[0] + pull * sin(b), to[1] - pull * cos(b)];
    out.push(`${at(c1)} ${at(c2)} ${at(to)} c`);
  }
  return out.join(' ');
}

const startOf = (s: PathSegment): Point => (s.kind === 'line' ? s.from : onCircle(s.centre, s.radiusMm, s.startRad));

function outline(segments: readonly PathSegment[]): string {
  const pieces = segments.map((s) =>
    s.kind === 'line' ? `${at(s.to)} l` : curves(s.centre, s.radiusMm, s.startRad, s.sweepRad),
  );
  return `${at(startOf(segments[0]!))} m ${pieces.join(' ')}`;
}

const write: { readonly [K in Mark['kind']]: (mark: Extract<Mark, { kind: K }>, font: PDFFont) => string } = {
  line: (m) => `${pen(m.role)} ${at(m.from)} m ${at(m.to)} l S`,
  path: (m) => `${pen(m.role)} ${outline(m.segments)} ${m.closed ? 's' : 'S'}`,
  arc: (m) => `${pen(m.role)} ${outline([{ ...m, kind: 'arc' }])} S`,
  circle: (m) =>
    `${pen(m.role)} ${outline([{ kind: 'arc', centre: m.centre, radiusMm: m.radiusMm, startRad: rad(0), sweepRad: rad(2 * Math.PI) }])} s`,
  area: (m) =>
    `${at(m.points[0]!)} m ${m.points
      .slice(1)
      .map((p) => `${at(p)} l`)
      .join(' ')} f`,
  text: (m, font) => {
    const width = textWidthMm(m.text, m.sizeMm);
    const back = m.anchor === 'start' ? 0 : m.anchor === 'middle' ? width / 2 : width;
    const turn = toRad(m.rotationDeg);
    const [c, s] = [cos(turn), sin(turn)];
    const start: Point = [m.at[0] - back * c, m.at[1] - back * s];
    return `BT /${FONT} ${n(fontSizeMm(m.sizeMm))} Tf ${n(c)} ${n(s)} ${n(-s)} ${n(c)} ${at(start)} Tm ${font.encodeText(boxed(m.text)).toString()} Tj ET`;
  },
  dimension: (m, font) =>
    explodeDimension(m)
      .map((mark) => writeMark(mark, font))
      .join('\n'),
};

const writeMark = (mark: Mark, font: PDFFont): string =>
  (write[mark.kind] as (m: Mark, font: PDFFont) => string)(mark, font);

/**
 * Sheets as one PDF, a page each of exactly the sheet's size; the text can be searched and copied. The same bytes for the
 * same input every time; a letter that the font has not is a box. Throws a LidwrightError for a date that is none or a wrong font.
 */
export async function writePdf(sheets: readonly Sheet[], options: PdfOptions): Promise<Uint8Array> {
  const day = /^(\d{4})-(\d{2})-(\d{2})$/.exec(options.date);
  if (!day) return fail(`"${options.date}" is no date.`, ['date'], 'Write it as YYYY-MM-DD.');
  if (sheets.length === 0) return fail('there is no sheet to write.', [], 'Make at least one drawing.');
  const doc = await PDFDocument.create({ updateMetadata: false });
  doc.registerFontkit(fontkit);
  let font: PDFFont;
  try {
    font = await doc.embedFont(options.fontBytes, { subset: true, features: { liga: false, kern: false } });
  } catch (cause) {
    return fail(`the font file cannot be read (${String(cause)}).`, ['fontBytes'], `Pass in ${drawingFont.file}.`);
  }
  if (!font.name.startsWith(drawingFont.postscriptName))
    fail(`the font is ${font.name}.`, ['fontBytes'], `Text is measured for ${drawingFont.family}: pass in its file.`);

  const { context } = doc;
  for (const sheet of sheets) {
    const page = doc.addPage([sheet.widthMm * POINTS_PER_MM, sheet.heightMm * POINTS_PER_MM]);
    page.node.setFontDictionary(PDFName.of(FONT), font.ref);
    const k = POINTS_PER_MM.toFixed(8);
    const marks = sheet.parts.flatMap((part) => part.marks.map((mark) => writeMark(mark, font)));
    const content = ['q', `${k} 0 0 ${k} 0 0 cm`, '1 j', ...marks, 'Q'].join('\n');
    page.node.set(PDFName.of('Contents'), context.register(context.flateStream(content)));
  }
  const date = PDFString.of(`D:${day[1]}${day[2]}${day[3]}000000Z`);
  context.trailerInfo.Info = context.register(
    context.obj({
      Title: PDFHexString.fromText(sheets.map((sheet) => sheet.title).join('; ')),
      Producer: PDFString.of('Lidwright'),
      CreationDate: date,
      ModDate: date,
    }),
  );
  return doc.save({ useObjectStreams: false, updateFieldAppearances: false });
}
