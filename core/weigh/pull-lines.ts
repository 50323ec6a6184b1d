import { attempt, fail } from '../error';
import type { JobPull } from '../job';
import { type ScaleUnit, evaluateQuantity, readScale, shownOnScale } from '../quantity';
import { readTable, writeTable } from '../table';

type Pull = Omit<JobPull, 'id'>;

/** Whether a pasted text is a list and not one number with a decimal comma. */
export const isList = (text: string): boolean => /[\t;]|\S\s*\n\s*\S/.test(text.trim());

/**
 * Pulls from a pasted list: a line each, the angle, what the scale showed, and "up" where the pull was straight up. A first
 * line of headings is left out. Throws a LidwrightError that names the line; then nothing is taken.
 */
export function pullsFromLines(text: string, scale: ScaleUnit, usual: 'square' | 'upright'): Pull[] {
  const { rows } = readTable(text);
  const body = rows.filter((r, i) => i > 0 || /\d/.test(r.cells[0] ?? ''));
  if (body.length === 0) return fail('no reading was found in what was pasted', [], 'Paste lines of angle and force.');
  return body.map(({ cells, line, fault }): Pull => {
    if (fault) return fail(`line ${fault.line}: ${fault.what}`, [], fault.advice);
    const [angle = '', force = '', way = ''] = cells;
    if (angle === '' || force === '')
      return fail(
        `line ${line} has no ${angle === '' ? 'angle' : 'force'}`,
        [],
        'Write the angle, then what the scale read.',
      );
    const word = way.trim().toLowerCase();
    if (word !== '' && !/^(straight )?up(right)?$/.test(word) && word !== 'square')
      return fail(`line ${line} ends in "${way.slice(0, 20)}"`, [], 'Write "up" or "square" there, or nothing.');
    const read = <T>(run: () => T): T => {
      const { value, error } = attempt(run);
      return error ? fail(`line ${line}: ${error.message}`, [], 'Correct that line and paste again.') : value;
    };
    const pull = word === '' ? usual : word === 'square' ? 'square' : 'upright';
    return {
      angleDeg: read(() => evaluateQuantity(angle, 'angle')),
      forceN: read(() => readScale(force, scale)),
      ...(pull === 'upright' ? { pull } : {}),
    };
  });
}

/** The same list to copy, with headings. */
export const linesFromPulls = (
  pulls: readonly {
    readonly angleDeg: number;
    readonly forceN: number;
    readonly pull?: 'square' | 'upright' | undefined;
  }[],
  scale: ScaleUnit,
): string =>
  writeTable(
    [
      ['angle (deg)', `scale (${scale})`, 'pull'],
      ...pulls.map((p) => [String(p.angleDeg), shownOnScale(p.forceN, scale), p.pull === 'upright' ? 'up' : 'square']),
    ],
    '\t',
  );
