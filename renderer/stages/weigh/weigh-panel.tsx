import { useTold } from '../../state/told';
import '../../style/weigh.css';
import { addMass, removeMass } from '../../../core/job';
import { formatQuantity } from '../../../core/quantity';
import { add, scale } from '../../../core/space';
import { bench, edit } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { Part, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { PointTable } from '../point-table';
import { LiftedPart } from './lifted-part';
import { NeedPart } from './need-part';
import { PullsPart } from './pulls-part';

/** Weigh: what is on the lid and where its middle is. */
export function WeighPanel(): React.JSX.Element {
  const masses = useBench((s) => s.history.present.masses);
  const resolved = useTold((s) => s.resolved);
  const outcome = useTold((s) => s.outcome);
  const units = useBench((s) => s.units);
  const at = new Map(resolved.points.map((p) => [p.id, p.at]));
  const total = resolved.masses.reduce((sum, m) => sum + m.kg, 0);
  const middle =
    total > 0
      ? resolved.masses.reduce((sum, m) => add(sum, scale(at.get(m.at) ?? [0, 0, 0], m.kg / total)), [
          0, 0, 0,
        ] as readonly [number, number, number])
      : null;
  const f = (v: number): string => formatQuantity(v, 'length', units);
  return (
    <>
      <p className="hint">
        A level, uniform panel hinged at one edge needs half its weight at the other (common practice): a 25 kg panel
        about 12 kgf.
      </p>
      <h3>From a scale</h3>
      <PullsPart />
      <LiftedPart />
      <h3>Mass items</h3>
      {masses.map((m, i) => (
        <Part key={m.id} title={m.name ?? m.id}>
          <TextField label="Name" path={['masses', i, 'name']} />
          <NumberField label="Mass" path={['masses', i, 'kg']} dimension="mass" />
          <PointTable only={[m.at]} />
          <button
            type="button"
            onClick={() => edit(`Remove ${m.name ?? m.id}`, (job) => removeMass(job, { id: m.id }))}
          >
            Remove
          </button>
        </Part>
      ))}
      <button
        type="button"
        onClick={() =>
          edit('Add a mass', (job) =>
            addMass(job, { name: `Mass ${job.masses.length + 1}`, kg: 5, at: middle ?? bench.getState().sheet.centre }),
          )
        }
      >
        Add a mass
      </button>
      {middle && (
        <p className="sum">
          Together {formatQuantity(total, 'mass', units)}, centre at X {f(middle[0])}, Y {f(middle[1])}, Z{' '}
          {f(middle[2])}.
          {outcome &&
            ` Weight moment when closed: ${formatQuantity(Math.abs(outcome.tables[0]!.weightMomentNm[0]!), 'moment', units)}.`}
        </p>
      )}
      <NeedPart />
      <p className="caution">
        On a road vehicle, a boat or a machine at work, follow local rules for lifting and holding loads, and leave to a
        licensed person what is theirs.
      </p>
    </>
  );
}
