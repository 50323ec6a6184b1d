// The ranking's yardstick: every entry × force put into the job, worked out from scratch, its findings read.
// Shares no code with core/choose but the types and the list helpers that say which forces an entry has.
import { LidwrightError } from '../../../core/error';
import { CHECKS, type Finding, lidRooms, roomQuestion } from '../../../core/findings';
import type { ResolvedJob, Spec } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { letGo, makeFrame, makePlan, sweep, travelAngles } from '../../../core/travel';
import { type StrutListEntry, assumedOf, forcesOf, specOf } from '../../../core/strut';
import { type Workings, workings } from '../../../core/workings';

/** The checks that a strut's choice hangs on; the rest (joints, clearances, …) would only cost time here. */
const NEEDED = ['strutFits', 'strokeReserve', 'handForce', 'staysOpen', 'rodBuckling'];

/** A job worked out from scratch as workings do, but with the needed checks only. */
export function workOutNeeded(job: ResolvedJob): Pick<Workings, 'frame' | 'findings'> {
  const frame = makeFrame(job);
  const plans = job.loadCases.map((c) => makePlan(frame, c.id));
  const angles = travelAngles(frame.openDeg);
  const tables = plans.map((plan) => sweep(plan, angles));
  const checks = CHECKS.filter((check) => NEEDED.includes(check.name));
  if (checks.length !== NEEDED.length) throw new Error('a needed check is gone');
  const context = {
    job,
    frame,
    plans,
    tables,
    letGos: plans.map(letGo),
    units: METRIC,
    passage: plans[0]!,
    loads: [],
    rooms: lidRooms(roomQuestion(job, [], plans[0]!), []),
    issues: [],
    meshes: [],
    assessments: [],
    strange: [],
  };
  return { frame, findings: checks.flatMap((check) => check.run(context)) };
}

export interface BruteRow {
  readonly entry: number;
  readonly forceN: number;
  /** First failing demand, its worst case (null: every case), its value; null when accepted. */
  readonly refused: { readonly id: string; readonly caseId: string | null; readonly value: number | null } | null;
  readonly share: number;
  readonly tightest: string;
}

const ORDER = [
  'strut-fits',
  'closed-reserve',
  'open-reserve',
  'opening-angle',
  'hand-opening',
  'hand-closing',
  'stays-open',
  'rod-buckling',
];

function bruteOne(
  job: ResolvedJob,
  k: number,
  entry: StrutListEntry,
  forceN: number,
  leastOpenDeg: number,
): Omit<BruteRow, 'entry' | 'forceN'> {
  const assumed = assumedOf(entry);
  const spec: Spec = { ...specOf(entry, forceN), ...(assumed.length > 0 ? { assumed } : {}) };
  const tried = { ...job, struts: job.struts.map((s, i) => (i === k ? { ...s, spec } : s)) };
  let outcome;
  try {
    outcome = workOutNeeded(tried);
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    return { refused: { id: 'no-such-strut', caseId: null, value: null }, share: 0, tightest: '' };
  }
  const must = new Set(job.loadCases.filter((c) => c.mustHold).map((c) => c.id));
  const id = job.struts[k]!.id;
  const mine = (name: string): Finding[] =>
    outcome.findings.filter(
      (f) =>
        f.id === name &&
        (f.everyCase || must.has(f.case)) &&
        (['hand-opening', 'hand-closing', 'stays-open'].includes(name) || f.subject === id),
    );
  for (const name of ORDER) {
    if (name === 'opening-angle') {
      if (job.travel.stop === 'strut' && outcome.frame.openDeg < leastOpenDeg)
        return { refused: { id: name, caseId: null, value: outcome.frame.openDeg }, share: 0, tightest: '' };
      continue;
    }
    const fails = mine(name).filter((f) => f.state === 'fails');
    const unknown = mine(name).filter((f) => f.state === 'unknown');
    if (fails.length > 0) {
      const worst = fails.reduce((a, b) => (b.margin! < a.margin! ? b : a));
      return {
        refused: { id: name, caseId: worst.everyCase ? null : worst.case, value: worst.value },
        share: 0,
        tightest: '',
      };
    }
    if (unknown.length > 0)
      return { refused: { id: name, caseId: unknown[0]!.case, value: null }, share: 0, tightest: '' };
  }
  const { limits } = job;
  const cap = (v: number): number => Math.min(1, v);
  const shares: [string, number][] = [];
  const reserveScale = Math.max(10, limits.reserveMm);
  shares.push(['closed-reserve', cap((mine('closed-reserve')[0]!.value! - limits.reserveMm) / reserveScale)]);
  if (outcome.frame.stoppedBy !== id)
    shares.push(['open-reserve', cap((mine('open-reserve')[0]!.value! - limits.reserveMm) / reserveScale)]);
  const handScale = (limits.handOpenN * outcome.frame.gripRadiusMm) / 1000;
  if (must.size > 0) {
    shares.push(['hand-opening', Math.min(...mine('hand-opening').map((f) => cap(f.margin! / limits.handOpenN)))]);
    shares.push(['hand-closing', Math.min(...mine('hand-closing').map((f) => cap(f.margin! / limits.handCloseN)))]);
    shares.push(['stays-open', Math.min(...mine('stays-open').map((f) => cap(f.margin! / handScale)))]);
  }
  const watched = mine('rod-buckling').filter((f) => f.state === 'watch');
  if (watched.length > 0) shares.push(['rod-buckling', Math.min(...watched.map((f) => cap(f.margin! / f.limit!)))]);
  const tightest = shares.reduce((a, b) => (b[1] < a[1] ? b : a));
  return { refused: null, share: tightest[1], tightest: tightest[0] };
}

