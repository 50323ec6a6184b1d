import { NEARLY_UPRIGHT_DEG, type Turn, leanDeg, openTurning, turnOf } from '../../core/travel';
import { edit } from '../state/store';
import { useToldMade } from '../state/told';
import { ChoiceField } from '../ui/fields';

/** Which way the lid opens: up or down; of a hinge that stands nearly upright, which way it turns seen from above. */
export function OpensField(): React.JSX.Element {
  const turn = useToldMade(({ outcome }) => {
    const axis = outcome?.frame.axis;
    return axis && leanDeg(axis) < NEARLY_UPRIGHT_DEG ? turnOf(axis) : null;
  });
  if (turn === null)
    return (
      <ChoiceField
        label="Opens"
        path={['hinge', 'opens']}
        options={[
          ['up', 'up'],
          ['down', 'down'],
        ]}
      />
    );
  return (
    <>
      <div className="field">
        <label>
          Opens, seen from above
          <select
            aria-label="Opens, seen from above"
            value={turn}
            onChange={(e) => edit('Turn the other way', (job) => openTurning(job, { turn: e.target.value as Turn }))}
          >
            <option value="clockwise">clockwise</option>
            <option value="anticlockwise">anticlockwise</option>
          </select>
        </label>
      </div>
      <p className="hint">
        The hinge stands nearly upright, so up and down say little: its lean decides which is which.
      </p>
    </>
  );
}
