import { useMemo } from 'react';
import { offNominal, stemOfEnd, swingOf } from '../../../core/findings';
import { attempt } from '../../../core/error';
import type { EndName } from '../../../core/job';
import { type Swing, fittingKind } from '../../../core/joint';
import { type Vec3, angleBetween, cos, scale, sin, toDeg, toRad } from '../../../core/space';
import { useTold } from '../../state/told';
import { useSize } from '../../ui/use-size';

export type Pose = 'worst' | 'closed' | 'open';

/** What a joint goes through: how far off its own middle it gets, and how it stands at any angle of the lid. */
export interface JointWay {
  readonly swing: Swing;
  readonly stem: Vec3;
  /** In line with its stud, not square to it. */
  readonly axial: boolean;
  readonly rangeDeg: number;
  readonly worstDeg: number;
  readonly worstAtDeg: number;
  readonly openDeg: number;
  /** Off its middle at an opening angle, degrees; signed for a joint that stands square. */
  offAt(angleDeg: number): number;
}

/** Null where nothing can be worked out. */
export function useJoint(index: number, end: EndName): JointWay | null {
  const plan = useTold((s) => s.outcome?.plans[0] ?? null);
  const spec = useTold((s) => s.outcome?.job.struts[index]?.ends[end] ?? null);
  return useMemo(() => {
    const strut = plan?.struts[index];
    if (!plan || !strut || !spec) return null;
    return attempt((): JointWay => {
      const swing = swingOf(plan, strut, end);
      const stem = stemOfEnd(strut, end);
      const axial = fittingKind(spec.fitting) === 'axial-ball';
      const worst = offNominal(spec.fitting)(swing, stem);
      const toward = end === 'base' ? 1 : -1;
      return {
        ...{ swing, stem, axial, rangeDeg: spec.rangeDeg, openDeg: plan.openDeg },
        ...{ worstDeg: worst.deviationDeg, worstAtDeg: worst.atDeg },
        offAt: (deg) => {
          const between = toDeg(angleBetween(stem, scale(swing.at(deg), toward)));
          return axial ? Math.min(between, 180 - between) : between - 90;
        },
      };
    }).value;
  }, [plan, spec, index, end]);
}

const HATCH_R = 0.62;

/** A sector of a ring between two directions from square, degrees, right positive, as a path. */
function ring(from: number, to: number, inner: number, outer: number): string {
  const at = (deg: number, r: number): string =>
    `${(r * sin(toRad(deg))).toFixed(1)} ${(-r * cos(toRad(deg))).toFixed(1)}`;
  return `M${at(from, inner)}L${at(from, outer)}A${outer} ${outer} 0 0 1 ${at(to, outer)}L${at(to, inner)}A${inner} ${inner} 0 0 0 ${at(from, inner)}Z`;
}