/** Everything that fails in a job, and of what a strut's numbers move the least that is left; by all findings there are. */
function everything(job: ResolvedJob): {
  readonly fails: Map<string, Finding>;
  readonly share: number;
  readonly tightest: string;
} {
  const w = workings(job);
  const strengths = job.brackets.flatMap(({ id }) =>
    w.assessment(id).results.map((r) => ({
      ...{ id: `bracket-strength-${r.id}`, subject: id, case: r.governing.caseId, everyCase: true, limit: 1 },
      ...{
        state: r.safetyFactor < 1 && r.gravity === 'fails' ? 'fails' : 'holds',
        value: Math.min(r.safetyFactor, 1e6),
        id2: r.id,
      },
    })),
  );
  const all = [...w.unadvised, ...strengths.filter((s) => s.id2 !== 'weld-simple')] as Finding[];
  const key = (f: Finding): string =>
    `${f.id} ${f.subject} ${/^(hand-|stays-open|rod-buckling)/.test(f.id) ? f.case : ''}`;
  let [share, tightest] = [Infinity, ''];
  for (const f of all) {
    if (f.value === null || f.limit === null) continue;
    const left = /^bracket-strength-/.test(f.id)
      ? f.value - 1
      : /^(let-go-|grip-at-shut|latch-holds|hinge-load|socket-pull)/.test(f.id)
        ? (f.limit - f.value) / f.limit
        : Infinity;
    if (Math.min(1, left) < share) [share, tightest] = [Math.min(1, left), f.id];
  }
  return { fails: new Map(all.filter((f) => f.state === 'fails').map((f) => [key(f), f])), share, tightest };
}

/** Every entry × force one by one, and the accepted ones in order. */
export function bruteForce(
  job: ResolvedJob,
  list: readonly StrutListEntry[],
  k = 0,
  leastOpenDeg = 0,
): { rows: BruteRow[]; accepted: BruteRow[] } {
  const before = everything(job).fails;
  const own = list.flatMap((entry, e) =>
    forcesOf(entry).map((forceN): BruteRow => ({ entry: e, forceN, ...bruteOne(job, k, entry, forceN, leastOpenDeg) })),
  );
  const all = own.map((row) => {
    if (row.refused) return null;
    const entry = list[row.entry]!;
    const assumed = assumedOf(entry);
    const listedMm = [entry.extendedMm, entry.strokeMm] as const;
    const spec = { ...specOf(entry, row.forceN), ...(assumed.length > 0 ? { assumed } : {}), listedMm };
    return everything({ ...job, struts: job.struts.map((s, i) => (i === k ? { ...s, spec } : s)) });
  });
  // what fails now and with each that does the rest is nobody's fault
  const anyway = [...before.keys()].filter((key) => all.every((a) => a === null || a.fails.has(key)));
  const rows = own.map((row, i): BruteRow => {
    const a = all[i];
    if (!a) return row;
    const bad = [...a.fails].find(([key]) => !anyway.includes(key))?.[1];
    if (bad) {
      const refused = { id: bad.id, caseId: bad.everyCase ? null : bad.case, value: bad.value };
      return { ...row, refused, share: 0, tightest: '' };
    }
    return a.share < row.share ? { ...row, share: a.share, tightest: a.tightest } : row;
  });
  const key = (r: BruteRow): number[] => {
    const e = list[r.entry]!;
    return [-Math.round(r.share * 1e6), e.strokeMm, e.extendedMm, r.forceN, e.rodMm, r.entry];
  };
  const accepted = rows
    .filter((r) => r.refused === null)
    .sort((a, b) => {
      const [x, y] = [key(a), key(b)];
      const i = x.findIndex((v, n) => v !== y[n]);
      return i < 0 ? 0 : x[i]! - y[i]!;
    });
  return { rows, accepted };
}

/** Seeded numbers, 0 to 1 (a linear congruential generator; constants of Numerical Recipes, from memory). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** A list of odd bodies round a length and stroke, some of which no job takes. */
export function oddList(
  count: number,
  seed: number,
  aboutExtendedMm: number,
  aboutStrokeMm: number,
  aboutForceN: number,
): StrutListEntry[] {
  const random = seeded(seed);
  const between = (a: number, b: number): number => a + (b - a) * random();
  return Array.from({ length: count }, (_, i): StrutListEntry => {
    const [rodMm, tubeMm] = [
      [6, 15],
      [8, 18],
      [10, 22],
      [14, 28],
    ][Math.floor(random() * 4)] as [number, number];
    const strokeMm = aboutStrokeMm * between(0.85, 1.35);
    const low = aboutForceN * between(0.5, 1);
    return {
      name: `odd ${i}`,
      strokeMm,
      extendedMm: aboutExtendedMm + between(-30, 30) + (strokeMm - aboutStrokeMm) * 0.5,
      rodMm,
      tubeMm,
      forceMinN: low,
      forceMaxN: low * between(1, 2.2),
      forceStepN: random() < 0.2 ? 0 : between(20, 120),
      ...(random() < 0.5 ? { ratio: between(1.05, 1.7) } : {}),
      ...(random() < 0.5 ? { frictionN: between(0, 60) } : {}),
      ...(random() < 0.5 ? { toleranceN: between(0, 50) } : {}),
    };
  });
}
