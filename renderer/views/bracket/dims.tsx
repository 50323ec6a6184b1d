import type { Dim, Point2 } from '../../../core/bracket';
import { type Fit, toPx } from './paths';

const ARROW = 7;
/** About the width of a figure, px. */
const FIGURE_PX = 7;

function arrow(tip: Point2, way: Point2): string {
  const [ux, uy] = way;
  const back: Point2 = [tip[0] - ux * ARROW, tip[1] - uy * ARROW];
  const w = ARROW * 0.22;
  return `M${tip[0]} ${tip[1]}L${back[0] - uy * w} ${back[1] + ux * w}L${back[0] + uy * w} ${back[1] - ux * w}Z`;
}

/** A length between two places: its line, two arrow heads where there is room, and its number. What it is stands at the foot. */
export function DimLine({ dim, text, fit }: { dim: Dim; text: string; fit: Fit }): React.JSX.Element {
  const [a, b] = [toPx(fit, dim.from), toPx(fit, dim.to)];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (long < 1) return <></>;
  const way: Point2 = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const upright = Math.abs(way[1]) > Math.abs(way[0]);
  const middle: Point2 = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  // numbers of upright lengths stand away from the middle, where those of level ones lie
  const wide = FIGURE_PX * text.length + 9;
  const left = middle[0] < fit.width / 2 ? middle[0] > wide : middle[0] + wide > fit.width;
  const x = upright ? middle[0] + (left ? -7 : 7) : middle[0];
  const y = upright ? middle[1] + 4 : middle[1] - 6;
  return (
    <g className="bv-dim">
      <line x1={a[0]} y1={a[1]} x2={b[0]} y2={b[1]} />
      {long > 3 * ARROW && <path d={arrow(b, way) + arrow(a, [-way[0], -way[1]])} />}
      <text x={x} y={y} textAnchor={upright ? (left ? 'end' : 'start') : 'middle'}>
        {text}
      </text>
    </g>
  );
}
