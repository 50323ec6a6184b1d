import { type ForceGradient, bands, forceGradient } from '../../core/choose';
import { LidwrightError } from '../../core/error';
import { bench } from './store';

/** Worked out this long after the last change: a dozen windows of force are searched for it, ms. */
const AFTER_MS = 250;

/** Keeps the arrows of the Strut stage up to date while it is shown; never during a drag. */
export function watchPulls(): () => void {
  let timer = 0;
  const look = (): void => {
    window.clearTimeout(timer);
    const { stage, outcome, drag, pulls } = bench.getState();
    if (stage !== 'strut' || !outcome || drag || pulls?.outcome === outcome) return;
    timer = window.setTimeout(() => {
      const now = bench.getState();
      if (now.outcome !== outcome || now.stage !== 'strut' || now.drag) return;
      const byStrut = new Map<string, ForceGradient>();
      for (const strut of outcome.job.struts) {
        try {
          byStrut.set(strut.id, forceGradient(outcome, strut.id));
        } catch (error) {
          // a strut that can't be there has no arrows; the findings say why
          if (!(error instanceof LidwrightError)) throw error;
        }
      }
      bench.setState({ pulls: { outcome, byStrut } });
    }, AFTER_MS);
  };
  look();
  const off = bench.subscribe(look);
  return () => {
    off();
    window.clearTimeout(timer);
  };
}

/** Keeps the bands up to date while one load case is shown strongest in the hand-force chart; never during a drag. */
export function watchBands(): () => void {
  let timer = 0;
  const look = (): void => {
    window.clearTimeout(timer);
    const { chart, caseId, outcome, drag, bands: known } = bench.getState();
    if (chart !== 'hand' || caseId === null || !outcome || drag || known?.outcome === outcome) return;
    timer = window.setTimeout(() => {
      const now = bench.getState();
      if (now.outcome === outcome && !now.drag) bench.setState({ bands: { outcome, byCase: bands(outcome) } });
    }, AFTER_MS);
  };
  look();
  const off = bench.subscribe(look);
  return () => {
    off();
    window.clearTimeout(timer);
  };
}
