import { setValue } from '../../core/job';
import { edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { useTold } from '../state/told';
import { ChoiceField, Part, TextField } from '../ui/fields';

const EDGES = ['papers', 'edges'] as const;

/** Edges that a tape can be held to, by name: what the place sheet measures from. */
export function EdgesPart(): React.JSX.Element {
  const edges = useBench((s) => s.history.present.papers?.edges) ?? [];
  const points = useTold((s) => s.resolved.points);
  const options = points.map(({ id, name }) => [id, name ?? id] as const);
  const add = (): void => {
    const [first, second] = points;
    if (first && second)
      edit('Add an edge to measure from', (job) =>
        setValue(job, {
          path: EDGES,
          value: [...(job.papers?.edges ?? []), { name: `edge ${edges.length + 1}`, from: first.id, to: second.id }],
        }),
      );
  };
  const remove = (at: number): void => {
    edit('Remove an edge to measure from', (job) => {
      const rest = (job.papers?.edges ?? []).filter((_, i) => i !== at);
      return setValue(job, { path: EDGES, value: rest.length > 0 ? rest : undefined });
    });
  };
  return (
    <Part title="Edges to measure from">
      <p className="hint">
        Name the edges that a tape reaches, each between two of the job’s points on one body. The place sheet sizes both
        ends from them; without any, from the hinge pin and the lid’s own edges.
      </p>
      {edges.map((edge, i) => (
        <fieldset key={i}>
          <legend>{edge.name}</legend>
          <TextField label="Name of the edge" path={[...EDGES, i, 'name']} />
          <ChoiceField label="Edge from" path={[...EDGES, i, 'from']} options={options} />
          <ChoiceField label="Edge to" path={[...EDGES, i, 'to']} options={options} />
          <button type="button" onClick={() => remove(i)}>
            Remove this edge
          </button>
        </fieldset>
      ))}
      <div className="row">
        <button type="button" disabled={points.length < 2} onClick={add}>
          Add an edge
        </button>
      </div>
    </Part>
  );
}
