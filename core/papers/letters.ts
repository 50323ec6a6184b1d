import { lettersWithout } from '../drawing';
import type { Issue } from '../error';
import type { ResolvedJob } from '../job';

/** Letters of a job that papers show as boxes, because the drawing font has not got them: which, in which field; none told twice. */
export function boxedLetters(job: ResolvedJob): Issue[] {
  const told = new Set<string>();
  const issues: Issue[] = [];
  const look = (value: unknown, where: readonly (string | number)[]): void => {
    if (typeof value === 'string') {
      const letters = lettersWithout(value).filter((letter) => !told.has(letter));
      for (const letter of letters) told.add(letter);
      if (letters.length > 0)
        issues.push({
          what: `the drawing font has not got ${letters.map(quoted).join(', ')}: papers show a box there`,
          where,
          advice: 'Write it in other letters.',
        });
    } else if (Array.isArray(value)) value.forEach((inner, i) => look(inner, [...where, i]));
    else if (typeof value === 'object' && value !== null)
      for (const [key, inner] of Object.entries(value)) if (key !== 'inside') look(inner, [...where, key]);
  };
  look(job, []);
  return issues;
}

const quoted = (letter: string): string =>
  /\p{C}/u.test(letter) ? `U+${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}` : `“${letter}”`;
