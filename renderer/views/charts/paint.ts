import type uPlot from 'uplot';
import { valueOfRow } from '../../../core/travel';
import type { ChartLine, ChartModel } from './model';
import { lastKnown, placeLabels } from './labels';

export interface ChartInks {
  readonly paper: string;
  readonly ink: string;
  readonly soft: string;
  readonly faint: string;
  readonly band: string;
  readonly hatch: string;
  readonly accent: string;
  readonly bad: string;
  readonly family: string;
}

export function readInks(root: HTMLElement): ChartInks {
  const style = getComputedStyle(root);
  const get = (name: string): string => style.getPropertyValue(`--tc-${name}`).trim();
  return {
    paper: get('paper'),
    ink: get('ink'),
    soft: get('soft'),
    faint: get('faint'),
    band: get('band'),
    hatch: get('hatch'),
    accent: get('accent'),
    bad: get('bad'),
    family: style.fontFamily || 'sans-serif',
  };
}

const LABEL_GAP_PX = 15;

/** The band that holds the lines of all load cases, under the series; nothing where the cases make no difference. */
export function paintEnvelope(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const lines = model.lines.filter((l) => l.caseId !== null && l.scales && l.dash !== 'dotted');
  if (new Set(lines.map((l) => l.caseId)).size < 2) return;
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  const edge = (pick: (...values: number[]) => number): [number, number][] =>
    model.angleDeg.flatMap((deg, i): [number, number][] => {
      const values = lines.flatMap((l) => l.values[i] ?? []);
      return values.length === 0 ? [] : [[u.valToPos(deg, 'x', true), u.valToPos(pick(...values), 'y', true)]];
    });
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.beginPath();
  for (const [x, y] of [...edge(Math.max), ...edge(Math.min).reverse()]) ctx.lineTo(x, y);
  ctx.closePath();
  ctx.fillStyle = inks.band;
  ctx.fill();
  ctx.strokeStyle = inks.soft;
  ctx.lineWidth = r;
  ctx.stroke();
  ctx.restore();
}

/** Slanting lines over a stretch of heights: you can't be there. */
function hatch(u: uPlot, from: number, to: number, style: string): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  const [top, height] = [Math.min(from, to), Math.abs(to - from)];
  if (height < 1) return;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, top, bbox.width, height);
  ctx.clip();
  ctx.strokeStyle = style;
  ctx.lineWidth = 0.8 * r;
  ctx.beginPath();
  for (let x = bbox.left - height; x < bbox.left + bbox.width; x += HATCH_PX * r) {
    ctx.moveTo(x, top + height);
    ctx.lineTo(x + height, top);
  }
  ctx.stroke();
  ctx.restore();
}

/** Limit lines and the edges of what is allowed, hatched beyond; under the series. */
export function paintBands(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  const inside = (y: number): number => Math.min(Math.max(y, bbox.top), bbox.top + bbox.height);
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.strokeStyle = inks.ink;
  ctx.lineWidth = 1.5 * r;
  for (const band of model.bands) {
    const [high, low] = [band.to, band.from].map((v) => u.valToPos(v, 'y', true)) as [number, number];
    const isLimit = band.from === band.to;
    const bottom = bbox.top + bbox.height;
    // where several allow different stretches, none of them can be hatched for all
    if (isLimit) hatch(u, inside(low), band.from < 0 ? bottom : bbox.top, inks.hatch);
    else if (model.bands.length === 1) {
      hatch(u, inside(high), bbox.top, inks.hatch);
      hatch(u, inside(low), bottom, inks.hatch);
    }
    for (const y of isLimit ? [low] : [high, low]) {
      ctx.beginPath();
      ctx.moveTo(bbox.left, y);
      ctx.lineTo(bbox.left + bbox.width, y);
      ctx.stroke();
    }
  }
  ctx.restore();
}

/** Space between the hatching of an area, px. */
const HATCH_PX = 7;

/** Areas between a line and zero, hatched so that they are told without colour; under the series. */
export function paintAreas(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  const zero = u.valToPos(0, 'y', true);
  model.areas.forEach(({ line, fromDeg, toDeg }, k) => {
    const { values } = model.lines[line]!;
    const inside = model.angleDeg.filter((deg) => deg > fromDeg && deg < toDeg);
    ctx.save();
    ctx.beginPath();
    ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
    ctx.clip();
    ctx.beginPath();
    const x = (deg: number): number => u.valToPos(deg, 'x', true);
    ctx.moveTo(x(fromDeg), zero);
    for (const deg of [fromDeg, ...inside, toDeg]) {
      const value = valueOfRow(model.angleDeg, values, deg);
      if (value !== null) ctx.lineTo(x(deg), u.valToPos(value, 'y', true));
    }
    ctx.lineTo(x(toDeg), zero);
    ctx.closePath();
    ctx.clip();
    ctx.fillStyle = ctx.strokeStyle = inks.bad;
    ctx.globalAlpha = 0.1;
    ctx.fillRect(bbox.left, bbox.top, bbox.width, bbox.height);
    ctx.globalAlpha = 0.45;
    ctx.lineWidth = 0.8 * r;
    ctx.beginPath();
    // opening rises to the right, shutting falls
    const [from, to] = k % 2 === 0 ? [bbox.top + bbox.height, bbox.top] : [bbox.top, bbox.top + bbox.height];
    for (let at = bbox.left - bbox.height; at < bbox.left + bbox.width; at += HATCH_PX * r) {
      ctx.moveTo(at, from);
      ctx.lineTo(at + bbox.height, to);
    }
    ctx.stroke();
    ctx.restore();
  });
}

