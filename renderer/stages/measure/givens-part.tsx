import { resolveGivens, setGivens } from '../../../core/job';
import { describeValue, evaluateValue } from '../../../core/quantity';
import { edit, presentJob } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { type EntryColumn, EntryTable } from '../../ui/entry-table';
import { Part } from '../../ui/fields';

interface Given {
  readonly name: string;
  readonly expression: string;
}
interface Row {
  readonly given: Given;
  readonly index: number;
}

const put = ({ index }: Row, patch: Partial<Given>): boolean =>
  edit('Change a given', (job) =>
    setGivens(job, { givens: (job.givens ?? []).map((g, k) => (k === index ? { ...g, ...patch } : g)) }),
  );
const remove = ({ index }: Row): void =>
  void edit('Remove a given', (job) => setGivens(job, { givens: (job.givens ?? []).filter((_, k) => k !== index) }));
const about = ({ given, index }: Row) => ({ key: String(index), name: given.name });

const COLUMNS: readonly EntryColumn<Row>[] = [
  {
    field: {
      label: () => 'Name of the given',
      shown: ({ given }) => given.name,
      take: (row, name) => put(row, { name }),
    },
  },
  {
    field: {
      label: ({ given }) => `Value of ${given.name}`,
      shown: ({ given }) => given.expression,
      take: (row, expression) => put(row, { expression }),
      words: (text) => describeValue(evaluateValue(text, resolveGivens(presentJob()))),
    },
  },
];

/** Named values of the job. */
export function GivensPart(): React.JSX.Element {
  const givens = useBench((s) => s.history.present.givens) ?? [];
  return (
    <Part title="Givens" folded={givens.length === 0}>
      <p className="hint">Named values that any number field may use, such as “reach + 20 mm”.</p>
      <EntryTable
        label="Givens"
        className="entries givens"
        columns={COLUMNS}
        rows={givens.map((given, index) => ({ given, index }))}
        {...{ about, remove }}
      />
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
