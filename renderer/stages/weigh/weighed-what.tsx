import { type WeighWay, chooseWeighed, setOnWhenWeighed } from '../../../core/weigh';
import { useId } from 'react';
import { edit } from '../../state/store';
import { useBench } from '../../state/use-bench';

/** Which mass item was weighed, and which others were on the lid then. */
export function WeighedWhat({ way }: { way: WeighWay }): React.JSX.Element {
  const id = useId();
  const masses = useBench((s) => s.history.present.masses);
  const part = useBench((s) => s.history.present.weighings?.[way]);
  // where nothing was said yet the first item counts, as the first reading will write down
  const of = part ? (part.of ?? '') : (masses[0]?.id ?? '');
  const others = masses.filter((m) => m.id !== of);
  const readings = part?.readings ?? [];
  const onAt = (i: number, mass: string): boolean => readings[i]?.on?.includes(mass) ?? !part?.off?.includes(mass);
  const differ = others.some((m) => new Set(readings.map((_, i) => onAt(i, m.id))).size > 1);
  const put = (mass: string, on: boolean, reading?: string): void =>
    void edit(on ? 'It was on the lid' : 'It was off the lid', (job) =>
      setOnWhenWeighed(job, { way, mass, on, ...(reading === undefined ? {} : { reading }) }),
    );
  return (
    <>
      <div className="field">
        <label htmlFor={id}>To find</label>
        <span className="entry">
          <select
            id={id}
            value={of}
            onChange={(e) =>
              edit('Choose what was weighed', (job) => chooseWeighed(job, { way, of: e.target.value || null }))
            }
          >
            {masses.map((m) => (
              <option key={m.id} value={m.id}>
                {m.name ?? m.id}
              </option>
            ))}
            <option value="">a new mass item</option>
          </select>
        </span>
      </div>
      {others.length > 0 && (
        <fieldset className="on-lid">
          <legend>On the lid then, and known</legend>
          {others.map((m) => (
            <label key={m.id} className="check">
              <input
                type="checkbox"
                checked={readings.length > 0 ? readings.every((_, i) => onAt(i, m.id)) : !part?.off?.includes(m.id)}
                onChange={(e) => put(m.id, e.target.checked)}
              />{' '}
              {m.name ?? m.id}
            </label>
          ))}
          {readings.length > 1 && (
            <details open={differ}>
              <summary>Not the same at each reading</summary>
              <table>
                <thead>
                  <tr>
                    <th>Reading</th>
                    {others.map((m) => (
                      <th key={m.id}>{m.name ?? m.id}</th>
                    ))}
                  </tr>
                </thead>
                <tbody>
                  {readings.map((r, i) => (
                    <tr key={r.id}>
                      <th>{i + 1}</th>
                      {others.map((m) => (
                        <td key={m.id}>
                          <input
                            type="checkbox"
                            aria-label={`${m.name ?? m.id} on the lid at reading ${i + 1}`}
                            checked={onAt(i, m.id)}
                            onChange={(e) => put(m.id, e.target.checked, r.id)}
                          />
                        </td>
                      ))}
                    </tr>
                  ))}
                </tbody>
              </table>
            </details>
          )}
        </fieldset>
      )}
    </>
  );
}
