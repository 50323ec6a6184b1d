import { useEffect, useRef } from 'react';
import type { HowExact } from '../../core/find';
import type { ProveAnswer } from '../../core/prove';
import { formatQuantity } from '../../core/quantity';
import { valueOfRow } from '../../core/travel';
import { watchBands } from '../state/aside';
import { proof } from '../state/proof';
import { showCase, showChart } from '../state/session';
import { type BenchState, type ChartKind, bench, setAngle } from '../state/store';
import { studyStore } from '../state/study';
import { STRIP_PX, openStrip, sizeStrip, useStripOpen, useStripPx } from '../state/strip';
import { useToldMade } from '../state/told';
import { useBench, useMade } from '../state/use-bench';
import { type HandBand, type HandProof, TravelChart } from './charts';
import { addTrailingPainter } from './frame';
import { Ruler } from './ruler';
import { keepLast } from './sheet/seen';

const CHARTS: readonly (readonly [ChartKind, string])[] = [
  ['hand', 'Hand force at the handle'],
  ['force', 'Strut force'],
  ['length', 'Strut length'],
  ['joint', 'Joint angles'],
];

/** The strip's upper edge: drawn up or down, or moved by the arrow keys, it gives the chart another height. */
function Grip(): React.JSX.Element {
  const px = useStripPx();
  const held = useRef<{ y: number; px: number } | null>(null);
  return (
    <div
      className="strip-grip"
      role="separator"
      tabIndex={0}
      aria-label="Height of the chart"
      aria-orientation="horizontal"
      aria-valuenow={px}
      aria-valuemin={STRIP_PX.least}
      aria-valuemax={STRIP_PX.most}
      onPointerDown={(e) => {
        e.currentTarget.setPointerCapture(e.pointerId);
        held.current = { y: e.clientY, px };
      }}
      onPointerMove={(e) => held.current && sizeStrip(held.current.px + held.current.y - e.clientY)}
      onPointerUp={() => (held.current = null)}
      onPointerCancel={() => (held.current = null)}
      onKeyDown={(e) => {
        const step = { ArrowUp: 20, ArrowDown: -20 }[e.key];
        if (step === undefined) return;
        e.preventDefault();
        sizeStrip(px + step);
      }}
    />
  );
}

/** The chosen load case's band: of the study, where there is one of this very job, else over friction and tolerance. */
function bandOf({ history, outcome, bands, caseId }: BenchState): HandBand | null {
  const { found, job } = studyStore.getState();
  if (job !== history.present || !found)
    return bands?.outcome === outcome ? (bands.byCase.find((b) => b.caseId === caseId) ?? null) : null;
  const band = found.study.bands.find((b) => b.caseId === caseId);
  return band ? studied(band) : null;
}

const studied = keepLast(({ caseId, angleDeg, opening, closing }: HowExact['study']['bands'][number]): HandBand => ({
  ...{ caseId, angleDeg },
  ...{ openingWeakN: opening.high, openingStrongN: opening.low },
  ...{ closingWeakN: closing.high, closingStrongN: closing.low },
  words: ['95 % lie under this', '95 % lie over this'],
}));

/** The hand forces that were read, and the curves that the first cause gives. */
const handProof = keepLast((answer: ProveAnswer): HandProof => ({
  readings: answer.proof.comparisons.flatMap(({ reading: { what, strutsOff, angleDeg, way, value, sigma } }) =>
    what === 'hand-force' && !strutsOff && (way === 'opening' || way === 'closing')
      ? { angleDeg, way, value, sigma }
      : [],
  ),
  withCause: answer.withCause,
}));

/** What the fit-up adds in its stage: the load case it was done in, and what was read. */
function provenOf(s: BenchState): { readonly caseId: string | null; readonly proof: HandProof | null } {
  if (s.stage !== 'prove') return { caseId: s.caseId, proof: null };
  const { answer } = proof.getState();
  const { proof: done, loadCases } = s.resolved;
  return { caseId: s.caseId ?? done?.loadCase ?? loadCases[0]?.id ?? null, proof: answer && handProof(answer) };
}

function Chart(): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const px = useStripPx();
  useEffect(watchBands, []);
  useEffect(() => {
    const chart = new TravelChart(box.current!, { onScrub: setAngle });
    let last: readonly unknown[] = [];
    const paint = (): void => {
      const s = bench.getState();
      const { caseId, proof } = provenOf(s);
      const key = [s.outcome, s.chart, s.angleDeg, s.units, s.theme, caseId, s.variants, bandOf(s), proof];
      if (key.every((part, i) => part === last[i])) return;
      last = key;
      chart.show({
        outcome: s.outcome,
        kind: s.chart,
        angleDeg: s.angleDeg,
        units: s.units,
        theme: s.theme,
        caseId,
        variants: s.variants,
        band: bandOf(s),
        proof,
      });
    };
    paint();
    const off = addTrailingPainter(paint);
    return () => {
      off();
      chart.dispose();
    };
  }, []);
  return <div className="chart" ref={box} style={{ height: px }} />;
}

/** Hand force at the present angle over all load cases: "−59 to −73 N". */
function HandNow(): React.JSX.Element | null {
  const words = useToldMade((s) => {
    const found = (s.outcome?.tables ?? []).flatMap((t) =>
      [t.handOpeningN, t.handClosingN].flatMap((row) => valueOfRow(t.angleDeg, row, s.angleDeg) ?? []),
    );
    if (found.length === 0) return null;
    const force = (v: number): string => formatQuantity(v, 'force', s.units);
    return `hand ${force(Math.min(...found))} to ${force(Math.max(...found))}`;
  });
  return words === null ? null : <span className="hand-now">{words}</span>;
}

/** The lid's travel: a ruler for its angle, and on request one chart at a time over it. */
export function TravelStrip(): React.JSX.Element {
  const stage = useBench((s) => s.stage);
  const open = useStripOpen(stage);
  const kind = useBench((s) => s.chart);
  const angle = useBench((s) => s.angleDeg);
  const caseId = useBench((s) => s.caseId);
  const cases = useMade((s) => s.resolved.loadCases.map(({ id, name }) => ({ id, name })));
  return (
    <section className={open ? 'travel open' : 'travel'} aria-label="Travel">
      {open && <Grip />}
      <div className="travel-bar">
        <span className="scrub-angle">Lid at {angle.toFixed(angle % 1 === 0 ? 0 : 1)}°</span>
        {open ? (
          <>
            <select aria-label="Chart" value={kind} onChange={(e) => showChart(e.target.value as ChartKind)}>
              {CHARTS.map(([name, words]) => (
                <option key={name} value={name}>
                  {words}
                </option>
              ))}
            </select>
            <select
              aria-label="Load case shown strongest"
              value={caseId ?? ''}
              onChange={(e) => showCase(e.target.value || null)}
            >
              <option value="">All load cases</option>
              {cases.map((c) => (
                <option key={c.id} value={c.id}>
                  {c.name}
                </option>
              ))}
            </select>
          </>
        ) : (
          <Ruler />
        )}
        {!open && <HandNow />}
        {open && stage === 'prove' && kind === 'hand' && (
          <span className="hand-now">○ opening and □ closing, as read, with the scale’s ±</span>
        )}
        <button type="button" aria-expanded={open} onClick={() => openStrip(stage, !open)}>
          {open ? 'Hide chart' : 'Show chart'}
        </button>
      </div>
      {open && (
        <>
          <Chart />
          <Ruler />
        </>
      )}
    </section>
  );
}
