import { useMemo } from 'react';
import { attempt, describeIssue } from '../../core/error';
import type { EndName } from '../../core/job';
import { USUAL_WEDGE, type WedgeSpec, requireWedge, wedgeMassKg } from '../../core/joint';
import { endWedge, type PaperFormatName, wedgePapers } from '../../core/papers';
import { bench } from '../state/store';
import { useTold } from '../state/told';
import { NumberField } from '../ui/number-field';
import { exportPaper, today } from './drawing';

/** Hands out a file of the wedge's drawing (0) or drill template (1). */
const hand = (wedge: WedgeSpec, which: 0 | 1, format: PaperFormatName): void =>
  void exportPaper(wedgePapers(bench.getState().resolved, wedge, { date: today() })[which], format);

/** The wedge under an end that leans: its size, its solid for a printer or a mill, its drawing. */
export function WedgePart({ index, end }: { index: number; end: EndName }): React.JSX.Element | null {
  const job = useTold((s) => s.resolved);
  const strut = job.struts[index];
  const made = useMemo(() => {
    const spec = strut ? endWedge(job, strut, end) : null;
    const error = spec && attempt(() => requireWedge(spec)).error;
    return { wedge: error ? null : spec, spec, why: error ? error.issues.map(describeIssue).join(' ') : '' };
  }, [job, strut, end]);
  const { wedge, spec } = made;
  if (!strut || !spec) return null;
  const bracket = job.brackets.some((b) => b.strut === strut.id && b.end === end);
  const field = (label: string, key: keyof typeof USUAL_WEDGE): React.JSX.Element => (
    <NumberField
      label={label}
      path={['struts', index, 'ends', end, 'wedge', key]}
      dimension="length"
      fallback={USUAL_WEDGE[key]}
    />
  );
  return (
    <details className="item">
      <summary>Wedge of {spec.angleDeg.toFixed(1)}° as a part</summary>
      {!bracket && (
        <>
          {field('Length, along the slope', 'lengthMm')}
          {field('Width', 'widthMm')}
        </>
      )}
      {field('Thickness at the thin end', 'thinMm')}
      {!bracket && field('Stud hole ⌀', 'holeMm')}
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
