import { wordsOf } from '../../core/error';
import { type ShownUnits, formatQuantity } from '../../core/quantity';
import { goTo } from '../state/session';
import { useSurvey, type SurveyAnswer } from '../state/survey';
import { useTold } from '../state/told';
import { useBench } from '../state/use-bench';

interface Line {
  readonly state: 'watch' | 'unknown' | 'holds';
  readonly text: string;
}

/** Points that lie nearer than this to where the readings put them need no word, mm. */
const NEAR_MM = 1;

/** One line of the findings about the survey, where the job has readings: what to settle before its points are trusted. */
export function SurveyLine(): React.JSX.Element | null {
  const answer = useSurvey((s) => s.answer);
  const trouble = useSurvey((s) => s.trouble);
  const units = useBench((s) => s.units);
  const count = useTold((s) => s.history.present.observations?.length ?? 0);
  if (count === 0 || (!answer && !trouble) || answer?.result.reason === 'nothing-to-adjust') return null;
  const { state, text }: Line = trouble
    ? { state: 'unknown', text: `The readings: ${wordsOf(trouble)}` }
    : lineOf(answer!, units);
  const sign = { watch: '△ Watch', unknown: '? Not known', holds: '✓ Holds' }[state];
  return (
    <div className={`finding ${state}`} data-survey-line={state}>
      <button type="button" className="finding-body" onClick={() => goTo('measure')}>
        <span className="finding-state">{sign}</span>
        <span>{text}</span>
      </button>
    </div>
  );
}

function lineOf({ result, datum }: SurveyAnswer, units: ShownUnits): Line {
  if (result.worst) return { state: 'watch', text: result.worst.text };
  if (datum.free > 0)
    return {
      state: 'unknown',
      text: 'The readings do not say where the points are as a whole: hold some, under Measure.',
    };
  if (result.problem) return { state: 'unknown', text: result.problem };
  const off = Math.max(0, ...result.points.map((p) => p.movedMm));
  if (off > NEAR_MM)
    return {
      state: 'watch',
      text: `The readings put a point ${formatQuantity(off, 'length', units)} from where the job has it.`,
    };
  if (result.uncontrolled) return { state: 'watch', text: result.uncontrolled };
  return { state: 'holds', text: 'The readings agree, and the points lie where they put them.' };
}
