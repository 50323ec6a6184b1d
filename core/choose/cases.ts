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
  const level = { pitchDeg: 0, rollDeg: 0 };
  const weak = { off: [], tempC: o.coldC, force: 'low' } as const;
  const strong = { ...level, tempC: o.hotC, force: 'high' } as const;
  const cases: JobLoadCase[] = [
    { id: 'as-used', name: 'As used, 20 °C', off: [], ...level, tempC: 20, force: 'nominal' },
    { id: 'cold', name: `Cold, ${celsius(o.coldC)}, weak strut`, ...level, ...weak },
    { id: 'hot', name: `Hot, ${celsius(o.hotC)}, strong strut`, off: [], ...strong },
  ];
  if (o.noseDeg > 0)
    cases.push(
      {
        id: 'nose-up',
        name: `Nose up ${degree(o.noseDeg)}, cold, weak strut`,
        ...weak,
        pitchDeg: -o.noseDeg,
        rollDeg: 0,
      },
      {
        id: 'nose-down',
        name: `Nose down ${degree(o.noseDeg)}, cold, weak strut`,
        ...weak,
        pitchDeg: o.noseDeg,
        rollDeg: 0,
      },
    );
  if (o.sideDeg > 0)
    cases.push(
      // rolled about +X (forward) by a positive angle the left side goes up
      {
        id: 'left-up',
        name: `Left side up ${degree(o.sideDeg)}, cold, weak strut`,
        ...weak,
        pitchDeg: 0,
        rollDeg: o.sideDeg,
      },
      {
        id: 'left-down',
        name: `Left side down ${degree(o.sideDeg)}, cold, weak strut`,
        ...weak,
        pitchDeg: 0,
        rollDeg: -o.sideDeg,
      },
    );
  const name = (id: string): string => job.masses.find((m) => m.id === id)?.name ?? id;
  for (const id of o.removable)
    cases.push({ id: `off-${id}`.slice(0, 60), name: `${name(id)} off, hot, strong strut`, off: [id], ...strong });
  if (o.removable.length > 1)
    cases.push({ id: 'all-off', name: 'All removable off, hot, strong strut', off: [...o.removable], ...strong });
  if (o.ageLossPercent > 0)
    cases.push({
      id: 'aged',
      name: `Aged strut, ${Number(o.ageLossPercent.toFixed(1))} % lost, 20 °C`,
      off: [],
      ...level,
      tempC: 20,
      force: 'nominal',
      ageLossPercent: o.ageLossPercent,
    });
  const several = job.struts.reduce((n, s) => n + s.quantity, 0) > 1;
  if (several)
    for (const strut of job.struts)
      cases.push({
        id: `lost-${strut.id}`.slice(0, 60),
        name: `${strut.name ?? (job.struts.length > 1 ? `Strut ${strut.id}` : 'Strut')}: one lost, 20 °C`,
        off: [],
        ...level,
        tempC: 20,
        force: 'nominal',
        lost: [strut.id],
        mustHold: false,
      });
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
  const rows = new Map<
    string,
    { id: string; subject: string; everyCase: boolean; cells: (Finding | null)[]; worst: Finding }
  >();
  for (const finding of outcome.findings) {
    const key = `${finding.id}\n${finding.subject}`;
    let row = rows.get(key);
    if (!row) {
      row = {
        id: finding.id,
        subject: finding.subject,
        everyCase: finding.everyCase,
        cells: caseIds.map(() => null),
        worst: finding,
      };
      rows.set(key, row);
    }
    const columns = finding.everyCase ? caseIds.map((_, i) => i) : [caseIds.indexOf(finding.case)];
    for (const i of columns) {
      const old = row.cells[i];
      row.cells[i] = old ? worse(old, finding) : finding;
    }
    row.worst = worse(row.worst, finding);
  }
  return { caseIds, caseNames: outcome.job.loadCases.map((c) => c.name), rows: [...rows.values()] };
}
