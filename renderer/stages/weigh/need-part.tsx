import { useMemo, useState } from 'react';
import { attempt } from '../../../core/error';
import { type Mover, type Need, needOf } from '../../../core/need';
import { useRest } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

const WHAT: Readonly<Record<Need['answer'], string>> = {
  nothing: 'Nothing',
  prop: 'A prop or stay',
  spring: 'A torsion or coil spring',
  strut: 'One strut',
  pair: 'A pair of struts',
};

/** The job's first question: whether the lid needs help at all, and what would serve. */
export function NeedPart(): React.JSX.Element {
  const resolved = useRest((s) => s.resolved);
  const units = useBench((s) => s.units);
  const [mover, setMover] = useState<Mover>('home');
  const need = useMemo(() => attempt(() => needOf(resolved, mover, units)), [resolved, mover, units]);
  return (
    <Part title="Does it need help at all?">
      <div className="field">
        <label>
          Moved by{' '}
          <select value={mover} onChange={(e) => setMover(e.target.value as Mover)}>
            <option value="home">anybody at home</option>
            <option value="work">grown-ups at work</option>
          </select>
        </label>
      </div>
      {need.value ? (
        <>
          <p data-need={need.value.answer}>{need.value.text}</p>
          <table className="serves">
            <tbody>
              {need.value.serves.map(({ what, serves, why }) => (
                <tr key={what}>
                  <th scope="row">{WHAT[what]}</th>
                  <td>{serves ? 'serves' : 'not enough'}</td>
                  <td>{why}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="hint">Measured by {need.value.source}.</p>
        </>
      ) : (
        <p className="hint">Not known yet: {need.error.message}</p>
      )}
    </Part>
  );
}
