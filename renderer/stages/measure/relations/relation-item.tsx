import { attempt } from '../../../../core/error';
import { type JobRelation, RELATION_SHAPE, type ResolvedJob } from '../../../../core/job';
import { formatQuantity } from '../../../../core/quantity';
import { type RelationState, relationName, removeRelation, setRelation } from '../../../../core/survey';
import { chooseRelation, useRelationStore } from '../../../state/relations';
import { edit } from '../../../state/store';
import { useBench } from '../../../state/use-bench';
import { NumberField } from '../../../ui/number-field';
import { KIND_WORDS } from '../../../state/relations-draft';
import { namesOf } from './names';

export const VIEW_WORDS: readonly (readonly [string, string])[] = [
  ['', 'in space'],
  ['side', 'in the side view'],
  ['top', 'in the top view'],
  ['front', 'from behind'],
];

interface Props {
  readonly relation: JobRelation;
  readonly index: number;
  /** Absent where it is not in use, or nothing can be said. */
  readonly state: RelationState | undefined;
  readonly names: readonly { readonly id: string; readonly name: string }[];
}

/** A relation's name as the points are called; null where it can't be told. */
function nameOf(job: ResolvedJob, index: number): string | null {
  const relation = job.relations[index];
  return attempt(() => (relation ? relationName(relation, namesOf(job)) : null)).value;
}

/** One relation: its name, whether it holds, and what of it can be changed. */
export function RelationItem({ relation: r, index, state, names }: Props): React.JSX.Element {
  const units = useBench((s) => s.units);
  const chosen = useRelationStore((d) => d.chosen === r.id);
  const plain = useBench((s) => nameOf(s.resolved, index));
  const name = state?.name ?? plain ?? KIND_WORDS[r.kind];
  const title = name.charAt(0).toUpperCase() + name.slice(1);
  const off = r.use === false;
  const onAxis = r.axis !== undefined && (r.kind === 'mirrored' || r.kind === 'on-plane');
  const words = off
    ? 'not in use'
    : !state
      ? 'can’t be told'
      : state.holds
        ? 'holds'
        : `off by ${formatQuantity(state.off, state.unit === 'mm' ? 'length' : 'angle', units, 2)}`;
  const saidBy = (state?.saidBy ?? []).map((id) => names.find((n) => n.id === id)?.name ?? id);
  return (
    <div
      className={chosen ? 'item relation chosen' : 'item relation'}
      data-relation={r.id}
      data-holds={off || !state ? 'unknown' : state.holds ? 'yes' : 'no'}
      onFocus={() => chooseRelation(r.id)}
    >
      <div className="item-head">
        <button
          type="button"
          className="link"
          aria-pressed={chosen}
          title="Show it in the views"
          onClick={() => chooseRelation(r.id)}
        >
          {title}
        </button>
        <button
          type="button"
          aria-label={`Remove: ${name}`}
          onClick={() => edit('Remove a condition', (job) => removeRelation(job, { id: r.id }))}
        >
          Remove
        </button>
      </div>
      <p className={state && !state.holds && !off ? 'wrong' : 'hint'}>
        {words}
        {saidBy.length > 0 && `; says nothing new beside: ${saidBy.join('; ')}`}
      </p>
      {(RELATION_SHAPE[r.kind].value === 'valueMm' || onAxis) && (
        <NumberField
          label={onAxis ? `At ${r.axis} =` : 'Length'}
          path={['relations', index, 'valueMm']}
          dimension="length"
        />
      )}
      {RELATION_SHAPE[r.kind].value === 'valueDeg' && (
        <NumberField label="Angle" path={['relations', index, 'valueDeg']} dimension="angle" />
      )}
      {r.kind === 'fixed' && r.at && (
        <div className="point">
          {(['X', 'Y', 'Z'] as const).map((axis, k) => (
            <NumberField key={axis} compact label={axis} path={['relations', index, 'at', k]} dimension="length" />
          ))}
        </div>
      )}
      <div className="row">
        {RELATION_SHAPE[r.kind].view && (
          <select
            aria-label={`Where it holds: ${name}`}
            value={r.view ?? ''}
            onChange={(e) =>
              edit('Change where a condition holds', (job) =>
                setRelation(job, {
                  id: r.id,
                  patch: { view: (e.target.value || undefined) as Exclude<JobRelation['view'], undefined> },
                }),
              )
            }
          >
            {VIEW_WORDS.map(([value, text]) => (
              <option key={value} value={value}>
                {text}
              </option>
            ))}
          </select>
        )}
        <label>
          <input
            type="checkbox"
            checked={!off}
            aria-label={`In use: ${name}`}
            onChange={(e) =>
              edit(e.target.checked ? 'Use a condition' : 'Switch a condition off', (job) =>
                setRelation(job, { id: r.id, patch: { use: e.target.checked ? (undefined as never) : false } }),
              )
            }
          />{' '}
          in use
        </label>
      </div>
    </div>
  );
}
