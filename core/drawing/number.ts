/**
 * A figure as drawings write it: rounded to at most `decimals`, no trailing zeros, a point before the decimals.
 * @example formatNumber(6.60, 2) // "6.6"
 */
export function formatNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const trimmed = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
}
