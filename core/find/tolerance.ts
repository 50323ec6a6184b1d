// How exactly must it be made? Many variants of one job, each number off by chance, held against every demand with a number.
import { geometryOf } from '../choose';
import type { ResolvedJob } from '../job';
import { type Vec3, add, cos, cross, dot, norm, perpendicularTo, scale, sin, sub, toRad } from '../space';
import {
  ATMOSPHERE_MPA,
  BUCKLING_FACTOR,
  REFERENCE_K,
  ZERO_C_K,
  gasBody,
  specIssues,
  strutBuckling,
  usualBody,
} from '../strut';
import { makePlan, stemOf } from '../travel';
import { normalAt, wilson } from './chance';
import { seeded } from './random';
import { MOST_DIMENSIONS, sobol } from './sobol';

/** How far numbers are off: standard deviations where chance is normal, half widths where it is even. */
export interface Errors {
  /** σ of either ball, of hinge points, of centres of mass along X, Y and Z, mm; by point id where the survey says. */
  readonly ballMm: number;
  readonly hingeMm: number;
  readonly centreMm: number;
  readonly points?: ReadonlyMap<string, Vec3>;
  /** σ of a mass as a share of it. */
  readonly massShare: number;
  /** Half width of the nominal force, N: the strut's own tolerance where not given. */
  readonly forceN?: number;
  /** Half widths of ratio, friction (as a share of it), temperature (°C), and the stop's σ, degrees. */
  readonly ratio: number;
  readonly frictionShare: number;
  readonly tempC: number;
  readonly stopDeg: number;
}

/** Marking out and drilling with hand tools, a bathroom scale: common practice, no source. */
export const USUAL_ERRORS: Errors = {
  ...{ ballMm: 2, hingeMm: 1.5, centreMm: 10, massShare: 0.03 },
  ...{ ratio: 0.03, frictionShare: 0.3, tempC: 3, stopDeg: 0.5 },
};

/** A number, or a point's three, that may be off. */
export interface Input {
  /** base, lid, hinge:a, hinge:b, mass:ID, centre:ID, force, ratio, friction, temperature, stop. */
  readonly id: string;
  /** How many numbers of a variant are its. */
  readonly size: 1 | 3;
  readonly from: number;
  readonly normal: boolean;
  readonly width: readonly number[];
}

export const STUDIED = [
  'closed-reserve',
  'open-reserve',
  'hand-opening',
  'hand-closing',
  'stays-open',
  'rod-buckling',
  'base-joint',
  'lid-joint',
] as const;

/** A share with its 95 % interval. */
export interface Share {
  readonly failing: number;
  readonly share: number;
  readonly interval: readonly [number, number];
}

export interface Study {
  readonly variants: number;
  readonly seed: number;
  /** Any demand fails; and each by itself, in the order of STUDIED. */
  readonly any: Share;
  readonly demands: readonly (Share & { readonly id: (typeof STUDIED)[number] })[];
  /** Of the variants that fail, the share that would not if this one were exact; the most telling first. */
  readonly causes: readonly { readonly id: string; readonly gone: number }[];
  /** Hand forces over the travel, 5 % and 95 %, by load case that must hold: N a whole degree. */
  readonly bands: readonly {
    readonly caseId: string;
    readonly angleDeg: Float64Array;
    readonly opening: { readonly low: Float64Array; readonly high: Float64Array };
    readonly closing: { readonly low: Float64Array; readonly high: Float64Array };
  }[];
}

/** Judges variants: `fails` gives a bit a demand of STUDIED; numbers of a variant are standard (σ or half widths). */
export interface Variants {
  readonly inputs: readonly Input[];
  readonly size: number;
  readonly fails: (variant: Float64Array, hands?: Float64Array) => number;
  readonly rows: number;
  readonly caseIds: readonly string[];
  readonly angleDeg: Float64Array;
}

