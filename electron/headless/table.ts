// Findings as a table for a terminal: worst first, every line within the width, the state in words.

/** What the table shows of a finding. */
export interface ShownFinding {
  readonly id: string;
  readonly case: string | null;
  readonly subject: string | null;
  readonly state: 'holds' | 'watch' | 'fails' | 'unknown';
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string;
  readonly text: string;
  readonly advice?: string | null;
  /** Told below, and not counted. */
  readonly caution?: boolean;
}

const WORDS = { fails: 'FAILS', unknown: 'not known', watch: 'watch', holds: 'holds' } as const;
const ORDER = ['fails', 'unknown', 'watch', 'holds'] as const;
const GAP = 2;
const NARROWEST_TEXT = 30;

/** Text from a job can't steer the terminal: control characters become spaces. */
export const plain = (text: string): string =>
  [...text].map((char) => (/\p{Cc}|\p{Cf}/u.test(char) ? ' ' : char)).join('');

/** A number stays on the same line as its unit. */
const bind = (text: string): string => text.replace(/(\d) (?=(?:N·m|N|mm|kg|J|°C|%)(?![\p{L}\d]))/gu, '$1\u00a0');

const width = (text: string): number => [...text].length;
const pad = (text: string, to: number): string => text + ' '.repeat(Math.max(0, to - width(text)));

/** Breaks text at spaces into lines of at most `columns` characters; a longer word is cut. */
export function wrap(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (let word of bind(text)
    .split(/[ \t\r\n]+/)
    .filter(Boolean)) {
    while (width(word) > columns) {
      const room = line === '' ? columns : columns - width(line) - 1;
      const chars = [...word];
      if (room >= 4 || line === '') {
        lines.push(line === '' ? chars.slice(0, room).join('') : `${line} ${chars.slice(0, room).join('')}`);
        word = chars.slice(room).join('');
      } else lines.push(line);
      line = '';
    }
    if (word === '') continue;
    if (line !== '' && width(line) + 1 + width(word) > columns) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') lines.push(line);
  return lines.length === 0 ? [''] : lines.map((each) => each.replaceAll('\u00a0', ' '));
}

/** "2 fail, 1 not known, 3 to watch, 12 hold" */
export function countWords(findings: readonly ShownFinding[]): string {
  const count = (state: ShownFinding['state']): number =>
    findings.filter((each) => each.state === state && !each.caution).length;
  const verb = (number: number, one: string, many: string): string => `${number} ${number === 1 ? one : many}`;
  const parts = [
    verb(count('fails'), 'fails', 'fail'),
    `${count('unknown')} not known`,
    `${count('watch')} to watch`,
    verb(count('holds'), 'holds', 'hold'),
  ];
  return parts.filter((part) => !part.startsWith('0 ')).join(', ') || 'no findings';
}

/** Worst first, cautions after what can be cleared; the order within one state stays as it came. */
export const worstFirst = <T extends ShownFinding>(findings: readonly T[]): T[] =>
  ORDER.flatMap((state) => {
    const same = findings.filter((finding) => finding.state === state);
    return [...same.filter((finding) => !finding.caution), ...same.filter((finding) => finding.caution)];
  });

/**
 * The whole table.
 * @param columns the terminal's width in characters
 */
export function findingsTable(title: string, findings: readonly ShownFinding[], columns: number): string {
  const heads = ['State', 'Case', 'Part'];
  const rows = worstFirst(findings).map((finding) => ({
    cells: [
      finding.caution && finding.state === 'watch' ? 'caution' : WORDS[finding.state],
      plain(finding.case ?? 'all'),
      plain(finding.subject ?? '–'),
    ],
    words: [plain(finding.text), ...(finding.advice && finding.state !== 'holds' ? [plain(finding.advice)] : [])],
  }));
  const cap = Math.max(9, Math.floor(columns / 5));
  const widths = heads.map((head, at) =>
    Math.min(cap, Math.max(width(head), ...rows.map((row) => width(row.cells[at] ?? '')))),
  );
  const before = widths.reduce((sum, each) => sum + each + GAP, 0);
  const head = wrap(`${plain(title)}: ${countWords(findings)}`, columns);

  if (columns - before < NARROWEST_TEXT) {
    // too narrow for columns: one block a finding
    const blocks = rows.map(({ cells, words }) =>
      [
        ...wrap(cells.join(' · '), columns),
        ...words.flatMap((text) => wrap(text, columns - 2).map((line) => `  ${line}`)),
      ].join('\n'),
    );
    return `${[...head, '', ...blocks].join('\n')}\n`;
  }

  const line = (cells: readonly string[], text: string): string =>
    (cells.map((cell, at) => pad(cell, (widths[at] ?? 0) + GAP)).join('') + text).trimEnd();
  const lines = rows.flatMap(({ cells, words }) => {
    const wrappedCells = cells.map((cell, at) => wrap(cell, widths[at] ?? 1));
    const texts = words.flatMap((text) => wrap(text, columns - before));
    const height = Math.max(texts.length, ...wrappedCells.map((cell) => cell.length));
    return Array.from({ length: height }, (_, row) =>
      line(
        wrappedCells.map((cell) => cell[row] ?? ''),
        texts[row] ?? '',
      ),
    );
  });
  const rule = '─'.repeat(Math.min(columns, before + Math.max(...lines.map((each) => width(each) - before), 7)));
  return `${[...head, '', line(heads, 'Finding'), rule, ...lines].join('\n')}\n`;
}
