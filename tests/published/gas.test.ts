/*
Gas laws of textbooks through the strut's gas law: a charged body whose "rod" is the source's piston. Absolute pressure is
read back from the force. Where a source counts 14.7 psi for the atmosphere, so does the check.
*/
import { describe, it } from 'vitest';
import { type GasBody, gasForceN } from '../../core/strut';
import { expectClose, within, withinEither } from '../support/close';

const PSI = 6894.757293168e-6; // MPa
const INCH = 25.4;
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

describe('constant volume', () => {
  // OpenStax University Physics vol. 2, "Calculating Pressure Changes Due to Temperature Changes", m58391.
  it('7.00e5 Pa from 18.0 to 35.0 °C: 7.41e5 Pa', () => {
    const b = body(50, 11_000, 0.7, 291.15);
    expectClose(absolute(b, 0, 308.15), 0.741, withinEither(0, 1e-3, 'MPa'));
    expectClose(absolute(b, 0, 308.15), 0.740872, within(1e-6, 'MPa'));
    expectClose(absolute(b, 0, 291.15), 0.7, within(1e-12, 'MPa'));
  });
  // Beiser, Schaum's Outline of Physical Science, Ex. 10.9.
  it('35 lb/in² from 283 to 322 K: 39.823 lb/in²', () => {
    expectClose(absolute(body(50, 11_000, 35 * PSI, 283), 0, 322) / PSI, 39.823, within(5e-4, 'psi'));
  });
});

describe('constant temperature', () => {
  // Joel, Basic Engineering Thermodynamics, 5th ed., Ex. 5.1 p. 98.
  it('765 mmHg, 20 000 to 17 000 mm³: 900 mmHg', () => {
    const mmHg = ATM / 760;
    expectClose(absolute(body(60, 20_000, 765 * mmHg, 293.15), 3000 / 60, 293.15) / mmHg, 900, within(1e-9, 'mmHg'));
  });
  // Esposito, Fluid Power with Applications, 6th ed., Ex. 13.1 p. 471.
  it('bore 2 in pushed 4 in into 20 in³ at 20 psig: 78.7 psig', () => {
    const area = Math.PI * INCH * INCH;
    const b = body(area, 20 * INCH ** 3, 34.7 * PSI, 293.15);
    const gauge = absolute(b, 4 * INCH, 293.15) / PSI - 14.7;
    expectClose(gauge, 78.7, within(0.05, 'psi'));
    expectClose(gauge, 78.6595, within(1e-4, 'psi'));
  });
});

describe('volume and temperature together', () => {
  // Esposito, Ex. 13.4 p. 475; the result with its 0 °F at 460 °R.
  it('1000 psig, 2000 to 1500 in³, 100 to 200 °F: 1579.83 psig', () => {
    const area = Math.PI * INCH * INCH;
    const b = body(area, 2000 * INCH ** 3, 1014.7 * PSI, 560 / 1.8);
    expectClose(absolute(b, (500 * INCH ** 3) / area, 660 / 1.8) / PSI - 14.7, 1579.83, within(0.1, 'psi'));
  });
});
