import { attempt } from '../error';
import { type Job, type Num, resolveGivens } from '../job';
import { type ScaleUnit, UNIT_OF_SCALE, evaluateQuantity, namesIn, readScale } from '../quantity';

/**
 * What was typed for a scale's reading, as it goes into the job: N, or the expression where it names a given. A given that is
 * a mass stands for its weight now, because a force field can't hold it. Throws a LidwrightError as readScale does.
 */
export function scaleEntry(job: Job, text: string, scale: ScaleUnit): Num {
  const scope = resolveGivens(job);
  const valueN = readScale(text, scale, scope);
  const unit = UNIT_OF_SCALE[scale];
  const named = namesIn(text).some((name) => scope.has(name));
  return named && !attempt(() => evaluateQuantity(text, 'force', scope, unit)).error
    ? { expression: text.trim(), unit }
    : valueN;
}
