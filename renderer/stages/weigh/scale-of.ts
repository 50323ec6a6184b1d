import type { Num } from '../../../core/job';
import { resolveGivens } from '../../../core/job';
import { type ScaleUnit, evaluateQuantity, namesIn, readScale } from '../../../core/quantity';
import { bench } from '../../state/store';
import { useBench } from '../../state/use-bench';

/** What the person's scale shows: as said in the job, or lb where forces are shown in pounds. */
export function useScale(): ScaleUnit {
  const said = useBench((s) => s.history.present.weighings?.scale);
  const pounds = useBench((s) => s.units.force === 'lbf');
  return said ?? (pounds ? 'lb' : 'kg');
}

/** What was typed for a scale's reading, as it goes into the job. Throws a LidwrightError. */
export function scaleEntry(text: string, scale: ScaleUnit): Num {
  const scope = resolveGivens(bench.getState().history.present);
  const valueN = readScale(text, scale, scope);
  if (!namesIn(text).some((name) => scope.has(name))) return valueN;
  const unit = scale === 'N' ? 'N' : scale === 'kg' ? 'kgf' : 'lbf';
  try {
    evaluateQuantity(text, 'force', scope, unit);
    return { expression: text.trim(), unit };
  } catch {
    // a given that is a mass stands for its weight now; a force field can't hold it
    return valueN;
  }
}

/** What was typed for an angle, in degrees. Throws a LidwrightError. */
export const angleEntry = (text: string): number =>
  evaluateQuantity(text, 'angle', resolveGivens(bench.getState().history.present));
