import { useMemo } from 'react';
import { removeMass, setMassOff } from '../../../core/job';
import { formatQuantity, shownUnit } from '../../../core/quantity';
import { dot, sub } from '../../../core/space';
import { select, showCase } from '../../state/session';
import { edit } from '../../state/store';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { ChoiceField, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';

/** Masses against load cases: what is on the lid in which, how heavy it is then, and how warm, how steep and how strong. */
export function CaseMatrix(): React.JSX.Element {
  const job = useTold((s) => s.history.present);
  const resolved = useTold((s) => s.resolved);
  const axis = useTold((s) => s.outcome?.frame.axis ?? null);
  const units = useBench((s) => s.units);
  const caseId = useBench((s) => s.caseId);
  const chosen = useBench((s) => (s.selection?.kind === 'mass' ? s.selection.id : null));
  const at = useMemo(() => new Map(resolved.points.map((p) => [p.id, p.at])), [resolved]);
  const bare = (mm: number): string =>
    formatQuantity(mm, 'length', units, units.length === 'in' ? 1 : 0)
      .replace(shownUnit('length', units).sign, '')
      .trim();
  /** From the hinge along the base's own X, and over it; null where there is no hinge yet. */
  const place = (id: string): readonly [string, string] => {
    const p = at.get(id);
    if (!p || !axis) return ['–', '–'];
    const d = sub(p, axis.origin);
    const along = dot(d, axis.along);
    return [bare(Math.abs(d[0] - along * axis.along[0])), bare(d[2] - along * axis.along[2])];
  };
  const total = (off: readonly string[]): string =>
    formatQuantity(
      resolved.masses.reduce((sum, m) => sum + (off.includes(m.id) ? 0 : m.kg), 0),
      'mass',
      units,
      1,
    )
      .replace(shownUnit('mass', units).sign, '')
      .trim();
  const cases = job.loadCases.map((c, i) => ({ ...c, i, name: resolved.loadCases[i]?.name ?? '' }));
  return (
    <section className="pane case-matrix" aria-label="Masses and load cases" tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col" className="first">
              Mass
            </th>
            <th scope="col">{shownUnit('mass', units).sign}</th>
            <th scope="col">from hinge, {shownUnit('length', units).sign}</th>
            <th scope="col">above, {shownUnit('length', units).sign}</th>
            {cases.map((c) => (
              <th key={c.id} scope="col" className="case" aria-current={caseId === c.id || undefined}>
                <button
                  type="button"
                  aria-pressed={caseId === c.id}
                  title={`${c.name}\nPress to show the lid with what is on it then`}
                  onClick={() => showCase(caseId === c.id ? null : c.id)}
                >
                  {c.name}
                </button>
              </th>
            ))}
            <td />
          </tr>
        </thead>
        <tbody>
          {job.masses.map((m, i) => {
            const name = m.name ?? `Mass ${i + 1}`;
            const [from, above] = place(m.at);
            return (
              <tr
                key={m.id}
                aria-current={chosen === m.id || undefined}
                onFocus={() => select({ kind: 'mass', id: m.id })}
              >
                <th scope="row" className="first">
                  <TextField label={`Name of mass ${i + 1}`} path={['masses', i, 'name']} />
                </th>
                <td>
                  <NumberField compact label={`Mass of ${name}`} path={['masses', i, 'kg']} dimension="mass" />
                </td>
                <td>{from}</td>
                <td>{above}</td>
                {cases.map((c) => (
                  <td key={c.id} className="case">
                    <input
                      type="checkbox"
                      aria-label={`${name} is on in ${c.name}`}
                      checked={!(c.off ?? []).includes(m.id)}
                      onChange={(e) =>
                        edit(`Take ${name} on or off`, (j) =>
                          setMassOff(j, { loadCase: c.id, mass: m.id, off: !e.target.checked }),
                        )
                      }
                    />
                  </td>
                ))}
                <td>
                  <button
                    type="button"
                    className="link"
                    aria-label={`Remove ${name}`}
                    onClick={() => edit(`Remove ${name}`, (j) => removeMass(j, { id: m.id }))}
                  >
                    Remove
                  </button>
                </td>
              </tr>
            );
          })}
          <tr className="total">
            <th scope="row" className="first">
              On the lid
            </th>
            <td>{total([])}</td>
            <td />
            <td />
            {cases.map((c) => (
              <td key={c.id} className="case">
                {total(c.off ?? [])}
              </td>
            ))}
            <td />
          </tr>
          {(
            [
              ['tempC', `Temperature, ${shownUnit('temperature', units).sign}`, 'temperature', 20],
              ['pitchDeg', 'Leans front down, °', 'angle', 0],
              ['rollDeg', 'Leans left up, °', 'angle', 0],
            ] as const
          ).map(([key, words, dimension, fallback]) => (
            <tr key={key}>
              <th scope="row" className="first" colSpan={4}>
                {words}
              </th>
              {cases.map((c) => (
                <td key={c.id} className="case">
                  <NumberField
                    compact
                    label={`${words} in ${c.name}`}
                    path={['loadCases', c.i, key]}
                    dimension={dimension}
                    fallback={fallback}
                  />
                </td>
              ))}
              <td />
            </tr>
          ))}
          <tr>
            <th scope="row" className="first" colSpan={4}>
              Strut within its tolerance
            </th>
            {cases.map((c) => (
              <td key={c.id} className="case">
                <ChoiceField
                  label={`Strut force in ${c.name}`}
                  path={['loadCases', c.i, 'force']}
                  fallback="nominal"
                  options={[
                    ['low', 'weak'],
                    ['nominal', 'as sold'],
                    ['high', 'strong'],
                  ]}
                />
              </td>
            ))}
            <td />
          </tr>
        </tbody>
      </table>
    </section>
  );
}
