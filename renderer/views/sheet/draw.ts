import type { Vec3 } from '../../../core/space';
import type { Palette } from './palette';
import type { Projection } from './projection';
import { allowedSectors } from './projection';
import type { JointScene, Scene, StrutScene } from './scene';
import { OBSTACLE_HANDLE } from './scene-obstacles';

/** What drawing needs of a canvas: Konva's context and the browser's both have it. */
export type Pen = Pick<
  CanvasRenderingContext2D,
  | 'beginPath'
  | 'moveTo'
  | 'lineTo'
  | 'arc'
  | 'closePath'
  | 'stroke'
  | 'fill'
  | 'setLineDash'
  | 'save'
  | 'restore'
  | 'fillText'
  | 'measureText'
  | 'rect'
  | 'strokeRect'
  | 'fillRect'
> & {
  strokeStyle: string | CanvasGradient | CanvasPattern;
  fillStyle: string | CanvasGradient | CanvasPattern;
  lineWidth: number;
  globalAlpha: number;
  font: string;
  textAlign: CanvasTextAlign;
  textBaseline: CanvasTextBaseline;
  lineCap: CanvasLineCap;
  lineJoin: CanvasLineJoin;
};

export type Place = (p: Vec3) => [number, number];

/** Line habits of ISO 128-2 at screen size: wide 2, narrow 1; dash lengths in pixels. */
const DASH = { full: [] as number[], hidden: [6, 4], centre: [14, 4, 3, 4], phantom: [14, 4, 3, 4, 3, 4] };
export const LABEL_FONT = '12px "Lidwright Sans", sans-serif';

function path(pen: Pen, points: readonly [number, number][], close: boolean): void {
  pen.beginPath();
  points.forEach(([x, y], i) => (i === 0 ? pen.moveTo(x, y) : pen.lineTo(x, y)));
  if (close) pen.closePath();
}

function line(
  pen: Pen,
  points: readonly [number, number][],
  style: string,
  width: number,
  dash: number[] = DASH.full,
  close = false,
): void {
  if (points.length < 2) return;
  path(pen, points, close);
  pen.setLineDash(dash);
  pen.strokeStyle = style;
  pen.lineWidth = width;
  pen.stroke();
  pen.setLineDash(DASH.full);
}

function disc(
  pen: Pen,
  [x, y]: [number, number],
  r: number,
  fill: string | null,
  stroke: string | null,
  width = 1.5,
): void {
  pen.beginPath();
  pen.arc(x, y, r, 0, 2 * Math.PI);
  if (fill) {
    pen.fillStyle = fill;
    pen.fill();
  }
  if (stroke) {
    pen.strokeStyle = stroke;
    pen.lineWidth = width;
    pen.stroke();
  }
}

/** Swept ways of corners and grip, and of the strut's lid end with the stretch where a joint is out of range. */
export function drawTraces(pen: Pen, scene: Scene, at: Place, c: Palette): void {
  for (const trace of scene.traces) line(pen, trace.map(at), c.faint, 1);
  for (const strut of scene.struts) {
    line(pen, strut.way.map(at), c.soft, 1);
    for (let i = 1; i < strut.way.length; i++) {
      if (!strut.wayOut[i] && !strut.wayOut[i - 1]) continue;
      const a = at(strut.way[i - 1]!);
      const b = at(strut.way[i]!);
      line(pen, [a, b], c.bad, 3);
      // ticks across, so that the stretch is told by shape too
      const d = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
      const nx = (-(b[1] - a[1]) / d) * 4;
      const ny = ((b[0] - a[0]) / d) * 4;
      line(
        pen,
        [
          [b[0] - nx, b[1] - ny],
          [b[0] + nx, b[1] + ny],
        ],
        c.bad,
        1,
      );
    }
  }
}

/** Lid now, and as closed and as open. */
export function drawLid(pen: Pen, scene: Scene, at: Place, c: Palette): void {
  line(pen, scene.outlineClosed.map(at), c.soft, 1, DASH.hidden, true);
  if (scene.openDeg > 0) line(pen, scene.outlineOpen.map(at), c.soft, 1, DASH.phantom, true);
  const now = scene.outline.map(at);
  if (now.length >= 3) {
    path(pen, now, true);
    pen.globalAlpha = 0.08;
    pen.fillStyle = c.ink;
    pen.fill();
    pen.globalAlpha = 1;
  }
  line(pen, now, c.ink, 2.5, DASH.full, true);
  if (scene.hinge) {
    const [a, b] = scene.hinge.map(at) as [[number, number], [number, number]];
    const d = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (d > 1) {
      const ex = ((b[0] - a[0]) / d) * 14;
      const ey = ((b[1] - a[1]) / d) * 14;
      line(
        pen,
        [
          [a[0] - ex, a[1] - ey],
          [b[0] + ex, b[1] + ey],
        ],
        c.ink,
        1,
        DASH.centre,
      );
    }
    for (const p of [a, b]) {
      disc(pen, p, 6, c.paper, c.ink, 2);
      line(
        pen,
        [
          [p[0] - 9, p[1]],
          [p[0] + 9, p[1]],
        ],
        c.ink,
        1,
      );
      line(
        pen,
        [
          [p[0], p[1] - 9],
          [p[0], p[1] + 9],
        ],
        c.ink,
        1,
      );
    }
  }
}

