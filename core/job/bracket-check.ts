import type { Issue } from '../error';
import { BRACKET_NEEDS } from './bracket-kinds';
import type { Bracket } from './types';

/** What a bracket of its kind lacks: a channel without a gap, a tab whose stud is nowhere. Paths begin with `where`. */
export function bracketNeeds(bracket: Bracket, where: readonly (string | number)[]): Issue[] {
  const issues: Issue[] = [];
  const name = bracket.name ?? bracket.id;
  for (const path of BRACKET_NEEDS[bracket.kind]) {
    const value = path.reduce<unknown>((node, key) => (node as Record<string, unknown> | undefined)?.[key], bracket);
    if (value === undefined)
      issues.push({
        what: `the bracket "${name}" is of the kind ${bracket.kind}, but has no ${path.join('.')}`,
        where: [...where, ...path],
        advice: `Give it, or choose another kind.`,
      });
  }
  if (!bracket.fixings && !bracket.baseHole && (bracket.attach?.by ?? 'bolts') !== 'weld')
    issues.push({
      what: `the bracket "${name}" is bolted, but has no holes for its bolts`,
      where: [...where, 'baseHole'],
      advice: 'Give a pattern in baseHole, or single holes in fixings, or weld it.',
    });
  return issues;
}
