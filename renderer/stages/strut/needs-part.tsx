import { useEffect } from 'react';
import { boundWords } from '../../../core/choose';
import { formatQuantity } from '../../../core/quantity';
import { watchNeeds } from '../../state/aside';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

/** What the geometry asks of the strut: lengths, stroke, and the windows of length and force, beside what is fitted. */
export function NeedsPart({ strutId }: { strutId: string }): React.JSX.Element | null {
  useEffect(watchNeeds, []);
  const outcome = useTold((s) => s.outcome);
  const units = useBench((s) => s.units);
  const needs = useBench((s) => s.needs);
  const found = needs?.byStrut.get(strutId);
  if (!outcome) return null;
  // the windows are looked for beside the page: till then the last ones would be of another job
  if (!found || needs?.outcome !== outcome)
    return needs?.outcome === outcome ? null : (
      <Part title="What it needs">
        <p className="hint" role="status">
          Being worked out: lengths and forces that do …
        </p>
      </Part>
    );
  const mm = (v: number): string => formatQuantity(v, 'length', units);
  const n = (v: number): string => formatQuantity(v, 'force', units);
  const { least, most } = found.force;
  return (
    <Part title="What it needs">
      <table className="needs">
        <tbody>
          <tr>
            <th>Pivots apart, closed / open</th>
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
            <td>{found.length.empty ? 'none does' : `${mm(found.length.fromMm)} to ${mm(found.length.toMm)}`}</td>
          </tr>
          <tr>
            <th>Force F1, these lengths</th>
            <td>
              {found.force.unknown
                ? 'not known: another strut is out of its stroke'
                : found.force.empty
                  ? 'none does'
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
