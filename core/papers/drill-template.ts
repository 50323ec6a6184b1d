import {
  type Box,
  boundsOf,
  boxMark,
  clipMarks,
  crossMarks,
  grow,
  lineMark,
  type Mark,
  moveMarks,
  type Part,
  polygonMark,
  type Point,
  type Sheet,
  type TextMark,
} from '../drawing';
import { fail } from '../error';
import { type PaperFormat, type PaperName, formatOf, sheetOf } from './formats';
import { checkingBar } from './notes';
import { TextPlacer } from './place-text';
import { SLIM_HEAD_MM, type SlimHead, slimSheet } from './slim-header';
import { compass, holeWords, templateArt, type TemplateArt, type TemplateSpec, turnedTemplate } from './template-art';
import { textAt, wrapText } from './text';

/** Side of the drawing space that the frame's centring marks reach into. */
const SIDE_MM = 6;
const BAR_ROW_MM = 9;
const LEAST_STRIP_MM = 34;
const MAP_MM = 34;
const COMPASS_MM = 40;
const TEXT_MM = 2.5;
const PITCH_MM = 4.2;
const ROUND_MM = 3;
/** Pages lie over one another by at least this. */
const LEAST_OVERLAP_MM = 20;
const MOST_PAGES = 60;

const PRINT_WORDS =
  'Print at 100 %, not “fit to page”. Then measure the bar: if it is not 100 mm, do not drill by this sheet.';
const MARKS_WORDS = 'Cut along the thin frame on one side, then lay marks with the same letter over one another.';

/** How the art is split: the lower left corner of each page's window in the art, row by row from the top. */
export interface TemplateTiles {
  readonly columns: number;
  readonly rows: number;
  readonly windowMm: readonly [number, number];
  readonly overlapMm: number;
  readonly corners: readonly Point[];
}

const count = (length: number, window: number, overlap: number): number =>
  length <= window ? 1 : Math.ceil((length - overlap) / (window - overlap) - 1e-9);

/** The pages a drawing of this size needs, and where each looks. */
export function tilesFor(art: TemplateArt, windowMm: readonly [number, number]): TemplateTiles {
  const box = grow(boundsOf(art.marks), ROUND_MM);
  // each hole with its cross and number must be whole on some page: pages overlap by the largest of them
  const largest = art.groups.map((g) => boundsOf(g)).map((b) => Math.max(b.right - b.left, b.top - b.bottom) + 1);
  const overlapMm = Math.min(Math.min(...windowMm) / 2, Math.max(LEAST_OVERLAP_MM, ...largest));
  const [w, h] = windowMm;
  const columns = count(box.right - box.left, w, overlapMm);
  const rows = count(box.top - box.bottom, h, overlapMm);
  const spanX = columns * w - (columns - 1) * overlapMm;
  const spanY = rows * h - (rows - 1) * overlapMm;
  const left = (box.left + box.right - spanX) / 2;
  const top = (box.top + box.bottom + spanY) / 2;
  const corners: Point[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++)
      corners.push([left + column * (w - overlapMm), top - h - row * (h - overlapMm)]);
  return { columns, rows, windowMm, overlapMm, corners };
}

const letters = (n: number): string =>
  (n < 26 ? '' : letters(Math.floor(n / 26) - 1)) + 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'[n % 26]!;

/** A square on its corner: unlike any hole. */
const lozenge = ([x, y]: Point, r: number): Mark =>
  polygonMark('narrow', [
    [x + r, y],
    [x, y + r],
    [x - r, y],
    [x, y - r],
  ]);

/** Half the room a match mark and its letter take. */
const MATCH_MM = 6;
/** Where along a seam a match mark may stand, best first, and how far off its middle. */
const ALONG = [...Array(42).keys()].map((i) => 0.05 + i * 0.01).sort((p, q) => Math.abs(p - 0.18) - Math.abs(q - 0.18));
const OFF_MM = [0, 3, -3];

