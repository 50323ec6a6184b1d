import { formatQuantity } from '../../../core/quantity';
import type { Vec3 } from '../../../core/space';
import type { BenchState } from '../../state/store';
import * as ink from './draw';
import { relationLag } from './move-point';
import type { Palette } from './palette';
import { type Projection, type Size, toPx } from './projection';
import type { Scene, StrutScene } from './scene';
import { type StemHandle, stemHandles } from './stem-handles';

/** What an overlay needs to know of the view it is drawn in. */
export interface ViewFace {
  readonly projection: Projection;
  readonly size: Size;
  readonly palette: Palette;
}

/** A label beside a place, kept inside the view. */
export function drawBeside(pen: ink.Pen, text: string, x: number, y: number, { size, palette }: ViewFace): void {
  pen.font = ink.LABEL_FONT;
  const width = pen.measureText(text).width;
  const lx = x + 16 + width > size.width ? x - 18 - width : x + 16;
  ink.drawLabel(pen, text, Math.max(4, lx), Math.min(Math.max(y - 16, 12), size.height - 12), palette);
}

/** Handle of a stem: a ring at its tip turns the azimuth, a diamond half-way leans it. */
export function drawStemHandle(pen: ink.Pen, handle: StemHandle, at: (p: Vec3) => [number, number], c: Palette): void {
  const [x, y] = at(handle.at);
  const ball = at(handle.ball);
  if (handle.what === 'azimuth') {
    ink.drawLine(pen, [ball, [x, y]], c.accent, 1.5);
    ink.drawDisc(pen, [x, y], 7, c.paper, c.accent, 3);
    return;
  }
  const d: [number, number][] = [
    [x, y - 6],
    [x + 6, y],
    [x, y + 6],
    [x - 6, y],
  ];
  pen.fillStyle = c.paper;
  pen.beginPath();
  d.forEach(([px, py], i) => (i === 0 ? pen.moveTo(px, py) : pen.lineTo(px, py)));
  pen.closePath();
  pen.fill();
  ink.drawLine(pen, d, c.accent, 2, ink.DASH.full, true);
}

function handWords(state: BenchState): string {
  const table = state.outcome?.tables[0];
  if (!table) return state.trouble[0]?.what ?? '';
  let i = table.angleDeg.findIndex((a) => a >= state.angleDeg - 1e-9);
  if (i < 0) i = table.angleDeg.length - 1;
  const hand = table.handOpeningN[i]!;
  return Number.isNaN(hand)
    ? 'the strut can’t be there'
    : `hand ${formatQuantity(hand, 'force', state.units)} at ${state.angleDeg.toFixed(0)}°`;
}

const jointWords = (strut: StrutScene): string => {
  const worst = strut.joints.reduce((a, b) => (b.deviationDeg - b.rangeDeg > a.deviationDeg - a.rangeDeg ? b : a));
  return `${worst.end} joint ${worst.deviationDeg.toFixed(1)}° off square${worst.out ? ', out of range' : ''}`;
};

