import { removeStrut, setValue } from '../../core/job';
import { addAnotherStrut } from '../../core/start';
import { bench, edit } from '../state/store';
import { useMade } from '../state/use-bench';
import { ChoiceField, Part } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { RelationsPart } from './measure/relations/relations-part';
import { HingeScrews } from './hinge-screws';
import { ExactPart } from './place/exact-part';
import { FindPart } from './place/find-part';
import { WishesPart } from './place/wishes-part';
import { LatchPart } from './latch-part';
import { ObstaclesPart } from './obstacles-part';
import { OpensField } from './opens-field';
import { PointTable } from './point-table';

/** Place: hinge, travel, pivots and grip. */
export function PlacePanel(): React.JSX.Element {
  const job = useMade(({ history: { present: j } }) => ({
    hinge: j.hinge,
    grip: j.grip,
    outline: j.outline ?? [],
    struts: j.struts.map(({ id, name, base, lid }) => ({ id, name, base, lid })),
  }));
  return (
    <>
      <p className="hint">
        Drag any point in the side view, from above or from behind, lid closed or open. Arrow keys nudge a chosen point
        by 1 mm, Shift 10, Alt 0.1. Esc takes a drag back.
      </p>
      {job.struts.length > 0 && <FindPart />}
      {job.struts.length > 0 && <WishesPart />}
      {job.struts.length > 0 && <ExactPart />}
      <Part title="Hinge and travel">
        <OpensField />
        <NumberField label="Opens to" path={['travel', 'openDeg']} dimension="angle" />
        <ChoiceField
          label="Stopped by"
          path={['travel', 'stop']}
          options={[
            ['lid', 'a stop of its own'],
            ['strut', 'the strut’s full extension'],
          ]}
        />
        <NumberField label="Hinge friction" path={['hinge', 'frictionNm']} dimension="moment" fallback={0} />
        <NumberField label="One hinge bears" path={['hinge', 'ratedN']} dimension="force" optional />
        <HingeScrews />
        <label className="check">
          <input
            type="checkbox"
            checked={job.hinge.overCentre ?? false}
            onChange={(e) =>
              edit('Mean over-centre or not', (j) =>
                setValue(j, { path: ['hinge', 'overCentre'], value: e.target.checked || undefined }),
              )
            }
          />
          A strut is meant to go over centre
        </label>
        <PointTable only={[job.hinge.a, job.hinge.b]} />
      </Part>
      {job.struts.map((strut, i) => (
        <Part key={strut.id} title={strut.name ?? (job.struts.length > 1 ? `Strut ${i + 1}` : 'Strut pivots')}>
          <ChoiceField
            label="How many"
            path={['struts', i, 'quantity']}
            fallback={1}
            options={[
              [1, 'one'],
              [2, 'a pair, mirrored'],
            ]}
          />
          <PointTable only={[strut.base, strut.lid]} />
          {job.struts.length > 1 && (
            <button type="button" onClick={() => edit('Remove a strut', (j) => removeStrut(j, { id: strut.id }))}>
              Remove this strut
            </button>
          )}
        </Part>
      ))}
      <button
        type="button"
        onClick={() => edit('Add a strut', (j) => addAnotherStrut(j, bench.getState().sheet.centre))}
      >
        Add a strut
      </button>
      <RelationsPart />
      <ObstaclesPart />
      <LatchPart />
      <Part title="Grip">
        <PointTable only={[job.grip]} />
      </Part>
      <Part title="Lid corners" folded>
        <PointTable only={job.outline} />
      </Part>
    </>
  );
}
