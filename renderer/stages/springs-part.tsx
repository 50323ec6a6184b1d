import { addPoint, addSpring, freshId, removeSpring } from '../../core/job';
import { bench, edit } from '../state/store';
import { useBench } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { PointTable } from './point-table';

/** A spring at the hinge, or between two points that are added with it where they can be seen. */
function addOne(kind: 'torsion' | 'compression' | 'extension'): void {
  edit('Add a spring', (job) => {
    if (kind === 'torsion')
      return addSpring(job, {
        spring: { name: 'Hinge spring', kind, turns: 'open', rateNmPerDeg: 0.2, preloadNm: 20 },
      });
    const [x, y, z] = bench.getState().sheet.centre.map((v) => Math.round(v)) as [number, number, number];
    const [base, lid] = [freshId(job, 'points', 'spring-base'), freshId(job, 'points', 'spring-lid')];
    let next = addPoint(job, { id: base, name: 'Spring, base end', on: 'base', at: [x, y, z - 150] });
    next = addPoint(next, { id: lid, name: 'Spring, lid end', on: 'lid', at: [x, y, z] });
    const lengthMm = kind === 'compression' ? 250 : 120;
    return addSpring(next, { spring: { name: 'Coil spring', kind, base, lid, lengthMm, rateNPerMm: 1, preloadN: 0 } });
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
                label="Moment when closed"
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
          <button type="button" onClick={() => edit('Remove a spring', (job) => removeSpring(job, { id: s.id }))}>
            Remove
          </button>
        </details>
      ))}
      <div className="row">
        <button type="button" onClick={() => addOne('torsion')}>
          Add a hinge spring
        </button>
        <button type="button" onClick={() => addOne('compression')}>
          Add a push spring
        </button>
        <button type="button" onClick={() => addOne('extension')}>
          Add a pull spring
        </button>
      </div>
    </Part>
  );
}
