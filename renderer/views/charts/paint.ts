import type uPlot from 'uplot';
import { valueOfRow } from '../../../core/travel';
import { type ChartModel, DASHES } from './model';
import { lastKnown, placeLabels } from './labels';

export interface ChartInks {
  readonly paper: string;
  readonly ink: string;
  readonly soft: string;
  readonly faint: string;
  readonly band: string;
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
    accent: get('accent'),
    bad: get('bad'),
    family: style.fontFamily || 'sans-serif',
  };
}

const LABEL_GAP_PX = 12;

/** Bands and limit lines, under the series. */
export function paintBands(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  for (const band of model.bands) {
    const high = u.valToPos(band.to, 'y', true);
    const low = u.valToPos(band.from, 'y', true);
    const isLimit = band.from === band.to;
    if (!isLimit) {
      ctx.fillStyle = inks.band;
      ctx.fillRect(bbox.left, high, bbox.width, low - high);
    }
    ctx.strokeStyle = isLimit ? inks.bad : inks.soft;
    ctx.lineWidth = (isLimit ? 1.2 : 0.8) * r;
    // long dash, dot: a limit
    ctx.setLineDash([12 * r, 3 * r, 2 * r, 3 * r]);
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

/** The words of bands and limits, over the series on a halo of paper; inside the chart, off their line and off each other. */
export function paintBandWords(u: uPlot, model: ChartModel, inks: ChartInks): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  ctx.save();
  ctx.font = `${10.5 * r}px ${inks.family}`;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  ctx.lineJoin = 'round';
  const takenY: number[] = [];
  for (const band of model.bands) {
    const isLimit = band.from === band.to;
    const line = u.valToPos(band.to, 'y', true);
    // beside a limit on the zero side; in a band under its upper edge or over its lower, where the lines leave more room
    const under = line + 12 * r;
    const over = u.valToPos(band.from, 'y', true) - 4 * r;
    const inside = isLimit ? (band.from < 0 ? over : under) : clearance(u, model, under) >= 12 * r ? under : over;
    let y = Math.min(Math.max(inside, bbox.top + 11 * r), bbox.top + bbox.height - 3 * r);
    while (takenY.some((t) => Math.abs(t - y) < 12 * r)) y += 12 * r;
    takenY.push(y);
    ctx.strokeStyle = isLimit ? inks.paper : inks.band;
    ctx.lineWidth = 3 * r;
    ctx.strokeText(band.text, bbox.left + 6 * r, y);
    ctx.fillStyle = isLimit ? inks.bad : inks.ink;
    ctx.fillText(band.text, bbox.left + 6 * r, y);
  }
  ctx.restore();
}

/** How near the lines come, canvas px, to a row of words at the left of the chart. */
function clearance(u: uPlot, model: ChartModel, y: number): number {
  let least = Infinity;
  const upTo = Math.floor(model.angleDeg.length * 0.45);
  for (const line of model.lines)
    for (let i = 0; i < upTo; i += 3) {
      const value = line.values[i];
      if (value != null) least = Math.min(least, Math.abs(u.valToPos(value, 'y', true) - y));
    }
  return least;
}

/** Tags at the line ends, with a leader where one had to move aside; the leader has its line's dashes. */
export function paintLabels(
  u: uPlot,
  model: ChartModel,
  inks: ChartInks,
  caseId: string | null,
  gutterPx: number,
  withNames: boolean,
): void {
  const { ctx, bbox } = u;
  const r = devicePixelRatio || 1;
  const edge = bbox.left + bbox.width;
  const roles = new Set(model.lines.map((l) => l.role)).size;
  const ends = model.lines.map((line) => {
    const i = lastKnown(line.values);
    const chosen = caseId !== null && line.caseId === caseId;
    const y = i < 0 ? NaN : u.valToPos(line.values[i]!, 'y', true);
    const x = i < 0 ? edge : u.valToPos(model.angleDeg[i]!, 'x', true);
    const outside = y < bbox.top || y > bbox.top + bbox.height;
    return { line, chosen, x, y: outside ? NaN : y };
  });
  const placed = placeLabels(
    ends.map((e) => ({
      y: e.y,
      priority: (e.chosen ? 4 : 0) + (e.line.dash === 'solid' ? 2 : e.line.dash === 'dashed' ? 1 : 0),
    })),
    LABEL_GAP_PX * r,
    bbox.top + 5 * r,
    bbox.top + bbox.height - 4 * r,
  );
  ctx.save();
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  for (const { index, y } of placed) {
    const { line, chosen, x, y: from } = ends[index]!;
    const colour = chosen ? inks.accent : inks.ink;
    if (x < edge - 1) {
      // the line ends here because nothing is known beyond: what leads to its name must not look like it goes on
      ctx.strokeStyle = inks.faint;
      ctx.lineWidth = r;
      ctx.setLineDash([1 * r, 5 * r]);
      ctx.beginPath();
      ctx.moveTo(x + 5 * r, from);
      ctx.lineTo(edge, from);
      ctx.stroke();
    }
    ctx.strokeStyle = colour;
    ctx.lineWidth = (chosen ? 1.6 : 0.9) * r;
    ctx.setLineDash(DASHES[line.dash].map((d) => d * 0.6 * r));
    ctx.beginPath();
    ctx.moveTo(edge + 1 * r, from);
    ctx.lineTo(edge + 4 * r, from);
    ctx.lineTo(edge + 14 * r, y);
    ctx.lineTo(edge + 20 * r, y);
    ctx.stroke();
    ctx.setLineDash([]);
    ctx.fillStyle = colour;
    ctx.font = `${chosen ? 'bold ' : ''}${10.5 * r}px ${inks.family}`;
    // a name once a tag, on its first line; the others say what they are
    const first = model.lines.find((l) => l.tag === line.tag) === line;
    const words =
      model.kind === 'length' ? line.name : roles > 1 && (!first || model.kind === 'joint') ? line.role : line.name;
    const text = withNames || line.tag === '' ? `${line.tag} ${words}`.trim() : line.tag;
    ctx.fillText(shorten(ctx, text, (gutterPx - 23) * r), edge + 23 * r, y);
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
