// Units of NIST Special Publication 811 and CODATA, as scipy.constants has them, through what a person types.
import { describe, it } from 'vitest';
import { type Dimension, STANDARD_GRAVITY, evaluateQuantity } from '../../core/quantity';
import { ATMOSPHERE_PA, ZERO_C_K } from '../../core/strut';
import { toRad } from '../../core/space';
import { expectClose, within, withinEither } from '../support/close';

describe('exact units (NIST SP 811; scipy.constants 1.17.1)', () => {
  it.each<[string, Dimension, number]>([
    ['1 kgf', 'force', 9.80665],
    ['1 lb', 'mass', 0.45359237],
    ['1 lbf', 'force', 4.4482216152605],
    ['1 in', 'length', 25.4],
    ['1 ft', 'length', 304.8],
    ['1 yd', 'length', 914.4],
    ['273.15 K', 'temperature', 0],
    ['32 °F', 'temperature', 0],
    ['1 rad', 'angle', 180 / Math.PI],
  ])('%s', (text, dimension, value) =>
    expectClose(evaluateQuantity(text, dimension), value, withinEither(1e-12, 1e-13, 'file unit')),
  );
  it('standard gravity, standard atmosphere, ice point, degree', () => {
    expectClose(STANDARD_GRAVITY, 9.80665, within(0, 'm/s²'));
    expectClose(ATMOSPHERE_PA, 101_325, within(0, 'Pa'));
    expectClose(ZERO_C_K, 273.15, within(0, 'K'));
    expectClose(toRad(1), 0.017453292519943, within(1e-15, 'rad'));
  });
});

describe('what a workshop types (computed from the exact units)', () => {
  it.each<[string, Dimension, number]>([
    ['15 3/4 in', 'length', 400.05],
    ['50 kgf', 'force', 490.3325],
    ['100 lbf', 'force', 444.82216152605],
    ['1 lbf ft', 'moment', 1.35581794833],
    ['1000 lbf in', 'moment', 112.984829028],
  ])('%s', (text, dimension, value) =>
    expectClose(evaluateQuantity(text, dimension), value, withinEither(0, 1e-11, 'file unit')),
  );
});
