import { relationName } from '../../../../core/survey';
import { chooseRelation, dismissRefusal, stopAsking, useRelationStore } from '../../../state/relations';
import { useMade } from '../../../state/use-bench';
import { namesOf } from './names';

/** A check under way, with a way out. */
export function Asking(): React.JSX.Element | null {
  const asking = useRelationStore((d) => d.asking);
  if (asking === null) return null;
  return (
    <div className="ask" role="status">
      {asking}: checking it against what else must hold…
      <div className="row">
        <button type="button" onClick={stopAsking}>
          Stop
        </button>
      </div>
    </div>
  );
}

/** Shows a relation in the list and in the views. */
function showRelation(id: string): void {
  chooseRelation(id);
  document.querySelector(`[data-relation="${CSS.escape(id)}"]`)?.scrollIntoView({ block: 'nearest' });
}

/** What was refused and why; each relation that it fights can be looked at. */
export function Refusal(): React.JSX.Element | null {
  const refusal = useRelationStore((d) => d.refusal);
  const fights = useMade(({ resolved }) => {
    if (!refusal) return [];
    const names = namesOf(resolved);
    return resolved.relations
      .filter((r) => refusal.fights.includes(r.id))
      .map((r) => ({ id: r.id, name: relationName(r, names) }));
  });
  if (!refusal) return null;
  return (
    <div className="ask refused" role="alert" data-refusal>
      <p>
        <strong>{refusal.what}: not done.</strong> {refusal.text} Nothing was changed.
      </p>
      <div className="row">
        {fights.map((r) => (
          <button type="button" key={r.id} onClick={() => showRelation(r.id)}>
            Show: {r.name}
          </button>
        ))}
        <button type="button" onClick={dismissRefusal}>
          Close
        </button>
      </div>
    </div>
  );
}
