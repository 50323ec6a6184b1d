import type { Comparison } from '../../../core/prove';
import { formatQuantity, toShown } from '../../../core/quantity';
import { useBench } from '../../state/use-bench';
import type { ProveAnswer } from '../../../core/prove';

const WIDE = 244;
const HIGH = 150;
const LEFT = 32;
const BOTTOM = 20;
const TOP = 8;
const RIGHT = 8;

/** A step of 1, 2 or 5 that cuts a span into at most `most` parts. */
function niceStep(span: number, most: number): number {
  const rough = span / most;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return ten * ([1, 2, 5].find((f) => f * ten >= rough) ?? 10);
}

/** Hand force over the travel: predicted, with the first cause, and what was read, each with its tool's ±. */
export function HandChart({ answer }: { answer: ProveAnswer }): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const { entered, withCause, proof } = answer;
  const points = proof.comparisons.filter((c) => c.reading.what === 'hand-force' && !c.reading.strutsOff);
  const shown = (n: number): number => toShown(n, 'force', units);
  const all = [
    ...[entered, ...(withCause ? [withCause] : [])].flatMap((c) => [...c.openingN, ...c.closingN]),
    ...points.map((p) => p.reading.value),
  ].filter(Number.isFinite);
  if (all.length === 0) return null;
  const low = Math.min(0, ...all.map(shown));
  const high = Math.max(0, ...all.map(shown));
  const room = (high - low) * 0.06 || 1;
  const [from, to] = [low - room, high + room];
  const last = entered.angleDeg.at(-1)!;
  const x = (deg: number): number => LEFT + (deg / last) * (WIDE - LEFT - RIGHT);
  const y = (n: number): number => TOP + ((to - shown(n)) / (to - from)) * (HIGH - TOP - BOTTOM);
  const path = (angle: Float64Array, force: Float64Array): string => {
    let pen = false;
    let d = '';
    angle.forEach((deg, i) => {
      const n = force[i]!;
      if (!Number.isFinite(n)) return void (pen = false);
      d += `${pen ? 'L' : 'M'}${x(deg).toFixed(1)} ${y(n).toFixed(1)}`;
      pen = true;
    });
    return d;
  };
  const step = niceStep(to - from, 5);
  const ticks: number[] = [];
  for (let t = Math.ceil(from / step) * step; t <= to; t += step) ticks.push(t);
  const yShown = (t: number): number => TOP + ((to - t) / (to - from)) * (HIGH - TOP - BOTTOM);
  const unit = formatQuantity(0, 'force', units).replace(/^\S+ /, '');
  const degStep = niceStep(last, 5);
  const degTicks = Array.from({ length: Math.floor(last / degStep) + 1 }, (_, i) => i * degStep);
  const mark = (p: Comparison): React.JSX.Element => {
    const cx = x(p.reading.angleDeg);
    const cy = y(p.reading.value);
    const s = 2 * p.reading.sigma;
    const closing = p.reading.way === 'closing';
    return (
      <g key={p.reading.id} className={`mark ${closing ? 'closing' : 'opening'}`}>
        <title>
          {`${closing ? 'Closing' : 'Opening'} at ${p.reading.angleDeg}°: read ${formatQuantity(p.reading.value, 'force', units)}`}
        </title>
        <path d={`M${cx} ${y(p.reading.value + s)}V${y(p.reading.value - s)}`} />
        {closing ? (
          <rect x={cx - 3} y={cy - 3} width="6" height="6" />
        ) : (
          <path className="solid" d={`M${cx} ${cy - 4}L${cx + 4} ${cy + 3}H${cx - 4}Z`} />
        )}
      </g>
    );
  };
  return (
    <figure className="hand-chart">
      <svg
        viewBox={`0 0 ${WIDE} ${HIGH}`}
        role="img"
        aria-label={`Hand force over the travel: ${points.length} readings over the predicted curves${withCause ? ', and the curves with the first cause' : ''}`}
      >
        {ticks.map((t) => (
          <g key={t} className="grid">
            <path d={`M${LEFT} ${yShown(t)}H${WIDE - RIGHT}`} className={Math.abs(t) < step / 1e6 ? 'zero' : ''} />
            <text x={LEFT - 4} y={yShown(t) + 3.5} textAnchor="end">
              {String(Number(t.toFixed(6))).replace('-', '−')}
            </text>
          </g>
        ))}
        {degTicks.map((d) => (
          <text key={d} x={x(d)} y={HIGH - 6} textAnchor="middle">
            {d}°
          </text>
        ))}
        <path className="line entered opening" d={path(entered.angleDeg, entered.openingN)} />
        <path className="line entered closing" d={path(entered.angleDeg, entered.closingN)} />
        {withCause && (
          <>
            <path className="line cause opening" d={path(withCause.angleDeg, withCause.openingN)} />
            <path className="line cause closing" d={path(withCause.angleDeg, withCause.closingN)} />
          </>
        )}
        {points.map(mark)}
      </svg>
      <figcaption className="hint">
        Hand force, {unit}. <span className="key opening">▲ opening</span>{' '}
        <span className="key closing">■ closing</span>; thin: as entered
        {withCause ? '; broken: with the first cause' : ''}; points: read, with the scale’s ±.
      </figcaption>
    </figure>
  );
}