/** Crosses in lozenges in the middle of each overlap, in the art's coordinates; the same letter on both pages, clear of the art. */
function matchMarks(
  { columns, rows, windowMm: [w, h], overlapMm, corners }: TemplateTiles,
  art: readonly Mark[],
): Mark[] {
  const placer = new TextPlacer({ left: -1e6, right: 1e6, bottom: -1e6, top: 1e6 }, art);
  const marks: Mark[] = [];
  let n = 0;
  const one = (places: readonly Point[]): void => {
    const around = ([x, y]: Point): Box => grow({ left: x, right: x, bottom: y, top: y }, MATCH_MM);
    const r = 2.5;
    const letterAt = ([x, y]: Point): TextMark => textAt([x + r + 0.3, y + r - 0.4], letters(n), 2.5);
    // a line of the part that runs along the seam may cross the lozenge, never a text
    const clear = (p: Point): boolean =>
      placer.free(letterAt(p)) && crossMarks('narrow', p, 2 * r).every((m) => placer.freeLine(m.from, m.to));
    const free = places.find((p) => placer.freeBox(around(p))) ?? places.find(clear);
    // a seam as full as that is matched by what is drawn on it
    if (!free) return;
    const mark: Mark[] = [lozenge(free, r), ...crossMarks('narrow', free, 2 * r), letterAt(free)];
    n++;
    placer.add(mark);
    marks.push(...mark);
  };
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const [x, y] = corners[row * columns + column]!;
      for (const side of [0, 1]) {
        const along = ALONG.map((k) => (side === 0 ? k : 1 - k));
        const places = (at: (k: number, off: number) => Point): Point[] =>
          OFF_MM.flatMap((off) => along.map((k) => at(k, off)));
        if (column + 1 < columns) one(places((k, off): Point => [x + w - overlapMm / 2 + off, y + h * k]));
        if (row + 1 < rows) one(places((k, off): Point => [x + w * k, y + overlapMm / 2 + off]));
      }
    }
  return marks;
}

/** Which page lies where: a small plan, the present page drawn heavy. Lower left corner at the origin. */
function pageMap(tiles: TemplateTiles, page: number, sizeMm: number): Mark[] {
  const [w, h] = tiles.windowMm;
  const k = Math.min(sizeMm / (tiles.columns * w), (sizeMm - 6) / (tiles.rows * h));
  const marks: Mark[] = [textAt([0, sizeMm - TEXT_MM - 0.5], 'These pages:', TEXT_MM)];
  for (let i = 0; i < tiles.corners.length; i++) {
    const [column, row] = [i % tiles.columns, Math.floor(i / tiles.columns)];
    const left = column * w * k;
    const top = sizeMm - 6 - row * h * k;
    const box: Box = { left, bottom: top - h * k, right: left + w * k, top };
    marks.push(boxMark('narrow', box));
    if (i === page) marks.push(boxMark('visible', grow(box, -0.9)));
    if (w * k > 7 && h * k > 6)
      marks.push(textAt([left + (w * k) / 2, top - (h * k) / 2 - TEXT_MM / 2], String(i + 1), TEXT_MM, 'middle'));
  }
  return marks;
}

/** Words at the foot of each page, wrapped. */
function footLines(spec: TemplateSpec, widthMm: number, several: boolean): string[] {
  return [PRINT_WORDS, ...(several ? [MARKS_WORDS] : []), ...spec.notes, ...holeWords(spec)].flatMap((text) =>
    wrapText(text, TEXT_MM, widthMm),
  );
}

interface Foot {
  readonly lines: readonly string[];
  readonly heightMm: number;
}

/** `told` is the template as its words tell it, `spec` as it lies on the paper. */
function layOut(spec: TemplateSpec, told: TemplateSpec, format: PaperFormat, beside: readonly Mark[] = []) {
  const { space } = format;
  const width = space.right - space.left - 2 * SIDE_MM;
  const footOf = (several: boolean): Foot => {
    const lines = footLines(told, width - COMPASS_MM - MAP_MM - 6, several);
    return { lines, heightMm: Math.max(LEAST_STRIP_MM, lines.length * PITCH_MM + 3) };
  };
  const windowOf = (foot: Foot): readonly [number, number] => [
    width,
    space.top - SLIM_HEAD_MM - 3 - (space.bottom + BAR_ROW_MM + foot.heightMm + 4),
  ];
  const art = templateArt(spec, beside);
  const alone = tilesFor(art, windowOf(footOf(false)));
  if (alone.corners.length === 1) return { art, tiles: alone, foot: footOf(false) };
  const foot = footOf(true);
  const window = windowOf(foot);
  if (window[1] < 2 * LEAST_OVERLAP_MM)
    return fail('the notes leave no room for the template.', ['notes'], 'Shorten the notes.');
  return { art, tiles: tilesFor(art, window), foot };
}

