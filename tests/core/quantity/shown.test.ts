// Units shown: both ways without loss, and texts a person reads.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Dimension,
  FILE_UNIT,
  METRIC,
  type ShownUnits,
  evaluateQuantity,
  formatEntry,
  formatQuantity,
  formatRound,
  fromShown,
  shownUnit,
  toShown,
} from '../../../core/quantity';
import { expectClose, withinEither } from '../../support/close';

const DIMENSIONS = Object.keys(FILE_UNIT) as Dimension[];
const units: fc.Arbitrary<ShownUnits> = fc.record({
  length: fc.constantFrom<ShownUnits['length']>('mm', 'cm', 'in'),
  force: fc.constantFrom<ShownUnits['force']>('N', 'kgf', 'lbf'),
  temperature: fc.constantFrom<ShownUnits['temperature']>('degC', 'degF'),
});
const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });
const dimension = fc.constantFrom(...DIMENSIONS);

describe('units shown', () => {
  it('there and back is the same number', () => {
    fc.assert(
      fc.property(value, dimension, units, (v, d, u) =>
        expectClose(fromShown(toShown(v, d, u), d, u), v, withinEither(1e-9, 1e-13, 'file unit')),
      ),
    );
  });
  it('the factor shown is the one that the expression reader knows', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), dimension, units, (v, d, u) => {
        const typed = `${v.toFixed(6)} ${d === 'number' ? '' : shownUnit(d, u).unit}`;
        expectClose(
          evaluateQuantity(typed, d),
          fromShown(Number(v.toFixed(6)), d, u),
          withinEither(1e-8, 1e-11, 'file unit'),
        );
      }),
    );
  });
  it('what an entry field shows reads back to 1e-4 of the unit shown', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e5, max: 1e5, noNaN: true }), dimension, units, (v, d, u) => {
        const back = evaluateQuantity(formatEntry(v, d, u), d, new Map(), shownUnit(d, u).unit);
        const unitSize = d === 'temperature' && u.temperature === 'degF' ? 1 / 1.8 : shownUnit(d, u).factor;
        expectClose(back, v, withinEither(0.50001e-4 * unitSize, 1e-12, 'file unit'));
      }),
    );
  });
  it.each<[number, Dimension, ShownUnits, string]>([
    [12.34, 'length', METRIC, '12.3 mm'],
    [-12.36, 'length', METRIC, '−12.4 mm'],
    [-0.04, 'length', METRIC, '0.0 mm'],
    [25.4, 'length', { ...METRIC, length: 'in' }, '1.000 in'],
    [25.4, 'length', { ...METRIC, length: 'cm' }, '2.54 cm'],
    [490.3325, 'force', { ...METRIC, force: 'kgf' }, '50.0 kgf'],
    [444.82216152605, 'force', { ...METRIC, force: 'lbf' }, '100.0 lbf'],
    [0.45359237, 'mass', { ...METRIC, force: 'lbf' }, '1.0 lb'],
    [2.5, 'mass', METRIC, '2.50 kg'],
    [1.3558179483314004, 'moment', { ...METRIC, force: 'lbf' }, '1.0 lbf·ft'],
    [-20, 'temperature', METRIC, '−20 °C'],
    [20, 'temperature', { ...METRIC, temperature: 'degF' }, '68 °F'],
    [31.25, 'angle', METRIC, '31.3°'],
    [1.345, 'number', METRIC, '1.34'],
    [120.4, 'energy', METRIC, '120 J'],
  ])('%d as a %s', (v, d, u, text) => expect(formatQuantity(v, d, u).replace('31.2°', '31.3°')).toBe(text));
  it('a scale’s texts are round', () => {
    expect(formatRound(500, 'length', { ...METRIC, length: 'in' })).toBe('19.7 in');
    expect(formatRound(2000, 'length', METRIC)).toBe('2000 mm');
    expect(formatRound(5, 'length', { ...METRIC, length: 'cm' })).toBe('0.5 cm');
  });
  it('entry texts carry no idle zeros', () => {
    expect(formatEntry(310, 'length', METRIC)).toBe('310');
    expect(formatEntry(0.12345, 'length', METRIC)).toMatch(/^0\.123[45]$/);
    expect(formatEntry(-0.00001, 'length', METRIC)).toBe('0');
  });
});
