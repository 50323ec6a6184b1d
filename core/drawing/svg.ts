import { onCircle, rad } from '../space';
import { explodeDimension } from './dimension';
import { drawingFont, fontSizeMm } from './lettering';
import { boxed } from './letters';
import { lineStyles } from './lines';
import type { LineRole, Mark, PathSegment, Point, Sheet } from './model';

/** Options of the SVG writer. */
export interface SvgOptions {
  /** The drawing font's file, or its letters that are needed (`subsetFont`), put into the picture so that it looks the same on every machine. */
  readonly fontBytes?: Uint8Array;
}

/** A number with at most 4 decimals (0.1 µm), so that files stay short and the same everywhere. */
const n = (value: number): string => {
  const text = value.toFixed(4).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};

const escape = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

function stroke(role: LineRole): string {
  const { widthMm, dashMm } = lineStyles[role];
  const dash = dashMm.length === 0 ? '' : ` stroke-dasharray="${dashMm.map(n).join(' ')}"`;
  return `stroke-width="${n(widthMm)}"${dash}`;
}

/** Longer arcs are written in pieces: near a half circle, ends rounded to 0.1 µm would put the centre off by some hundredths of a mm. */
const MOST_ARC_RAD = (2 * Math.PI) / 3;

/** SVG's y runs down the page: sheet height less y. */
const flip = (height: number) => (p: Point) => `${n(p[0])} ${n(height - p[1])}`;

function pathData(segments: readonly PathSegment[], closed: boolean, height: number): string {
  const at = flip(height);
  const on = (s: Extract<PathSegment, { kind: 'arc' }>, angle: number): Point =>
    onCircle(s.centre, s.radiusMm, rad(angle));
  const first = segments[0]!;
  const start = first.kind === 'line' ? first.from : on(first, first.startRad);
  const pieces = segments.map((s) => {
    if (s.kind === 'line') return `L${at(s.to)}`;
    const way = s.sweepRad > 0 ? 0 : 1;
    const count = Math.max(1, Math.ceil(Math.abs(s.sweepRad) / MOST_ARC_RAD - 1e-9));
    return Array.from({ length: count }, (_, i) => {
      const end = on(s, s.startRad + (s.sweepRad * (i + 1)) / count);
      return `A${n(s.radiusMm)} ${n(s.radiusMm)} 0 0 ${way} ${at(end)}`;
    }).join('');
  });
  return `M${at(start)}${pieces.join('')}${closed ? 'Z' : ''}`;
}

const write: { readonly [K in Mark['kind']]: (mark: Extract<Mark, { kind: K }>, height: number) => string } = {
  line: (m, h) =>
    `<line x1="${n(m.from[0])}" y1="${n(h - m.from[1])}" x2="${n(m.to[0])}" y2="${n(h - m.to[1])}" ${stroke(m.role)}/>`,
  path: (m, h) => `<path d="${pathData(m.segments, m.closed, h)}" ${stroke(m.role)}/>`,
  arc: (m, h) => `<path d="${pathData([{ ...m, kind: 'arc' }], false, h)}" ${stroke(m.role)}/>`,
  circle: (m, h) =>
    `<circle cx="${n(m.centre[0])}" cy="${n(h - m.centre[1])}" r="${n(m.radiusMm)}" ${stroke(m.role)}/>`,
  area: (m, h) => `<polygon points="${m.points.map(flip(h)).join(' ')}" fill="#000" stroke="none"/>`,
  text: (m, h) => {
    const [x, y] = [n(m.at[0]), n(h - m.at[1])];
    const turn = m.rotationDeg === 0 ? '' : ` transform="rotate(${n(-m.rotationDeg)} ${x} ${y})"`;
    const anchor = m.anchor === 'start' ? '' : ` text-anchor="${m.anchor}"`;
    return `<text x="${x}" y="${y}" font-size="${n(fontSizeMm(m.sizeMm))}"${anchor}${turn} fill="#000" stroke="none">${escape(boxed(m.text))}</text>`;
  },
  dimension: (m, h) =>
    `<g data-dimension="${escape(m.id)}">${explodeDimension(m)
      .map((mark) => writeMark(mark, h))
      .join('')}</g>`,
};

const writeMark = (mark: Mark, height: number): string =>
  (write[mark.kind] as (m: Mark, h: number) => string)(mark, height);

function base64(bytes: Uint8Array): string {
  let binary = '';
  for (let i = 0; i < bytes.length; i += 8192) binary += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(binary);
}

/** One sheet as SVG: one user unit is one millimetre, text is text. The same text for the same sheet every time. */
export function writeSvg(sheet: Sheet, options: SvgOptions = {}): string {
  const { widthMm: w, heightMm: h } = sheet;
  const face = options.fontBytes
    ? `<style>@font-face{font-family:"${drawingFont.family}";src:url(data:font/ttf;base64,${base64(options.fontBytes)}) format("truetype")}</style>\n`
    : '';
  const parts = sheet.parts.map(
    (part) => `<g id="${escape(part.name)}">\n${part.marks.map((m) => writeMark(m, h)).join('\n')}\n</g>`,
  );
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${n(w)}mm" height="${n(h)}mm" viewBox="0 0 ${n(w)} ${n(h)}">`,
    `<title>${escape(boxed(sheet.title))}</title>`,
    `${face}<rect width="${n(w)}" height="${n(h)}" fill="#fff"/>`,
    `<g fill="none" stroke="#000" stroke-linejoin="round" font-family="'${drawingFont.family}', 'DejaVu Sans', sans-serif" font-stretch="condensed" style="font-kerning:none;white-space:pre">`,
    ...parts,
    '</g>',
    '</svg>',
    '',
  ].join('\n');
}
