/**
 * A figure as drawings write it: rounded (halves away from 0) to at most `decimals`, no trailing zeros, a decimal point.
 * @example formatNumber(6.60, 2) // "6.6"
 */
export function formatNumber(value: number, decimals: number): string {
  // A hair over, so that 3.175, which binary keeps as 3.17499…, goes to 3.18.
  const text = (value * (1 + 1e-12)).toFixed(decimals);
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
}