/** What of a job may be off, and a judge of its variants, for its strut of an index. Throws a LidwrightError as geometryOf does. */
export function variantsOf(job: ResolvedJob, errors: Errors = USUAL_ERRORS, strutId?: string): Variants {
  const g = geometryOf(job, strutId);
  const { strut, frame } = g;
  const { spec, ends } = strut;
  const at = (id: string): Vec3 => frame.points.get(id)!;
  const inputs: Input[] = [];
  let size = 0;
  const input = (id: string, width: readonly number[], normal: boolean): void => {
    if (!(width.some((w) => w > 0) && size + width.length < MOST_DIMENSIONS)) return;
    inputs.push({ id, size: width.length as 1 | 3, from: size, normal, width });
    size += width.length;
  };
  const of = (point: string, usual: number): readonly number[] => errors.points?.get(point) ?? [usual, usual, usual];
  input('base', of(strut.base, errors.ballMm), true);
  input('lid', of(strut.lid, errors.ballMm), true);
  input('hinge:a', of(job.hinge.a, errors.hingeMm), true);
  input('hinge:b', of(job.hinge.b, errors.hingeMm), true);
  input('force', [errors.forceN ?? Math.max(-spec.toleranceN[0], spec.toleranceN[1])], false);
  input('ratio', [errors.ratio], false);
  input('friction', [errors.frictionShare * spec.frictionN], false);
  input('temperature', [errors.tempC], false);
  input('stop', [errors.stopDeg], true);
  for (const mass of job.masses) input(`mass:${mass.id}`, [errors.massShare * mass.kg], true);
  for (const mass of job.masses) input(`centre:${mass.id}`, of(mass.at, errors.centreMm), true);
  const find = (id: string): Input | null => inputs.find((i) => i.id === id) ?? null;
  const slots = {
    base: find('base'),
    lid: find('lid'),
    a: find('hinge:a'),
    b: find('hinge:b'),
    force: find('force'),
    ratio: find('ratio'),
    friction: find('friction'),
    temperature: find('temperature'),
    stop: find('stop'),
    masses: job.masses.map(({ id }) => ({ kg: find(`mass:${id}`), centre: find(`centre:${id}`) })),
  };
  const offBy = (slot: Input | null, variant: Float64Array, k = 0): number =>
    slot ? slot.width[k]! * variant[slot.from + k]! : 0;
  const moved = (p: Vec3, slot: Input | null, variant: Float64Array): Vec3 =>
    slot ? [p[0] + offBy(slot, variant, 0), p[1] + offBy(slot, variant, 1), p[2] + offBy(slot, variant, 2)] : p;

  const cases = g.cases
    .filter((c) => c.mustHold)
    .map((grid) => {
      const plan = makePlan(frame, grid.loadCase.id);
      const weight = (i: number): number => {
        const angle = toRad(g.angleDeg[i]!);
        return plan.cosNmm * cos(angle) + plan.sinNmm * sin(angle);
      };
      return {
        grid,
        gravity: plan.gravity,
        off: new Set(grid.loadCase.off),
        // what neither the weight nor this strut gives
        opening: grid.openingNmm.map((v, i) => v - weight(i)),
        closing: grid.closingNmm.map((v, i) => v - weight(i)),
        ageShare: 1 - grid.loadCase.ageLossPercent / 100,
      };
    });
  const n = g.angleDeg.length;
  const cosOf = Float64Array.from(g.angleDeg, (d) => cos(toRad(d)));
  const sinOf = Float64Array.from(g.angleDeg, (d) => sin(toRad(d)));
  const { limits } = job;
  const isStop = job.travel.stop === 'strut';
  const [baseAt, lidAt, aAt, bAt, gripAt] = [
    at(strut.base),
    at(strut.lid),
    at(job.hinge.a),
    at(job.hinge.b),
    at(job.grip),
  ];
  const centres = job.masses.map((m) => at(m.at));
  const [baseStem, lidStem] = [stemOf(ends.base), stemOf(ends.lid)];
  const [baseSine, lidSine] = [sin(toRad(ends.base.rangeDeg + 1e-9)), sin(toRad(ends.lid.rangeDeg + 1e-9))];
  const { wallMm } = usualBody(spec.rodMm, spec.tubeMm);
  const column = strutBuckling(spec.extendedMm, spec.strokeMm, spec.rodMm, spec.tubeMm, wallMm);
  const area = (Math.PI * spec.rodMm * spec.rodMm) / 4;
  const assumedFriction = spec.assumed?.includes('frictionN') ?? false;
  const sign = frame.axis.sign;
  const whole = n - 1;

  const fails = (variant: Float64Array, hands?: Float64Array): number => {
    const a = moved(aAt, slots.a, variant);
    const along = sub(moved(bAt, slots.b, variant), a);
    const o = scale(along, sign / norm(along));
    const b = sub(moved(baseAt, slots.base, variant), a);
    const l = sub(moved(lidAt, slots.lid, variant), a);
    const even = perpendicularTo(l, o);
    const odd = cross(o, l);
    const fixed = sub(l, even);
    const d = sub(fixed, b);
    const k = dot(d, d) + dot(even, even);
    const p = 2 * dot(even, d);
    const q = 2 * dot(odd, d);
    const grip = norm(perpendicularTo(sub(gripAt, a), o));
    const varied = {
      ...spec,
      forceN: spec.forceN + offBy(slots.force, variant),
      ratio: Math.max(1, spec.ratio + offBy(slots.ratio, variant)),
      frictionN: Math.max(0, spec.frictionN + offBy(slots.friction, variant)),
    };
    // a strut that can't be is as good as none
    if (specIssues(varied).length > 0) return 1 << 4;
    const body = gasBody(varied, 'nominal');
    const held = assumedFriction ? gasBody({ ...varied, frictionN: 0 }, 'nominal') : body;
    const half = body.halfFrictionN;
    const openDeg = Math.max(1, g.openDeg + offBy(slots.stop, variant));
    const last = Math.min(whole, Math.floor(openDeg));
    const [endC, endS] = [cos(toRad(openDeg)), sin(toRad(openDeg))];
    const warm = offBy(slots.temperature, variant);
    let bits = 0;
    let [shortest, longest] = [Infinity, 0];
    let [baseWorst, lidWorst] = [0, 0];
    let load = 0;
    const count = last + (openDeg - last > 1e-9 ? 2 : 1);
    if (lens.length < count) grow(count);
    for (let i = 0; i < count; i++) {
      const [c, s] = i <= last && i < n - (g.angleDeg[n - 1]! % 1 > 0 ? 1 : 0) ? [cosOf[i]!, sinOf[i]!] : [endC, endS];
      const length = Math.sqrt(Math.max(k + p * c + q * s, 1e-12));
      lens[i] = length;
      arms[i] = (q * c - p * s) / (2 * length);
      cs[i] = c;
      ss[i] = s;
      if (length < shortest) shortest = length;
      if (length > longest) longest = length;
      // direction in the base's axes; the lid's stem is turned along
      const u0 = (fixed[0] + even[0] * c + odd[0] * s - b[0]) / length;
      const u1 = (fixed[1] + even[1] * c + odd[1] * s - b[1]) / length;
      const u2 = (fixed[2] + even[2] * c + odd[2] * s - b[2]) / length;
      baseWorst = Math.max(baseWorst, Math.abs(u0 * baseStem[0] + u1 * baseStem[1] + u2 * baseStem[2]));
      const nAlong = lidStem[0] * o[0] + lidStem[1] * o[1] + lidStem[2] * o[2];
      const t0 = lidStem[0] * c + (o[1] * lidStem[2] - o[2] * lidStem[1]) * s + o[0] * nAlong * (1 - c);
      const t1 = lidStem[1] * c + (o[2] * lidStem[0] - o[0] * lidStem[2]) * s + o[1] * nAlong * (1 - c);
      const t2 = lidStem[2] * c + (o[0] * lidStem[1] - o[1] * lidStem[0]) * s + o[2] * nAlong * (1 - c);
      lidWorst = Math.max(lidWorst, Math.abs(u0 * t0 + u1 * t1 + u2 * t2));
    }
    if (shortest - (spec.extendedMm - spec.strokeMm) < limits.reserveMm) bits |= 1;
    if (!isStop && spec.extendedMm - longest < limits.reserveMm - 1e-6) bits |= 2;
    if (baseWorst > baseSine) bits |= 64;
    if (lidWorst > lidSine) bits |= 128;
    for (let j = 0; j < cases.length; j++) {
      const { grid, gravity, off, opening, closing, ageShare } = cases[j]!;
      let moment: Vec3 = [0, 0, 0];
      for (let m = 0; m < centres.length; m++) {
        if (off.has(job.masses[m]!.id)) continue;
        const slot = slots.masses[m]!;
        const kg = job.masses[m]!.kg + offBy(slot.kg, variant);
        moment = add(moment, scale(sub(moved(centres[m]!, slot.centre, variant), a), kg));
      }
      const firstEven = perpendicularTo(moment, o);
      const cosNmm = dot(o, cross(firstEven, gravity));
      const sinNmm = dot(o, cross(cross(o, moment), gravity));
      const number = grid.quantity;
      const { force, tempC } = grid.loadCase;
      // the case's own weak or strong strut stays: what is off comes on top of it
      const shift = force === 'low' ? spec.toleranceN[0] : force === 'high' ? spec.toleranceN[1] : 0;
      const heat = (tempC + warm + ZERO_C_K) / REFERENCE_K;
      const fullOf = (gas: typeof body): number =>
        (((varied.forceN + shift + gas.halfFrictionN) / area) * ageShare + ATMOSPHERE_MPA) *
        heat *
        (1 - 5 * gas.fillPerMm) *
        area;
      const [full, fullHeld] = [fullOf(body), fullOf(held)];
      const atmosphere = ATMOSPHERE_MPA * area;
      for (let i = 0; i < count; i++) {
        const row = Math.min(i, whole);
        const squeeze = Math.min(Math.max(spec.extendedMm - lens[i]!, 0), spec.strokeMm);
        const gas = full / (1 - body.fillPerMm * squeeze) - atmosphere;
        const arm = arms[i]!;
        const weight = cosNmm * cs[i]! + sinNmm * ss[i]!;
        const drag = half * Math.abs(arm);
        const lift = -(weight + opening[row]! + number * (gas * arm - drag)) / grip;
        const pull = (weight + closing[row]! + number * (gas * arm + drag)) / grip;
        if (lift > limits.handOpenN) bits |= 4;
        if (pull > limits.handCloseN) bits |= 8;
        if (number > 0 && gas + half > load) load = gas + half;
        if (hands && i < n) {
          hands[2 * (j * n + i)] = lift;
          hands[2 * (j * n + i) + 1] = -pull;
        }
        if (i === count - 1) {
          const hold = fullHeld / (1 - held.fillPerMm * squeeze) - atmosphere;
          const rest = (opening[row]! + closing[row]!) / 2;
          if (weight + rest + number * hold * arm < limits.holdOpenNm * 1000) bits |= 16;
        }
      }
    }
    if (column.steppedN / Math.max(load, 1e-9) < BUCKLING_FACTOR) bits |= 32;
    return bits;
  };
  let lens = new Float64Array(n + 2);
  let arms = new Float64Array(n + 2);
  let cs = new Float64Array(n + 2);
  let ss = new Float64Array(n + 2);
  const grow = (to: number): void => {
    [lens, arms, cs, ss] = [new Float64Array(2 * to), new Float64Array(2 * to), new Float64Array(2 * to), new Float64Array(2 * to)]; // prettier-ignore
  };
  return { inputs, size, fails, rows: n, caseIds: cases.map((c) => c.grid.loadCase.id), angleDeg: g.angleDeg };
}

