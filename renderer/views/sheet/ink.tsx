import type Konva from 'konva/lib/Core';
import { useRef } from 'react';
import { Shape } from 'react-konva/lib/ReactKonvaCore';
import type { Palette } from './palette';
import { type Look, useFollow, useView } from './view';

// The pen of the drawn views, and the two kinds of node that draw with it.

export type Pen = CanvasRenderingContext2D;
export type Px = readonly [x: number, y: number];

/** Line habits of ISO 128-2 at screen size: wide 2, narrow 1; dash lengths in pixels. */
export const DASH = {
  full: [] as number[],
  hidden: [6, 4],
  centre: [14, 4, 3, 4],
  phantom: [14, 4, 3, 4, 3, 4],
  stroke: [8, 8],
  fine: [3, 3],
};
export const LABEL_FONT = '12px "Lidwright Sans", sans-serif';

export function trace(pen: Pen, points: readonly Px[], close = false): void {
  pen.beginPath();
  points.forEach(([x, y], i) => (i === 0 ? pen.moveTo(x, y) : pen.lineTo(x, y)));
  if (close) pen.closePath();
}

export function line(
  pen: Pen,
  points: readonly Px[],
  style: string,
  width: number,
  dash = DASH.full,
  close = false,
): void {
  if (points.length < 2) return;
  trace(pen, points, close);
  pen.setLineDash(dash);
  pen.strokeStyle = style;
  pen.lineWidth = width;
  pen.stroke();
  pen.setLineDash(DASH.full);
}

/** A line across another at a place: from `at` by `half` px square to the way from a to b, both sides. */
export function tick(pen: Pen, a: Px, b: Px, at: Px, half: number, style: string, width: number): void {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [nx, ny] = [(-(b[1] - a[1]) / long) * half, ((b[0] - a[0]) / long) * half];
  line(pen, [[at[0] - nx, at[1] - ny], [at[0] + nx, at[1] + ny]], style, width); // prettier-ignore
}

/** Two lines across each other, upright or aslant. */
export function cross(pen: Pen, [x, y]: Px, half: number, style: string, width: number, aslant = false): void {
  const h = half;
  const ends: [Px, Px][] = aslant
    ? [[[x - h, y - h], [x + h, y + h]], [[x - h, y + h], [x + h, y - h]]]
    : [[[x - h, y], [x + h, y]], [[x, y - h], [x, y + h]]]; // prettier-ignore
  for (const pair of ends) line(pen, pair, style, width);
}

/** A line with a head of two wings at its end. */
export function arrow(pen: Pen, a: Px, b: Px, wing: Px, style: string, width: number, dash = DASH.full): void {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const side = (s: number): Px => [b[0] - ux * wing[0] + s * uy * wing[1], b[1] - uy * wing[0] - s * ux * wing[1]];
  line(pen, [a, b], style, width, dash);
  line(pen, [side(1), b, side(-1)], style, width);
}

export function disc(pen: Pen, [x, y]: Px, r: number, fill: string | null, stroke: string | null, width = 1.5): void {
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

/** A rectangle about a place, on paper. */
export function box(pen: Pen, width: number, height: number, fill: string, stroke: string, lineWidth: number): void {
  pen.beginPath();
  pen.rect(-width / 2, -height / 2, width, height);
  pen.fillStyle = fill;
  pen.fill();
  pen.strokeStyle = stroke;
  pen.lineWidth = lineWidth;
  pen.stroke();
}

/** A slice of a disc about a place, from angle to angle as the canvas counts them. */
export function slice(pen: Pen, [x, y]: Px, r: number, from: number, to: number, fill: string): void {
  pen.beginPath();
  pen.moveTo(x, y);
  pen.arc(x, y, r, from, to);
  pen.closePath();
  pen.fillStyle = fill;
  pen.fill();
}

const widths = new Map<string, number>();

/** Width of a label, px; texts repeat from frame to frame, and measuring is what costs. */
export function labelWidth(pen: Pen, text: string): number {
  let width = widths.get(text);
  if (width === undefined) {
    pen.font = LABEL_FONT;
    width = pen.measureText(text).width;
    // before the face has come widths are another's
    if (document.fonts.status !== 'loaded') return width;
    if (widths.size > 2000) widths.clear();
    widths.set(text, width);
  }
  return width;
}

/** Text with a paper-coloured backing, so that it reads over a photo. */
export function label(pen: Pen, text: string, x: number, y: number, c: Palette, tone: string = c.ink): void {
  const width = labelWidth(pen, text);
  pen.font = LABEL_FONT;
  pen.textAlign = 'left';
  pen.textBaseline = 'middle';
  pen.globalAlpha = 0.82;
  pen.fillStyle = c.paper;
  pen.fillRect(x - 3, y - 9, width + 6, 18);
  pen.globalAlpha = 1;
  pen.fillStyle = tone;
  pen.fillText(text, x, y);
}

/** A label beside a place, kept inside the view. */
export function beside(pen: Pen, text: string, x: number, y: number, { size, palette }: Look): void {
  const width = labelWidth(pen, text);
  const lx = x + 16 + width > size.width ? x - 18 - width : x + 16;
  label(pen, text, Math.max(4, lx), Math.min(Math.max(y - 16, 12), size.height - 12), palette);
}

/** A cross in a ring: something clicked on a photo. */
export function clickMark(pen: Pen, at: Px, c: Palette): void {
  disc(pen, at, 7, null, c.paper, 4);
  disc(pen, at, 7, null, c.accent, 2);
  cross(pen, at, 12, c.accent, 1);
}

type Draw = (pen: Pen, look: Look) => void;

const still = { listening: false, perfectDrawEnabled: false, lineJoin: 'round' } as const;

/** A thing drawn in the view's own pixels, from what the view shows when its layer is drawn. */
export function Ink({ name, draw }: { name: string; draw: Draw }): React.JSX.Element {
  const view = useView();
  return <Shape {...still} name={name} sceneFunc={(context) => draw(context._context, view.look)} />;
}

/** A thing that stands at a place: its node is moved there by reference, and drawn about 0, 0. Null hides it. */
export function Mark({
  name,
  at,
  draw,
  ...rest
}: {
  name: string;
  at: (look: Look) => Px | null;
  draw?: Draw;
} & Omit<Konva.ShapeConfig, 'name' | 'draw'>): React.JSX.Element {
  const view = useView();
  const node = useRef<Konva.Shape>(null);
  useFollow((look) => {
    const place = at(look);
    node.current?.visible(place !== null);
    if (place) node.current?.position({ x: place[0], y: place[1] });
  });
  // out of sight until it has its place: a stage draws a layer that is put on it before anything was moved there
  return (
    <Shape
      {...still}
      visible={false}
      {...rest}
      ref={node}
      name={name}
      sceneFunc={(context) => draw?.(context._context, view.look)}
    />
  );
}
