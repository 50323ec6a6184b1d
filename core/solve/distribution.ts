import { fail } from '../error';

/** ln Γ(a) for a > 0 by Stirling's series after shifting a over 12. Source: Abramowitz & Stegun 6.1.41 (from memory). @example logGamma(5) // 3.1780538303479458 */
export function logGamma(a: number): number {
  let shift = 0;
  let z = a;
  while (z < 12) shift += Math.log(z++);
  const q = 1 / (z * z);
  const series = (1 / 12 - q * (1 / 360 - q * (1 / 1260 - q * (1 / 1680 - q / 1188)))) / z;
  return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - shift;
}

/** Upper tail Q(a, x) of the gamma distribution: series below a + 1, continued fraction above (Lentz). */
function gammaTail(a: number, x: number): number {
  if (x <= 0) return 1;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 2000 && term > sum * 1e-17; n++) sum += term *= x / (a + n);
    return 1 - front * sum;
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < 2000; n++) {
    const k = -n * (n - a);
    b += 2;
    d = 1 / (k * d + b);
    c = b + k / c;
    const factor = c * d;
    h *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return front * h;
}

/** Chance that a χ² variable of `freedom` degrees exceeds x. @example chiSquareTail(2, 2) // 0.36787944117144233 */
export const chiSquareTail = (x: number, freedom: number): number => gammaTail(freedom / 2, x / 2);

/** Chance that a standard normal variable exceeds z. @example normalTail(0) // 0.5 */
export const normalTail = (z: number): number =>
  z >= 0 ? 0.5 * gammaTail(0.5, (z * z) / 2) : 1 - 0.5 * gammaTail(0.5, (z * z) / 2);

function crossing(tail: (x: number) => number, chance: number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let k = 0; k < 200; k++) {
    const middle = 0.5 * (low + high);
    if (middle === low || middle === high) break;
    if (tail(middle) > chance) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

const isChance = (chance: number): boolean => chance > 0 && chance < 1;

/** z that a standard normal variable exceeds with the given chance, 0 < chance < 1. Throws a LidwrightError outside it. @example normalQuantile(0.5) // 0 */
export function normalQuantile(chance: number): number {
  if (!isChance(chance)) return fail(`${chance} is no chance`, [], 'Give a number between 0 and 1.');
  if (chance === 0.5) return 0;
  return chance > 0.5 ? -crossing(normalTail, 1 - chance, 0, 40) : crossing(normalTail, chance, 0, 40);
}

/** x that a χ² variable exceeds with the given chance. Throws a LidwrightError for a chance outside 0 … 1. @example chiSquareQuantile(0.05, 2) // 5.991464547107979 */
export function chiSquareQuantile(chance: number, freedom: number): number {
  if (!isChance(chance)) return fail(`${chance} is no chance`, [], 'Give a number between 0 and 1.');
  let high = freedom + 10;
  while (chiSquareTail(high, freedom) > chance) high *= 2;
  return crossing((x) => chiSquareTail(x, freedom), chance, 0, high);
}

/** Level and power of the w-test that are usual in survey work (Baarda 1968). */
export const BAARDA = { alpha: 0.001, power: 0.8 } as const;

/** |w| above which a reading counts as wrong at significance alpha (two sides). @example criticalW(0.05).toFixed(6) // "1.959964" */
export const criticalW = (alpha: number = BAARDA.alpha): number => normalQuantile(alpha / 2);

/** δ₀: the expected w that a blunder must cause to be found with the given power. @example detectableW(0.05, 0.8).toFixed(6) // "2.801585" */
export const detectableW = (alpha: number = BAARDA.alpha, power: number = BAARDA.power): number =>
  criticalW(alpha) + normalQuantile(1 - power);
