import { addLoadCase, removeLoadCase, setMassOff } from '../../core/job';
import { formatQuantity } from '../../core/quantity';
import { edit } from '../state/store';
import { useBench, useCalmBench } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { NumberField } from '../ui/number-field';

/** What the geometry asks of the strut, beside what the fitted one gives. */
function Needs({ index }: { index: number }): React.JSX.Element | null {
  const outcome = useCalmBench((s) => s.outcome);
  const units = useBench((s) => s.units);
  const table = outcome?.tables[0]?.struts[index];
  const strut = outcome?.job.struts[index];
  if (!outcome || !table || !strut) return null;
  const f = (v: number): string => formatQuantity(v, 'length', units);
  const last = table.lengthMm.length - 1;
  const shortest = Math.min(...table.lengthMm);
  const longest = Math.max(...table.lengthMm);
  const { extendedMm, strokeMm } = strut.spec;
  const most = Math.max(
    ...outcome.tables.map((t) =>
      Math.max(...Array.from(t.struts[index]!.balanceForceN, (v) => (Number.isNaN(v) ? 0 : v))),
    ),
  );
  return (
    <table className="needs">
      <tbody>
        <tr>
          <th>Pivots apart, lid shut</th>
          <td>{f(table.lengthMm[0]!)}</td>
        </tr>
        <tr>
          <th>Pivots apart, lid open</th>
          <td>{f(table.lengthMm[last]!)}</td>
        </tr>
        <tr>
          <th>Stroke the travel uses</th>
          <td>{f(longest - shortest)}</td>
        </tr>
        <tr>
          <th>This strut: compressed to extended</th>
          <td>
            {f(extendedMm - strokeMm)} to {f(extendedMm)}
          </td>
        </tr>
        <tr>
          <th>Greatest balance force</th>
          <td>{formatQuantity(most, 'force', units)}</td>
        </tr>
      </tbody>
    </table>
  );
}

/** Strut: what is fitted, in which load cases, within which limits. */
export function StrutPanel(): React.JSX.Element {
  const job = useBench((s) => s.history.present);
  return (
    <>
      <h2>Strut</h2>
      {job.struts.map((strut, i) => (
        <Part key={strut.id} title={strut.name ?? (job.struts.length > 1 ? `Strut ${i + 1}` : 'The strut')}>
          <Needs index={i} />
          <NumberField label="Extended length" path={['struts', i, 'spec', 'extendedMm']} dimension="length" />
          <NumberField label="Stroke" path={['struts', i, 'spec', 'strokeMm']} dimension="length" />
          <NumberField label="Force F1" path={['struts', i, 'spec', 'forceN']} dimension="force" />
          <NumberField label="Force ratio F2/F1" path={['struts', i, 'spec', 'ratio']} dimension="number" />
          <NumberField label="Friction band" path={['struts', i, 'spec', 'frictionN']} dimension="force" fallback={0} />
          <NumberField
            label="Tolerance, lower"
            path={['struts', i, 'spec', 'toleranceN', 0]}
            dimension="force"
            fallback={0}
          />
          <NumberField
            label="Tolerance, upper"
            path={['struts', i, 'spec', 'toleranceN', 1]}
            dimension="force"
            fallback={0}
          />
          <NumberField label="Rod" path={['struts', i, 'spec', 'rodMm']} dimension="length" />
          <NumberField label="Tube" path={['struts', i, 'spec', 'tubeMm']} dimension="length" />
        </Part>
      ))}
      <Part title="Load cases">
        {job.loadCases.map((c, i) => (
          <details key={c.id} className="item">
            <summary>{c.name ?? c.id}</summary>
            <TextField label="Name" path={['loadCases', i, 'name']} />
            <NumberField label="Temperature" path={['loadCases', i, 'tempC']} dimension="temperature" fallback={20} />
            <NumberField label="Nose down" path={['loadCases', i, 'pitchDeg']} dimension="angle" fallback={0} />
            <NumberField label="Rolled" path={['loadCases', i, 'rollDeg']} dimension="angle" fallback={0} />
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
            <button type="button" onClick={() => edit('Remove a load case', (j) => removeLoadCase(j, { id: c.id }))}>
              Remove
            </button>
          </details>
        ))}
        <button
          type="button"
          onClick={() =>
            edit('Add a load case', (j) =>
              addLoadCase(j, {
                name: `Case ${j.loadCases.length + 1}`,
                off: [],
                pitchDeg: 0,
                rollDeg: 0,
                tempC: 20,
                force: 'nominal',
              }),
            )
          }
        >
          Add a load case
        </button>
      </Part>
      <Part title="Limits">
        <NumberField label="Lift at most" path={['limits', 'handOpenN']} dimension="force" fallback={150} />
        <NumberField label="Pull shut at most" path={['limits', 'handCloseN']} dimension="force" fallback={200} />
        <NumberField label="Stroke reserve" path={['limits', 'reserveMm']} dimension="length" fallback={5} />
        <NumberField label="Held open with" path={['limits', 'holdOpenNm']} dimension="moment" fallback={5} />
      </Part>
    </>
  );
}
