import { setGivens } from '../../../core/job';
import { bench, edit } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

/** Named values of the job. */
export function GivensPart(): React.JSX.Element {
  const givens = useBench((s) => s.history.present.givens) ?? [];
  const put = (i: number, patch: { name?: string; expression?: string }): void => {
    edit('Change a given', (job) =>
      setGivens(job, { givens: givens.map((g, k) => (k === i ? { ...g, ...patch } : g)) }),
    );
  };
  return (
    <Part title="Givens" folded={givens.length === 0}>
      <p className="hint">Named values that any number field may use, such as “reach + 20 mm”.</p>
      {givens.map((g, i) => (
        <div className="row" key={i}>
          <input
            aria-label="Name of the given"
            defaultValue={g.name}
            key={`n${g.name}`}
            onBlur={(e) => e.target.value !== g.name && put(i, { name: e.target.value })}
          />
          <input
            aria-label={`Value of ${g.name}`}
            defaultValue={g.expression}
            key={`e${g.expression}`}
            onBlur={(e) => {
              if (e.target.value === g.expression) return;
              put(i, { expression: e.target.value });
              // refused, or still being checked against the relations: the field shows what the job holds
              e.target.value = bench.getState().history.present.givens?.[i]?.expression ?? e.target.value;
            }}
            onKeyDown={(e) => e.key === 'Enter' && e.currentTarget.blur()}
          />
          <button
            type="button"
            aria-label={`Remove ${g.name}`}
            onClick={() =>
              edit('Remove a given', (job) => setGivens(job, { givens: givens.filter((_, k) => k !== i) }))
            }
          >
            ✕
          </button>
        </div>
      ))}
      <button
        type="button"
        onClick={() =>
          edit('Add a given', (job) =>
            setGivens(job, { givens: [...givens, { name: `given${givens.length + 1}`, expression: '100 mm' }] }),
          )
        }
      >
        Add a given
      </button>
    </Part>
  );
}
