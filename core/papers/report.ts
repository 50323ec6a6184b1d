import type { Sheet } from '../drawing';
import { type Finding, type FindingState, aboutOf, countOf, worstFirst } from '../findings';
import { type Throw, dropEnergyJ, latchN, restAngles } from '../travel';
import type { Workings } from '../workings';
import type { SheetOptions } from './bracket-sheet';
import { CAUTIONS } from './cautions';
import { chartHeightMm, chartPart } from './chart';
import { Flow } from './flow';
import { paperFormats } from './formats';
import { firstPage } from './report-first';
import { reportCharts } from './report-charts';
import { figure, inputTables, strutTitle } from './report-tables';
import { slimHeadOf } from './numbers';

/** One check of a bracket's strength, as the report prints it. */
export interface StrengthRow {
  readonly bracket: string;
  /** What is checked: "Stud, bending at the thread root". */
  readonly check: string;
  /** Demand and capacity with their units. */
  readonly demand: string;
  readonly capacity: string;
  /** capacity / demand; null where it is not known. */
  readonly safetyFactor: number | null;
  readonly state: FindingState;
  /** Load case and opening angle where it is worst. */
  readonly where: string;
  /** Where formula and capacity come from. */
  readonly source: string;
}

export interface ReportOptions extends SheetOptions {
  /** Name and version of the program. */
  readonly program: string;
  /** Left out: the report says that the strength of the bracket was not checked. */
  readonly strength?: {
    readonly rows: readonly StrengthRow[];
    /** The largest force on each bracket, a line each. */
    readonly told: readonly string[];
    /** What was taken where the job says nothing. */
    readonly assumed: readonly string[];
    readonly cautions: readonly string[];
  };
  /** For each strut how far its balls may be off their marks, in a sentence; null where something fails as it is. */
  readonly plays?: readonly (string | null)[];
}

const STATE_WORDS: Readonly<Record<FindingState, string>> = {
  fails: 'fails',
  unknown: 'not known',
  watch: 'watch',
  holds: 'holds',
};
const PLOT_MM = 46;

const ASSUMED = [
  'Statics only: no opening speed, no damping, no shocks beyond a factor that is stated.',
  'The lid, its mounts and the base are rigid.',
  'The gas in a strut follows pressure · volume = constant at one temperature, and pressure grows with absolute temperature. Friction opposes the motion.',
  'Forces of a strut are those at 20 °C unless the load case names another temperature.',
];

function findingRow(f: Finding, names: { caseOf: (id: string) => string; subject: (id: string) => string }): string[] {
  const value = (v: number | null): string =>
    v === null ? '–' : `${figure(v, 1)}${f.unit === '°' ? '' : ' '}${f.unit}`.trim();
  const place = [f.everyCase ? '' : names.caseOf(f.case), f.worstDeg === null ? '' : `${figure(f.worstDeg, 1)}°`];
  return [
    STATE_WORDS[f.state],
    [names.subject(f.subject), ...place].filter((t) => t !== '').join(', '),
    f.state === 'holds' || f.advice === '' ? f.text : `${f.text} ${f.advice}`,
    value(f.value),
    value(f.limit),
    value(f.margin),
  ];
}

function findings(flow: Flow, outcome: Workings): void {
  const { job } = outcome;
  const cases = new Map(job.loadCases.map((c) => [c.id, c.name]));
  const subjects = new Map<string, string>([
    ...job.brackets.map((b): [string, string] => [b.id, b.name ?? b.id]),
    ...job.struts.map((s, i): [string, string] => [s.id, strutTitle(s, i, job.struts.length)]),
  ]);
  const count = (state: FindingState): number => countOf(outcome.findings, state);
  flow.heading(
    `Findings: ${count('fails')} fail, ${count('unknown')} not known, ${count('watch')} to watch, ${count('holds')} hold`,
    30,
  );
  const names = { caseOf: (id: string) => cases.get(id) ?? id, subject: (id: string) => subjects.get(id) ?? id };
  const columns = { State: 16, 'What, where': 32, Finding: 70, Value: 19, Limit: 17, Reserve: 18 };
  const sorted = worstFirst(outcome.advised);
  const rows = (pick: (f: Finding) => boolean): string[][] => sorted.filter(pick).map((f) => findingRow(f, names));
  flow.table(
    columns,
    rows((f) => f.caution !== true && f.state !== 'holds'),
  );
  flow.heading('What holds, in short');
  flow.table(
    { Check: 60, 'What, where': 60, Value: 18, Limit: 16, Reserve: 18 },
    sorted
      .filter((f) => f.caution !== true && f.state === 'holds')
      .map((f) => {
        const [, where, , ...numbers] = findingRow(f, names);
        return [aboutOf(f.id).name, where!, ...numbers];
      }),
  );
  flow.heading('If a strut is lost');
  flow.table(
    columns,
    rows((f) => f.caution === true),
  );
}

/** Least and greatest of what has a value. */
function span(values: ArrayLike<number>, decimals: number, unit: string): string {
  const known = Array.from(values).filter((v) => Number.isFinite(v));
  if (known.length === 0) return 'not known: a strut is out of its stroke';
  return `${figure(Math.min(...known), decimals)} to ${figure(Math.max(...known), decimals)} ${unit}`;
}

