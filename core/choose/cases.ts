import type { Finding, FindingState } from '../findings';
import type { Workings } from '../workings';

/** One row of the matrix: one check of one thing, over the load cases. */
export interface MatrixRow {
  readonly id: string;
  readonly subject: string;
  /** The load case makes no difference: one finding for all. */
  readonly everyCase: boolean;
  /** One cell a load case, in the job's order; null where the check says nothing there. */
  readonly cells: readonly (Finding | null)[];
  readonly worst: Finding;
}

export interface Matrix {
  readonly caseIds: readonly string[];
  readonly caseNames: readonly string[];
  readonly rows: readonly MatrixRow[];
}

const RANK: Record<FindingState, number> = { fails: 0, unknown: 1, watch: 2, holds: 3 };

/** The worse of two findings of one row: by state, then by what is to spare. */
const worse = (a: Finding, b: Finding): Finding =>
  RANK[b.state] < RANK[a.state] || (RANK[b.state] === RANK[a.state] && (b.margin ?? Infinity) < (a.margin ?? Infinity))
    ? b
    : a;

/** Findings × load cases, worst per row; rows in the order of the checks. */
export function matrix(outcome: Pick<Workings, 'job' | 'findings'>): Matrix {
  const caseIds = outcome.job.loadCases.map((c) => c.id);
  const rows = new Map<string, MatrixRow & { cells: (Finding | null)[]; worst: Finding }>();
  for (const finding of outcome.findings) {
    const { id, subject, everyCase } = finding;
    const key = `${id}\n${subject}`;
    const row = rows.get(key) ?? { id, subject, everyCase, cells: caseIds.map(() => null), worst: finding };
    rows.set(key, row);
    const columns = finding.everyCase ? caseIds.map((_, i) => i) : [caseIds.indexOf(finding.case)];
    for (const i of columns) {
      const old = row.cells[i];
      row.cells[i] = old ? worse(old, finding) : finding;
    }
    row.worst = worse(row.worst, finding);
  }
  return { caseIds, caseNames: outcome.job.loadCases.map((c) => c.name), rows: [...rows.values()] };
}
