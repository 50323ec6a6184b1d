import { setAngle } from '../state/store';
import { useBench } from '../state/use-bench';

/** The lid's travel as a ruler of degrees: the one slider for the opening angle, under the chart where there is one. */
export function Ruler(): React.JSX.Element {
  const angle = useBench((s) => s.angleDeg);
  const open = useBench((s) => s.outcome?.frame.openDeg ?? s.resolved.travel.openDeg);
  const tens = Array.from({ length: Math.ceil(open / 10) }, (_, i) => i * 10).slice(1);
  const ticks = Array.from({ length: Math.floor(open) + 1 }, (_, i) => i);
  const shown = (deg: number): string => deg.toFixed(deg % 1 === 0 ? 0 : 1);
  const at = (deg: number): { left: string } => ({ left: `${(100 * deg) / open}%` });
  return (
    <div className="ruler">
      <svg viewBox={`0 0 ${open} 12`} preserveAspectRatio="none" aria-hidden="true">
        <path d={ticks.map((d) => `M${d} 0V${d % 10 === 0 ? 12 : d % 5 === 0 ? 8 : 5}`).join('')} />
        <path d={`M0 0H${open}`} />
      </svg>
      <input
        type="range"
        aria-label="Opening angle"
        aria-valuetext={`${shown(angle)}°`}
        min={0}
        max={open}
        step={0.1}
        value={angle}
        onChange={(e) => setAngle(Number(e.target.value))}
      />
      <button type="button" style={at(0)} onClick={() => setAngle(0)}>
        closed
      </button>
      {tens
        .filter((d) => d > open * 0.06 && d < open * 0.92)
        .map((d) => (
          <span key={d} style={at(d)} aria-hidden="true">
            {d}°
          </span>
        ))}
      <button type="button" style={at(open)} onClick={() => setAngle(open)}>
        open {shown(open)}°
      </button>
    </div>
  );
}
