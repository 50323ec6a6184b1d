import { formatQuantity, shownUnit } from '../../../../core/quantity';
import { normalQuantile } from '../../../../core/solve';
import type { SurveyPoint } from '../../../../core/survey';
import { useTold } from '../../../state/told';
import { useBench } from '../../../state/use-bench';
import { inUnit } from './row-words';

/** How far each point would go, and how sure that is, before anything is moved. */
export function MovesTable({ points }: { points: readonly SurveyPoint[] }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const at = useTold((s) => s.resolved.points);
  const factor = normalQuantile(0.025);
  const bare = (v: number): string => inUnit(v, 'mm', units, true).replace(/\s.*$/, '');
  return (
    <table className="needs moves" data-survey="moves">
      <caption>Where the points would go, {shownUnit('length', units).sign}; ± holds in 19 of 20 cases</caption>
      <thead>
        <tr>
          <th scope="col">point</th>
          {['x', 'y', 'z'].map((axis) => (
            <th scope="col" key={axis}>
              {axis}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {points.map((p) => {
          const from = at.find((q) => q.id === p.id)?.at;
          return (
            <tr key={p.id} data-point-moves={p.id}>
              <th scope="row">{p.name}</th>
              {([0, 1, 2] as const).map((k) => {
                const sigma = p.sigmaMm[k];
                return (
                  <td key={k}>
                    {from ? bare(p.at[k] - from[k]) : ''}{' '}
                    <span className="give">
                      {sigma === null
                        ? 'free'
                        : `±${formatQuantity(sigma * factor, 'length', units).replace(/\s.*$/, '')}`}
                    </span>
                  </td>
                );
              })}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
