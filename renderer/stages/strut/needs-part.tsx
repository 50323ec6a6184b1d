import { useMemo } from 'react';
import { boundWords, needs } from '../../../core/choose';
import { attempt } from '../../../core/error';
import { formatQuantity } from '../../../core/quantity';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

/** What the geometry asks of the strut: lengths, stroke, and the windows of length and force, beside what is fitted. */
export function NeedsPart({ strutId }: { strutId: string }): React.JSX.Element | null {
  const outcome = useTold((s) => s.outcome);
  const units = useBench((s) => s.units);
  const dragging = useBench((s) => s.drag !== null);
  const found = useMemo(() => {
    // the windows are searched for: not while a drag goes on
    if (!outcome || dragging) return null;
    return attempt(() => needs(outcome, strutId, units)).value;
  }, [outcome, strutId, units, dragging]);
  if (!found) return null;
  const mm = (v: number): string => formatQuantity(v, 'length', units);
  const n = (v: number): string => formatQuantity(v, 'force', units);
  const { least, most } = found.force;
  return (
    <Part title="What it needs">
      <table className="needs">
        <tbody>
          <tr>
            <th>Pivots apart, shut / open</th>
            <td>
              {mm(found.closedMm)} / {mm(found.openMm)}
            </td>
          </tr>
          <tr>
            <th>Stroke with reserves</th>
            <td>{mm(found.strokeNeededMm)}</td>
          </tr>
          <tr>
            <th>Extended length, this stroke</th>
            <td>{found.length.empty ? 'none does both' : `${mm(found.length.fromMm)} to ${mm(found.length.toMm)}`}</td>
          </tr>
          <tr>
            <th>Force F1, these lengths</th>
            <td>
              {found.force.empty
                ? 'none does both'
                : `${least ? n(least.forceN) : 'any'} to ${most && Number.isFinite(most.forceN) ? n(most.forceN) : 'any'}`}
            </td>
          </tr>
          {found.greatest && (
            <tr>
              <th>Greatest balance force</th>
              <td>
                {n(found.greatest.forceN)} at {found.greatest.deg.toFixed(0)}°
              </td>
            </tr>
          )}
          <tr>
            <th>Temperatures</th>
            <td>
              {formatQuantity(found.temperatureC.low, 'temperature', units)} to{' '}
              {formatQuantity(found.temperatureC.high, 'temperature', units)}
            </td>
          </tr>
        </tbody>
      </table>
      {!found.force.empty && least && most && (
        <p className="hint">
          At least for {boundWords(least)}; at most for {boundWords(most)}.
        </p>
      )}
      {found.fights.map((fight) => (
        <p key={fight.text} className="fight" role="alert">
          {fight.text}
        </p>
      ))}
      <p className={found.pushing.along ? 'fight' : 'hint'}>{found.pushing.text}</p>
    </Part>
  );
}