/** Standard numbers from even ones: normal where chance is, else −1 to 1. In place. */
export function standard(inputs: readonly Input[], point: Float64Array): void {
  for (const { from, size, normal } of inputs)
    for (let i = from; i < from + size; i++) {
      const u = Math.min(Math.max(point[i]!, 2e-10), 1 - 2e-10);
      point[i] = normal ? normalAt(u) : 2 * u - 1;
    }
}

/** Failing variants that are tried again with one number exact, and variants whose hand forces make the bands. */
const RETRIED = 1500;
const BANDED = 1000;
const CHUNK = 2000;

/**
 * The tolerance study: `variants` Sobol points (Joe & Kuo, digits turned by the seed) of everything that may be off. A generator: it
 * yields an honest study so far (the interval says how far) and returns the whole one.
 */
export function* studySteps(
  job: ResolvedJob,
  options: {
    readonly errors?: Errors;
    readonly variants?: number;
    readonly seed?: number;
    readonly strutId?: string;
  } = {},
): Generator<Study, Study, void> {
  const { variants: total = 100_000, seed = 1 } = options;
  const v = variantsOf(job, options.errors ?? USUAL_ERRORS, options.strutId);
  const draw = seeded(seed);
  const next = sobol(
    v.size,
    Uint32Array.from({ length: v.size }, () => draw() * 4294967296),
  );
  const point = new Float64Array(v.size);
  const counts = new Float64Array(STUDIED.length);
  const failing: Float64Array[] = [];
  const hands = new Float64Array(2 * v.rows * v.caseIds.length);
  const kept: Float64Array[] = [];
  let any = 0;
  const studyOf = (n: number): Study => ({
    variants: n,
    seed,
    any: shareOf(any, n),
    demands: STUDIED.map((id, i) => ({ id, ...shareOf(counts[i]!, n) })),
    causes: causesOf(v, failing),
    bands: bandsOf(v, kept),
  });
  let so: Study | null = null;
  for (let i = 0; i < total; i++) {
    if (i === CHUNK || (i > 0 && i % (5 * CHUNK) === 0)) yield (so = studyOf(i));
    else if (so && i % (CHUNK / 4) === 0) yield so;
    next(point);
    standard(v.inputs, point);
    const banded = i < BANDED;
    const bits = v.fails(point, banded ? hands : undefined);
    if (banded) kept.push(Float64Array.from(hands));
    if (bits === 0) continue;
    any++;
    for (let d = 0; d < STUDIED.length; d++) if (bits & (1 << d)) counts[d]!++;
    if (failing.length < RETRIED) failing.push(Float64Array.from(point));
  }
  return studyOf(total);
}

