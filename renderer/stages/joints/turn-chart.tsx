import { useMemo, useRef } from 'react';
import {
  type Mount,
  type MountedStem,
  type Swing,
  angleAgainstAzimuth,
  azimuthBand,
  bestAtTilt,
} from '../../../core/joint';
import type { Job } from '../../../core/job';
import { cancelDrag, dispatch, finishDrag } from '../../state/store';
import { ticksOf } from '../../ui/ticks';
import { useSize } from '../../ui/use-size';

interface Props {
  readonly swing: Swing;
  readonly mount: Mount;
  readonly tiltDeg: number;
  readonly rangeDeg: number;
  readonly presentDeg: number;
  /** The best turn and lean that a workshop can set. */
  readonly best: MountedStem;
  readonly turn: (job: Job, azimuthDeg: number) => Job;
}

const PAD = { left: 48, right: 148, top: 10, bottom: 42 } as const;
const STEP_DEG = 2;
const UNDO = 'Turn the mount';

const signed = (deg: number, digits = 0): string => `${deg.toFixed(digits).replace('-', '−')}°`;

/** The azimuths that hold, in words. */
function bandWords(swing: Swing, mount: Mount, tiltDeg: number, rangeDeg: number, presentDeg: number): string {
  const bands = azimuthBand(swing, mount, tiltDeg, rangeDeg);
  const best = bestAtTilt(swing, mount, tiltDeg, presentDeg);
  const told = `best ${signed(best.azimuthDeg, 1)}, ${signed(best.deviationDeg, 1)} off square`;
  if (bands.length === 0) return `No azimuth holds at this lean; ${told}.`;
  const runs = bands.map((b) =>
    b.widthDeg >= 360
      ? 'every turn'
      : `${signed(b.fromDeg, 1)} to ${signed(b.toDeg, 1)} (set within ±${(b.widthDeg / 2).toFixed(1)}°)`,
  );
  return `As it leans now ${runs.join(', ')} hold${bands.length === 1 && bands[0]!.widthDeg < 360 ? 's' : ''}; ${told}.`;
}

