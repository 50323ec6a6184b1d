// Random lids that can be computed: nothing level, nothing square, no two numbers alike.
import fc from 'fast-check';
import { type Job, jobIssues, resolveJob } from '../../core/job';
import { makeFrame, turned } from '../../core/travel';
import { toRad } from '../../core/space';
import { type LidParts, type StrutParts, type V3, lid } from './build';

/** A number with two decimals, as a tape or a scale gives it. */
const span = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.round(min * 100), max: Math.round(max * 100) }).map((n) => n / 100);
export const point = (reach: number): fc.Arbitrary<V3> =>
  fc.tuple(span(-reach, reach), span(-reach, reach), span(-reach, reach));
/** A direction, any length from 0.2 up. */
export const direction: fc.Arbitrary<V3> = point(3).filter((v) => Math.hypot(...v) > 0.2);

const strut = (far: boolean): fc.Arbitrary<StrutParts & { share: number }> =>
  fc.record({
    base: point(700),
    lid: point(700),
    quantity: far ? fc.constantFrom<1 | 2>(1, 2) : fc.constant<1 | 2>(1),
    baseStem: direction,
    lidStem: direction,
    share: span(0.02, 0.9),
    spec: fc.record({
      forceN: span(90, 1400),
      ratio: span(1.02, 1.6),
      frictionN: span(0, 60),
      rodMm: fc.constantFrom(6, 8, 10, 14),
      tubeMm: fc.constant(28),
      toleranceN: fc.tuple(span(-40, -1), span(1, 40)),
    }),
  });

/** Angles that tests look at: whole degrees, ninths of the travel, the end. */
const tableAngles = (openDeg: number): number[] => [
  ...Array.from({ length: Math.floor(openDeg) + 1 }, (_, i) => i),
  ...Array.from({ length: 10 }, (_, i) => (openDeg * i) / 9),
];

/** Lengths that let every strut work over the whole travel: a stroke a bit over what the geometry needs. */
function fit(parts: LidParts, extra: readonly { share: number }[]): Job | null {
  const rough = lid(parts);
  const frame = makeFrame(resolveJob({ ...rough, struts: [] } as Job));
  let job = rough;
  const struts = rough.struts.map((s, i) => {
    const at = new Map(frame.job.points.map((p) => [p.id, p.at as V3]));
    const { axis } = frame;
    const arm = at.get(s.lid)!.map((v, k) => v - axis.origin[k]!) as unknown as V3;
    const along = arm[0] * axis.opening[0] + arm[1] * axis.opening[1] + arm[2] * axis.opening[2];
    const fixed = axis.opening.map((v) => v * along) as unknown as V3;
    const even = arm.map((v, k) => v - fixed[k]!) as unknown as V3;
    const o = axis.opening;
    const odd: V3 = [o[1] * arm[2] - o[2] * arm[1], o[2] * arm[0] - o[0] * arm[2], o[0] * arm[1] - o[1] * arm[0]];
    const base = at.get(s.base)!;
    const leverArm = (deg: number): number => {
      const p = turned({ fixed, even, odd }, toRad(deg));
      const d = p.map((v, c) => v + axis.origin[c]! - base[c]!);
      const swing = [o[1] * p[2] - o[2] * p[1], o[2] * p[0] - o[0] * p[2], o[0] * p[1] - o[1] * p[0]];
      return (swing[0]! * d[0]! + swing[1]! * d[1]! + swing[2]! * d[2]!) / Math.hypot(...d);
    };
    let [min, max] = [Infinity, 0];
    for (let k = 0; k <= 720; k++) {
      const p = turned({ fixed, even, odd }, toRad((frame.openDeg * k) / 720));
      const length = Math.hypot(...p.map((v, c) => v + axis.origin[c]! - base[c]!));
      min = Math.min(min, length);
      max = Math.max(max, length);
    }
    // on a dead centre at a table angle friction has no side: an answer there is a matter of rounding, not of law
    if (tableAngles(frame.openDeg).some((deg) => Math.abs(leverArm(deg)) < 0.01)) return null;
    const { share } = extra[i]!;
    const strokeMm = Math.max(40, (max - min) * 1.02 + 6);
    const extendedMm = max + (strokeMm - (max - min)) * share;
    if (extendedMm - strokeMm < 5 || min < 20) return null;
    return { ...s, spec: { ...s.spec, extendedMm: extendedMm, strokeMm } };
  });
  if (struts.some((s) => s === null)) return null;
  job = { ...job, struts } as Job;
  return job;
}

