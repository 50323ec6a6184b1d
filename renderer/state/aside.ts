// What follows from the present job and is worked out beside the page: the bench shows meanwhile what it has.
import { ADVICE, type Workings } from '../../core/workings';
import { type AsideAnswers, ask, asiding } from '../workers';
import { keepBeside } from './beside';
import { type BenchState, bench, takeAdvice, takeFound } from './store';

/** An edit that the next one follows within this time is not asked about, ms. */
const AFTER_MS = 60;
/** Trying what helps takes a core for a second, and nobody reads advice between two edits. */
const ADVICE_AFTER_MS = 400;

type Ask = <K extends keyof AsideAnswers>(want: K, of: Workings, signal: AbortSignal) => Promise<AsideAnswers[K]>;
const askWorker: Ask = (want, { job, units }, signal) =>
  ask(asiding, { job, units, want }, { latestWins: want, signal }) as never;

/** Keeps one answer about the workings that `of` picks. */
const keep = <K extends keyof AsideAnswers>(
  want: K,
  of: (state: BenchState) => Workings | null,
  take: (answer: AsideAnswers[K], outcome: Workings) => void,
  { ask = askWorker, inDrag = false } = {},
): (() => void) =>
  keepBeside<Workings, AsideAnswers[K]>({
    of,
    afterMs: want === 'advice' ? ADVICE_AFTER_MS : AFTER_MS,
    inDrag,
    ask: (outcome, signal) => ask(want, outcome, signal),
    tell: ({ answer, of: outcome, trouble }) => {
      if (answer && outcome) take(answer, outcome);
      else if (trouble && (want === 'findings' || want === 'advice')) takeFound(null, trouble);
    },
  });

/** Has what is slow to find found, from now on; in a drag whenever the pointer rests. */
export const startFindings = (ask?: Ask): (() => void) =>
  keep(
    'findings',
    ({ outcome, pending }) => (pending.some((name) => name !== ADVICE) ? outcome : null),
    (answers) => takeFound(answers),
    { inDrag: true, ...(ask && { ask }) },
  );

/** Has advice tried for what fails, once everything is found. */
export const startAdvice = (ask?: Ask): (() => void) =>
  keep(
    'advice',
    ({ outcome, pending }) => (pending[0] === ADVICE ? outcome : null),
    (advice, outcome) => takeAdvice(advice, outcome),
    ask && { ask },
  );

/** Keeps the arrows of the Strut stage up to date while it is shown. */
export const watchPulls = (): (() => void) =>
  keep(
    'pulls',
    ({ stage, outcome }) => (stage === 'strut' ? outcome : null),
    (byStrut, outcome) => bench.setState({ pulls: { outcome, byStrut } }),
  );

/** Keeps what struts need up to date while the Strut stage is shown. */
export const watchNeeds = (): (() => void) =>
  keep(
    'needs',
    ({ stage, outcome }) => (stage === 'strut' ? outcome : null),
    (byStrut, outcome) => bench.setState({ needs: { outcome, byStrut } }),
  );

/** Keeps what assumed numbers may change up to date while the Strut stage is shown. */
export const watchAssumed = (ask?: Ask): (() => void) =>
  keep(
    'assumed',
    ({ stage, outcome }) =>
      stage === 'strut' && outcome?.job.struts.some((s) => s.spec.assumed?.length) ? outcome : null,
    (spread, outcome) => bench.setState({ assumed: { outcome, spread } }),
    ask && { ask },
  );

/** Keeps the bands up to date while one load case is shown strongest in the hand-force chart. */
export const watchBands = (): (() => void) =>
  keep(
    'bands',
    ({ chart, caseId, outcome }) => (chart === 'hand' && caseId !== null ? outcome : null),
    (byCase, outcome) => bench.setState({ bands: { outcome, byCase } }),
  );
