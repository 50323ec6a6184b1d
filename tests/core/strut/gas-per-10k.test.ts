// How much a strut's force changes with 10 K: p/T at constant volume, less the atmosphere that pushes back.
import { describe, it } from 'vitest';
import { type GasBody, compressingN, extendingN, gasBody, gasForceN } from '../../../core/strut';
import { expectClose, within } from '../../support/close';

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

const ATM = 0.101325;

/** A body of piston area `areaMm2` over a gas volume `volumeMm3` at full extension, at `mpa` absolute and `kelvin` there. */
function body(areaMm2: number, volumeMm3: number, mpa: number, kelvin: number): GasBody {
  const fillPerMm = areaMm2 / volumeMm3;
  return {
    rodAreaMm2: areaMm2,
    fillPerMm,
    ratedMPa: (mpa * (293.15 / kelvin)) / (1 - 5 * fillPerMm),
    halfFrictionN: 0,
  };
}
const absolute = (b: GasBody, sMm: number, kelvin: number): number =>
  gasForceN(b, sMm, kelvin - 273.15) / b.rodAreaMm2 + ATM;

describe('a gas spring by 10 K', () => {
  // p/T = const.
  it('10 K up from 20 °C: +3.4112 %, 10 K down: −3.4112 %', () => {
    const b = body(78.5, 40_000, 9.1, 293.15);
    const at20 = absolute(b, 0, 293.15);
    expectClose(absolute(b, 0, 303.15) / at20, 1.034112, within(1e-6, '1'));
    expectClose(absolute(b, 0, 283.15) / at20, 0.965888, within(1e-6, '1'));
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

describe('force per kelvin', () => {
  // (1/F)·dF/dT = (F + p_atm·a)/(F·T): a little more than the pressure's, because the atmosphere pushes back.
  it.each([
    [400, 8, 0.345466],
    [750, 10, 0.344742],
    [150, 6, 0.347637],
  ])('%d N, rod %d mm: %d %%/K near 20 °C', (forceN, rodMm, percent) => {
    const area = (Math.PI * rodMm * rodMm) / 4;
    const b = body(area, 60 * area * 12, forceN / area + ATM, 293.15);
    expectClose(extendingN(b, 0, 20), forceN, within(1e-9, 'N'));
    const slope = (extendingN(b, 0, 20.5) - extendingN(b, 0, 19.5)) / forceN;
    expectClose(100 * slope, percent, within(1e-6, '%/K'));
    expectClose(compressingN(b, 0, 20), forceN, within(1e-9, 'N'));
  });
});