/** Things in the way, as their edges; a cross marks the middle to take hold of. */
export function drawObstacles(pen: Pen, scene: Scene, at: Place, c: Palette): void {
  for (const obstacle of scene.obstacles) for (const edge of obstacle.lines) line(pen, edge.map(at), c.soft, 1.5);
  for (const [id, p] of scene.posed) {
    if (!id.startsWith(OBSTACLE_HANDLE)) continue;
    const [x, y] = at(p);
    const across: [number, number][] = [
      [x - 5, y],
      [x + 5, y],
    ];
    const up: [number, number][] = [
      [x, y - 5],
      [x, y + 5],
    ];
    line(pen, across, c.soft, 1.5);
    line(pen, up, c.soft, 1.5);
  }
}

/** The sector in which the strut may lie for this joint, its stem, and the ball. */
function drawJoint(
  pen: Pen,
  joint: JointScene,
  strut: StrutScene,
  at: Place,
  projection: Projection,
  c: Palette,
): void {
  const [x, y] = at(joint.at);
  const other = joint.end === 'base' ? strut.lid : strut.base;
  const u: Vec3 = [
    (other[0] - joint.at[0]) / (strut.lengthMm || 1),
    (other[1] - joint.at[1]) / (strut.lengthMm || 1),
    (other[2] - joint.at[2]) / (strut.lengthMm || 1),
  ];
  const radius = 46;
  const tone = joint.out ? c.bad : c.good;
  const sectors = allowedSectors(joint.stem, u, joint.rangeDeg, projection);
  pen.globalAlpha = 0.16;
  pen.fillStyle = tone;
  if (sectors === null) {
    pen.globalAlpha = 0.08;
    disc(pen, [x, y], radius, tone, null);
  } else {
    for (const [from, to] of sectors) {
      pen.beginPath();
      pen.moveTo(x, y);
      pen.arc(x, y, radius, -to, -from);
      pen.closePath();
      pen.fill();
    }
  }
  pen.globalAlpha = 1;
  if (sectors)
    for (const pair of sectors)
      for (const edge of pair)
        line(
          pen,
          [
            [x, y],
            [x + radius * Math.cos(edge), y - radius * Math.sin(edge)],
          ],
          tone,
          1,
          [3, 3],
        );
  // stem: from the ball towards its mount and a little past the ball
  const sx = projection.rightSign * joint.stem[projection.right];
  const sy = -joint.stem[projection.up];
  line(
    pen,
    [
      [x - sx * 30, y - sy * 30],
      [x + sx * 10, y + sy * 10],
    ],
    tone,
    3,
  );
  disc(pen, [x, y], 6, joint.out ? c.bad : c.paper, joint.out ? c.bad : c.ink, 2);
  if (joint.out) {
    line(
      pen,
      [
        [x - 10, y - 10],
        [x + 10, y + 10],
      ],
      c.bad,
      2,
    );
    line(
      pen,
      [
        [x - 10, y + 10],
        [x + 10, y - 10],
      ],
      c.bad,
      2,
    );
  }
}

/** The surface a joint stands on: a hatched line or disc behind the ball, and its normal. */
export function drawMount(pen: Pen, joint: JointScene, at: Place, projection: Projection, c: Palette): void {
  if (!joint.normal) return;
  const [x, y] = at(joint.at);
  const nx = projection.rightSign * joint.normal[projection.right];
  const ny = -joint.normal[projection.up];
  const flat = Math.hypot(nx, ny);
  if (flat < 0.2) {
    // seen from above: the surface is the sheet itself
    pen.beginPath();
    pen.arc(x, y, 26, 0, 2 * Math.PI);
    pen.setLineDash([2, 4]);
    pen.strokeStyle = c.soft;
    pen.lineWidth = 1;
    pen.stroke();
    pen.setLineDash(DASH.full);
    return;
  }
  const [ux, uy] = [nx / flat, ny / flat];
  const foot: [number, number] = [x - ux * 22, y - uy * 22];
  const along = (k: number): [number, number] => [foot[0] - uy * k, foot[1] + ux * k];
  line(pen, [along(-24), along(24)], c.ink, 1.5);
  for (let k = -20; k <= 24; k += 8)
    line(pen, [along(k), [along(k)[0] - ux * 6 + uy * 5, along(k)[1] - uy * 6 - ux * 5]], c.ink, 1);
  line(pen, [foot, [x, y]], c.soft, 1, [2, 3]);
}

