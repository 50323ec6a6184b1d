import { type Issue, LidwrightError, attempt, fail } from '../error';
import { RATING_MM, type StrutListEntry, type StrutSpec, compressingN, extendingN, gasBody } from '../strut';
import { generalisedFit } from './fit';

/** One scale reading of a strut: how long it was between its ball centres, and which way the rod was just moving. */
export interface StrutReading {
  readonly lengthMm: number;
  /** in: slowly pressed shorter; out: slowly let longer. */
  readonly way: 'in' | 'out';
  readonly forceN: number;
  /** Half of the 95 % band of the scale. */
  readonly plusMinusN: number;
}

/** A strut that lies on the bench. */
export interface StrutOnBench {
  readonly name: string;
  readonly extendedMm: number;
  readonly strokeMm: number;
  readonly rodMm: number;
  readonly tubeMm: number;
  readonly tempC: number;
  /** F1 as its label says; null where there is none to read. */
  readonly labelN: number | null;
  readonly readings: readonly StrutReading[];
}

/** A value and half of its 95 % band. */
export interface WithBand {
  readonly value: number;
  readonly plusMinus: number;
}

/** What the readings say of the strut. */
export interface MeasuredStrut {
  readonly forceN: WithBand;
  readonly ratio: WithBand;
  readonly frictionN: WithBand;
  /** Read less fitted, N, one a reading. */
  readonly residualsN: readonly number[];
  /** Readings (from 0) of which one at least does not fit the others; which, nobody can tell where there are several. */
  readonly doubtful: readonly number[];
  /** Nothing is left over to check the readings by. */
  readonly unchecked: boolean;
  /** The label against what was measured, in words; empty where they agree or there is none. */
  readonly label: string;
  /** For a list of one's own: this strut, with its one force. */
  readonly entry: StrutListEntry;
}

/** Standard deviations to either end of a 95 % band. */
const BAND = 1.96;
/** How well a tape tells the length under load, mm: one σ. Common practice, no source. */
const LENGTH_SIGMA_MM = 0.5;
/** A residual over this many of its σ is doubted: one chance in a thousand (Baarda). */
const DOUBT = 3.29;
/** Two compressions nearer than this share of the stroke say nothing of the ratio. */
const LEAST_APART = 0.15;
const KEYS = ['forceN', 'ratio', 'frictionN'] as const;

/** How a strut is measured without being hurt by it: for the screen, the command and the papers alike. */
export const BENCH_SAFETY: readonly string[] = [
  'Stand the strut upright on the scale, rod down, in a guide that it cannot leave sideways: a length of pipe fixed to the bench, or holes through two boards.',
  'Press from above with a lever or a car jack under something that cannot give way, never with your body over it. Stand beside it, not in line with it; wear glasses.',
  'Press slowly, stop, read “in”. Let it out slowly by a few millimetres, stop, read “out”. Twice at each length is better than once.',
  'Never press a strut that is bent, dented, oily or rusty, never to its very end, never open, heat or clamp its tube or rod.',
];

function issuesOf({ extendedMm, strokeMm, readings, tempC }: StrutOnBench): Issue[] {
  const issues: Issue[] = [];
  if (!(tempC > -60 && tempC < 120))
    issues.push({ what: `the temperature is ${tempC} °C`, where: ['tempC'], advice: 'Type that of the strut.' });
  readings.forEach(({ lengthMm, forceN, plusMinusN }, i) => {
    const s = extendedMm - lengthMm;
    const where = ['readings', i];
    if (!(s >= 0 && s <= strokeMm))
      issues.push({
        what: `reading ${i + 1} is at ${lengthMm} mm, where this strut cannot be`,
        where: [...where, 'lengthMm'],
        advice: `Between ${extendedMm - strokeMm} and ${extendedMm} mm it has its stroke.`,
      });
    if (!(forceN > 0) || !(plusMinusN > 0))
      issues.push({
        what: `reading ${i + 1} needs a force and a ± over 0`,
        where: [...where, forceN > 0 ? 'plusMinusN' : 'forceN'],
        advice: 'Type what the scale showed, and how far it may be off.',
      });
  });
  const at = readings.map((r) => r.lengthMm);
  if (!(Math.max(...at) - Math.min(...at) >= LEAST_APART * strokeMm))
    issues.push({
      what: 'all readings are at nearly the same length',
      where: ['readings'],
      advice: `Read at two lengths at least ${Math.ceil(LEAST_APART * strokeMm)} mm apart, better three.`,
    });
  for (const way of ['in', 'out'] as const)
    if (!readings.some((r) => r.way === way))
      issues.push({
        what: `no reading was taken while it went ${way}`,
        where: ['readings'],
        advice: 'Only both ways together tell its friction.',
      });
  return issues;
}

/**
 * F1, force ratio and friction band of a strut from scale readings at two or more compressions, both ways, with 95 % bands: weighted least
 * squares on the gas law of core/strut, by Gauss–Newton. A scale's ± is independent from reading to reading; the length is known to 0.5 mm.
 * Throws a LidwrightError with everything that is lacking or cannot be.
 */