function results(flow: Flow, outcome: Workings): void {
  flow.heading('Results by load case', 30);
  flow.table(
    {
      ...{ 'Load case': 5, 'Opens to': 2, 'Hand, opening': 4, 'Hand, closing': 4 },
      ...{ 'Rests at': 4, 'Energy falling shut': 3 },
    },
    outcome.plans.map((plan, i) => {
      const table = outcome.tables[i]!;
      const rests = restAngles(plan);
      return [
        outcome.job.loadCases[i]!.name,
        `${figure(plan.openDeg, 1)}°`,
        span(table.handOpeningN, 0, 'N'),
        span(table.handClosingN, 0, 'N'),
        rests.length === 0 ? 'nowhere in its travel' : rests.map((r) => `${figure(r, 1)}°`).join(', '),
        `${figure(dropEnergyJ(plan), 0)} J`,
      ];
    }),
  );
}

/** How exactly each strut must be where it is, everything else being as it is in the job. */
function howExact(flow: Flow, { job }: Workings, plays: readonly (string | null)[]): void {
  if (plays.length === 0) return;
  flow.heading('How exactly the balls must be placed', 20);
  flow.text(
    plays.map((play, i) => {
      const of = plays.length > 1 ? `${strutTitle(job.struts[i]!, i, plays.length)}: ` : '';
      return `${of}${play ?? 'Something fails as it is, so there is no play to speak of.'}`;
    }),
  );
}

/** What the lid does when nobody holds it, and what keeps it shut, in every load case. */
function lettingGo(flow: Flow, { plans, letGos, job }: Workings): void {
  const gain = (way: Throw | null): string =>
    way === null
      ? 'not known'
      : way.fromDeg === null
        ? '0 J'
        : `${figure(way.energyJ, 1)} J, ${figure(way.fromDeg, 0)}° to ${figure(way.toDeg, 0)}°`;
  flow.heading('When it is let go, by load case (no damping, so at most)', 30);
  flow.table(
    { 'Load case': 5, 'Gains, opening': 4, 'Gains, shutting': 4, 'Push at the grip, closed': 3, 'Latch holds': 3 },
    letGos.map(({ opening, shutting, gripAtShutN }, i) => {
      const latch = latchN(plans[i]!);
      return [
        job.loadCases[i]!.name,
        gain(opening),
        gain(shutting),
        gripAtShutN === null ? 'not known' : `${figure(gripAtShutN, 0)} N`,
        latch !== null ? `${figure(latch, 0)} N` : job.latch ? 'not known' : 'no latch',
      ];
    }),
  );
}

function strength(
  flow: Flow,
  outcome: Workings,
  { rows, told }: Pick<NonNullable<ReportOptions['strength']>, 'rows' | 'told'>,
): void {
  if (outcome.job.brackets.length === 0) return;
  flow.heading('Strength of brackets and fixings', 24);
  if (rows.length === 0) {
    flow.text(['The strength of the brackets, their fixings and the panel under them was not checked.']);
    return;
  }
  if (told.length > 0) flow.text(told);
  const brackets = [...new Set(rows.map((r) => r.bracket))];
  for (const bracket of brackets) {
    const own = rows.filter((r) => r.bracket === bracket);
    if (brackets.length > 1) flow.heading(bracket);
    flow.table(
      { Check: 50, Demand: 22, Capacity: 22, Reserve: 17, State: 15, 'Worst at': 42 },
      own.map((r) => [r.check, r.demand, r.capacity, figure(r.safetyFactor, 2), STATE_WORDS[r.state], r.where]),
    );
    flow.heading(brackets.length > 1 ? `Formulas and sources: ${bracket}` : 'Formulas and sources');
    flow.table(
      { Check: 50, 'Formula, and where it and its capacity come from': 118 },
      own.map((r) => [r.check, r.source]),
    );
  }
}

/**
 * The report of a job, A4, as many pages as it takes: one page that says it all in short, findings with their reserve, results by load case, charts over the
 * travel, strength of the brackets, everything that went in, what was assumed, cautions, program and date. Numbers are in
 * mm, kg, N, N·m, °, °C. `strength` comes from outside; without it the report says that it was not checked.
 */
export function report(outcome: Workings, options: ReportOptions): Sheet[] {
  const { job } = outcome;
  const papers = job.papers ?? {};
  const flow = new Flow(slimHeadOf(job, 'R', 'Report', options.date), paperFormats.A4);
  firstPage(flow, outcome);
  findings(flow, outcome);
  results(flow, outcome);
  howExact(flow, outcome, options.plays ?? []);
  lettingGo(flow, outcome);
  flow.heading('Over the travel', chartHeightMm(4, PLOT_MM));
  for (const chart of reportCharts(outcome))
    flow.block(chartPart(chart, flow.widthMm, PLOT_MM), chartHeightMm(chart.series.length, PLOT_MM));
  strength(flow, outcome, options.strength ?? { rows: [], told: [] });
  for (const { heading, columns, rows } of inputTables(job)) {
    flow.heading(heading);
    flow.table(columns, rows);
  }
  flow.heading('What was assumed');
  const assumed = job.struts.flatMap((s, i) =>
    (s.spec.assumed ?? []).map(
      (key) =>
        `${strutTitle(s, i, job.struts.length)}: ${{ ratio: 'force ratio', frictionN: 'friction band', toleranceN: 'tolerance of the force' }[key]} taken from common practice.`,
    ),
  );
  flow.text([...ASSUMED, ...assumed, ...(options.strength?.assumed ?? [])], { numbered: true });
  flow.heading('Cautions');
  flow.text([...CAUTIONS, ...(options.strength?.cautions ?? [])], { numbered: true });
  flow.text([
    `Worked out by ${options.program} on ${options.date}.${papers.creator ? ` Made by ${papers.creator}.` : ''}`,
  ]);
  return flow.sheets();
}
