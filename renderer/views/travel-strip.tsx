import { useEffect, useRef } from 'react';
import { showCase, showChart } from '../state/session';
import { type ChartKind, bench, setAngle } from '../state/store';
import { watchBands } from '../state/aside';
import { useBench, useMade } from '../state/use-bench';
import { TravelChart } from './charts';
import { addTrailingPainter } from './frame';

const CHARTS: readonly (readonly [ChartKind, string])[] = [
  ['hand', 'Hand force'],
  ['force', 'Strut force'],
  ['length', 'Length'],
  ['joint', 'Joint angles'],
];

/** The lid's travel: a slider for θ, and under it one chart at a time with every load case a line. */
export function TravelStrip(): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const kind = useBench((s) => s.chart);
  const angle = useBench((s) => s.angleDeg);
  const open = useBench((s) => s.outcome?.frame.openDeg ?? s.resolved.travel.openDeg);
  const caseId = useBench((s) => s.caseId);
  const cases = useMade((s) => s.resolved.loadCases.map(({ id, name }) => ({ id, name })));
  useEffect(watchBands, []);
  useEffect(() => {
    const chart = new TravelChart(box.current!, { onScrub: setAngle });
    let last: readonly unknown[] = [];
    const paint = (): void => {
      const s = bench.getState();
      const key = [s.outcome, s.chart, s.angleDeg, s.units, s.theme, s.caseId, s.variants, s.bands];
      if (key.every((part, i) => part === last[i])) return;
      last = key;
      chart.show({
        outcome: s.outcome,
        kind: s.chart,
        angleDeg: s.angleDeg,
        units: s.units,
        theme: s.theme,
        caseId: s.caseId,
        variants: s.variants,
        band: s.bands?.outcome === s.outcome ? (s.bands.byCase.find((b) => b.caseId === s.caseId) ?? null) : null,
      });
    };
    paint();
    const off = addTrailingPainter(paint);
    return () => {
      off();
      chart.dispose();
    };
  }, []);
  return (
    <section className="travel" aria-label="Travel">
      <div className="travel-bar">
        <button type="button" onClick={() => setAngle(0)} title="Lid closed">
          Shut
        </button>
        <label className="scrub">
          <span className="scrub-angle">Lid at {angle.toFixed(angle % 1 === 0 ? 0 : 1)}°</span>
          <input
            type="range"
            aria-label="Opening angle"
            min={0}
            max={open}
            step={0.1}
            value={angle}
            onChange={(e) => setAngle(Number(e.target.value))}
          />
        </label>
        <button type="button" onClick={() => setAngle(open)} title="Lid fully open">
          Open {open.toFixed(open % 1 === 0 ? 0 : 1)}°
        </button>
        <div className="chart-kinds" role="group" aria-label="Chart">
          {CHARTS.map(([name, words]) => (
            <button key={name} type="button" aria-pressed={kind === name} onClick={() => showChart(name)}>
              {words}
            </button>
          ))}
        </div>
        <select
          aria-label="Load case shown strongest"
          value={caseId ?? ''}
          onChange={(e) => showCase(e.target.value || null)}
        >
          <option value="">all load cases alike</option>
          {cases.map((c) => (
            <option key={c.id} value={c.id}>
              {c.name}
            </option>
          ))}
        </select>
      </div>
      <div className="chart" ref={box} />
    </section>
  );
}
