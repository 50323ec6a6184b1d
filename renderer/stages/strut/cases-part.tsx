import { useState } from 'react';
import { addLoadCase, caseName, removeLoadCase, setMassOff, setValue } from '../../../core/job';
import { edit } from '../../state/store';
import { useToldMade } from '../../state/told';
import { useMade } from '../../state/use-bench';
import { ChoiceField, Part, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { AskedPart } from './asked-part';
import { CaseLoads } from './case-loads';
import { UsualPart } from './usual-part';

/** Load cases: the usual ones asked for and added, each edited in place, and what none of them asks. */
export function CasesPart({ folded = false }: { folded?: boolean }): React.JSX.Element {
  const job = useMade(({ history: { present: j } }) => ({
    loadCases: j.loadCases,
    struts: j.struts.map(({ id, name, quantity }) => ({ id, name, quantity })),
    masses: j.masses.map(({ id, name }) => ({ id, name })),
  }));
  // what each would be called after its values
  const called = useToldMade(({ resolved }) =>
    resolved.loadCases.map((c) => ({ id: c.id, name: caseName(c, resolved) })),
  );
  const [asking, setAsking] = useState(false);
  const nameOf = (id: string): string => called.find((c) => c.id === id)?.name ?? id;
  return (
    <Part title="Load cases" folded={folded}>
      {job.loadCases.map((c, i) => (
        <details key={c.id} className="item">
          <summary>{c.name ?? nameOf(c.id)}</summary>
          <TextField label="Name" path={['loadCases', i, 'name']} placeholder={nameOf(c.id)} />
          <NumberField label="Temperature" path={['loadCases', i, 'tempC']} dimension="temperature" fallback={20} />
          <NumberField label="Leans, +X down" path={['loadCases', i, 'pitchDeg']} dimension="angle" fallback={0} />
          <NumberField label="Leans, +Y up" path={['loadCases', i, 'rollDeg']} dimension="angle" fallback={0} />
          <ChoiceField
            label="Strut force"
            path={['loadCases', i, 'force']}
            fallback="nominal"
            options={[
              ['low', 'at its low tolerance'],
              ['nominal', 'nominal'],
              ['high', 'at its high tolerance'],
            ]}
          />
          <NumberField
            label="Lost with age, %"
            path={['loadCases', i, 'ageLossPercent']}
            dimension="number"
            fallback={0}
          />
          <CaseLoads index={i} />
          {job.struts.map((s, k) => (
            <label key={s.id} className="check">
              <input
                type="checkbox"
                checked={(c.lost ?? []).includes(s.id)}
                onChange={(e) =>
                  edit('Lose a strut', (j) =>
                    setValue(j, {
                      path: ['loadCases', i, 'lost'],
                      value: e.target.checked ? [...(c.lost ?? []), s.id] : (c.lost ?? []).filter((id) => id !== s.id),
                    }),
                  )
                }
              />
              {s.quantity === 2 ? 'one of the pair' : (s.name ?? `strut ${k + 1}`)} is lost
            </label>
          ))}
          {job.masses.map((m) => (
            <label key={m.id} className="check">
              <input
                type="checkbox"
                checked={!(c.off ?? []).includes(m.id)}
                onChange={(e) =>
                  edit(`Take ${m.name ?? m.id} on or off`, (j) =>
                    setMassOff(j, { loadCase: c.id, mass: m.id, off: !e.target.checked }),
                  )
                }
              />
              {m.name ?? m.id} is on
            </label>
          ))}
          <label className="check">
            <input
              type="checkbox"
              checked={c.mustHold ?? true}
              onChange={(e) =>
                edit('Demand or only tell a load case', (j) =>
                  setValue(j, { path: ['loadCases', i, 'mustHold'], value: e.target.checked ? undefined : false }),
                )
              }
            />
            This case counts when choosing
          </label>
          <button type="button" onClick={() => edit('Remove a load case', (j) => removeLoadCase(j, { id: c.id }))}>
            Remove
          </button>
        </details>
      ))}
      <div className="row">
        <button
          type="button"
          onClick={() =>
            edit('Add a load case', (j) =>
              addLoadCase(j, {
                off: [],
                pitchDeg: 0,
                rollDeg: 0,
                tempC: 20,
                force: 'nominal',
              }),
            )
          }
        >
          Add one
        </button>
        <button type="button" aria-expanded={asking} onClick={() => setAsking(!asking)}>
          Make the usual ones
        </button>
      </div>
      {asking && <UsualPart onClose={() => setAsking(false)} />}
      <AskedPart />
    </Part>
  );
}
