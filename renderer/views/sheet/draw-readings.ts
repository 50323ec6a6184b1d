import type { BenchState } from '../../state/store';
import { survey } from '../../state/survey';
import type { ViewFace } from './drag-overlay';
import * as ink from './draw';
import type { Scene } from './scene';
import {
  type EllipseMark,
  type ReadingMark,
  ellipseMarks,
  freeMarks,
  magnification,
  moveMarks,
  readingMarks,
} from './scene-readings';

/** Readings, error ellipses and moves of the survey, in the Measure stage only. */
export function drawReadings(pen: ink.Pen, state: BenchState, scene: Scene, at: ink.Place, face: ViewFace): void {
  if (state.stage !== 'measure' || state.resolved.observations.length === 0) return;
  const { answer, chosen } = survey.getState();
  const result = answer?.result ?? null;
  const c = face.palette;
  for (const mark of readingMarks(state.resolved, scene.axis, result, chosen)) drawReading(pen, mark, at, face);
  if (!result || state.drag) return;
  for (const [from, to] of moveMarks(result.points, state.resolved)) {
    const [a, b] = [at(from), at(to)];
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 2) continue;
    ink.drawLine(pen, [a, b], c.accent, 2);
    ink.drawDisc(pen, b, 3, c.accent, null);
  }
  // where the survey floats as a whole, every point would have arrows: the panel says so in words
  if (answer!.datum.free === 0)
    for (const free of freeMarks(result.points)) for (const d of free.along) drawFree(pen, at(free.at), d, face);
  const k = magnification(result.points, state.sheet.pxPerMm);
  const ellipses = ellipseMarks(result.points, face.projection.plane);
  for (const e of ellipses) drawEllipse(pen, e, at(e.at), k * state.sheet.pxPerMm, face);
  if (ellipses.length > 0) {
    const words = k === 1 ? '95 % ellipses, true size' : `95 % ellipses ${k}×`;
    pen.font = ink.LABEL_FONT;
    // above the scale bar where both have no room beside each other
    const x = face.size.width - pen.measureText(words).width - 10;
    ink.drawLabel(pen, words, x, face.size.height - (x < 220 ? 36 : 14), c, c.accent);
  }
}

function drawReading(pen: ink.Pen, mark: ReadingMark, at: ink.Place, { palette: c }: ViewFace): void {
  const doubt = mark.look === 'suspicious';
  const tone = mark.chosen ? c.accent : doubt ? c.bad : mark.look === 'off' ? c.faint : c.soft;
  const width = mark.chosen ? 2.5 : doubt ? 2 : 1;
  const dash = mark.look === 'off' ? [2, 5] : ink.DASH.full;
  for (const [p, q] of mark.lines) ink.drawLine(pen, [at(p), at(q)], tone, width, dash);
  const first = mark.lines[0];
  if (!first) return;
  // a tick across the middle tells a reading from an edge; a cross tells one in doubt by shape too
  const [a, b] = [at(first[0]), at(first[1])];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [x, y] = at(mark.middle);
  if (doubt) {
    for (const s of [1, -1])
      ink.drawLine(
        pen,
        [
          [x - 6, y - 6 * s],
          [x + 6, y + 6 * s],
        ],
        c.bad,
        2.5,
      );
  } else if (long > 12) {
    const [nx, ny] = [(-(b[1] - a[1]) / long) * 4, ((b[0] - a[0]) / long) * 4];
    ink.drawLine(
      pen,
      [
        [x - nx, y - ny],
        [x + nx, y + ny],
      ],
      tone,
      width,
    );
  }
}

function drawEllipse(
  pen: ink.Pen,
  e: EllipseMark,
  [x, y]: [number, number],
  pxPerMm: number,
  { projection, palette }: ViewFace,
): void {
  const [cos, sin] = [Math.cos(e.angleRad), Math.sin(e.angleRad)];
  const ring: [number, number][] = [];
  for (let i = 0; i <= 36; i++) {
    const t = (i * Math.PI) / 18;
    const u = e.majorMm * Math.cos(t) * cos - e.minorMm * Math.sin(t) * sin;
    const v = e.majorMm * Math.cos(t) * sin + e.minorMm * Math.sin(t) * cos;
    ring.push([x + projection.rightSign * u * pxPerMm, y - v * pxPerMm]);
  }
  ink.drawLine(pen, ring, palette.accent, 1.5);
}

/** A way in which nothing holds a point: a two-headed arrow along it. */
function drawFree(
  pen: ink.Pen,
  [x, y]: [number, number],
  d: readonly [number, number, number],
  { projection: { right, rightSign, up }, palette: c }: ViewFace,
): void {
  const flat: [number, number] = [rightSign * d[right], -d[up]];
  const size = Math.hypot(...flat);
  if (size < 0.15) return;
  const [ux, uy] = [flat[0] / size, flat[1] / size];
  const reach = 26 * size;
  for (const s of [1, -1]) {
    const tip: [number, number] = [x + s * ux * reach, y + s * uy * reach];
    ink.drawLine(pen, [[x + s * ux * 9, y + s * uy * 9], tip], c.bad, 1.5);
    for (const side of [1, -1])
      ink.drawLine(pen, [tip, [tip[0] - s * ux * 6 + side * uy * 4, tip[1] - s * uy * 6 - side * ux * 4]], c.bad, 1.5);
  }
}
