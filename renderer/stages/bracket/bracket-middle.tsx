import type { Host } from '../../host/host';
import { factorText } from '../../../core/findings';
import { WATCH_FACTOR } from '../../../core/strength';
import { showBracket } from '../../state/bracket-store';
import { useBench } from '../../state/use-bench';
import { Mark } from '../../ui/mark';
import { StageHead } from '../../ui/stage-head';
import { BracketView, FaceChoice, useBracketView } from '../../views/bracket';
import { OneSpace, SheetViews } from '../../views/sheet-views';
import { useAnswer } from '../answers';
import { standing, useAssessment } from './strength-part';

/** Bars that are shown; the rest are stronger than all of these. */
const BARS = 8;
/** The reserve at the right end of the scale. */
const MOST = 5;

/** What each place bears over what it must, weakest first; hatched is too weak. */
function StrengthBars({ id }: { id: string }): React.JSX.Element | null {
  const { found, stale } = useAssessment(id);
  const results = [...(found?.results ?? [])].sort((a, b) => a.safetyFactor - b.safetyFactor);
  const shown = results.slice(0, BARS);
  const more = results.slice(BARS).filter((r) => Number.isFinite(r.safetyFactor));
  const at = (safetyFactor: number): string => `${(100 * Math.min(safetyFactor, MOST)) / MOST}%`;
  return (
    <section className={stale ? 'pane bars stale' : 'pane bars'} aria-label="Strength, weakest first">
      <header>
        <b>Strength, weakest first</b>
        <span>what it bears over what it must, times {found?.loads?.shockFactor ?? '–'} for shocks</span>
        {more.length > 0 && (
          <span>
            {more.length} more, all over {factorText(more[0]!.safetyFactor)}
          </span>
        )}
      </header>
      {shown.length === 0 ? (
        <p className="empty">{stale ? 'Being worked out …' : 'Not known yet: see Strength beside.'}</p>
      ) : (
        <ul>
          {shown.map((r) => (
            <li key={r.id}>
              <span className="bars-name">
                <Mark state={standing(r)} /> {r.name}
              </span>
              <span className="bars-scale">
                <i className="bars-weak" style={{ width: at(1) }} />
                <i className="bars-bar" style={{ width: at(r.safetyFactor) }} />
                <i className="bars-limit" style={{ left: at(1) }} />
                <i className="bars-wish" style={{ left: at(WATCH_FACTOR) }} />
                <b style={{ left: at(r.safetyFactor) }}>
                  {Number.isFinite(r.safetyFactor) ? factorText(r.safetyFactor) : 'no load'}
                </b>
              </span>
            </li>
          ))}
          <li className="bars-foot" aria-hidden="true">
            <span className="bars-name" />
            <span className="bars-scale">
              <em style={{ left: at(1) }}>1, breaks or bends</em>
              <em style={{ left: at(WATCH_FACTOR) }}>{WATCH_FACTOR}, asked for</em>
            </span>
          </li>
        </ul>
      )}
    </section>
  );
}

/** Bracket: the part large with its sizes on it, from another side and in space, and what it bears; or the lid. */
export function BracketMiddle({ host }: { host: Host }): React.JSX.Element {
  const { index, face, offered } = useBracketView();
  const id = useBench((s) => s.resolved.brackets[index]?.id ?? null);
  const answer = useAnswer('bracket');
  const shown = index >= 0 && id !== null;
  return (
    <>
      <StageHead question="Will the bracket bear it?" answer={answer}>
        {shown && <FaceChoice face={face} />}
        {offered && (
          <button type="button" onClick={() => showBracket(!shown)}>
            {shown ? 'On the lid' : 'The bracket'}
          </button>
        )}
      </StageHead>
      {shown ? (
        <div className="bracket-middle">
          <section className="view bracket-large" aria-label="Bracket view">
            <BracketView index={index} face={face} />
          </section>
          <div className="bracket-side">
            <section className="view" aria-label="Bracket, another side">
              <BracketView index={index} face={face === 'side' ? 'front' : 'side'} still />
            </section>
            <OneSpace />
          </div>
          <StrengthBars id={id} />
        </div>
      ) : (
        <SheetViews host={host} />
      )}
    </>
  );
}
