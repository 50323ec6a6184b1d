import { useMemo } from 'react';
import { attempt, wordsOf } from '../../../../core/error';
import type { Job } from '../../../../core/job';
import { type RelationReport, relationReport } from '../../../../core/survey';
import { makeThemHold, useRelationStore } from '../../../state/relations';
import { useBench } from '../../../state/use-bench';
import { Part } from '../../../ui/fields';
import { AddRelation } from './add-relation';
import { Asking, Refusal } from './answer';
import { RelationItem } from './relation-item';

/** The report of a job, or why there is none. */
function reportOf(job: Job): RelationReport | string {
  const { value, error } = attempt(() => relationReport(job));
  return error ? wordsOf(error) : value;
}

/** The job at rest: while something is dragged, as it was before. */
function useJobAtRest(): Job {
  return useBench((s) => s.history.mark ?? s.history.present);
}

/** Which ways the chosen point can still go. */
function Ways({ report }: { report: RelationReport }): React.JSX.Element | null {
  const id = useBench((s) => (s.selection?.kind === 'point' ? s.selection.id : null));
  const name = useBench((s) => s.resolved.points.find((p) => p.id === id)?.name ?? id);
  const related = useBench((s) =>
    (s.history.present.relations ?? []).some((r) => {
      const strut = s.history.present.struts.find((x) => x.id === r.strut);
      return r.use !== false && [...(r.points ?? []), strut?.base, strut?.lid].includes(id ?? '');
    }),
  );
  if (!id || !name) return null;
  const ways = report.canMove.find((m) => m.id === id)?.text;
  return (
    <p className="hint" data-ways={id}>
      {!related
        ? `${name} is in no condition: it can move every way.`
        : ways === undefined
          ? `${name} is held: what must hold leaves it no way to move.`
          : `${name} can still move ${ways}.`}
    </p>
  );
}

/** Relations: what is demanded of the points, whether it holds, and one more. */
export function RelationsPart(): React.JSX.Element {
  const job = useJobAtRest();
  const report = useMemo(() => reportOf(job), [job]);
  const asking = useRelationStore((d) => d.asking);
  const drafting = useRelationStore((d) => d.draft !== null);
  const relations = job.relations ?? [];
  const off = typeof report === 'string' ? [] : report.relations.filter((r) => !r.holds);
  return (
    <Part title="What must hold">
      <p className="hint">
        What must hold between points, lid closed: a drag or a changed value then takes other points along, as little as
        needed.
      </p>
      {!drafting && <Asking />}
      {!drafting && <Refusal />}
      {typeof report === 'string' && (
        <p className="wrong" role="alert">
          {report}
        </p>
      )}
      {off.length > 0 && (
        <div className="ask refused" role="status" data-off={off.length}>
          {off.length === 1 ? 'One condition does' : `${off.length} conditions do`} not hold:{' '}
          {off.map((r) => r.name).join('; ')}.
          <div className="row">
            <button type="button" className="strong" disabled={asking !== null} onClick={makeThemHold}>
              Move the points so that they hold
            </button>
          </div>
        </div>
      )}
      <div>
        {relations.map((r, i) => (
          <RelationItem
            key={r.id}
            relation={r}
            index={i}
            state={typeof report === 'string' ? undefined : report.relations.find((s) => s.id === r.id)}
            names={typeof report === 'string' ? [] : report.relations}
          />
        ))}
      </div>
      {typeof report !== 'string' && relations.length > 0 && <Ways report={report} />}
      <AddRelation />
    </Part>
  );
}
