import type { ResolvedJob } from '../../../core/job';
import { formatOnScale, type ScaleUnit } from '../../../core/quantity';
import type { Vec3 } from '../../../core/space';
import { type Stand, seenAlongEdges } from '../../../core/weigh';

const [WIDTH, HEIGHT, AIR] = [116, 104, 15];

interface Props {
  readonly job: ResolvedJob;
  readonly stand: Stand;
  readonly forcesN: readonly [number | undefined, number | undefined];
  readonly scale: ScaleUnit;
  /** Common centre of mass, lid closed; null while it isn't known. */
  readonly centreMm: Vec3 | null;
  readonly title: string;
}

/** The lid on its two edges as it stood, seen along them: blocks and scales under it, and the line of its weight. */
export function StandSketch({ job, stand, forcesN, scale, centreMm, title }: Props): React.JSX.Element {
  const at = new Map(job.points.map((p) => [p.id, p.at as Vec3]));
  const flat = seenAlongEdges(stand);
  const outline = job.outline
    .map((id) => at.get(id))
    .filter((p) => p !== undefined)
    .map(flat);
  const supports = [flat(stand.firstMm), flat(stand.secondMm)];
  const centre = centreMm ? flat(centreMm) : null;
  const all = [...outline, ...supports, ...(centre ? [centre] : [])];
  const low = [0, 1].map((k) => Math.min(...all.map((p) => p[k]!)));
  const high = [0, 1].map((k) => Math.max(...all.map((p) => p[k]!)));
  const floorPx = HEIGHT - 15;
  const pxPerMm = Math.min(
    (WIDTH - 2 * AIR) / Math.max(high[0]! - low[0]!, 1),
    (floorPx - 14 - AIR) / Math.max(high[1]! - low[1]!, 1),
  );
  const px = ([x, y]: readonly [number, number]): [number, number] => [
    WIDTH / 2 + (x - (low[0]! + high[0]!) / 2) * pxPerMm,
    floorPx - 12 - (y - low[1]!) * pxPerMm,
  ];
  const line = (points: readonly (readonly [number, number])[]): string =>
    points
      .map((p) =>
        px(p)
          .map((v) => v.toFixed(1))
          .join(','),
      )
      .join(' ');
  return (
    <svg
      className="stand"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      width={WIDTH}
      height={HEIGHT}
      role="img"
      aria-label={title}
    >
      <line className="floor" x1={2} y1={floorPx} x2={WIDTH - 2} y2={floorPx} />
      {supports.map((s, k) => {
        const [x, y] = px(s);
        const force = forcesN[k];
        return (
          <g key={k}>
            <path className="block" d={`M${x} ${y} L${x + 4} ${y + 6} V${floorPx - 4} H${x - 4} V${y + 6} Z`} />
            {force !== undefined && <rect className="scale" x={x - 10} y={floorPx - 4} width={20} height={4} />}
            <text x={Math.min(Math.max(x, 20), WIDTH - 20)} y={HEIGHT - 3}>
              {force === undefined ? 'block' : formatOnScale(force, scale, 1)}
            </text>
          </g>
        );
      })}
      {outline.length > 1 && <polygon className="lid" points={line(outline)} />}
      <polyline className="lid" points={line(supports)} />
      {centre && (
        <g>
          <line className="weight" x1={px(centre)[0]} y1={px(centre)[1]} x2={px(centre)[0]} y2={floorPx} />
          <circle className="centre" cx={px(centre)[0]} cy={px(centre)[1]} r={4} />
        </g>
      )}
    </svg>
  );
}
