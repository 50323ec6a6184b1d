import { addRelation } from '../../../../core/survey';
import { edit } from '../../../state/store';
import { useSurvey } from '../../../state/survey';

/** Where the survey stands: what holds it as a whole, or a way to hold it. */
export function DatumPart(): React.JSX.Element | null {
  const datum = useSurvey((s) => s.answer?.datum);
  if (!datum || datum.free === 0) return null;
  return (
    <div className="ask datum" role="group" aria-label="Where the survey stands">
      <p>
        {datum.free === 6
          ? 'These readings say how the points lie to one another, not where they all are.'
          : `As a whole the points can still move or turn together in ${datum.free === 1 ? 'one way' : `${datum.free} ways`}.`}
      </p>
      <p className="hint">
        Hold a few of them where they are now. No distance between points is changed by it, and no reading loses its
        check. Or measure from a datum plane: readings of the kind “coordinate”.
      </p>
      <button
        type="button"
        className="strong"
        onClick={() =>
          edit('Hold the survey', (job) =>
            datum.relations.reduce((next, relation) => addRelation(next, { relation }), job),
          )
        }
      >
        Hold: {datum.words}
      </button>
      <p className="hint">They are listed under What must hold, and can be removed there.</p>
    </div>
  );
}
