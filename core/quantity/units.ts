import { KG_PER_POUND, MM_OF, MM_PER_FOOT, NEWTONS_OF } from './constants';

/** What a number measures. Each has one unit in files, and one or more for show. */
export type Dimension = 'length' | 'mass' | 'force' | 'moment' | 'angle' | 'temperature' | 'energy' | 'number';

/** The unit that files hold and core computes in (moments: N·m as in files and on screens). */
export const FILE_UNIT: Record<Dimension, string> = {
  length: 'mm',
  mass: 'kg',
  force: 'N',
  moment: 'N m',
  angle: 'deg',
  temperature: 'degC',
  energy: 'J',
  number: '',
};

/** What the person wants to see; nothing in a file depends on it. */
export interface ShownUnits {
  readonly length: 'mm' | 'cm' | 'in';
  readonly force: 'N' | 'kgf' | 'lbf';
  readonly temperature: 'degC' | 'degF';
}

export const METRIC: ShownUnits = { length: 'mm', force: 'N', temperature: 'degC' };

interface Shown {
  /** mathjs name. */
  readonly unit: string;
  /** As written on screen. */
  readonly sign: string;
  /** Decimals that make sense for a workshop. */
  readonly decimals: number;
  /** File value of one shown unit; temperature has a rule of its own. */
  readonly factor: number;
}

const SHOWN: Record<string, Shown> = {
  mm: { unit: 'mm', sign: 'mm', decimals: 1, factor: 1 },
  cm: { unit: 'cm', sign: 'cm', decimals: 2, factor: MM_OF.cm },
  in: { unit: 'in', sign: 'in', decimals: 3, factor: MM_OF.in },
  N: { unit: 'N', sign: 'N', decimals: 0, factor: 1 },
  kgf: { unit: 'kgf', sign: 'kgf', decimals: 1, factor: NEWTONS_OF.kgf },
  lbf: { unit: 'lbf', sign: 'lbf', decimals: 1, factor: NEWTONS_OF.lbf },
  degC: { unit: 'degC', sign: '°C', decimals: 0, factor: 1 },
  degF: { unit: 'degF', sign: '°F', decimals: 0, factor: 1 },
};

/** Masses go with lengths: who thinks in inches weighs in pounds. Moments go with forces. */
export function shownUnit(dimension: Dimension, units: ShownUnits): Shown {
  switch (dimension) {
    case 'length':
      return SHOWN[units.length] as Shown;
    case 'force':
      return SHOWN[units.force] as Shown;
    case 'temperature':
      return SHOWN[units.temperature] as Shown;
    case 'mass':
      return units.force === 'lbf'
        ? { unit: 'lb', sign: 'lb', decimals: 1, factor: KG_PER_POUND }
        : { unit: 'kg', sign: 'kg', decimals: 2, factor: 1 };
    case 'moment':
      if (units.force === 'lbf')
        return { unit: 'lbf ft', sign: 'lbf·ft', decimals: 1, factor: (NEWTONS_OF.lbf * MM_PER_FOOT) / 1000 };
      if (units.force === 'kgf') return { unit: 'kgf m', sign: 'kgf·m', decimals: 2, factor: NEWTONS_OF.kgf };
      return { unit: 'N m', sign: 'N·m', decimals: 1, factor: 1 };
    case 'angle':
      return { unit: 'deg', sign: '°', decimals: 1, factor: 1 };
    case 'energy':
      return { unit: 'J', sign: 'J', decimals: 0, factor: 1 };
    case 'number':
      return { unit: '', sign: '', decimals: 2, factor: 1 };
  }
}

/** File value → shown value. @example toShown(25.4, 'length', { length: 'in', force: 'N', temperature: 'degC' }) // 1 */
export function toShown(value: number, dimension: Dimension, units: ShownUnits): number {
  if (dimension === 'temperature' && units.temperature === 'degF') return value * 1.8 + 32;
  return value / shownUnit(dimension, units).factor;
}

/** Shown value → file value; the inverse of toShown. @example fromShown(32, 'temperature', { length: 'mm', force: 'N', temperature: 'degF' }) // 0 */
export function fromShown(value: number, dimension: Dimension, units: ShownUnits): number {
  if (dimension === 'temperature' && units.temperature === 'degF') return (value - 32) / 1.8;
  return value * shownUnit(dimension, units).factor;
}

const trimZeros = (text: string): string => (text.includes('.') ? text.replace(/\.?0+$/, '') : text);
const minus = (text: string): string => (/^-0(\.0*)?$/.test(text) ? text.slice(1) : text.replace('-', '−'));

/**
 * "12.3 mm", "−4.0 °C": a file value as shown, with its unit.
 * @example formatQuantity(12.34, 'length', { length: 'mm', force: 'N', temperature: 'degC' }) // '12.3 mm'
 */
export function formatQuantity(value: number, dimension: Dimension, units: ShownUnits, decimals?: number): string {
  const shown = shownUnit(dimension, units);
  const number = minus(toShown(value, dimension, units).toFixed(decimals ?? shown.decimals));
  if (shown.sign === '') return number;
  return dimension === 'angle' ? `${number}°` : `${number} ${shown.sign}`;
}

/** A round value with three figures and no zeros after them, for a scale. @example formatRound(500, 'length', { length: 'in', force: 'N', temperature: 'degC' }) // '19.7 in' */
export const formatRound = (value: number, dimension: Dimension, units: ShownUnits): string =>
  `${Number(toShown(value, dimension, units).toPrecision(3))} ${shownUnit(dimension, units).sign}`;

/** A number for an entry field: as many digits as it takes to hold the value to 1e-4 of the shown unit, no unit. */
export function formatEntry(value: number, dimension: Dimension, units: ShownUnits): string {
  return trimZeros(toShown(value, dimension, units).toFixed(4)).replace(/^-0$/, '0');
}

/** As `formatEntry`, with its unit: what a field's text was read as. @example formatExact(88.9, 'length', { length: 'mm', force: 'N', temperature: 'degC' }) // '88.9 mm' */
export function formatExact(value: number, dimension: Dimension, units: ShownUnits): string {
  const { sign } = shownUnit(dimension, units);
  return `${minus(formatEntry(value, dimension, units))}${sign === '' || dimension === 'angle' ? '' : ' '}${sign}`;
}