/** How far off square the joint gets over the travel against the turn of its stud: as it leans now, and as it would lean best. */
export function TurnChart({ swing, mount, tiltDeg, rangeDeg, presentDeg, best, turn }: Props): React.JSX.Element {
  const [box, { width, height }] = useSize();
  const svg = useRef<SVGSVGElement>(null);
  const held = useRef(false);
  const [now, leaning] = useMemo(
    () => [tiltDeg, best.tiltDeg].map((tilt) => angleAgainstAzimuth(swing, mount, tilt, STEP_DEG)),
    [swing, mount, tiltDeg, best.tiltDeg],
  );
  const words = useMemo(
    () => bandWords(swing, mount, tiltDeg, rangeDeg, presentDeg),
    [swing, mount, tiltDeg, rangeDeg, presentDeg],
  );
  const at = (chart: typeof now, azimuth: number): number => {
    const i = (azimuth + 180) / STEP_DEG;
    const [a, b] = [Math.floor(i), Math.min(Math.ceil(i), 360 / STEP_DEG)];
    return chart!.worstDeg[a]! + (chart!.worstDeg[b]! - chart!.worstDeg[a]!) * (i - a);
  };
  const presentOff = at(now, presentDeg);
  const most = Math.min(90, Math.max(rangeDeg * 1.6, presentOff * 1.15, 10));
  const [w, h] = [Math.max(width, 240), Math.max(height, 120)];
  const x = (deg: number): number => PAD.left + ((deg + 180) / 360) * (w - PAD.left - PAD.right);
  const y = (deg: number): number => h - PAD.bottom - (deg / most) * (h - PAD.top - PAD.bottom);
  const line = (chart: typeof now): string =>
    Array.from(
      chart!.azimuthDeg,
      (a, i) => `${i === 0 ? 'M' : 'L'}${x(a).toFixed(1)} ${y(chart!.worstDeg[i]!).toFixed(1)}`,
    ).join('');
  const azimuthOf = (e: React.PointerEvent): number => {
    const b = svg.current!.getBoundingClientRect();
    const deg = ((e.clientX - b.left - PAD.left) / (w - PAD.left - PAD.right)) * 360 - 180;
    return Math.round(Math.min(180, Math.max(-180, deg)));
  };
  const move = (azimuth: number): void =>
    void dispatch({ name: UNDO, step: 'gesture', edit: (job) => turn(job, azimuth) });
  const key = (e: React.KeyboardEvent): void => {
    if (e.key === 'Escape' && held.current) {
      held.current = false;
      e.stopPropagation();
      return cancelDrag();
    }
    const step = { ArrowLeft: -1, ArrowRight: 1 }[e.key];
    if (step === undefined) return;
    e.preventDefault();
    const to = Math.min(180, Math.max(-180, presentDeg + step * (e.shiftKey ? 10 : 1)));
    dispatch({ name: UNDO, step: 'step', edit: (job) => turn(job, to) });
  };
  const ends = [
    { y: y(Math.min(most, now!.worstDeg.at(-1)!)), text: 'as it leans now' },
    { y: y(rangeDeg), text: `its range, at most ${signed(rangeDeg)}` },
  ];
  if (Math.abs(ends[0]!.y - ends[1]!.y) < 15) ends[0]!.y = ends[1]!.y - 15;
  return (
    <figure className="azimuth">
      <div ref={box}>
        <svg
          ref={svg}
          width={w}
          height={h}
          role="slider"
          tabIndex={0}
          aria-label="Turn of the stud"
          aria-valuemin={-180}
          aria-valuemax={180}
          aria-valuenow={presentDeg}
          aria-valuetext={`turned to ${signed(presentDeg, 1)}, ${signed(presentOff, 1)} off square. ${words}`}
          onKeyDown={key}
          onPointerDown={(e) => {
            if (e.button !== 0) return;
            e.currentTarget.setPointerCapture(e.pointerId);
            held.current = true;
            move(azimuthOf(e));
          }}
          onPointerMove={(e) => held.current && move(azimuthOf(e))}
          onPointerUp={() => {
            if (held.current) finishDrag(UNDO);
            held.current = false;
          }}
          onPointerCancel={() => {
            if (held.current) cancelDrag();
            held.current = false;
          }}
        >
          <rect
            x={PAD.left}
            y={PAD.top}
            width={w - PAD.left - PAD.right}
            height={Math.max(0, y(rangeDeg) - PAD.top)}
            fill="url(#joint-hatch)"
          />
          {ticksOf(0, most, 6).map((deg) => (
            <g key={deg} className="axis">
              <path className="grid" d={`M${PAD.left} ${y(deg)}H${w - PAD.right}`} />
              <text x={PAD.left - 8} y={y(deg) + 4} textAnchor="end">
                {deg}°
              </text>
            </g>
          ))}
          <path className="limit" d={`M${PAD.left} ${y(rangeDeg)}H${w - PAD.right}`} />
          <path className="base-line" d={`M${PAD.left} ${h - PAD.bottom}H${w - PAD.right}`} />
          {Array.from({ length: 25 }, (_, i) => 15 * i - 180).map((deg) => (
            <g key={deg} className="axis">
              <path d={`M${x(deg)} ${h - PAD.bottom}v${deg % 30 === 0 ? 7 : 4}`} />
              {deg % 30 === 0 && (
                <text x={x(deg)} y={h - PAD.bottom + 18} textAnchor="middle">
                  {signed(deg)}
                </text>
              )}
            </g>
          ))}
          <text className="soft" x={x(0)} y={h - 6} textAnchor="middle">
            turned from the mount’s own direction
          </text>
          <clipPath id="turn-clip">
            <rect x={PAD.left} y={PAD.top} width={w - PAD.left - PAD.right} height={h - PAD.top - PAD.bottom} />
          </clipPath>
          <path className="line-now" d={line(now)} clipPath="url(#turn-clip)" />
          {Math.abs(best.tiltDeg - tiltDeg) > 0.05 && (
            <path className="line-best" d={line(leaning)} clipPath="url(#turn-clip)" />
          )}
          <path className="at-best" d={`M${x(best.azimuthDeg)} ${PAD.top}V${h - PAD.bottom}`} />
          <circle className="best-mark" cx={x(best.azimuthDeg)} cy={y(best.deviationDeg)} r="5" />
          <text
            className="best-word"
            x={x(best.azimuthDeg) + (best.azimuthDeg > 40 ? -8 : 8)}
            y={h - PAD.bottom - 12}
            textAnchor={best.azimuthDeg > 40 ? 'end' : 'start'}
          >
            best: turn {signed(best.azimuthDeg)}, lean {signed(best.tiltDeg)}: {signed(best.deviationDeg, 1)} off
          </text>
          <g className={presentOff > rangeDeg ? 'present fails' : 'present'}>
            <path d={`M${x(presentDeg)} ${PAD.top}V${h - PAD.bottom}`} />
            <rect x={x(presentDeg) - 5} y={y(presentOff) - 5} width="10" height="10" />
            <text
              x={x(presentDeg) + (presentDeg > 90 ? -9 : 9)}
              // clear of the words on what is best, which stand on the floor
              y={Math.max(PAD.top + 12, Math.min(y(presentOff) - 9, h - PAD.bottom - 30))}
              textAnchor={presentDeg > 90 ? 'end' : 'start'}
            >
              now: {signed(presentDeg)}, {signed(presentOff, 1)}
            </text>
          </g>
          {ends.map(({ y: at, text }) => (
            <text key={text} x={w - PAD.right + 8} y={at + 4}>
              {text}
            </text>
          ))}
        </svg>
      </div>
      <figcaption>{words}</figcaption>
    </figure>
  );
}
