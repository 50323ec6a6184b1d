// The gas law: worked table (tests/fixtures/golden/README.md), what defines the law, and what no strut can have.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { type StrutSpec, compressingN, extendingN, gasBody, gasForceN, specIssues } from '../../../core/strut';
import worked from '../../fixtures/golden/worked.json';
import { expectClose, within, withinEither } from '../../support/close';

const spec = (over: Partial<StrutSpec> = {}): StrutSpec => ({
  extendedMm: 905,
  strokeMm: 210,
  forceN: 415,
  ratio: 1.28,
  rodMm: 8,
  tubeMm: 19,
  frictionN: 26,
  toleranceN: [-17, 23],
  ...over,
});

describe('gas law', () => {
  it.each(worked.gas)('worked: $forceN N, rod $rodMm, ratio $ratio, stroke $strokeMm, band $frictionN', (row) => {
    const body = gasBody(spec({ ...row, toleranceN: [0, 0] }), 'nominal');
    expectClose(body.fillPerMm, row.fillPerMm, withinEither(0, 1e-9, '1/mm'));
    for (const [s, tempC, out, inn] of row.at as [number, number, number, number][]) {
      expectClose(extendingN(body, s, tempC), out, withinEither(1e-6, 0, 'N'), `out at ${s} mm, ${tempC} °C`);
      expectClose(compressingN(body, s, tempC), inn, withinEither(1e-6, 0, 'N'), `in at ${s} mm, ${tempC} °C`);
    }
  });

  const specs = fc.record({
    strokeMm: fc.double({ min: 21, max: 600, noNaN: true }),
    forceN: fc.double({ min: 60, max: 2500, noNaN: true }),
    ratio: fc.double({ min: 1, max: 1.8, noNaN: true }),
    rodMm: fc.constantFrom(6, 8, 10, 14),
    frictionN: fc.double({ min: 0, max: 80, noNaN: true }),
  });

  it('rating points: F1 at 5 mm and ratio·F1 at stroke − 5 mm, extending, 20 °C', () => {
    fc.assert(
      fc.property(specs, (s) => {
        const body = gasBody(spec({ ...s, extendedMm: 2 * s.strokeMm + 90, tubeMm: 28 }), 'nominal');
        expectClose(extendingN(body, 5, 20), s.forceN, within(1e-6, 'N'));
        expectClose(extendingN(body, s.strokeMm - 5, 20), s.ratio * s.forceN, within(1e-6, 'N'));
      }),
    );
  });
  it('band: compressing less extending force is the friction band at every compression and temperature', () => {
    fc.assert(
      fc.property(
        specs,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.integer({ min: -40, max: 80 }),
        (s, share, t) => {
          const body = gasBody(spec({ ...s, extendedMm: 2000, tubeMm: 28 }), 'nominal');
          const at = share * s.strokeMm;
          expectClose(compressingN(body, at, t) - extendingN(body, at, t), s.frictionN, within(1e-9, 'N'));
        },
      ),
    );
  });
  it('closed gas: absolute pressure × volume / temperature is one number for the whole stroke', () => {
    fc.assert(
      fc.property(
        specs,
        fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: -40, max: 80 })), {
          minLength: 2,
          maxLength: 6,
        }),
        (s, points) => {
          const body = gasBody(spec({ ...s, extendedMm: 2000, tubeMm: 28 }), 'nominal');
          const area = (Math.PI * s.rodMm ** 2) / 4;
          // volume in units of rod area over fill: V = 1/c − s
          const state = points.map(([share, tempC]) => {
            const at = share * s.strokeMm;
            const absolute = gasForceN(body, at, tempC) / area + 0.101325;
            return (absolute * (1 - body.fillPerMm * at)) / (tempC + 273.15);
          });
          for (const value of state) expectClose(value, state[0]!, withinEither(0, 1e-12, 'MPa/K'));
        },
      ),
    );
  });
  it('charge: a low or high force moves F1 by its tolerance and leaves the body as it is', () => {
    const [low, nominal, high] = (['low', 'nominal', 'high'] as const).map((level) => gasBody(spec(), level));
    expectClose(extendingN(low!, 5, 20), 415 - 17, within(1e-9, 'N'));
    expectClose(extendingN(nominal!, 5, 20), 415, within(1e-9, 'N'));
    expectClose(extendingN(high!, 5, 20), 415 + 23, within(1e-9, 'N'));
    expect(low!.fillPerMm).toBe(nominal!.fillPerMm);
    expect(high!.fillPerMm).toBe(nominal!.fillPerMm);
  });
  it('a ratio of 1 without friction is a constant force', () => {
    const body = gasBody(spec({ ratio: 1, frictionN: 0 }), 'nominal');
    for (const s of [0, 5, 77.7, 210]) expectClose(extendingN(body, s, 20), 415, within(1e-9, 'N'));
  });
});

describe('specs that no strut has', () => {
  it('a real one has none', () => expect(specIssues(spec())).toEqual([]));
  it.each<[keyof StrutSpec, Partial<StrutSpec>]>([
    ['strokeMm', { strokeMm: 0 }],
    ['strokeMm', { strokeMm: 19.99 }],
    ['strokeMm', { strokeMm: NaN }],
    ['forceN', { forceN: 0 }],
    ['forceN', { forceN: -5 }],
    ['ratio', { ratio: 0.999 }],
    ['ratio', { ratio: NaN }],
    ['rodMm', { rodMm: 0 }],
    ['tubeMm', { tubeMm: 8 }],
    ['frictionN', { frictionN: -1 }],
    ['extendedMm', { extendedMm: 210 }],
    ['toleranceN', { toleranceN: [5, 10] }],
    ['toleranceN', { toleranceN: [-20, -10] }],
    ['toleranceN', { toleranceN: [-415, 0] }],
    ['ratio', { ratio: 90, strokeMm: 20.5 }],
  ])('%s of %o is refused by name', (key, over) => {
    const issues = specIssues(spec(over));
    expect(issues.map((i) => i.where[0])).toContain(key);
    for (const issue of issues) expect(issue.what.length * issue.advice.length).toBeGreaterThan(0);
    expect(() => gasBody(spec(over), 'nominal')).toThrow(LidwrightError);
  });
});
