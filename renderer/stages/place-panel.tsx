import { addStrut, freshId, removeStrut, addPoint } from '../../core/job';
import { bench, edit } from '../state/store';
import { useMade } from '../state/use-bench';
import { ChoiceField, Part } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { RelationsPart } from './measure/relations/relations-part';
import { ObstaclesPart } from './obstacles-part';
import { PointTable } from './point-table';

/** Adds a strut like the last one, shifted so that it can be seen and dragged. */
function addAnotherStrut(): void {
  edit('Add a strut', (job) => {
    const model = job.struts.at(-1);
    const centre = bench.getState().sheet.centre;
    const place = (id: string | undefined, fall: readonly [number, number, number]): [number, number, number] => {
      const p = job.points.find((q) => q.id === id)?.at.map((v) => (typeof v === 'number' ? v : 0));
      return p ? [p[0]! + 20, p[1]! + 20, p[2]!] : [Math.round(fall[0]), Math.round(fall[1]), Math.round(fall[2])];
    };
    const id = freshId(job, 'struts', 's1');
    const [base, lid] = [freshId(job, 'points', `${id}-base`), freshId(job, 'points', `${id}-lid`)];
    let next = addPoint(job, {
      id: base,
      name: `Strut ${job.struts.length + 1}, base end`,
      on: 'base',
      at: place(model?.base, centre),
    });
    next = addPoint(next, {
      id: lid,
      name: `Strut ${job.struts.length + 1}, lid end`,
      on: 'lid',
      at: place(model?.lid, [centre[0] + 200, centre[1], centre[2] + 200]),
    });
    const end = { fitting: 'ball-stud', rangeDeg: 18, stem: [0, -1, 0] as [number, number, number] };
    return addStrut(next, {
      strut: {
        ...(model ?? {
          quantity: 1 as const,
          spec: {
            extendedMm: 500,
            strokeMm: 200,
            forceN: 300,
            ratio: 1.35,
            rodMm: 8,
            tubeMm: 18,
            frictionN: 30,
            toleranceN: [-25, 25] as [number, number],
          },
          ends: { base: end, lid: end },
        }),
        id,
        name: `Strut ${job.struts.length + 1}`,
        base,
        lid,
      },
    });
  });
}

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
      <h2>Place</h2>
      <p className="hint">
        Drag any point in the side, top or rear view, lid shut or open. Arrow keys nudge a chosen point by 1 mm, Shift
        10, Alt 0.1. Esc takes a drag back.
      </p>
      <Part title="Hinge and travel">
        <ChoiceField
          label="Opens"
          path={['hinge', 'opens']}
          options={[
            ['up', 'up'],
            ['down', 'down'],
          ]}
        />
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
      <button type="button" onClick={addAnotherStrut}>
        Add a strut
      </button>
      <RelationsPart />
      <ObstaclesPart />
      <Part title="Grip">
        <PointTable only={[job.grip]} />
      </Part>
      <Part title="Lid corners" folded>
        <PointTable only={job.outline} />
      </Part>
    </>
  );
}