/** `upright`: it is never turned to save pages. `beside`: marks at 1:1 that are drawn with it. */
export interface TemplateOptions {
  readonly upright?: boolean;
  readonly beside?: readonly Mark[];
}

/**
 * A drill template at 1:1 as sheets: as many pages as it needs on this paper, each with header, page map, directions,
 * checking bar of 100 mm, and the words to print by; pages overlap and carry match marks, and every hole is whole on one of
 * them. It is turned by 90° where that saves pages. Throws a LidwrightError when it has no hole or needs too many pages.
 */
export function drillTemplate(
  spec: TemplateSpec,
  head: SlimHead,
  paper: PaperName,
  { upright: keep = false, beside = [] }: TemplateOptions = {},
): Sheet[] {
  const format = formatOf(paper);
  if (spec.holes.length === 0 && beside.length === 0)
    return fail(
      'there is no hole to drill.',
      ['fixings'],
      'A welded part needs no template; add holes to a bolted one.',
    );
  const upright = layOut(spec, spec, format, beside);
  const turnedSpec = turnedTemplate(spec);
  const turned = layOut(turnedSpec, spec, format);
  const turnIt = !keep && turned.tiles.corners.length < upright.tiles.corners.length;
  const { art, tiles, foot } = turnIt ? turned : upright;
  const shown = turnIt ? turnedSpec : spec;
  const pages = tiles.corners.length;
  if (pages > MOST_PAGES)
    return fail(
      `the template would take ${pages} pages of ${paper}.`,
      ['paper'],
      'Mark out by the coordinates on the bracket drawing instead.',
    );
  const several = pages > 1;
  const all: Mark[] = [...art.marks, ...(several ? matchMarks(tiles, art.marks) : [])];
  const { space } = format;
  const low: Point = [space.left + SIDE_MM, space.bottom + BAR_ROW_MM + foot.heightMm + 4];
  return tiles.corners.map((corner, page): Sheet => {
    const [w, h] = tiles.windowMm;
    const window: Box = { left: corner[0], bottom: corner[1], right: corner[0] + w, top: corner[1] + h };
    const [dx, dy] = [low[0] - corner[0], low[1] - corner[1]];
    const parts: Part[] = [{ name: 'template', marks: moveMarks(clipMarks(all, window), dx, dy) }];
    if (several) parts.push({ name: 'window', marks: moveMarks([boxMark('narrow', window)], dx, dy) });
    const stripTop = space.bottom + BAR_ROW_MM + foot.heightMm;
    const right = space.right - SIDE_MM;
    parts.push({
      name: 'foot',
      marks: [
        ...foot.lines.map((line, i) => textAt([low[0], stripTop - TEXT_MM - 1 - i * PITCH_MM], line, TEXT_MM)),
        ...moveMarks(
          compass(shown.directions, COMPASS_MM, LEAST_STRIP_MM),
          right - MAP_MM - COMPASS_MM - 2,
          stripTop - LEAST_STRIP_MM,
        ),
        ...(several ? moveMarks(pageMap(tiles, page, MAP_MM - 2), right - MAP_MM + 2, stripTop - MAP_MM + 2) : []),
        lineMark('narrow', [space.left, stripTop + 1], [space.right, stripTop + 1]),
      ],
    });
    parts.push(checkingBar([low[0], space.bottom + 2.5], '100 mm: measure this after printing'));
    return sheetOf(format, head, [...slimSheet(format, head, page + 1, pages), ...parts]);
  });
}
