import type { Issue } from '../error';

/** One thing about a bracket: `fails` cannot be made or has no number; `watch` can be made, with care. Paths lead into the job's bracket. */
export interface BracketIssue extends Issue {
  readonly id: string;
  readonly severity: 'fails' | 'watch';
  /** What the workshop should read on the drawing, when there is something to say. */
  readonly shopNote?: string;
}

export type Where = readonly (string | number)[];

/** A length as it stands in a message. */
export const mm = (value: number): string => `${Number(value.toFixed(2))} mm`;

/** Collects issues; the same id at the same place is said once, at its worst. */
export class IssueList {
  readonly issues: BracketIssue[] = [];

  private add(issue: BracketIssue): void {
    const at = issue.where.join('.');
    const known = this.issues.findIndex((other) => other.id === issue.id && other.where.join('.') === at);
    if (known < 0) this.issues.push(issue);
    // one hole of a pattern may only be near an edge where the next is over it
    else if (issue.severity === 'fails' && this.issues[known]!.severity === 'watch') this.issues[known] = issue;
  }

  fails(id: string, where: Where, what: string, advice: string): void {
    this.add({ id, severity: 'fails', where, what, advice });
  }

  watch(id: string, where: Where, what: string, advice: string, shopNote?: string): void {
    this.add({ id, severity: 'watch', where, what, advice, ...(shopNote === undefined ? {} : { shopNote }) });
  }
}
