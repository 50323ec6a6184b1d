import { studyLines } from '../../../core/find';
import { startStudy, stopStudy, useStudy } from '../../state/study';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

/** How exactly the fitted strut has to be where it is. */
export function ExactPart(): React.JSX.Element {
  const { found, job, busy } = useStudy();
  const present = useBench((s) => s.history.present);
  const resolved = useBench((s) => s.resolved);
  const units = useBench((s) => s.units);
  const stale = job !== null && job !== present;
  const [play, failing, ...rest] = found ? studyLines(resolved, found, units) : [];
  return (
    <Part title="How exact?" folded>
      <p className="hint">
        Builds this lid 100,000 times with everyday errors, and says how often it fails and what would help to know
        better.
      </p>
      <div className="row">
        <button type="button" disabled={busy} onClick={() => void startStudy()}>
          {found ? 'Study it again' : 'Study how exact it must be'}
        </button>
        {busy && (
          <button type="button" onClick={stopStudy}>
            Stop
          </button>
        )}
      </div>
      {found && (
        <div className={stale ? 'study stale' : 'study'} role="status" aria-label="How exact it must be">
          <p>
            <b>{play}</b>
          </p>
          <p>{failing}</p>
          <ul>
            {rest.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
          <p className="hint">
            {stale
              ? 'The job has changed since: study it again.'
              : 'With one load case chosen, the chart of the hand force shows between which forces 90 % of them lie.'}
          </p>
        </div>
      )}
    </Part>
  );
}
