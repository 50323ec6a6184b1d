import type { SurveyResult } from '../../../../core/survey';

const times = (n: number): string => (n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`);

/** How the readings agree, in words with degrees of freedom and s0. */
export function scatterWords(result: SurveyResult): string {
  const count = result.readings.length;
  const head = `${count} ${count === 1 ? 'reading' : 'readings'} in use`;
  if (result.freedom === 0 || result.s0 === null) return `${head}. Nothing checks them yet: every one is needed.`;
  const checked = `${head}, ${result.freedom} more than needed: they check one another ${times(result.freedom)}.`;
  const s0 = result.s0.toFixed(2);
  if (result.widened)
    return `${checked} They scatter ${s0} times as much as their ± says (s₀ ${s0}), more than chance does: every ± of a point is widened so much.`;
  return `${checked} They scatter ${s0} times as much as their ± says (s₀ ${s0}): chance alone would do that.`;
}
