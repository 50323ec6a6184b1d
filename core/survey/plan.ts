import { type Job, resolveJob } from '../job';
import { type Vec3, distance } from '../space';
import type { EquationBlock } from '../solve';
import { datumOf } from './datum';
import { addObservations } from './edits';
import type { NewReading } from './entry';
import { endsOf } from './known';
import { makeNetwork } from './network';
import { readingBlock } from './readings';

/** Readings to take before one goes out, chosen from the sizes that the job has now. */
export interface SurveyPlan {
  /** Points they are between, in the job's order. */
  readonly points: readonly { readonly id: string; readonly name: string; readonly at: Vec3 }[];
  /** What holds every point, in the order that tells most soonest; without values. */
  readonly take: readonly NewReading[];
  /** What would check those best. */
  readonly checks: readonly NewReading[];
  /** How many of `take` no other reading checks, without the checks and with them. */
  readonly unchecked: { readonly before: number; readonly after: number };
  /** Points that tape and level do not hold to 10 mm, by name. */
  readonly loose: readonly string[];
}

const LEAST_TAPE_MM = 60;
const LONGEST_TAPE_MM = 8000;
/** What a start is taken to be good for, one coordinate, mm. */
const START_MM = 300;
/** "Exactly", for conditions and what holds the survey as a whole, mm or rad. */
const HELD = 1e-3;
/** A reading is worth taking where what it reads is not known to this many of its own σ yet. */
const WORTH = 3;
/** A tape is at hand, a level has to be fetched: it must tell so much more. */
const LEVEL_WORTH = 6;
/** Redundancy from which a reading counts as checked: a slip of 13 σ shows in 4 of 5 cases. */
const CHECKED = 0.1;
/** Redundancy beyond which more is no gain. */
const WELL_CHECKED = 0.3;
const LOOSE_MM = 10;

/** One row of equations over all variables, over its σ. */
type Row = Float64Array;

/** Rows of a block at x, over their σ, by central differences. */
function rowsOf(block: EquationBlock, x: Float64Array, sigma: number): Row[] {
  const { variables, size } = block;
  const rows = Array.from({ length: size }, () => new Float64Array(x.length));
  const at = Float64Array.from(variables, (j) => x[j]!);
  const [up, down] = [new Float64Array(size), new Float64Array(size)];
  const step = 0.01;
  variables.forEach((j, k) => {
    at[k] = x[j]! + step;
    block.residual(at, up);
    at[k] = x[j]! - step;
    block.residual(at, down);
    at[k] = x[j]!;
    for (let i = 0; i < size; i++) rows[i]![j] = rows[i]![j]! + (up[i]! - down[i]!) / (2 * step * sigma);
  });
  return rows;
}

/** A covariance that readings are added to one by one (Kalman's step). */
class Spread {
  private readonly n: number;
  constructor(readonly full: Float64Array) {
    this.n = Math.sqrt(full.length);
  }
  times(row: Row): Float64Array {
    const { n, full } = this;
    const out = new Float64Array(n);
    for (let j = 0; j < n; j++) {
      if (row[j] === 0) continue;
      for (let i = 0; i < n; i++) out[i] = out[i]! + full[j * n + i]! * row[j]!;
    }
    return out;
  }
  /** Variance of what a row reads, in its σ². */
  of(row: Row): number {
    return dotRows(this.times(row), row);
  }
  take(row: Row): void {
    const { n, full } = this;
    const g = this.times(row);
    const share = 1 / (1 + dotRows(g, row));
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) full[i * n + j] = full[i * n + j]! - g[i]! * g[j]! * share;
  }
}

const dotRows = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

/**
 * Tapes (and heights, where no tape would tell) that hold hinges, corners, grip and whatever else is no strut's end or centre
 * of mass, what is known and already read counted in; then those `checks` more that check them best. Greedy: each time the
 * reading whose value is least known beforehand (D-optimal), then the one that adds most redundancy. Throws a LidwrightError
 * for readings or conditions that refer to what isn't there.
 */
