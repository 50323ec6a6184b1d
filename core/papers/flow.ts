import { movePart, type Part, type Point, type Sheet } from '../drawing';
import { type PaperFormat, paperFormats, sheetOf } from './formats';
import { SLIM_HEAD_MM, type SlimHead, slimSheet } from './slim-header';
import { headHeightMm, rowHeightMm, splitRow, type TableColumn, tablePart } from './table';
import { textAt, wrapText } from './text';

const SIDE_MM = 6;
const BODY_MM = 2.5;
const PITCH_MM = 4.2;
const HEADING_MM = 3.5;
const AFTER_MM = 4;
/** At least this many rows of a table stay with its heading, where it has them. */
const KEEP_ROWS = 2;

/** Text, tables and pictures one after another over as many pages of one size as they need: nothing is cut off. */
export class Flow {
  private readonly pages: Part[][] = [[]];
  private y: number;
  private count = 0;
  readonly left: number;
  readonly widthMm: number;
  private readonly top: number;
  private readonly bottom: number;

  constructor(
    private readonly head: SlimHead,
    private readonly format: PaperFormat = paperFormats.A4,
  ) {
    const { space } = format;
    this.left = space.left + SIDE_MM;
    this.widthMm = space.right - space.left - 2 * SIDE_MM;
    this.top = space.top - SLIM_HEAD_MM - 5;
    this.bottom = space.bottom + 6;
    this.y = this.top;
  }

  private get page(): Part[] {
    return this.pages[this.pages.length - 1]!;
  }
  private name(what: string): string {
    return `${what}-${++this.count}`;
  }

  /** Goes to a new page unless this height is still free. */
  need(heightMm: number): void {
    if (this.y - heightMm >= this.bottom || this.y >= this.top - 1e-9) return;
    this.pages.push([]);
    this.y = this.top;
  }

  gap(mm = AFTER_MM): void {
    this.y -= mm;
  }

  /** A heading; what follows needs at least `thenMm` on the same page. */
  heading(text: string, thenMm = 20): void {
    const lines = wrapText(text, HEADING_MM, this.widthMm);
    this.need(lines.length * HEADING_MM * 1.5 + thenMm);
    const marks = lines.map((line, i) =>
      textAt([this.left, this.y - HEADING_MM - i * HEADING_MM * 1.5], line, HEADING_MM),
    );
    this.page.push({ name: this.name('heading'), marks });
    this.y -= lines.length * HEADING_MM * 1.5 + 1;
  }

  /** Paragraphs of small lettering; `numbered` puts their numbers in front. Breaks between lines where it must. */
  text(paragraphs: readonly string[], { numbered = false }: { readonly numbered?: boolean } = {}): void {
    const indent = numbered ? 6 : 0;
    paragraphs.forEach((paragraph, i) => {
      wrapText(paragraph, BODY_MM, this.widthMm - indent).forEach((line, k) => {
        this.need(PITCH_MM);
        const y = this.y - BODY_MM;
        const marks = [textAt([this.left + indent, y], line, BODY_MM)];
        if (numbered && k === 0) marks.push(textAt([this.left, y], `${i + 1}`, BODY_MM));
        this.page.push({ name: this.name('text'), marks });
        this.y -= PITCH_MM;
      });
    });
    this.gap(AFTER_MM - 1);
  }

  /** A table over the whole width, its columns by heading and share; the heading line is written again on each page it runs on to. */
  table(shares: Readonly<Record<string, number>>, rows: readonly (readonly string[])[]): void {
    if (rows.length === 0) return;
    const sum = Object.values(shares).reduce((a, b) => a + b, 0);
    const columns = Object.entries(shares).map(([heading, share]): TableColumn => ({
      heading,
      widthMm: (share / sum) * this.widthMm,
    }));
    const headMm = headHeightMm(columns);
    const full = this.top - this.bottom - headMm;
    const all = rows.flatMap((row) => splitRow(columns, row, full));
    const heights = all.map((row) => rowHeightMm(columns, row));
    let from = 0;
    while (from < all.length) {
      const least = heights.slice(from, from + KEEP_ROWS).reduce((a, b) => a + b, headMm);
      this.need(Math.min(least, full));
      let to = from;
      let height = headMm;
      while (to < all.length && (to === from || height + heights[to]! <= this.y - this.bottom))
        height += heights[to++]!;
      const { part, heightMm } = tablePart(this.name('table'), columns, all.slice(from, to), [this.left, this.y]);
      this.page.push(part);
      this.y -= heightMm;
      from = to;
      if (from < all.length) this.need(Infinity);
    }
    this.gap();
  }

  /** A picture `heightMm` high, drawn with its upper left corner at the origin. */
  block(part: Part, heightMm: number): void {
    this.need(heightMm);
    const [x, y]: Point = [this.left, this.y];
    this.page.push(movePart({ ...part, name: this.name(part.name) }, x, y));
    this.y -= heightMm + AFTER_MM;
  }

  /** The pages as sheets, numbered; `before` sheets of the same document lie before them. */
  sheets(before = 0): Sheet[] {
    return this.pages.map((parts, i) => {
      const head = slimSheet(this.format, this.head, before + i + 1, before + this.pages.length);
      return sheetOf(this.format, this.head, [...head, ...parts]);
    });
  }
}
