/** A list of as many struts as asked for, by rule: lengths about the example's, so that the search has work to do. mm, N. */
export function listOf(count: number): string {
  const rows = ['Name,Extended length (mm),Stroke (mm),Rod (mm),Tube (mm),Force min (N),Force max (N),Force step (N)'];
  for (let i = 0; i < count; i++) {
    const lengthMm = 600 + (i % 60);
    const strokeMm = 245 + (Math.floor(i / 60) % 40);
    rows.push(`Made ${i + 1},${lengthMm},${strokeMm},10,22,500,1100,25`);
  }
  return `${rows.join('\n')}\n`;
}

/** Rows of a plain CSV file, cells unquoted. */
export const parseCsv = (text: string): string[][] =>
  text
    .replace(/^\ufeff/, '')
    .trim()
    .split(/\r?\n/)
    .map((line) => line.split(',').map((cell) => cell.replace(/^"(.*)"$/, '$1')));
