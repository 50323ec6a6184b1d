import { addPoint, freshId, removePoint, usesOfPoint } from '../../core/job';
import { select } from '../state/session';
import { bench, edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { NumberField } from '../ui/number-field';

/** Every point (or those named) with its three coordinates. */
export function PointTable({ only }: { only?: readonly string[] }): React.JSX.Element {
  const points = useBench((s) => s.history.present.points);
  const selected = useBench((s) => (s.selection?.kind === 'point' ? s.selection.id : null));
  return (
    <div className="point-table">
      {points.map((p, i) => {
        if (only && !only.includes(p.id)) return null;
        const free = !only && usesOfPoint(bench.getState().history.present, p.id).length === 0;
        return (
          <fieldset
            key={p.id}
            className={p.id === selected ? 'point chosen' : 'point'}
            onFocus={() => select({ kind: 'point', id: p.id })}
          >
            <legend>
              {p.name ?? p.id} <span className="rides">on the {p.on}</span>
              {free && (
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
              <NumberField key={axis} compact label={axis} path={['points', i, 'at', k]} dimension="length" />
            ))}
          </fieldset>
        );
      })}
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
