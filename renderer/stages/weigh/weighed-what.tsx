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
                checked={!part?.off?.includes(m.id)}
                onChange={(e) =>
                  edit(e.target.checked ? 'It was on the lid' : 'It was off the lid', (job) =>
                    setOnWhenWeighed(job, { way, mass: m.id, on: e.target.checked }),
                  )
                }
              />{' '}
              {m.name ?? m.id}
            </label>
          ))}
        </fieldset>
      )}
    </>
  );
}
