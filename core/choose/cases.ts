import type { Finding, FindingState } from '../findings';
import type { JobLoadCase, ResolvedJob } from '../job';
import type { Workings } from '../workings';

/** What the load cases that are made for the user are made from. */
export interface StandardCaseOptions {
  readonly coldC: number;
  readonly hotC: number;
  /** Nose up and down, degrees; 0 leaves the slope cases out. */
  readonly noseDeg: number;
  /** To either side, degrees; 0 leaves them out. */
  readonly sideDeg: number;
  /** Gauge pressure that an aged strut has lost, percent; 0 leaves the case out. */
  readonly ageLossPercent: number;
  /** Masses that come off: each alone, and all of them. */
  readonly removable: readonly string[];
}

/** −20 and +50 °C, 5° either way, 15 % lost with age: common practice, no source; all the user's to change. */
export const STANDARD_CASES: Omit<StandardCaseOptions, 'removable'> = {
  coldC: -20,
  hotC: 50,
  noseDeg: 5,
  sideDeg: 5,
  ageLossPercent: 15,
};

/** Masses that come off: those that a load case already takes off, else all but the heaviest. */
export function removableMasses(job: ResolvedJob): string[] {
  const off = new Set(job.loadCases.flatMap((c) => c.off));
  if (off.size > 0) return job.masses.filter((m) => off.has(m.id)).map((m) => m.id);
  const heaviest = Math.max(...job.masses.map((m) => m.kg));
  const panel = job.masses.find((m) => m.kg === heaviest);
  return job.masses.filter((m) => m !== panel && m.kg > 0).map((m) => m.id);
}

const celsius = (c: number): string => `${c < 0 ? '−' : ''}${Math.abs(c)} °C`;
const degree = (d: number): string => `${Number(d.toFixed(1))}°`;

/**
 * Load cases for a job, made for the user and his to edit: as used; cold with a weak strut; hot with a strong one; nose
 * and side slopes, cold and weak; each removable mass off, hot and strong, and all of them; an aged strut; of a pair
 * (or of several struts) one lost, which is told, not demanded.
 */
export function standardLoadCases(job: ResolvedJob, options: Partial<StandardCaseOptions> = {}): JobLoadCase[] {
  const o = { ...STANDARD_CASES, removable: removableMasses(job), ...options };
  const cases: JobLoadCase[] = [];
  /** Level, with everything on, at 20 °C and the nominal force where not told otherwise. */
  const add = (id: string, name: string, told: Partial<JobLoadCase> = {}): void => {
    const usual = { off: [], pitchDeg: 0, rollDeg: 0, tempC: 20, force: 'nominal' } as const;
    cases.push({ id: id.slice(0, 60), name, ...usual, ...told });
  };
  const weak = { tempC: o.coldC, force: 'low' } as const;
  const strong = { tempC: o.hotC, force: 'high' } as const;
  add('as-used', 'As used, 20 °C');
  add('cold', `Cold, ${celsius(o.coldC)}, weak strut`, weak);
  add('hot', `Hot, ${celsius(o.hotC)}, strong strut`, strong);
  if (o.noseDeg > 0) {
    add('nose-up', `Nose up ${degree(o.noseDeg)}, cold, weak strut`, { ...weak, pitchDeg: -o.noseDeg });
    add('nose-down', `Nose down ${degree(o.noseDeg)}, cold, weak strut`, { ...weak, pitchDeg: o.noseDeg });
  }
  if (o.sideDeg > 0) {
    // rolled about +X (forward) by a positive angle the left side goes up
    add('left-up', `Left side up ${degree(o.sideDeg)}, cold, weak strut`, { ...weak, rollDeg: o.sideDeg });
    add('left-down', `Left side down ${degree(o.sideDeg)}, cold, weak strut`, { ...weak, rollDeg: -o.sideDeg });
  }
  const name = (id: string): string => job.masses.find((m) => m.id === id)?.name ?? id;
  for (const id of o.removable) add(`off-${id}`, `${name(id)} off, hot, strong strut`, { off: [id], ...strong });
  if (o.removable.length > 1)
    add('all-off', 'All removable off, hot, strong strut', { off: [...o.removable], ...strong });
  const { ageLossPercent } = o;
  if (ageLossPercent > 0)
    add('aged', `Aged strut, ${Number(ageLossPercent.toFixed(1))} % lost, 20 °C`, { ageLossPercent });
  if (job.struts.reduce((n, s) => n + s.quantity, 0) > 1)
    for (const { id, name } of job.struts) {
      const title = name ?? (job.struts.length > 1 ? `Strut ${id}` : 'Strut');
      add(`lost-${id}`, `${title}: one lost, 20 °C`, { lost: [id], mustHold: false });
    }
  return cases;
}

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
