import type { Issue } from '../../error';
import type { BracketSpec } from '../types';

/** One thing about a bracket: `fails` cannot be made or has no number; `watch` can be made, with care. Paths lead into the job's bracket. */
export interface BracketIssue extends Issue {
  readonly id: string;
  readonly severity: 'fails' | 'watch';
  /** What the workshop should read on the drawing, when there is something to say. */
  readonly shopNote?: string;
}

export type Where = readonly (string | number)[];

/** Lengths over this are taken for a slip of the keyboard, mm. */
export const LONGEST_MM = 5000;

/** A length as it stands in a message. */
export const mm = (value: number): string => `${Number(value.toFixed(2))} mm`;

/** Where a fixing's number stands in the job: in the pattern, or at its own hole. */
export const fixingWhere = (
  { patterned }: BracketSpec,
  i: number,
  key: 'diameterMm' | 'fromEndMm' | 'acrossMm' | 'slotMm' | 'slotDeg',
): Where => (patterned ? ['baseHole', key === 'acrossMm' ? 'spacingMm' : key] : ['fixings', i, key]);

/** Room a socket spanner takes round a screw, mm from its middle: 0.75 × width across flats + 1. Common practice, no source. */
export const spannerRoomMm = (acrossFlatsMm: number): number => 0.75 * acrossFlatsMm + 1;

/** Whether screws stand in the fixing holes. */
export const bolted = (spec: BracketSpec): boolean => spec.attachedBy !== 'weld' && spec.fixings.length > 0;

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

  get failed(): boolean {
    return this.issues.some((issue) => issue.severity === 'fails');
  }

  fails(id: string, where: Where, what: string, advice: string): void {
    this.add({ id, severity: 'fails', where, what, advice });
  }

  watch(id: string, where: Where, what: string, advice: string, shopNote?: string): void {
    this.add({ id, severity: 'watch', where, what, advice, ...(shopNote === undefined ? {} : { shopNote }) });
  }

  /** A distance from the centre line must be a length of either sign. */
  across(where: Where, value: number): void {
    if (!Number.isFinite(value) || Math.abs(value) > LONGEST_MM)
      this.fails('number', where, `The distance from the centre line is ${value} mm.`, 'Give a length in mm.');
  }
}
