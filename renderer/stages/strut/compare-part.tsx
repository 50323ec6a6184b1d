import { useMemo, useState } from 'react';
import { type Variant, compareOutcomes } from '../../../core/choose';
import type { Job } from '../../../core/job';
import { formatQuantity } from '../../../core/quantity';
import { keepVariant, dropVariant } from '../../state/session';
import { bench, edit } from '../../state/store';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { STATE_WORDS } from '../../ui/finding-words';

/** Variants kept beside the present job: a short table and what differs. They live as long as the page. */
export function ComparePart(): React.JSX.Element {
  const kept = useBench((s) => s.variants);
  const outcome = useTold((s) => s.outcome);
  const findings = useTold((s) => s.findings);
  const pending = useTold((s) => s.pending.length > 0);
  const units = useBench((s) => s.units);
  const [name, setName] = useState('');
  const found = useMemo(() => {
    if (kept.length === 0 || !outcome) return null;
    const { job, frame, plans, tables } = outcome;
    const now = { job, frame, plans, tables, findings };
    const variants: Variant[] = [
      { name: 'now', outcome: now },
      ...kept.map((v) => ({ name: v.name, outcome: v.outcome })),
    ];
    return compareOutcomes(variants);
  }, [kept, outcome, findings]);
  const keep = (): void => {
    const { history, outcome } = bench.getState();
    if (!outcome) return;
    const job: Job = history.present;
    keepVariant({ name: name.trim() || `Variant ${kept.length + 1}`, job, outcome });
    setName('');
  };
  return (
    <Part title="Compare" folded={kept.length === 0}>
      <div className="row">
        <input
          aria-label="Name of the variant"
          placeholder="name"
          value={name}
          onChange={(e) => setName(e.target.value)}
        />
        <button type="button" disabled={!outcome || pending} onClick={keep}>
          Keep this one
        </button>
      </div>
      {kept.map((v) => (
        <div className="row" key={v.name}>
          <span>{v.name}</span>
          <button type="button" onClick={() => edit(`Go to ${v.name}`, () => v.job)}>
            Go to it
          </button>
          <button type="button" onClick={() => dropVariant(v.name)}>
            Remove
          </button>
        </div>
      ))}
      {found && (
        <div className="matrix">
          <table className="needs">
            <thead>
              <tr>
                <th></th>
                {found.names.map((n) => (
                  <th key={n}>{n}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {found.rows.map((r) => (
                <tr key={r.label}>
                  <th>{r.label}</th>
                  {r.values.map((v, i) => (
                    <td key={i} className={r.best === i ? 'best' : ''}>
                      {v === null
                        ? 'not known'
                        : formatQuantity(v, r.dimension, units, r.dimension === 'number' ? 0 : undefined)}
                      {r.best === i ? ' ✓' : ''}
                    </td>
                  ))}
                </tr>
              ))}
              {found.differences.map((d) => (
                <tr key={`${d.id}:${d.subject}:${d.case}`}>
                  <th>
                    {d.id.replace(/-/g, ' ')}
                    {d.case ? `, ${d.case}` : ''}
                  </th>
                  {d.states.map((s, i) => (
                    <td key={i}>{s ? `${STATE_WORDS[s].sign} ${STATE_WORDS[s].word}` : '—'}</td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <p className="hint">The chart below shows kept variants as thin lines behind the present one.</p>
    </Part>
  );
}
