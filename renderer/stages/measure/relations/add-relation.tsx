import { useMemo, useState } from 'react';
import { attempt, wordsOf } from '../../../../core/error';
import { type Job, type JobRelation, RELATION_KINDS, RELATION_SHAPE, type RelationKind } from '../../../../core/job';
import { formatEntry, shownUnit } from '../../../../core/quantity';
import { presentValue } from '../../../../core/survey';
import { demandRelation, setDraft, startDraft, useRelationStore } from '../../../state/relations';
import { FORMS, KIND_WORDS, type RelationDraft, emptyDraft, relationOf, rolesOf } from '../../../state/relations-draft';
import { presentJob } from '../../../state/store';
import { useBench } from '../../../state/use-bench';
import { ReadAs, quantityWords, useHeldForm } from '../../../ui/entry';
import { readEntry } from '../../../ui/number-field';
import { Asking, Refusal } from './answer';
import { VIEW_WORDS } from './relation-item';

/** The value as the points stand, or the words why there is none yet. */
function presentOf(job: Job, relation: Omit<JobRelation, 'id'> | null): ReturnType<typeof presentValue> | string {
  if (!relation) return null;
  const { value, error } = attempt(() => presentValue(job, relation));
  return error ? wordsOf(error) : value;
}

function Draft({ draft }: { draft: RelationDraft }): React.JSX.Element {
  const job = useBench((s) => s.history.mark ?? s.history.present);
  const units = useBench((s) => s.units);
  const asking = useRelationStore((d) => d.asking);
  const [wrong, setWrong] = useState('');
  const relation = useMemo(() => relationOf(draft, job), [draft, job]);
  const present = useMemo(() => presentOf(job, relation), [job, relation]);
  const forms = FORMS[draft.kind];
  const { axis } = forms[draft.form]!;
  const takesStrut = RELATION_SHAPE[draft.kind].points[1] === 0;
  const next = draft.points.indexOf('');
  const roles = rolesOf(draft);
  const patch = (change: Partial<RelationDraft>): void => {
    setWrong('');
    setDraft({ ...draft, ...change });
  };
  const measured = typeof present === 'object' && present !== null ? present : null;
  const dimension = measured?.key === 'valueDeg' ? 'angle' : 'length';
  const shown = draft.text ?? (measured ? formatEntry(Number(measured.value.toFixed(3)), dimension, units) : '');

  const add = (): void => {
    if (!relation) return setWrong('Choose its points first.');
    const { error } = attempt(() => {
      const value = measured ? { [measured.key]: readEntry(shown, dimension) } : {};
      demandRelation({ ...relation, ...value });
    });
    setWrong(error ? wordsOf(error) : '');
  };

  // demanding moves points: that is for its button alone
  const field = useHeldForm('Value of the condition', draft.text === null);

  return (
    <div className="item relation-draft">
      <div className="item-head">
        <strong>New: {KIND_WORDS[draft.kind]}</strong>
      </div>
      {forms.length > 1 && (
        <div className="field">
          <label>
            Of
            <select
              aria-label="Form of the condition"
              value={draft.form}
              onChange={(e) => setDraft(emptyDraft(draft.kind, presentJob(), Number(e.target.value)))}
            >
              {forms.map((f, i) => (
                <option key={f.words} value={i}>
                  {f.words}
                </option>
              ))}
            </select>
          </label>
        </div>
      )}
      {next >= 0 && (
        <p className="ask" role="status">
          Click the point for “{roles[next]}” in a view, or choose it here.
        </p>
      )}
      {draft.points.map((id, i) => (
        <div className="field" key={i}>
          <label>
            {roles[i]}
            <select
              aria-label={roles[i]}
              value={id}
              onChange={(e) => patch({ points: draft.points.map((p, k) => (k === i ? e.target.value : p)) })}
            >
              <option value="">choose…</option>
              {job.points.map((p) => (
                <option key={p.id} value={p.id}>
                  {p.name ?? p.id}
                </option>
              ))}
            </select>
          </label>
        </div>
      ))}
      {draft.kind === 'in-line' && draft.points.length < RELATION_SHAPE['in-line'].points[1] && (
        <button type="button" className="link" onClick={() => patch({ points: [...draft.points, ''] })}>
          one more point
        </button>
      )}
      {takesStrut && (
        <div className="field">
          <label>
            Strut
            <select aria-label="Strut" value={draft.strut} onChange={(e) => patch({ strut: e.target.value })}>
              {job.struts.length === 0 && <option value="">there is none</option>}
              {job.struts.map((s, i) => (
                <option key={s.id} value={s.id}>
                  {s.name ?? `Strut ${i + 1}`}
                </option>
              ))}
            </select>
          </label>
        </div>
      )}
      {RELATION_SHAPE[draft.kind].view && (
        <div className="field">
          <label>
            Holds
            <select
              aria-label="Where it holds"
              value={draft.view ?? ''}
              onChange={(e) => patch({ view: (e.target.value || null) as RelationDraft['view'] })}
            >
              {VIEW_WORDS.map(([value, words]) => (
                <option key={value} value={value}>
                  {words}
                </option>
              ))}
            </select>
          </label>
        </div>
      )}
      {measured && (
        <div className="field">
          <label>
            {axis ? `At ${axis} =` : dimension === 'angle' ? 'Angle' : 'Length'}
            <span className="entry">
              <input
                ref={field}
                aria-label="Value of the condition"
                aria-describedby="relation-read"
                value={shown}
                autoComplete="off"
                spellCheck={false}
                onChange={(e) => patch({ text: e.target.value })}
                onKeyDown={(e) => {
                  if (e.key === 'Enter') add();
                  else if (e.key === 'Escape' && draft.text !== null) {
                    patch({ text: null });
                    e.stopPropagation();
                  }
                }}
              />
              <ReadAs id="relation-read" text={draft.text} words={(text) => quantityWords(text, dimension)} />
              <span className="unit">{shownUnit(dimension, units).sign}</span>
            </span>
          </label>
        </div>
      )}
      {measured && <p className="hint">{draft.text === null ? 'As it is now. It may name a given.' : 'As typed.'}</p>}
      {(wrong || typeof present === 'string') && (
        <span className="wrong" role="alert">
          {wrong || (present as string)}
        </span>
      )}
      <Asking />
      <Refusal />
      <div className="row">
        <button type="button" className="strong" disabled={relation === null || asking !== null} onClick={add}>
          Add
        </button>
        <button type="button" onClick={() => setDraft(null)}>
          Cancel
        </button>
      </div>
    </div>
  );
}

/** Puts a new relation together: its kind, its points by name or by clicks in the views, its value. */
export function AddRelation(): React.JSX.Element {
  const draft = useRelationStore((d) => d.draft);
  return (
    <>
      {draft && <Draft key={`${draft.kind}${draft.form}`} draft={draft} />}
      <div className="field">
        <label>
          Add
          <select
            aria-label="Add a condition"
            value=""
            onChange={(e) => e.target.value && startDraft(e.target.value as RelationKind)}
          >
            <option value="">a condition…</option>
            {RELATION_KINDS.map((kind) => (
              <option key={kind} value={kind}>
                {KIND_WORDS[kind]}
              </option>
            ))}
          </select>
        </label>
      </div>
    </>
  );
}