/** Where the strut is on its way: its line every few degrees. */
export function drawSweep(pen: Pen, strut: StrutScene, at: Place, c: Palette): void {
  const base = at(strut.base);
  pen.globalAlpha = 0.5;
  strut.way.forEach((p, i) => {
    if (i % 3 === 0) line(pen, [base, at(p)], c.faint, 1);
  });
  pen.globalAlpha = 1;
}

export function drawStrut(
  pen: Pen,
  strut: StrutScene,
  at: Place,
  projection: Projection,
  pxPerMm: number,
  selected: boolean,
  c: Palette,
): void {
  const body = (base: Vec3, lid: Vec3, alpha: number): void => {
    const [a, b] = [at(base), at(lid)];
    const share = strut.lengthMm > 0 ? Math.min(1, Math.max(0.1, (strut.compressedMm - 20) / strut.lengthMm)) : 1;
    const tubeEnd: [number, number] = [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
    pen.globalAlpha = alpha;
    pen.lineCap = 'round';
    const ink = strut.inside ? c.ink : c.bad;
    const dash = strut.inside ? DASH.full : [8, 8];
    line(pen, [a, b], ink, Math.max(2.5, strut.rodMm * pxPerMm), dash);
    line(pen, [a, tubeEnd], ink, Math.max(6, strut.tubeMm * pxPerMm), dash);
    if (strut.inside) line(pen, [a, tubeEnd], selected ? c.accent : c.paper, Math.max(3, strut.tubeMm * pxPerMm - 3));
    pen.lineCap = 'butt';
    pen.globalAlpha = 1;
  };
  if (strut.twin) body(strut.twin.base, strut.twin.lid, 0.35);
  body(strut.base, strut.lid, 1);
  for (const joint of strut.joints) drawJoint(pen, joint, strut, at, projection, c);
}

/** Centre-of-mass mark: a quartered disc, its area by mass; hollow when the load case takes it off. */
export function drawMass(pen: Pen, mass: Scene['masses'][number], at: Place, selected: boolean, c: Palette): void {
  const [x, y] = at(mass.at);
  const r = Math.min(18, 6 + 2 * Math.cbrt(mass.kg));
  disc(pen, [x, y], r, c.paper, selected ? c.accent : c.ink, 2);
  if (!mass.off) {
    pen.fillStyle = selected ? c.accent : c.ink;
    for (const start of [0, Math.PI]) {
      pen.beginPath();
      pen.moveTo(x, y);
      pen.arc(x, y, r, start, start + Math.PI / 2);
      pen.closePath();
      pen.fill();
    }
  }
}

export function drawGrip(pen: Pen, at: [number, number], selected: boolean, c: Palette): void {
  const [x, y] = at;
  pen.fillStyle = c.paper;
  pen.strokeStyle = selected ? c.accent : c.ink;
  pen.lineWidth = 2;
  pen.beginPath();
  pen.rect(x - 7, y - 4, 14, 8);
  pen.fill();
  pen.stroke();
}

export function drawCorner(pen: Pen, at: [number, number], selected: boolean, c: Palette): void {
  pen.fillStyle = selected ? c.accent : c.paper;
  pen.strokeStyle = selected ? c.accent : c.ink;
  pen.lineWidth = 1.5;
  pen.beginPath();
  pen.rect(at[0] - 3.5, at[1] - 3.5, 7, 7);
  pen.fill();
  pen.stroke();
}

/** Text with a paper-coloured backing, so that it reads over a photo. */
export function drawLabel(pen: Pen, text: string, x: number, y: number, c: Palette, tone: string = c.ink): void {
  pen.font = LABEL_FONT;
  pen.textAlign = 'left';
  pen.textBaseline = 'middle';
  const width = pen.measureText(text).width;
  pen.globalAlpha = 0.82;
  pen.fillStyle = c.paper;
  pen.fillRect(x - 3, y - 9, width + 6, 18);
  pen.globalAlpha = 1;
  pen.fillStyle = tone;
  pen.fillText(text, x, y);
}

export { line as drawLine, disc as drawDisc, DASH };
