import { addLatch, hasPlate, removeLatch, setValue } from '../../core/job';
import { bench, edit } from '../state/store';
import { useTold } from '../state/told';
import { useBench } from '../state/use-bench';
import { Part } from '../ui/fields';
import { NumberField } from '../ui/number-field';
import { PointTable } from './point-table';

/** A latch where the grip is. */
function latchAtGrip(): void {
  const { points, grip } = bench.getState().resolved;
  const at = points.find((p) => p.id === grip)?.at ?? [0, 0, 0];
  edit('Add a latch', (job) => addLatch(job, { at }));
}

/** What keeps the closed lid shut and what pushes it open there: latch and seal. */
export function LatchPart(): React.JSX.Element {
  const latch = useBench((s) => s.history.present.latch);
  const seal = useBench((s) => s.history.present.seal);
  const pressable = useTold((s) => hasPlate(s.resolved));
  return (
    <Part title="Latch and seal" folded={!latch && !seal}>
      {latch && (
        <>
          <NumberField label="Latch holds" path={['latch', 'ratedN']} dimension="force" optional />
          <PointTable only={[latch.at]} />
        </>
      )}
      {seal && (
        <>
          <NumberField label="Seal pushes, closed" path={['seal', 'forceN']} dimension="force" />
          <NumberField label="Lets go over" path={['seal', 'overMm']} dimension="length" />
          <p className="hint">
            All round together: press the lid down over the middle with a scale, with no strut fitted.
          </p>
        </>
      )}
      {!seal && !pressable && <p className="hint">A seal needs the lid’s corners.</p>}
      <div className="row">
        <button type="button" onClick={() => (latch ? edit('Remove the latch', removeLatch) : latchAtGrip())}>
          {latch ? 'Remove the latch' : 'Add a latch'}
        </button>
        <button
          type="button"
          disabled={!seal && !pressable}
          onClick={() =>
            edit(seal ? 'Remove the seal' : 'Add a seal', (job) =>
              setValue(job, { path: ['seal'], value: seal ? undefined : { forceN: 0, overMm: 8 } }),
            )
          }
        >
          {seal ? 'Remove the seal' : 'Add a seal'}
        </button>
      </div>
    </Part>
  );
}
