import { LidwrightError } from '../../error';
import type { BracketSpec } from '../types';
import { checkHoles } from './holes';
import { type BracketIssue, IssueList } from './issue';
import { checkNumbers } from './numbers';
import { checkRoom } from './room';
import { checkShape } from './shape';

/**
 * What stands against making this bracket: stage by stage (numbers, then bends, legs and corners, then holes and room), as a later stage has no
 * meaning before the earlier is right. Empty when there is nothing to say. Each issue names field and cure.
 */
export function checkBracket(spec: BracketSpec): readonly BracketIssue[] {
  const list = new IssueList();
  checkNumbers(spec, list);
  if (!list.failed) checkShape(spec, list);
  if (list.failed) return list.issues;
  checkHoles(spec, list);
  checkRoom(spec, list);
  return list.issues;
}

/** Throws a LidwrightError with every failing issue when the bracket cannot be made. */
export function requireMakeable(spec: BracketSpec): void {
  const [first, ...rest] = checkBracket(spec).filter((issue) => issue.severity === 'fails');
  if (first) throw new LidwrightError(first, rest);
}
