import { useState } from 'react';
import { addLoadCase, addMass } from '../../../core/job';
import { massCentre } from '../../../core/travel';
import type { Host } from '../../host/host';
import { bench, edit } from '../../state/store';
import { StageHead } from '../../ui/stage-head';
import { OneView, SheetViews } from '../../views/sheet-views';
import { useAnswer } from '../answers';
import { CaseMatrix } from './case-matrix';

/** Weigh: the lid from the side with its masses and where they act together, and what is on it in which load case. */
export function WeighMiddle({ host }: { host: Host }): React.JSX.Element {
  const [all, setAll] = useState(false);
  return (
    <>
      <StageHead question="How heavy is it, and where does the weight act?" answer={useAnswer('weigh')}>
        <button
          type="button"
          onClick={() =>
            edit('Add a mass', (job) =>
              addMass(job, {
                name: `Mass ${job.masses.length + 1}`,
                kg: 5,
                at: massCentre(bench.getState().resolved)?.at ?? bench.getState().sheet.centre,
              }),
            )
          }
        >
          Add a mass
        </button>
        <button
          type="button"
          onClick={() =>
            edit('Add a load case', (job) =>
              addLoadCase(job, { off: [], pitchDeg: 0, rollDeg: 0, tempC: 20, force: 'nominal' }),
            )
          }
        >
          Add a load case
        </button>
        <button type="button" onClick={() => setAll(!all)}>
          {all ? 'One view' : 'All views'}
        </button>
      </StageHead>
      <div className="weigh-middle">
        {all ? <SheetViews host={host} /> : <OneView name="side" host={host} />}
        <CaseMatrix />
      </div>
    </>
  );
}