/** Readings with their tool's ±: a ring for opening, a square for closing. */
export function paintMarks(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const { ctx } = u;
  const r = devicePixelRatio || 1;
  ctx.save();
  ctx.strokeStyle = inks.ink;
  ctx.fillStyle = inks.paper;
  ctx.lineWidth = 1.5 * r;
  for (const { angleDeg, way, value, low, high } of model.marks) {
    const x = u.valToPos(angleDeg, 'x', true);
    const [y, top, bottom] = [value, high, low].map((v) => u.valToPos(v, 'y', true)) as [number, number, number];
    ctx.beginPath();
    ctx.moveTo(x, top);
    ctx.lineTo(x, bottom);
    ctx.stroke();
    ctx.beginPath();
    if (way === 'opening') ctx.arc(x, y, 4 * r, 0, 2 * Math.PI);
    else ctx.rect(x - 3.5 * r, y - 3.5 * r, 7 * r, 7 * r);
    ctx.fill();
    ctx.stroke();
  }
  ctx.restore();
}

/** The words of stretches that are allowed, under their upper edge on a halo of paper; those of limits stand outside. */
export function paintBandWords(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  ctx.save();
  ctx.font = `${12 * r}px ${inks.family}`;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  ctx.lineJoin = 'round';
  const takenY: number[] = [];
  for (const band of model.bands) {
    if (band.from === band.to) continue;
    let y = Math.min(Math.max(u.valToPos(band.to, 'y', true), bbox.top) + 14 * r, bbox.top + bbox.height - 4 * r);
    while (takenY.some((t) => Math.abs(t - y) < 14 * r)) y += 14 * r;
    takenY.push(y);
    ctx.strokeStyle = inks.paper;
    ctx.lineWidth = 4 * r;
    ctx.strokeText(band.text, bbox.left + 6 * r, y);
    ctx.fillStyle = inks.ink;
    ctx.fillText(band.text, bbox.left + 6 * r, y);
  }
  ctx.restore();
}

/** Outside at the right, pushed apart: what each line comes to at its end, and the words of the limits. */
export function paintLabels(
  u: uPlot,
  model: ChartModel,
  inks: ChartInks,
  drawn: ReadonlySet<ChartLine>,
  gutterPx: number,
): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  const edge = bbox.left + bbox.width;
  const [top, bottom] = [bbox.top, bbox.top + bbox.height];
  const ends = [...drawn].map((line) => {
    const i = lastKnown(line.values);
    const value = i < 0 ? null : line.values[i]!;
    const number = value === null ? '' : String(Number(value.toPrecision(3))).replace('-', '−');
    const name = line.caseId === null && line.tag !== '' ? `${line.tag} ${line.role}` : line.role;
    const tone = line.caseId === null ? inks.ink : inks.accent;
    return { y: value === null ? NaN : u.valToPos(value, 'y', true), text: `${name} ${number}`, tone, bold: true };
  });
  const limits = model.bands
    .filter((band) => band.from === band.to)
    .map((band) => ({ y: u.valToPos(band.from, 'y', true), text: band.text, tone: inks.ink, bold: false }));
  const all = [...ends, ...limits].map((e) => ({ ...e, y: e.y < top || e.y > bottom ? NaN : e.y }));
  const placed = placeLabels(
    all.map(({ y, bold }) => ({ y, priority: bold ? 1 : 2 })),
    LABEL_GAP_PX * r,
    top + 5 * r,
    bottom - 4 * r,
  );
  ctx.save();
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  for (const { index, y } of placed) {
    const { text, tone, bold } = all[index]!;
    ctx.fillStyle = tone;
    ctx.font = `${bold ? '620 ' : ''}${12 * r}px ${inks.family}`;
    ctx.fillText(shorten(ctx, text, (gutterPx - 10) * r), edge + 8 * r, y);
  }
  ctx.restore();
}

/** Cuts a text to a width, with an ellipsis. */
function shorten(ctx: CanvasRenderingContext2D, text: string, width: number): string {
  if (ctx.measureText(text).width <= width) return text;
  let end = text.length - 1;
  while (end > 0 && ctx.measureText(`${text.slice(0, end)}…`).width > width) end--;
  return end > 0 ? `${text.slice(0, end).trimEnd()}…` : '';
}
