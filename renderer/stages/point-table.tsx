import { addPoint, freshId, removePoint, setPointCoordinate, usesOfPoint } from '../../core/job';
import { select } from '../state/session';
import { bench, edit } from '../state/store';
import { useBench, useMade } from '../state/use-bench';
import { NumberField } from '../ui/number-field';

/** Every point (or those named) with its three coordinates. */
export function PointTable({ only }: { only?: readonly string[] }): React.JSX.Element {
  const points = useMade(({ history: { present: job } }) =>
    job.points.flatMap(({ id, name, on }, i) =>
      only && !only.includes(id) ? [] : [{ i, id, name, on, free: !only && usesOfPoint(job, id).length === 0 }],
    ),
  );
  const selected = useBench((s) =>
    s.selection?.kind === 'point' && (only?.includes(s.selection.id) ?? true) ? s.selection.id : null,
  );
  return (
    <div className="point-table">
      {points.map((p) => (
        <fieldset
          key={p.id}
          className={p.id === selected ? 'point chosen' : 'point'}
          onFocus={() => select({ kind: 'point', id: p.id })}
        >
          <legend>
            {p.name ?? p.id} <span className="rides">on the {p.on}</span>
            {p.free && (
              <button
                type="button"
                className="link"
                onClick={() => edit(`Remove ${p.name ?? p.id}`, (job) => removePoint(job, { id: p.id }))}
              >
                remove
              </button>
            )}
          </legend>
          {(['X', 'Y', 'Z'] as const).map((axis, k) => (
            <NumberField
              key={axis}
              compact
              label={axis}
              path={['points', p.i, 'at', k]}
              dimension="length"
              put={(job, value) => setPointCoordinate(job, { id: p.id, component: k as 0 | 1 | 2, value })}
            />
          ))}
        </fieldset>
      ))}
      {!only && (
        <button
          type="button"
          onClick={() =>
            edit('Add a point', (job) => {
              const id = freshId(job, 'points', 'point');
              const [x, y, z] = bench.getState().sheet.centre;
              return addPoint(job, {
                id,
                name: `Point ${id.replace('point', '') || '1'}`,
                on: 'base',
                at: [Math.round(x), Math.round(y), Math.round(z)],
              });
            })
          }
        >
          Add a point
        </button>
      )}
    </div>
  );
}
