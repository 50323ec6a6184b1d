import { useMemo, useRef } from 'react';
import { type Mount, type Swing, angleAgainstAzimuth, azimuthBand, bestAtTilt } from '../../core/joint';

interface Props {
  readonly swing: Swing;
  readonly mount: Mount;
  readonly tiltDeg: number;
  readonly rangeDeg: number;
  readonly presentDeg: number;
  onTurn(azimuthDeg: number): void;
}

const W = 244;
const H = 150;
const LEFT = 26;
const BOTTOM = 18;
const TOP = 8;
const x = (azimuth: number): number => LEFT + ((W - LEFT - 6) * (azimuth + 180)) / 360;
const y = (angle: number): number => TOP + ((H - TOP - BOTTOM) * (180 - angle)) / 180;

const line = (xs: Float64Array, ys: Float64Array): string =>
  Array.from(xs, (a, i) => `${i === 0 ? 'M' : 'L'}${x(a).toFixed(1)} ${y(ys[i]!).toFixed(1)}`).join('');

/**
 * Joint angle against azimuth: shut, open, and the band of angles the joint may have; azimuths that hold over the whole
 * travel are shaded, the present one and the best are marked. A press sets the azimuth.
 */
export function AzimuthChart({ swing, mount, tiltDeg, rangeDeg, presentDeg, onTurn }: Props): React.JSX.Element {
  const box = useRef<SVGSVGElement>(null);
  const { chart, bands, best } = useMemo(
    () => ({
      chart: angleAgainstAzimuth(swing, mount, tiltDeg, 3),
      bands: azimuthBand(swing, mount, tiltDeg, rangeDeg),
      best: bestAtTilt(swing, mount, tiltDeg, presentDeg),
    }),
    [swing, mount, tiltDeg, rangeDeg, presentDeg],
  );
  const pick = (e: React.PointerEvent): void => {
    const b = box.current!.getBoundingClientRect();
    const at = ((e.clientX - b.left) / b.width) * W;
    onTurn(Math.round(Math.min(180, Math.max(-180, ((at - LEFT) / (W - LEFT - 6)) * 360 - 180))));
  };
  const shaded = bands.flatMap((b) =>
    b.fromDeg <= b.toDeg
      ? [[b.fromDeg, b.toDeg]]
      : [
          [b.fromDeg, 180],
          [-180, b.toDeg],
        ],
  );
  const words =
    bands.length === 0
      ? `No azimuth holds at this tilt; ${best.azimuthDeg.toFixed(1)}° is best, ${best.deviationDeg.toFixed(1)}° off square.`
      : `${bands.map((b) => (b.widthDeg >= 360 ? 'every azimuth' : `${b.fromDeg.toFixed(1)}° to ${b.toDeg.toFixed(1)}° (set within ±${(b.widthDeg / 2).toFixed(1)}°)`)).join(', ')} hold${bands.length === 1 && bands[0]!.widthDeg < 360 ? 's' : ''}; best ${best.azimuthDeg.toFixed(1)}°, ${best.deviationDeg.toFixed(1)}° off square.`;
  const shown = words.replace(/(^|[ (])-(?=\d)/g, '$1−');
  return (
    <figure className="azimuth">
      <svg
        ref={box}
        viewBox={`0 0 ${W} ${H}`}
        role="img"
        aria-label={`Joint angle against azimuth. ${shown}`}
        onPointerDown={pick}
      >
        {shaded.map(([a, b]) => (
          <rect
            key={a}
            x={x(a!)}
            y={TOP}
            width={Math.max(1, x(b!) - x(a!))}
            height={H - TOP - BOTTOM}
            className="az-band"
          />
        ))}
        <rect
          x={x(-180)}
          y={y(90 + rangeDeg)}
          width={x(180) - x(-180)}
          height={y(90 - rangeDeg) - y(90 + rangeDeg)}
          className="az-range"
        />
        {[0, 90, 180].map((a) => (
          <g key={a}>
            <line x1={x(-180)} x2={x(180)} y1={y(a)} y2={y(a)} className="az-grid" />
            <text x={LEFT - 3} y={y(a) + 4} textAnchor="end">
              {a}°
            </text>
          </g>
        ))}
        {[-180, -90, 0, 90, 180].map((a) => (
          <text key={a} x={x(a)} y={H - 5} textAnchor={a === 180 ? 'end' : 'middle'}>
            {String(a).replace('-', '−')}°
          </text>
        ))}
        <path d={line(chart.azimuthDeg, chart.closedDeg)} className="az-line" />
        <path d={line(chart.azimuthDeg, chart.openDeg)} className="az-line az-open" />
        <line x1={x(best.azimuthDeg)} x2={x(best.azimuthDeg)} y1={TOP} y2={H - BOTTOM} className="az-best" />
        <line x1={x(presentDeg)} x2={x(presentDeg)} y1={TOP - 4} y2={H - BOTTOM} className="az-now" />
      </svg>
      <figcaption>
        {shown}{' '}
        <span className="az-key">
          — shut, - - open; the strong upright is the present azimuth, the dotted one the best.
        </span>
      </figcaption>
    </figure>
  );
}
