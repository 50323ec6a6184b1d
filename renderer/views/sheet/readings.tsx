import { memo } from 'react';
import { cos, rad, sin } from '../../../core/space';
import type { SurveyPoint, SurveyResult } from '../../../core/survey';
import { survey } from '../../state/survey';
import { DASH, Ink, type Pen, type Px, arrow, cross, disc, label, labelWidth, line, tick } from './ink';
import {
  type EllipseMark,
  type ReadingMark as MarkOf,
  ellipseMarks,
  freeMarks,
  magnification,
  moveMarks,
  readingMarks,
} from './reading-marks';
import { inView } from './projection';
import { keepLast } from './seen';
import type { Look } from './view';

// The survey's readings, error ellipses and moves.

const marksOf = keepLast(
  (...args: Parameters<typeof readingMarks>): ReadonlyMap<string, MarkOf> =>
    new Map(readingMarks(...args).map((m) => [m.id, m])),
);

/** A reading: a line between its points with a tick across; a cross tells one in doubt by shape too. */
export const ReadingMark = memo(({ id }: { id: string }) => (
  <Ink
    name={`reading ${id}`}
    draw={(pen, { state, scene, at, palette: c }) => {
      const { answer, chosen } = survey.getState();
      const mark = marksOf(state.resolved, scene.axis, answer?.result ?? null, chosen).get(id);
      const first = mark?.lines[0];
      if (!mark || !first) return;
      const doubt = mark.look === 'suspicious';
      const tone = mark.chosen ? c.accent : doubt ? c.bad : mark.look === 'off' ? c.faint : c.soft;
      const width = mark.chosen ? 2.5 : doubt ? 2 : 1;
      const dash = mark.look === 'off' ? [2, 5] : DASH.full;
      for (const [p, q] of mark.lines) line(pen, [at(p), at(q)], tone, width, dash);
      const [a, b] = [at(first[0]), at(first[1])];
      if (doubt) cross(pen, at(mark.middle), 6, c.bad, 2.5, true);
      else if (Math.hypot(b[0] - a[0], b[1] - a[1]) > 12) tick(pen, a, b, at(mark.middle), 4, tone, width);
    }}
  />
));

/** What the survey says of the points: where it would move them, how sure it is of them, which ways they are free. */
export const SurveyMarks = memo(() => (
  <Ink
    name="survey of the points"
    draw={(pen, look) => {
      const { answer } = survey.getState();
      if (!answer?.result || look.state.drag || look.state.resolved.observations.length === 0) return;
      const { points } = answer.result;
      drawMoves(pen, answer.result, look);
      // where the survey floats as a whole, every point would have arrows: the panel says so in words
      if (answer.datum.free === 0)
        for (const free of freeMarks(points)) for (const d of free.along) drawFree(pen, look.at(free.at), d, look);
      drawEllipses(pen, points, look);
    }}
  />
));

function drawMoves(pen: Pen, result: SurveyResult, { state, at, palette: c }: Look): void {
  for (const [from, to] of moveMarks(result.points, state.resolved)) {
    const [a, b] = [at(from), at(to)];
    if (Math.hypot(b[0] - a[0], b[1] - a[1]) < 2) continue;
    line(pen, [a, b], c.accent, 2);
    disc(pen, b, 3, c.accent, null);
  }
}

/** A way in which nothing holds a point: a two-headed arrow along it. */
function drawFree(pen: Pen, [x, y]: Px, d: readonly [number, number, number], { projection, palette: c }: Look): void {
  const [dx, up] = inView(d, projection);
  const size = Math.hypot(dx, up);
  if (size < 0.15) return;
  const [ux, uy] = [dx / size, -up / size];
  for (const s of [9, -9]) {
    const reach = Math.sign(s) * 26 * size;
    arrow(pen, [x + ux * s, y + uy * s], [x + ux * reach, y + uy * reach], [6, 4], c.bad, 1.5);
  }
}

function drawEllipses(pen: Pen, points: readonly SurveyPoint[], look: Look): void {
  const { state, size, palette: c } = look;
  const k = magnification(points, state.sheet.pxPerMm);
  const ellipses = ellipseMarks(points, look.projection.plane);
  for (const e of ellipses) drawEllipse(pen, e, k * state.sheet.pxPerMm, 36, look);
  if (ellipses.length === 0) return;
  const words = k === 1 ? '95 % ellipses, true size' : `95 % ellipses ${k}×`;
  // above the scale bar where both have no room beside each other
  const x = size.width - labelWidth(pen, words) - 10;
  label(pen, words, x, size.height - (x < 220 ? 36 : 14), c, c.accent);
}

/** An ellipse about a place, turned from the view's across axis towards its up axis. Returns its farthest reach right, px. */
export function drawEllipse(pen: Pen, e: EllipseMark, pxPerMm: number, steps: number, look: Look): number {
  const [x, y] = look.at(e.at);
  const [c, s] = [cos(e.angleRad), sin(e.angleRad)];
  const ring = Array.from({ length: steps }, (_, i): Px => {
    const t = rad((2 * Math.PI * i) / steps);
    const [u, v] = [e.majorMm * cos(t), e.minorMm * sin(t)];
    return [x + look.projection.rightSign * (u * c - v * s) * pxPerMm, y - (u * s + v * c) * pxPerMm];
  });
  line(pen, ring, look.palette.accent, 1.5, DASH.full, true);
  return Math.max(...ring.map((p) => p[0])) - x;
}
