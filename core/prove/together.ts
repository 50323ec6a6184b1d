import type { Change, StrutChange } from './types';

type Pair = readonly [number, number];

const sum = (a = 0, b = 0): number => a + b;
const times = (a = 1, b = 1): number => a * b;
const plus = (a: Pair = [0, 0], b: Pair = [0, 0]): Pair => [a[0] + b[0], a[1] + b[1]];

/** `key` of both as one; nothing where neither has it. */
const joined = <T, K extends keyof T>(
  key: K,
  a: T,
  b: T,
  by: (a: T[K] | undefined, b: T[K] | undefined) => T[K],
): Partial<Pick<T, K>> =>
  a[key] === undefined && b[key] === undefined ? {} : ({ [key]: by(a[key], b[key]) } as Pick<T, K>);

const ofStrut = (a: StrutChange = {}, b: StrutChange = {}): StrutChange => ({
  ...joined('forceFactor', a, b, times),
  ...joined('fillFactor', a, b, times),
  ...joined('frictionN', a, b, sum),
  ...joined('extendedMm', a, b, sum),
  ...joined('baseMm', a, b, plus),
  ...joined('lidMm', a, b, plus),
  ...joined('working', a, b, (x = 2, y = 2) => Math.min(x, y) as 0 | 1 | 2),
});

/** Changes that happen at once, as one: what is added adds up, what multiplies multiplies. */
export const together = (...changes: readonly Change[]): Change => changes.reduce(both, {});

function both(a: Change, b: Change): Change {
  const ids = (of: 'struts' | 'massKg'): string[] => [
    ...new Set([...Object.keys(a[of] ?? {}), ...Object.keys(b[of] ?? {})]),
  ];
  const masses = ids('massKg').map((id) => [id, sum(a.massKg?.[id], b.massKg?.[id])]);
  const struts = ids('struts').map((id) => [id, ofStrut(a.struts?.[id], b.struts?.[id])]);
  return {
    ...joined('massShare', a, b, sum),
    ...joined('hingeNm', a, b, sum),
    ...joined('centreMm', a, b, plus),
    ...(masses.length > 0 ? { massKg: Object.fromEntries(masses) as Record<string, number> } : {}),
    ...(struts.length > 0 ? { struts: Object.fromEntries(struts) as Record<string, StrutChange> } : {}),
  };
}