/** One end of the strut, seen square to the plane in which its stud and the strut stand: stud, range, and how far off it is. */
export function CloseUp({
  name,
  joint,
  pose,
  chosen,
  onChoose,
}: {
  name: string;
  joint: JointWay;
  pose: Pose;
  chosen: boolean;
  onChoose: () => void;
}): React.JSX.Element {
  const [box, { width, height }] = useSize();
  const deg = pose === 'worst' ? joint.worstAtDeg : pose === 'closed' ? 0 : joint.openDeg;
  const { rangeDeg, axial } = joint;
  const off = joint.offAt(deg);
  const out = Math.abs(off) > rangeDeg + 1e-9;
  const told = (v: number, digits = 1): string => `${Math.abs(v).toFixed(digits)}°`;
  const where = Math.abs(deg) < 0.05 ? 'closed' : Math.abs(deg - joint.openDeg) < 0.05 ? 'open' : `at ${told(deg, 0)}`;
  const spare = rangeDeg - Math.abs(off);
  const [closed, open] = [joint.offAt(0), joint.offAt(joint.openDeg)];
  const [w, h] = [Math.max(width, 160), Math.max(height, 160)];
  const R = Math.min(h - 116, w * 0.6, 280);
  const foot = [w / 2, h - 76] as const;
  const along = (v: number, r: number): string =>
    `${(r * sin(toRad(v))).toFixed(1)} ${(-r * cos(toRad(v))).toFixed(1)}`;
  const middle = axial ? 'in line' : 'square';
  const words = out
    ? `${told(spare)} past its range: the socket’s rim bears on the stud`
    : `${told(spare)} left to its range`;
  const beyond = Math.min(85, rangeDeg + 22);
  return (
    <section className={chosen ? 'joint chosen' : 'joint'} aria-label={`${name}, close up`}>
      <header>
        <button type="button" className="joint-name" aria-pressed={chosen} onClick={onChoose}>
          {name}
        </button>
        <span>
          {where}
          {pose === 'worst' ? ', its worst' : ''}
        </span>
      </header>
      <div className="joint-box" ref={box}>
        <svg
          width={w}
          height={h}
          role="img"
          aria-label={`${name} ${where}: ${told(off)} off ${middle}, of ${told(rangeDeg, 0)}. ${words}.`}
        >
          <g transform={`translate(${foot[0]} ${foot[1]})`}>
            <path d={ring(-beyond, -rangeDeg, R * 0.2, R * HATCH_R)} fill="url(#joint-hatch)" />
            <path d={ring(rangeDeg, beyond, R * 0.2, R * HATCH_R)} fill="url(#joint-hatch)" />
            {[0.25, 0.5, 0.75].map((t) => (
              <path key={t} className="ghost" d={`M0 0L${along(joint.offAt(joint.openDeg * t), R * 0.6)}`} />
            ))}
            <path className="axis-line" d={`M0 0V${-R * 0.78}`} />
            <path className="edge" d={`M0 0L${along(-rangeDeg, R * 0.7)}M0 0L${along(rangeDeg, R * 0.7)}`} />
            <path
              className="arc"
              d={`M${along(-rangeDeg, R * 0.66)}A${R * 0.66} ${R * 0.66} 0 0 1 ${along(rangeDeg, R * 0.66)}`}
            />
            <text x={-R * 0.7 * sin(toRad(rangeDeg)) - 14} y={-R * 0.7 * cos(toRad(rangeDeg)) - 4} textAnchor="end">
              −{rangeDeg}°
            </text>
            <text x={R * 0.7 * sin(toRad(rangeDeg)) + 14} y={-R * 0.7 * cos(toRad(rangeDeg)) - 4}>
              +{rangeDeg}°
            </text>
            <g className={out ? 'rod out' : 'rod'} transform={`rotate(${off})`}>
              <path className="rod-line" d={`M0 0V${-R * 0.46}`} />
              <rect x="-9" y={-R * 0.98} width="18" height={R * 0.56} />
            </g>
            {axial ? (
              <path className="stud" d="M0 0V34M-8 34H8" />
            ) : (
              <>
                <path className="axis-line" d="M-38 0H96" />
                <path className="stud" d="M18 -7H38V-16H52V16H38V7H18M52 -9H62M52 9H62" />
              </>
            )}
            <circle className="ball" r="19" />
            <circle className="ball" r="9" />
            {axial ? (
              <path className="mount" d="M-44 34H44" />
            ) : (
              <>
                <path className="mount" d="M62 -44V44" />
                <rect x="63" y="-44" width="9" height="88" fill="url(#joint-hatch)" />
              </>
            )}
            <text x={axial ? 50 : 78} y={axial ? 38 : -32}>
              mount
            </text>
            {!axial && (
              <text className="soft" x="78" y="18">
                ball stud axis
              </text>
            )}
            <text className={out ? 'off out' : 'off'} x="0" y={-R - 8} textAnchor="middle">
              {told(off)}
            </text>
          </g>
          <text className={out ? 'said out' : 'said'} x={w / 2} y={h - 24} textAnchor="middle">
            {words}
          </text>
          <text className="soft" x={w / 2} y={h - 7} textAnchor="middle">
            {told(closed)} closed, {told(open)} open
          </text>
        </svg>
      </div>
    </section>
  );
}
