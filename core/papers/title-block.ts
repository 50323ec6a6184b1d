import { lineMark, type Mark, type Part, textBox } from '../drawing';
import type { PaperFormat } from './formats';
import { type Projection, projectionSymbol } from './projection-symbol';
import { fitText, textAt } from './text';

/** What the title block says about the document. Empty text leaves a field empty. */
export interface DrawingInfo {
  readonly title: string;
  /** Identification number. */
  readonly number: string;
  readonly creator: string;
  readonly approver: string;
  /** Legal owner. */
  readonly owner: string;
  /** Day of issue, YYYY-MM-DD. */
  readonly date: string;
  readonly revision?: string;
  /** Notes of the user's own, one paragraph each. */
  readonly notes?: readonly string[];
}

/** What the title block says about the part. */
export interface PartInfo {
  readonly documentType: string;
  readonly material: string;
  readonly mass: string;
  /** How many are to be made of it. */
  readonly quantity?: string;
  /** Coating or treatment; "as made" without it. */
  readonly finish?: string;
  readonly scale: string;
  readonly tolerance: string;
  /** "break edges 0.2 to 0.5" without it; empty where the sheet shows nothing that has edges. */
  readonly edges?: string;
  readonly projection: Projection;
  /** "2/3"; "1/1" without it. */
  readonly sheet?: string;
}

/** For a sheet that shows nothing to be made. */
export const NOTHING_MADE = { material: '', mass: '', tolerance: '', edges: '', finish: '' } as const;

export const TITLE_BLOCK_WIDTH_MM = 180;
const LABEL_MM = 2.5;
const PAD_MM = 1.2;
/** Base line of the lowest line over the field's lower edge; clear space between label and value. */
const FOOT_MM = 1.5;
const UNDER_LABEL_MM = 1;
/** Clear under the tails of letters, of their height: 3.5 mm lettering keeps the common foot, larger rises. */
const TAIL_CLEAR = 0.085;
const NUMBER_ROW_MM = { A4: 12.5, A3: 14 } as const;
/** High enough for two lines of the smallest lettering. */
const TALL_ROW_MM = 12.5;
const ROW_MM = 10;

interface Field {
  readonly key: string;
  readonly label: string;
  readonly value: string;
  readonly widthMm: number;
  readonly mostMm: number;
}

/** Rows from the bottom up; the widths in each add up to 180 mm. Fields: ISO 7200. */
function rows(info: DrawingInfo, part: PartInfo, format: PaperFormat): { heightMm: number; fields: Field[] }[] {
  const field = (key: string, label: string, value: string, widthMm: number, mostMm = 3.5): Field => ({
    ...{ key, label, value, widthMm, mostMm },
  });
  const numberMm = format.name === 'A4' ? 5 : 7;
  return [
    {
      heightMm: NUMBER_ROW_MM[format.name],
      fields: [
        field('owner', 'Legal owner', info.owner, 48),
        field('number', 'Drawing number', info.number, 70, numberMm),
        field('revision', 'Revision', info.revision ?? '', 18),
        field('date', 'Date of issue', info.date, 30),
        field('sheet', 'Sheet', part.sheet ?? '1/1', 14),
      ],
    },
    {
      heightMm: TALL_ROW_MM,
      fields: [
        field('title', 'Title', info.title, 110, 5),
        field('quantity', 'Quantity', part.quantity ?? '', 18, 5),
        field('documentType', 'Document type', part.documentType, 52),
      ],
    },
    {
      heightMm: TALL_ROW_MM,
      fields: [
        field('creator', 'Created by', info.creator, 35),
        field('approver', 'Approved by', info.approver, 35),
        field('material', 'Material', part.material, 54),
        field('finish', 'Finish', part.finish ?? 'as made', 30),
        field('mass', 'Mass', part.mass, 26),
      ],
    },
    {
      heightMm: ROW_MM,
      fields: [
        field('tolerance', 'General tolerances', part.tolerance, 37),
        field('edges', 'Edges', part.edges ?? 'break edges 0.2 to 0.5', 47),
        field('units', 'Unit', 'mm', 16),
        field('size', 'Size', format.name, 14),
        field('scale', 'Scale', part.scale, 24, 5),
        field('projection', 'Projection', '', 42),
      ],
    },
  ];
}

/** Height of the title block on a format, mm. */
export const titleBlockHeightMm = (format: PaperFormat): number =>
  NUMBER_ROW_MM[format.name] + 2 * TALL_ROW_MM + ROW_MM;

const lowest = (text: string, sizeMm: number): number =>
  Math.min(...textBox(textAt([0, 0], text, sizeMm)).map((p) => p[1]));
const highest = (text: string, sizeMm: number): number =>
  Math.max(...textBox(textAt([0, 0], text, sizeMm)).map((p) => p[1]));

/**
 * Title block in the lower right corner of the frame, 180 mm wide. Source: ISO 7200. Throws a LidwrightError naming the
 * field when a text does not fit.
 */
export function titleBlock(info: DrawingInfo, part: PartInfo, format: PaperFormat): Part {
  const left = format.space.right - TITLE_BLOCK_WIDTH_MM;
  const marks: Mark[] = [];
  let bottom = format.space.bottom;
  for (const { heightMm, fields } of rows(info, part, format)) {
    let x = left;
    for (const { key, label, value, widthMm, mostMm } of fields) {
      const top = bottom + heightMm;
      if (x > left) marks.push(lineMark('narrow', [x, bottom], [x, top]));
      marks.push(textAt([x + PAD_MM, top - PAD_MM - LABEL_MM], label, LABEL_MM));
      if (value.trim() !== '') {
        const room = heightMm - PAD_MM - LABEL_MM - UNDER_LABEL_MM - FOOT_MM;
        const under = top - PAD_MM - LABEL_MM + lowest(label, LABEL_MM);
        const set = (most: number) => {
          const { sizeMm, lines } = fitText(value, key, most, widthMm - 2 * PAD_MM, room);
          // large letters with tails reach further down than the foot leaves
          const tail = Math.max(...lines.map((text) => -lowest(text, sizeMm)));
          const foot = Math.max(FOOT_MM, tail + TAIL_CLEAR * sizeMm);
          const high = bottom + foot + (lines.length - 1) * sizeMm * 1.5 + highest(lines[0]!, sizeMm);
          return { sizeMm, lines, foot, clear: high <= under };
        };
        // such letters may then reach the label: the next smaller lettering
        const large = set(mostMm);
        const { sizeMm, lines, foot } = large.clear ? large : set(large.sizeMm * 0.9);
        lines.forEach((text, i) => {
          const up = (lines.length - 1 - i) * sizeMm * 1.5;
          marks.push(textAt([x + PAD_MM, bottom + foot + up], text, sizeMm));
        });
      }
      if (key === 'projection')
        marks.push(...projectionSymbol(part.projection, [x + widthMm - 12, bottom + heightMm / 2], 3.6));
      x += widthMm;
    }
    bottom += heightMm;
    const role = bottom === format.space.bottom + titleBlockHeightMm(format) ? 'visible' : 'narrow';
    marks.push(lineMark(role, [left, bottom], [left + 180, bottom]));
  }
  // On A4 the block is as wide as the drawing space: the frame is its left edge.
  if (left > format.space.left + 1e-9) marks.push(lineMark('visible', [left, format.space.bottom], [left, bottom]));
  return { name: 'title-block', marks };
}
