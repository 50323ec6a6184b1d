import { attempt, fail } from '../error';
import { NEWTONS_OF } from './constants';
import { type Scope, evaluateQuantity } from './expression';

/** What a scale shows: a luggage or bathroom scale reads kg or lb, a spring balance N. */
export type ScaleUnit = 'kg' | 'N' | 'lb';

/** Newtons of one unit that a scale shows: kg and lb stand for the weight of that mass at standard gravity. */
const NEWTONS_OF_SCALE: Record<ScaleUnit, number> = { kg: NEWTONS_OF.kgf, N: 1, lb: NEWTONS_OF.lbf };

/** The unit of force that a number on such a scale stands for. */
export const UNIT_OF_SCALE: Record<ScaleUnit, string> = { kg: 'kgf', N: 'N', lb: 'lbf' };

/**
 * What a scale read, in N: a number alone is in the scale's own unit, and a mass counts as the weight of it
 * (g = 9.80665 m/s²). Throws a LidwrightError that says what can't be read.
 * @example readScale('12.5', 'kg') // 122.583125
 * @example readScale('500 g', 'N') // 4.903325
 */
export function readScale(text: string, scale: ScaleUnit, scope: Scope = new Map()): number {
  const force = attempt(() => evaluateQuantity(text, 'force', scope, UNIT_OF_SCALE[scale]));
  if (!force.error) return force.value;
  const kg = attempt(() => evaluateQuantity(text, 'mass', scope, 'kg')).value;
  return kg === null
    ? fail(force.error.what, [], `Type what the scale shows, for example 12.4 or 12.4 ${scale}.`)
    : Number((kg * NEWTONS_OF_SCALE.kg).toPrecision(13));
}

/** A force as a scale would show it: digits only, as many as hold it to 1e-4. @example shownOnScale(122.583125, 'kg') // '12.5' */
export function shownOnScale(forceN: number, scale: ScaleUnit): string {
  const text = (forceN / NEWTONS_OF_SCALE[scale]).toFixed(4);
  return text.replace(/\.?0+$/, '').replace(/^-0$/, '0');
}

/** A force as a scale would show it, with its unit. @example formatOnScale(122.6, 'kg') // '12.50 kg' */
export const formatOnScale = (forceN: number, scale: ScaleUnit, decimals = scale === 'N' ? 0 : 2): string =>
  `${(forceN / NEWTONS_OF_SCALE[scale])
    .toFixed(decimals)
    .replace(/^-(0(\.0*)?)$/, '$1')
    .replace('-', '−')} ${scale}`;
