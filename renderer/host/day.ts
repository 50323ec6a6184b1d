/** The day where the person is, YYYY-MM-DD: the date on papers. */
export function localDay(now: Date): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
