// How much a strut's force changes with 10 K: p/T at constant volume, less the atmosphere that pushes back.
import { describe, it } from 'vitest';
import { extendingN, gasBody } from '../../core/strut';
import { expectClose, within } from '../support/close';

const spec = (forceN: number, rodMm: number) =>
  ({
    extendedMm: 500,
    strokeMm: 200,
    forceN,
    ratio: 1.3,
    rodMm,
    tubeMm: 28,
    frictionN: 0,
    toleranceN: [0, 0],
  }) as const;

describe('a gas spring by 10 K', () => {
  // Computed, 303.15/293.15 = 1.034112, 283.15/293.15 = 0.965888 (p/T = const; Gay-Lussac).
  it('absolute pressure follows the absolute temperature', () => {
    const body = gasBody(spec(400, 8), 'nominal');
    const absolute = (tempC: number) => extendingN(body, 5, tempC) / body.rodAreaMm2 + 0.101325;
    expectClose(absolute(30) / absolute(20), 1.034112, within(1e-6, '1'));
    expectClose(absolute(10) / absolute(20), 0.965888, within(1e-6, '1'));
  });
  // Computed: (1/F)·dF/dT = (F + p_atm·a)/(F·T), in % per K.
  it.each([
    [400, 8, 0.345466],
    [750, 10, 0.344742],
    [150, 6, 0.347637],
  ])('force of %d N on a %d mm rod', (forceN, rodMm, percentPerK) => {
    const body = gasBody(spec(forceN, rodMm), 'nominal');
    const slope = (extendingN(body, 5, 20.5) - extendingN(body, 5, 19.5)) / forceN;
    expectClose(slope * 100, percentPerK, within(1e-5, '%/K'));
  });
  // Common practice, no source: "a gas spring changes by about 3.5 % of its force every 10 °C".
  it('is the 3.5 % of the trade’s rule of thumb', () => {
    for (const [forceN, rodMm] of [
      [150, 6],
      [400, 8],
      [750, 10],
      [1800, 14],
    ] as const) {
      const body = gasBody(spec(forceN, rodMm), 'nominal');
      expectClose(((extendingN(body, 5, 30) - extendingN(body, 5, 20)) / forceN) * 100, 3.5, within(0.1, '%'));
    }
  });
});
