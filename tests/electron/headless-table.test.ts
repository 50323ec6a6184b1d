import { describe, expect, it } from 'vitest';
import { countWords, findingsTable, plain, type ShownFinding, worstFirst, wrap } from '../../electron/headless/table';

const finding = (state: ShownFinding['state'], more: Partial<ShownFinding> = {}): ShownFinding => ({
  id: 'x',
  case: 'normal',
  subject: 's1',
  state,
  value: 1,
  limit: 2,
  unit: 'mm',
  text: `A sentence about something that ${state}, long enough to need more than one line of the table.`,
  advice: 'Turn the mount to −49°.',
  ...more,
});

const widest = (table: string): number => Math.max(...table.split('\n').map((line) => [...line].length));

describe('the table of findings', () => {
  it('keeps every line within the width, whatever it is', () => {
    const findings = [
      finding('holds'),
      finding('fails', {
        case: 'a-case-with-a-very-long-name-indeed-longer-than-its-column',
        subject: 'hingeAandStrut'.repeat(4),
      }),
      finding('unknown', { text: 'W'.repeat(300) }),
    ];
    for (const columns of [30, 40, 61, 80, 100, 200])
      expect(
        widest(findingsTable('A title that goes on and on and on for quite a while', findings, columns)),
        `${columns}`,
      ).toBeLessThanOrEqual(columns);
  });

  it('puts the worst first and says the state in words', () => {
    const mixed = [finding('holds'), finding('watch'), finding('fails'), finding('unknown')];
    expect(worstFirst(mixed).map(({ state }) => state)).toEqual(['fails', 'unknown', 'watch', 'holds']);
    const table = findingsTable('T', mixed, 100);
    const at = ['FAILS', 'not known', '\nwatch', '\nholds'].map((word) => table.indexOf(word, table.indexOf('───')));
    expect(at).toEqual([...at].sort((a, b) => a - b));
    expect(at.every((place) => place > 0)).toBe(true);
  });

  it('counts in words', () => {
    expect(countWords([])).toBe('no findings');
    expect(countWords([finding('fails')])).toBe('1 fails');
    expect(countWords([finding('fails'), finding('fails'), finding('holds'), finding('watch')])).toBe(
      '2 fail, 1 to watch, 1 holds',
    );
    expect(countWords(Array.from({ length: 10 }, () => finding('unknown')))).toBe('10 not known');
  });

  it('shows advice except where nothing needs doing', () => {
    expect(findingsTable('T', [finding('fails')], 100)).toContain('Turn the mount');
    expect(findingsTable('T', [finding('holds')], 100)).not.toContain('Turn the mount');
  });

  it('lets no job steer the terminal', () => {
    expect(plain('a\u001b[31mred\u0007\nb\u202e')).toBe('a [31mred  b ');
    expect(findingsTable('\u001b]0;x\u0007', [finding('fails', { text: '\u001b[2J' })], 80)).not.toContain('\u001b');
  });
});

describe('wrap', () => {
  it('breaks at spaces, cuts what is too long, and keeps a number with its unit', () => {
    expect(wrap('one two three', 7)).toEqual(['one two', 'three']);
    expect(wrap('abcdefghij', 4)).toEqual(['abcd', 'efgh', 'ij']);
    expect(wrap('it needs 284 N here', 13)).toEqual(['it needs', '284 N here']);
    expect(wrap('12 Nails', 5)).toEqual(['12', 'Nails']);
    expect(wrap('', 10)).toEqual(['']);
  });
});