export interface LidOptions {
  readonly struts?: { readonly min: number; readonly max: number };
  readonly cases?: number;
  readonly pairs?: boolean;
}

/** Random lids with struts that fit over the whole travel; slope, temperature and charge all vary. */
export const anyLid = ({ struts = { min: 0, max: 2 }, cases = 1, pairs = true }: LidOptions = {}): fc.Arbitrary<Job> =>
  fc
    .record({
      a: point(900),
      along: direction,
      spanMm: span(150, 1500),
      grip: point(900),
      masses: fc.array(fc.record({ kg: span(0.5, 60), at: point(900) }), { minLength: 1, maxLength: 4 }),
      opens: fc.constantFrom<'up' | 'down'>('up', 'down'),
      frictionNm: span(0, 8),
      openDeg: span(15, 160),
      struts: fc.array(strut(pairs), { minLength: struts.min, maxLength: struts.max }),
      cases: fc.array(
        fc.record({
          pitchDeg: span(-25, 25),
          rollDeg: span(-25, 25),
          tempC: span(-25, 60),
          force: fc.constantFrom<'low' | 'nominal' | 'high'>('low', 'nominal', 'high'),
        }),
        { minLength: cases, maxLength: cases },
      ),
    })
    .map(({ along, spanMm, ...parts }) => {
      const k = spanMm / Math.hypot(...along);
      const b = parts.a.map((v, i) => v + along[i]! * k) as unknown as V3;
      try {
        return fit({ ...parts, b }, parts.struts);
      } catch {
        return null; // grip on the axis, a hinge that neither raises nor lowers: not what these laws are about
      }
    })
    .filter((job): job is Job => job !== null);

/** Random lids on which a seal presses and the wind blows, on a base that is braked; with a latch and an outline. */
export const anyPressedLid = (options: LidOptions = {}): fc.Arbitrary<Job> =>
  fc
    .tuple(
      anyLid(options),
      fc.record({
        corners: fc.array(point(900), { minLength: 3, maxLength: 5 }),
        seal: fc.record({ forceN: span(0, 300), overMm: span(2, 60) }),
        ms: span(0, 25),
        towards: fc.oneof(fc.constantFrom<'open' | 'shut'>('open', 'shut'), direction),
        coefficient: fc.constantFrom(undefined, 1.2, 1.8),
        accelG: fc.tuple(span(-0.8, 0.8), span(-0.8, 0.8), span(-0.8, 0.8)),
        latch: point(900),
      }),
    )
    .map(([job, { corners, seal, ms, towards, coefficient, accelG, latch }]) => {
      const ids = corners.map((_, i) => `corner${i}`);
      const wind = { ms, towards, ...(coefficient === undefined ? {} : { coefficient }) };
      return {
        ...job,
        points: [
          ...job.points,
          ...corners.map((at, i) => ({ id: ids[i]!, on: 'lid' as const, at })),
          { id: 'latch', on: 'base' as const, at: latch },
        ],
        outline: ids,
        seal,
        latch: { at: 'latch' },
        loadCases: job.loadCases.map((c, i) => ({ ...c, accelG, ...(i % 2 === 0 ? { wind } : {}) })),
      };
    })
    .filter((job) => jobIssues(resolveJob(job)).length === 0);
