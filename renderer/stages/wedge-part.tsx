import { useMemo, useState } from 'react';
import { attempt, describeIssue } from '../../core/error';
import type { EndName } from '../../core/job';
import { type WedgeSpec, requireWedge, wedgeMassKg, wedgeUnderEnd } from '../../core/joint';
import { type PaperFormatName, wedgePapers } from '../../core/papers';
import { bench } from '../state/store';
import { useTold } from '../state/told';
import { TypedOver0 } from '../ui/typed';
import { exportPaper, today } from './drawing';

/** Hands out a file of the wedge's drawing (0) or drill template (1). */
const hand = (wedge: WedgeSpec, which: 0 | 1, format: PaperFormatName): void =>
  void exportPaper(wedgePapers(bench.getState().resolved, wedge, { date: today() })[which], format);

/** The wedge under an end that leans: its size, its solid for a printer or a mill, its drawing. */
export function WedgePart({ index, end }: { index: number; end: EndName }): React.JSX.Element | null {
  const spec = useTold((s) => s.resolved.struts[index]?.ends[end]);
  const [size, setSize] = useState({ lengthMm: 50, widthMm: 40, thinMm: 3, holeMm: 8.4 });
  const angleDeg = Math.abs(spec?.tiltDeg ?? 0);
  const strutId = useTold((s) => s.resolved.struts[index]?.id);
  const bracket = useTold((s) => s.resolved.brackets.find((b) => b.strut === strutId && b.end === end));
  const made = useMemo(() => {
    const under = bracket?.baseHole ? { ...bracket, baseHole: bracket.baseHole } : null;
    const wedge = wedgeUnderEnd(end, spec?.tiltDeg ?? 0, under, size);
    const { error } = attempt(() => requireWedge(wedge));
    return error ? { wedge: null, why: error.issues.map(describeIssue).join(' ') } : { wedge, why: '' };
  }, [bracket, end, size, spec]);
  if (angleDeg < 0.05) return null;
  const { wedge } = made;
  return (
    <details className="item">
      <summary>Wedge of {angleDeg.toFixed(1)}° as a part</summary>
      {!bracket && (
        <>
          <TypedOver0
            dimension="length"
            label="Length, along the slope"
            value={size.lengthMm}
            onValue={(lengthMm) => setSize({ ...size, lengthMm })}
          />
          <TypedOver0
            dimension="length"
            label="Width"
            value={size.widthMm}
            onValue={(widthMm) => setSize({ ...size, widthMm })}
          />
        </>
      )}
      <TypedOver0
        dimension="length"
        label="Thickness at the thin end"
        value={size.thinMm}
        onValue={(thinMm) => setSize({ ...size, thinMm })}
      />
      {!bracket && (
        <TypedOver0
          dimension="length"
          label="Stud hole ⌀"
          value={size.holeMm}
          onValue={(holeMm) => setSize({ ...size, holeMm })}
        />
      )}
      {wedge ? (
        <>
          <p className="hint">Weighs {(wedgeMassKg(wedge) * 1000).toFixed(0)} g in aluminium.</p>
          <div className="row">
            <button type="button" className="strong" onClick={() => hand(wedge, 0, 'stl')}>
              Export STL
            </button>
            {(['pdf', 'svg', 'dxf'] as const).map((format) => (
              <button key={format} type="button" onClick={() => hand(wedge, 0, format)}>
                Drawing, {format.toUpperCase()}
              </button>
            ))}
            <button type="button" onClick={() => hand(wedge, 1, 'pdf')}>
              Drill template, PDF
            </button>
          </div>
        </>
      ) : (
        <p className="wrong" role="alert">
          {made.why}
        </p>
      )}
    </details>
  );
}