/** While something is dragged: projection lines across the views, the ghost of its start, and live numbers. */
export function drawDrag(pen: ink.Pen, state: BenchState, scene: Scene, face: ViewFace): void {
  const drag = state.drag!;
  // a bracket's parts are dragged in a view of their own, with numbers of their own
  if (drag.kind === 'bracket') return;
  const { size, palette: c, projection } = face;
  const px = (p: Vec3): [number, number] => toPx(p, projection, state.sheet, size);
  const lines: string[] = [];
  let now: Vec3 | undefined;
  let strut: StrutScene | undefined;
  if (drag.kind === 'point') {
    now = scene.posed.get(drag.pointId);
    if (!now) return;
    strut = scene.struts.find((s) => {
      const ends = state.resolved.struts.find((x) => x.id === s.id)!;
      return ends.base === drag.pointId || ends.lid === drag.pointId;
    });
    const axis = ['X', 'Y', 'Z'];
    const f = (v: number): string => formatQuantity(v, 'length', state.units);
    lines.push(
      `${axis[projection.right]} ${f(now[projection.right])}   ${axis[projection.up]} ${f(now[projection.up])}`,
    );
    const held = relationLag(state.history.mark, drag.pointId);
    if (held && !held.held) lines.push('the relations can’t all hold there');
    else if (held && held.lagMm > 0.05) lines.push(`held by relations, ${f(held.lagMm)} short of the pointer`);
    if (strut) lines.push(`length ${f(strut.lengthMm)}   ${jointWords(strut)}`);
  } else {
    strut = scene.struts.find((s) => s.id === drag.strut);
    now = stemHandles(state.resolved, scene, state.sheet.pxPerMm).find(
      (h) => h.strut === drag.strut && h.end === drag.end && h.what === drag.what,
    )?.at;
    const end = state.resolved.struts.find((s) => s.id === drag.strut)?.ends[drag.end];
    if (!now || !strut || !end) return;
    lines.push(
      `azimuth ${formatQuantity(end.azimuthDeg ?? 0, 'angle', state.units)}   tilt ${formatQuantity(end.tiltDeg ?? 0, 'angle', state.units)}`,
      jointWords(strut),
    );
  }
  const [x, y] = px(now);
  if (drag.kind === 'point') {
    const across: [number, number][] = [
      [x, 0],
      [x, size.height],
    ];
    const along: [number, number][] = [
      [0, y],
      [size.width, y],
    ];
    ink.drawLine(pen, across, c.accent, 1, ink.DASH.hidden);
    ink.drawLine(pen, along, c.accent, 1, ink.DASH.hidden);
  }
  const from = px(drag.from);
  ink.drawDisc(pen, from, 6, null, c.soft, 1.5);
  ink.drawLine(pen, [from, [x, y]], c.soft, 1);
  ink.drawDisc(pen, [x, y], 11, null, c.accent, 2);
  if (drag.plane !== projection.plane) return;
  lines.push(handWords(state));
  // the words keep clear of the length bar at the foot
  const top = y > size.height * 0.45 ? y - 20 * lines.length - 4 : y + 40;
  lines.forEach((text, k) => drawBeside(pen, text, x, top + 20 * k, face));
  if (strut && drag.kind === 'point') drawLengthBar(pen, strut, state, face);
}

/** The strut's present length within its stroke. */
function drawLengthBar(pen: ink.Pen, strut: StrutScene, state: BenchState, { size, palette: c }: ViewFace): void {
  const [x0, x1, y] = [70, size.width - 70, size.height - 46];
  const width = x1 - x0;
  if (width < 80) return;
  const at = (mm: number): number => x0 + (width * (mm - strut.compressedMm)) / strut.strokeMm;
  pen.fillStyle = c.paper;
  pen.globalAlpha = 0.85;
  pen.fillRect(x0 - 60, y - 14, width + 120, 28);
  pen.globalAlpha = 1;
  pen.strokeStyle = c.ink;
  pen.lineWidth = 1.5;
  pen.strokeRect(x0, y - 5, width, 10);
  const x = Math.min(Math.max(at(strut.lengthMm), x0 - 12), x1 + 12);
  pen.fillStyle = strut.inside ? c.good : c.bad;
  pen.fillRect(x0, y - 5, Math.min(Math.max(x - x0, 0), width), 10);
  const mark: [number, number][] = [
    [x, y - 11],
    [x, y + 11],
  ];
  ink.drawLine(pen, mark, strut.inside ? c.ink : c.bad, 3);
  pen.fillStyle = c.ink;
  pen.font = ink.LABEL_FONT;
  pen.textBaseline = 'middle';
  pen.textAlign = 'right';
  pen.fillText(formatQuantity(strut.compressedMm, 'length', state.units, 0), x0 - 6, y);
  pen.textAlign = 'left';
  pen.fillText(formatQuantity(strut.extendedMm, 'length', state.units, 0), x1 + 6, y);
}