export function measuredStrut(bench: StrutOnBench): MeasuredStrut {
  const [first, ...also] = issuesOf(bench);
  if (first) throw new LidwrightError(first, also);
  const { extendedMm, strokeMm, rodMm, tubeMm, tempC, readings } = bench;
  const specOf = ([forceN, ratio, frictionN]: readonly number[]): StrutSpec => ({
    ...{ extendedMm, strokeMm, rodMm, tubeMm, toleranceN: [0, 0] },
    ...{ forceN: forceN!, ratio: Math.max(1, ratio!), frictionN: Math.max(0, frictionN!) },
  });
  const model = (x: readonly number[], shiftMm = 0): number[] => {
    const body = gasBody(specOf(x), 'nominal');
    return readings.map(({ lengthMm, way }) =>
      (way === 'in' ? compressingN : extendingN)(body, extendedMm - lengthMm + shiftMm, tempC),
    );
  };
  const outs = readings.filter((r) => r.way === 'out').map((r) => r.forceN);
  const ins = readings.filter((r) => r.way === 'in').map((r) => r.forceN);
  const mean = (of: readonly number[]): number => of.reduce((a, b) => a + b, 0) / of.length;
  let x = [Math.min(...outs), 1.3, Math.max(1, mean(ins) - mean(outs))];
  const steps = [0.01 * x[0]!, 1e-4, 0.01];
  const linear = () => {
    const at = model(x);
    const slope = model(x, 0.5).map((f, i) => (f - at[i]!) / 0.5);
    const jacobian = KEYS.map((_, k) => {
      const up = model(x.map((v, j) => (j === k ? v + steps[k]! : v)));
      return up.map((f, i) => (f - at[i]!) / steps[k]!);
    });
    const variance = readings.map(({ plusMinusN }, i) => (plusMinusN / BAND) ** 2 + (slope[i]! * LENGTH_SIGMA_MM) ** 2);
    return generalisedFit(
      readings.map((_, i) => jacobian.map((column) => column[i]!)),
      readings.map(({ forceN }, i) => forceN - at[i]!),
      readings.map((_, i) => readings.map((__, j) => (i === j ? variance[i]! : 0))),
      ['readings'],
    );
  };
  const tried = attempt(() => {
    let fit = linear();
    for (let round = 0; round < 30; round++) {
      // the ratio of an ill-read strut must not run off where no gas law is
      const next = x.map((v, k) => v + fit.x[k]!);
      x = [Math.max(1, next[0]!), Math.min(4, Math.max(1.001, next[1]!)), Math.max(0, next[2]!)];
      const done = fit.x.every((dx, k) => Math.abs(dx) < 1e-7 * Math.max(1, Math.abs(x[k]!)));
      fit = linear();
      if (done) break;
    }
    return fit;
  });
  if (tried.error) throw tried.error;
  const fit = tried.value;
  if (x[1]! >= 4 - 1e-9 || x[1]! <= 1.001 + 1e-9)
    fail(
      'no gas spring gives these readings',
      ['readings'],
      'Check lengths, ways and forces: a strut gets stronger as it is pressed in, mostly by 1.1 to 1.6.',
    );
  const band = (k: number): WithBand => ({
    value: x[k]!,
    plusMinus: BAND * Math.sqrt(fit.covariance[k]![k]!),
  });
  const [forceN, ratio, frictionN] = [band(0), band(1), band(2)];
  const at = model(x);
  const off = fit.w.map((w) => Math.abs(w ?? 0));
  const worst = Math.max(...off);
  return {
    ...{ forceN, ratio, frictionN },
    residualsN: readings.map((r, i) => r.forceN - at[i]!),
    // those that are as far off as the worst: with one reading to spare all are
    doubtful: worst > DOUBT ? off.flatMap((w, i) => (w > 0.95 * worst ? [i] : [])) : [],
    unchecked: fit.spare < 1,
    label: labelWords(bench.labelN, forceN),
    entry: {
      ...{ name: bench.name, extendedMm, strokeMm, rodMm, tubeMm },
      ...{ forceMinN: round(forceN.value, 1), forceMaxN: round(forceN.value, 1), forceStepN: 0 },
      ratio: round(ratio.value, 3),
      frictionN: round(frictionN.value, 1),
      toleranceN: Math.ceil(forceN.plusMinus),
    },
  };
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

function labelWords(labelN: number | null, { value, plusMinus }: WithBand): string {
  if (labelN === null || Math.abs(value - labelN) <= plusMinus) return '';
  const percent = Math.round(Math.abs(value / labelN - 1) * 100);
  const is = `Its label says ${Math.round(labelN)} N at ${RATING_MM} mm; it gives ${Math.round(value)} ± ${Math.ceil(plusMinus)} N, ${percent} % `;
  return value < labelN
    ? `${is}less: with age struts lose some; one that lost much is leaking and will lose the rest.`
    : `${is}more: measured warm, or not the strut that the label means.`;
}
