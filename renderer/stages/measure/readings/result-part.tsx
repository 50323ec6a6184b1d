import { applySurvey, directionText } from '../../../../core/survey';
import type { SurveyResult } from '../../../../core/survey';
import { edit, notify } from '../../../state/store';
import { useSurvey } from '../../../state/survey';
import { useBench } from '../../../state/use-bench';
import { prepareEntry, startEditing, switchReading } from '../../../state/readings-store';
import { MovesTable } from './moves-table';
import { scatterWords } from './result-words';
import { OBSERVATION_SHAPE } from '../../../../core/job';

function Doubted({ result }: { result: SurveyResult }): React.JSX.Element | null {
  const observations = useBench((s) => s.history.present.observations) ?? [];
  const { worst } = result;
  if (!worst) return null;
  const ids = [worst.id, ...worst.alike].filter((id) => observations.some((o) => o.id === id));
  if (ids.length === 0) return null;
  const named = new Map(result.readings.map((r) => [r.id, r.name]));
  return (
    <div className="ask doubted" role="alert" data-worst={worst.id}>
      <p>{worst.text}</p>
      {ids.map((id) => {
        const kind = observations.find((o) => o.id === id)!.kind;
        const valued = OBSERVATION_SHAPE[kind].unit !== null && (kind as string) !== 'photo-mark';
        return (
          <div className="row" key={id}>
            {ids.length > 1 && <span>{named.get(id)}:</span>}
            <button
              type="button"
              aria-label={`Switch it off: ${named.get(id)}`}
              onClick={() => switchReading(id, false)}
            >
              Switch it off
            </button>
            {valued && (
              <button
                type="button"
                aria-label={`Measure it again: ${named.get(id)}`}
                onClick={() => startEditing(id, 'value')}
              >
                Measure it again
              </button>
            )}
          </div>
        );
      })}
    </div>
  );
}

/** Which points nothing holds, and which way they can go. */
function Unheld({ result }: { result: SurveyResult }): React.JSX.Element | null {
  const loose = result.points.filter((p) => p.canMove.length > 0);
  if (loose.length === 0) return null;
  return (
    <>
      <p>Not held yet:</p>
      <ul className="steps loose">
        {loose.map((p) => (
          <li key={p.id}>
            {p.name}:{' '}
            {p.canMove.length === 3 ? 'any way' : `can move ${p.canMove.map((d) => directionText(d)).join(' and ')}`}
          </li>
        ))}
      </ul>
    </>
  );
}

/** What the readings come to: how they agree, which to doubt, what to measure next, where the points would go. */
export function ResultPart(): React.JSX.Element | null {
  const { answer, trouble, slow } = useSurvey((s) => s);
  const any = useBench((s) => Boolean(s.history.present.observations?.length));
  if (!any) return null;
  if (trouble)
    return (
      <p className="wrong" role="alert">
        {trouble.what}. {trouble.advice}
      </p>
    );
  if (!answer) return <p role="status">{slow ? 'Working…' : ''}</p>;
  const { result, suggestion, datum } = answer;
  const whole = datum.free === 0;
  // where the survey floats as a whole, the offer to hold it says so already
  const problem = result.reason === 'rank-deficient' && !whole ? null : result.problem;
  const movable = result.points.filter((p) => p.canMove.length === 0);
  return (
    <div className="survey-result" role="group" aria-label="What the readings come to">
      {result.readings.length > 0 && (
        <p className="sum" role="status" data-survey="sum">
          {slow ? 'Working… ' : ''}
          {scatterWords(result)}
        </p>
      )}
      {problem && (
        <p className={result.reason === 'nothing-to-adjust' ? 'hint' : 'wrong'} role="status" data-survey="problem">
          {problem}
        </p>
      )}
      <Doubted result={result} />
      {whole && <Unheld result={result} />}
      {suggestion && whole && (
        <div className="row next">
          <span>
            <strong>Measure next:</strong> {suggestion.text}
          </span>
          <button
            type="button"
            aria-label={`Enter it: ${suggestion.text}`}
            onClick={() => {
              prepareEntry(suggestion.reading as Parameters<typeof prepareEntry>[0]);
            }}
          >
            Enter it
          </button>
        </div>
      )}
      {result.uncontrolled && whole && <p className="hint">{result.uncontrolled}</p>}
      {movable.length > 0 && <MovesTable points={movable} />}
      <button
        type="button"
        className="strong"
        disabled={
          movable.every((p) => p.movedMm < 1e-3) || result.reason === 'stalled' || result.reason === 'limit-reached'
        }
        onClick={() => {
          if (edit('Move the points to where the readings put them', (j) => applySurvey(j, { result })))
            notify(
              `${movable.length} ${movable.length === 1 ? 'point lies' : 'points lie'} where the readings put ${movable.length === 1 ? 'it' : 'them'}. Undo puts ${movable.length === 1 ? 'it' : 'them'} back.`,
            );
        }}
      >
        Move the points to where the readings put them
      </button>
      {result.worst && movable.length > 0 && (
        <p className="hint">One reading is in doubt: settle it first, or it pulls the points its way.</p>
      )}
    </div>
  );
}
