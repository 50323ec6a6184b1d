// A strut on the bench: true readings give it back, bands hold what they promise, a blunder is named and bad readings are refused.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compressingN, extendingN, gasBody, specOf } from '../../../core/strut';
import { type StrutOnBench, measuredStrut } from '../../../core/weigh';
import { runs } from '../../support/tier';

const BODY = { extendedMm: 500, strokeMm: 200, rodMm: 8, tubeMm: 18 };
const TRUE = { ...BODY, forceN: 412, ratio: 1.34, frictionN: 32, toleranceN: [0, 0] as const };

function bench(spec = TRUE, off: (i: number) => number = () => 0, lengths = [460, 400, 340], tempC = 12): StrutOnBench {
  const body = gasBody(spec, 'nominal');
  const readings = lengths
    .flatMap((lengthMm) => (['in', 'out'] as const).map((way) => ({ lengthMm, way })))
    .map((r, i) => ({
      ...r,
      forceN: (r.way === 'in' ? compressingN : extendingN)(body, spec.extendedMm - r.lengthMm, tempC) + off(i),
      plusMinusN: 8,
    }));
  return { name: 'mine', ...BODY, ...spec, tempC, labelN: null, readings };
}

describe('true readings', () => {
  it('give F1, ratio and friction back, at any temperature, from two or three lengths', () => {
    for (const lengths of [
      [460, 340],
      [480, 400, 310],
    ])
      for (const tempC of [-5, 20, 35]) {
        const found = measuredStrut(bench(TRUE, () => 0, lengths, tempC));
        expect(found.forceN.value).toBeCloseTo(412, 4);
        expect(found.ratio.value).toBeCloseTo(1.34, 6);
        expect(found.frictionN.value).toBeCloseTo(32, 4);
        expect(found.doubtful).toEqual([]);
        const { entry } = found;
        expect(specOf(entry, entry.forceMinN)).toMatchObject({ forceN: 412, ratio: 1.34, frictionN: 32 });
      }
  });
  it('of random struts too', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 80, max: 1500, noNaN: true }),
        fc.double({ min: 1.1, max: 1.7, noNaN: true }),
        fc.double({ min: 2, max: 80, noNaN: true }),
        (forceN, ratio, frictionN) => {
          const found = measuredStrut(bench({ ...TRUE, forceN, ratio, frictionN }));
          expect(found.forceN.value / forceN).toBeCloseTo(1, 5);
          expect(found.ratio.value).toBeCloseTo(ratio, 5);
          expect(found.frictionN.value).toBeCloseTo(frictionN, 3);
        },
      ),
      { numRuns: runs(300) },
    );
  });
});

it('the bands hold 95 % of what a scale that is off at random makes of them', () => {
  // a generator of its own, so that the share is the same every time
  let seed = 7;
  const uniform = (): number => (seed = (seed * 16807) % 2147483647) / 2147483647;
  const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const n = 400;
  const inside = { forceN: 0, ratio: 0, frictionN: 0 };
  for (let k = 0; k < n; k++) {
    const found = measuredStrut(bench(TRUE, () => (normal() * 8) / 1.96));
    for (const key of ['forceN', 'ratio', 'frictionN'] as const)
      if (Math.abs(found[key].value - TRUE[key]) <= found[key].plusMinus) inside[key]++;
  }
  // 95 % ± 4 σ of the count; the length's own 0.5 mm makes the bands a little wider than this scale asks
  for (const key of ['forceN', 'ratio', 'frictionN'] as const) expect(inside[key] / n).toBeGreaterThan(0.91);
});

it('one reading that is far off is doubted; where nobody can tell which of several, all are named', () => {
  const far = measuredStrut(bench(TRUE, (i) => (i === 2 ? 60 : 0)));
  expect(far.doubtful).toContain(2);
  const two = measuredStrut(bench(TRUE, (i) => (i === 1 ? 60 : 0), [460, 340]));
  expect(two.doubtful.length).toBeGreaterThan(1);
  expect(two.doubtful).toContain(1);
});

it('its label is held against it', () => {
  expect(measuredStrut({ ...bench(), labelN: 414 }).label).toBe('');
  expect(measuredStrut({ ...bench(), labelN: 500 }).label).toContain('18 % less');
});

it('readings that cannot tell are refused, with what is lacking', () => {
  const why = (over: Partial<StrutOnBench>): string => {
    try {
      measuredStrut({ ...bench(), ...over });
      return '';
    } catch (error) {
      return String((error as Error).message);
    }
  };
  const { readings } = bench();
  expect(why({ readings: readings.filter((r) => r.way === 'in') })).toContain('went out');
  expect(why({ readings: readings.filter((r) => r.lengthMm === 460) })).toContain('nearly the same length');
  expect(why({ readings: [...readings, { lengthMm: 600, way: 'in', forceN: 400, plusMinusN: 5 }] })).toContain(
    'cannot be',
  );
  expect(why({ readings: readings.map((r) => ({ ...r, plusMinusN: 0 })) })).toContain('over 0');
  expect(why({ readings: readings.map((r) => ({ ...r, forceN: 400 + (r.lengthMm - 400) * 2 })) })).toContain(
    'no gas spring',
  );
  expect(why({})).toBe('');
});
