import { addPoint, freshId, setValue } from '../../core/job';
import { bench, edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { PointTable } from './point-table';

/** A spring at the hinge, or between two points that are added with it where they can be seen. */
function add(kind: 'torsion' | 'compression' | 'extension'): void {
  edit('Add a spring', (job) => {
    const taken = new Set((job.springs ?? []).map((s) => s.id));
    let n = 1;
    while (taken.has(`spring${n}`)) n++;
    const id = `spring${n}`;
    if (kind === 'torsion')
      return {
        ...job,
        springs: [
          ...(job.springs ?? []),
          { id, name: 'Hinge spring', kind, turns: 'open' as const, rateNmPerDeg: 0.2, preloadNm: 20 },
        ],
      };
    const [x, y, z] = bench.getState().sheet.centre.map((v) => Math.round(v)) as [number, number, number];
    const [base, lid] = [freshId(job, 'points', `${id}-base`), freshId(job, 'points', `${id}-lid`)];
    let next = addPoint(job, { id: base, name: 'Spring, base end', on: 'base', at: [x, y, z - 150] });
    next = addPoint(next, { id: lid, name: 'Spring, lid end', on: 'lid', at: [x, y, z] });
    return {
      ...next,
      springs: [
        ...(job.springs ?? []),
        {
          id,
          name: 'Coil spring',
          kind,
          base,
          lid,
          lengthMm: kind === 'compression' ? 250 : 120,
          rateNPerMm: 1,
          preloadN: 0,
        },
      ],
    };
  });
}

/** Springs as other or added lifting elements. */
export function SpringsPart(): React.JSX.Element {
  const springs = useBench((s) => s.history.present.springs) ?? [];
  return (
    <Part title="Springs beside the strut" folded={springs.length === 0}>
      {springs.map((s, i) => (
        <details key={s.id} className="item">
          <summary>{s.name ?? s.id}</summary>
          <TextField label="Name" path={['springs', i, 'name']} />
          <ChoiceField
            label="How many"
            path={['springs', i, 'quantity']}
            fallback={1}
            options={[
              [1, 'one'],
              [2, 'a pair'],
            ]}
          />
          {s.kind === 'torsion' ? (
            <>
              <ChoiceField
                label="Turns the lid"
                path={['springs', i, 'turns']}
                fallback="open"
                options={[
                  ['open', 'open'],
                  ['shut', 'shut'],
                ]}
              />
              <NumberField
                label="Moment when shut"
                path={['springs', i, 'preloadNm']}
                dimension="moment"
                fallback={0}
              />
              <NumberField label="Rate, N·m per degree" path={['springs', i, 'rateNmPerDeg']} dimension="number" />
              <NumberField label="Most it may carry" path={['springs', i, 'mostNm']} dimension="moment" />
            </>
          ) : (
            <>
              <NumberField
                label={s.kind === 'compression' ? 'Free or caged length' : 'Length at preload'}
                path={['springs', i, 'lengthMm']}
                dimension="length"
              />
              <NumberField label="Rate, N per mm" path={['springs', i, 'rateNPerMm']} dimension="number" />
              <NumberField label="Preload" path={['springs', i, 'preloadN']} dimension="force" fallback={0} />
              <NumberField label="Most deflection" path={['springs', i, 'mostDeflectionMm']} dimension="length" />
              <PointTable only={[s.base ?? '', s.lid ?? '']} />
            </>
          )}
          <button
            type="button"
            onClick={() =>
              edit('Remove a spring', (job) => {
                const rest = { ...job, springs: job.springs!.filter((x) => x.id !== s.id) };
                // its own two points go with it
                return setValue(rest, {
                  path: ['points'],
                  value: job.points.filter((p) => p.id !== `${s.id}-base` && p.id !== `${s.id}-lid`),
                });
              })
            }
          >
            Remove
          </button>
        </details>
      ))}
      <div className="row">
        <button type="button" onClick={() => add('torsion')}>
          Add a hinge spring
        </button>
        <button type="button" onClick={() => add('compression')}>
          Add a push spring
        </button>
        <button type="button" onClick={() => add('extension')}>
          Add a pull spring
        </button>
      </div>
    </Part>
  );
}
