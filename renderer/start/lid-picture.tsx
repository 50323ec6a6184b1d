import type { Job } from '../../core/job';
import { type Spot, lidFigure } from '../../core/start';

/** Where the spots of a figure lie on a picture of the given size, with a margin, up as up. */
function fitted(spots: readonly Spot[], width: number, height: number, margin: number) {
  const [xs, ys] = [spots.map((p) => p[0]), spots.map((p) => p[1])];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const k = Math.min((width - 2 * margin) / Math.max(right - left, 1), (height - 2 * margin) / Math.max(high - low, 1));
  const [x0, y0] = [(width - k * (left + right)) / 2, (height + k * (low + high)) / 2];
  return ([x, y]: Spot): Spot => [x0 + k * x, y0 - k * y];
}

const path = (spots: readonly Spot[]): string =>
  spots.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');

/** A job as a small picture: the lid shut and open, its swing, masses, struts (not where it is `bare`), walls. */
export function LidPicture({
  job,
  bare,
  width = 280,
  height = 160,
}: {
  job: Job;
  bare?: boolean;
  width?: number;
  height?: number;
}): React.JSX.Element {
  const figure = lidFigure(job);
  if (!figure) return <svg viewBox={`0 0 ${width} ${height}`} className="lid-picture" aria-hidden="true" />;
  const { shut, open, swing, masses, hinge, walls } = figure;
  const struts = bare ? [] : figure.struts;
  const spots = [...shut, ...open, ...swing, ...struts.flat(), ...masses.map((m) => m.at), hinge, ...walls.flat()];
  const at = fitted(spots, width, height, 18);
  const line = (points: readonly Spot[]): string => path(points.map(at));
  return (
    <svg viewBox={`0 0 ${width} ${height}`} className="lid-picture" aria-hidden="true">
      {walls.map((wall, i) => (
        <path key={i} d={`${line(wall)}Z`} className="lid-wall" />
      ))}
      <path d={line(swing)} className="lid-swing" />
      <path d={`${line(open)}Z`} className="lid-open" />
      {masses.map((mass, i) => {
        const [x, y] = at(mass.at);
        return <circle key={i} cx={x} cy={y} r={3 + 7 * Math.sqrt(mass.share)} className="lid-mass" />;
      })}
      <path d={`${line(shut)}Z`} className="lid-shut" />
      {struts.map((strut, i) => (
        <path key={i} d={line(strut)} className="lid-strut" />
      ))}
      <circle cx={at(hinge)[0]} cy={at(hinge)[1]} r="4" className="lid-hinge" />
    </svg>
  );
}
