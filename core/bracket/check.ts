import { LidwrightError } from '../error';
import { checkHoles } from './check-holes';
import { checkNumbers } from './check-numbers';
import { checkRoom } from './check-room';
import { checkShape } from './check-shape';
import type { BracketIssue } from './issue';
import type { BracketSpec } from './kinds';

const CHECKED = new WeakMap<BracketSpec, readonly BracketIssue[]>();

const anyFails = (issues: readonly BracketIssue[]): boolean => issues.some((issue) => issue.severity === 'fails');

function allIssues(spec: BracketSpec): BracketIssue[] {
  const numbers = checkNumbers(spec);
  if (anyFails(numbers)) return numbers;
  const shape = [...numbers, ...checkShape(spec)];
  if (anyFails(shape)) return shape;
  return [...shape, ...checkHoles(spec), ...checkRoom(spec)];
}

/**
 * What stands against making this bracket: stage by stage (numbers, then bends, legs and corners, then holes and room), as a later stage has no
 * meaning before the earlier is right. Empty when there is nothing to say. Each issue names field and cure; a spec is checked once and remembered.
 */
export function checkBracket(spec: BracketSpec): readonly BracketIssue[] {
  const known = CHECKED.get(spec) ?? allIssues(spec);
  CHECKED.set(spec, known);
  return known;
}

/** Throws a LidwrightError with every failing issue when the bracket cannot be made. */
export function requireMakeable(spec: BracketSpec): void {
  const [first, ...rest] = checkBracket(spec).filter((issue) => issue.severity === 'fails');
  if (first) throw new LidwrightError(first, rest);
}