export function planSurvey(raw: Job, { checks = 3 } = {}): SurveyPlan {
  const job = resolveJob(raw);
  const ends = endsOf(job);
  const points = job.points.filter((p) => !ends.has(p.id));
  const offers = points.flatMap((p, i) =>
    points.slice(i + 1).flatMap((q): NewReading[] => {
      const mm = distance(p.at, q.at);
      return mm >= LEAST_TAPE_MM && mm <= LONGEST_TAPE_MM
        ? [{ kind: 'tape', points: [p.id, q.id], valueMm: Math.max(mm, 1) }]
        : [];
    }),
  );
  const heights = points.flatMap((p): NewReading[] =>
    p.id === job.hinge.a ? [] : [{ kind: 'height-difference', points: [job.hinge.a, p.id], valueMm: 0 }],
  );
  const key = (o: Pick<NewReading, 'kind' | 'points'>): string => `${o.kind} ${[...o.points].sort().join(' ')}`;
  const had = new Set(job.observations.filter((o) => o.use !== false).map(key));
  const wanted = [...offers, ...heights].filter((o) => !had.has(key(o)));
  // a photo's mark says something of points only once its camera is known: what is planned does without
  const observations = (raw.observations ?? []).filter((o) => o.kind !== 'photo-mark');
  const whole = addObservations({ ...raw, observations }, { observations: wanted });
  const network = makeNetwork(whole);
  const { layout } = network;
  const x = layout.values;
  const start = new Float64Array(x.length ** 2);
  for (let i = 0; i < x.length; i++) start[i * x.length + i] = START_MM ** 2;
  const spread = new Spread(start);
  const hold = (j: number): void => spread.take(Float64Array.from(x, (_, i) => (i === j ? 1 / HELD : 0)));
  layout.held.forEach(hold);
  for (const { points: [id] = [], axis } of datumOf(whole).relations) {
    const own = layout.variablesOf(id!);
    own.forEach((j, k) => (axis === undefined || 'xyz'[k] === axis) && hold(j));
  }
  for (const block of network.problem.equations)
    if (block.kind === 'hard') rowsOf(block, x, HELD).forEach((row) => spread.take(row));
  const seen = network.readings.map((o) => {
    const block = readingBlock(o, layout);
    return { kind: o.kind, reading: o, rows: rowsOf(block, x, block.sigma as number) };
  });
  const planned = seen
    .slice(seen.length - wanted.length)
    .map(({ rows }, i) => ({ reading: wanted[i]!, row: rows[0]! }));
  for (const { rows } of seen.slice(0, seen.length - wanted.length)) rows.forEach((row) => spread.take(row));

  const open = new Set(planned);
  const chosen: typeof planned = [];
  const choose = (offer: (typeof planned)[number]): void => {
    open.delete(offer);
    chosen.push(offer);
    spread.take(offer.row);
  };
  for (;;) {
    let best: { offer: (typeof planned)[number]; gain: number } | null = null;
    for (const offer of open) {
      const gain = Math.sqrt(spread.of(offer.row)) / (offer.reading.kind === 'tape' ? WORTH : LEVEL_WORTH);
      if (gain > 1 && gain > (best?.gain ?? 0) * (1 + 1e-9)) best = { offer, gain };
    }
    if (!best) break;
    choose(best.offer);
  }
  const needed = chosen.length;
  const redundancy = (row: Row): number => 1 - spread.of(row);
  const unchecked = (): number => chosen.slice(0, needed).filter(({ row }) => redundancy(row) < CHECKED).length;
  const before = unchecked();
  for (let k = 0; k < checks && open.size > 0; k++) {
    let best: { offer: (typeof planned)[number]; score: number } | null = null;
    const now = chosen.map(({ row }) => ({ row, r: redundancy(row) }));
    for (const offer of open) {
      const g = spread.times(offer.row);
      const own = 1 + dotRows(g, offer.row);
      // redundancies after one more reading, without adding it
      const gain = now.reduce(
        (sum, { row, r }) => sum + Math.min(WELL_CHECKED, r + dotRows(g, row) ** 2 / own) - Math.min(WELL_CHECKED, r),
        Math.min(WELL_CHECKED, 1 / own),
      );
      const score = offer.reading.kind === 'tape' ? gain : (gain * WORTH) / LEVEL_WORTH;
      if (score > (best?.score ?? 0) + 1e-9) best = { offer, score };
    }
    if (!best) break;
    choose(best.offer);
  }
  const n = x.length;
  const bare = ({ reading: { kind, points: ids } }: (typeof planned)[number]): NewReading => ({ kind, points: ids });
  return {
    points: points.map((p) => ({ id: p.id, name: p.name ?? p.id, at: p.at })),
    take: chosen.slice(0, needed).map(bare),
    checks: chosen.slice(needed).map(bare),
    unchecked: { before, after: unchecked() },
    loose: points
      .filter((p) => layout.variablesOf(p.id).some((j) => Math.sqrt(spread.full[j * n + j]!) > LOOSE_MM))
      .map((p) => p.name ?? p.id),
  };
}