const shareOf = (failing: number, n: number): Share => ({ failing, share: failing / n, interval: wilson(failing, n) });

function causesOf(v: Variants, failing: readonly Float64Array[]): Study['causes'] {
  return v.inputs
    .map(({ id, from, size }) => {
      let gone = 0;
      for (const one of failing) {
        const exact = Float64Array.from(one);
        exact.fill(0, from, from + size);
        if (v.fails(exact) === 0) gone++;
      }
      return { id, gone: failing.length > 0 ? gone / failing.length : 0 };
    })
    .sort((a, b) => b.gone - a.gone);
}

function bandsOf(v: Variants, kept: readonly Float64Array[]): Study['bands'] {
  const at = (k: number, share: number): number => {
    const values = kept.map((row) => row[k]!).sort((a, b) => a - b);
    return values[Math.min(values.length - 1, Math.floor(share * values.length))]!;
  };
  return v.caseIds.map((caseId, j) => {
    const rows = (way: 0 | 1, share: number): Float64Array =>
      Float64Array.from({ length: v.rows }, (_, i) => at(2 * (j * v.rows + i) + way, share));
    return {
      caseId,
      angleDeg: v.angleDeg,
      opening: { low: rows(0, 0.05), high: rows(0, 0.95) },
      closing: { low: rows(1, 0.05), high: rows(1, 0.95) },
    };
  });
}
