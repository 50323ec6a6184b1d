import { useId } from 'react';
import { resolveGivens, setGivens } from '../../../core/job';
import { describeValue, evaluateValue } from '../../../core/quantity';
import { edit, presentJob } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { ReadAs, useEntry } from '../../ui/entry';
import { Part } from '../../ui/fields';

type Given = { readonly name: string; readonly expression: string };

const put = (i: number, patch: Partial<Given>): boolean =>
  edit('Change a given', (job) =>
    setGivens(job, { givens: (job.givens ?? []).map((g, k) => (k === i ? { ...g, ...patch } : g)) }),
  );

function GivenRow({ given: { name, expression }, index }: { given: Given; index: number }): React.JSX.Element {
  const id = useId();
  const called = useEntry({
    label: 'Name of the given',
    shown: name,
    value: name,
    at: String(index),
    take: (text) => put(index, { name: text }),
  });
  const valued = useEntry({
    label: `Value of ${name}`,
    shown: expression,
    value: expression,
    at: String(index),
    take: (text) => put(index, { expression: text }),
  });
  return (
    <div className="row">
      <input {...called.field} aria-label="Name of the given" />
      <span className="entry">
        <input {...valued.field} aria-label={`Value of ${name}`} aria-describedby={`${id}-read`} />
        <ReadAs
          id={`${id}-read`}
          text={valued.text}
          words={(text) => describeValue(evaluateValue(text, resolveGivens(presentJob())))}
        />
      </span>
      <button
        type="button"
        aria-label={`Remove ${name}`}
        onClick={() =>
          edit('Remove a given', (job) => setGivens(job, { givens: (job.givens ?? []).filter((_, k) => k !== index) }))
        }
      >
        ✕
      </button>
    </div>
  );
}

/** Named values of the job. */
export function GivensPart(): React.JSX.Element {
  const givens = useBench((s) => s.history.present.givens) ?? [];
  return (
    <Part title="Givens" folded={givens.length === 0}>
      <p className="hint">Named values that any number field may use, such as “reach + 20 mm”.</p>
      {givens.map((given, i) => (
        <GivenRow key={i} given={given} index={i} />
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
