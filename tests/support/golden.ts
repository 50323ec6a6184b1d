import { type Tolerance, type Values, difference, within, withinEither } from './close';

interface GoldenStrut {
  readonly id: string;
  readonly [row: string]: unknown;
}
interface GoldenCase {
  readonly id: string;
  readonly travel: { readonly angleDeg: number[]; readonly struts: GoldenStrut[]; readonly [row: string]: unknown };
  readonly openDeg: number;
  readonly restAnglesDeg: number[];
  readonly dropEnergyJ: number;
}
export interface GoldenResult {
  readonly title: string;
  readonly cases: GoldenCase[];
}

const LENGTH = withinEither(1e-3, 0, 'mm');
const FORCE = withinEither(0.05, 1e-5, 'N');
const MOMENT = withinEither(1e-3, 1e-5, 'N·m');
const ANGLE = withinEither(1e-3, 0, '°');

const ROWS = {
  angleDeg: ANGLE,
  weightMomentNm: MOMENT,
  handOpeningN: FORCE,
  handClosingN: FORCE,
  hingeAN: FORCE,
  hingeBN: FORCE,
  hingeAxialN: FORCE,
} as const;
const STRUT_ROWS = {
  lengthMm: LENGTH,
  leverArmMm: LENGTH,
  balanceForceN: FORCE,
  extendingN: FORCE,
  compressingN: FORCE,
  baseJointDeg: ANGLE,
  lidJointDeg: ANGLE,
} as const;

/** Every field of `actual` that does not agree with the golden result, in words; empty when all agree. */
export function goldenDifferences(actual: GoldenResult, golden: GoldenResult): string[] {
  const found: string[] = [];
  const say = (where: string, text: string | null): void => void (text !== null && found.push(`${where} ${text}`));
  if (actual.title !== golden.title) found.push('the titles differ');
  if (actual.cases.length !== golden.cases.length) found.push('another number of cases');
  golden.cases.forEach((wanted, i) => {
    const got = actual.cases[i];
    if (got?.id !== wanted.id) return void found.push(`case ${i} is ${got?.id}, expected ${wanted.id}`);
    for (const [row, tolerance] of Object.entries(ROWS))
      say(`${wanted.id} ${row}`, difference(got.travel[row], wanted.travel[row] as number[], tolerance));
    if (got.travel.struts.length !== wanted.travel.struts.length) found.push('another number of struts');
    wanted.travel.struts.forEach((strut, k) => {
      const gotStrut = got.travel.struts[k];
      if (gotStrut?.id !== strut.id) found.push(`strut ${k} is ${gotStrut?.id}, expected ${strut.id}`);
      for (const [row, tolerance] of Object.entries(STRUT_ROWS))
        say(`${wanted.id} ${strut.id} ${row}`, difference(gotStrut?.[row], strut[row] as number[], tolerance));
    });
    say(`${wanted.id} openDeg`, difference(got.openDeg, wanted.openDeg, ANGLE));
    say(`${wanted.id} restAnglesDeg`, difference(got.restAnglesDeg, wanted.restAnglesDeg, ANGLE));
    say(`${wanted.id} dropEnergyJ`, difference(got.dropEnergyJ, wanted.dropEnergyJ, MOMENT));
  });
  return found;
}

const FINE = (unit: string): Tolerance => withinEither(1e-6, 1e-6, unit);
const ENERGY = withinEither(0.05, 0.01, 'J');
const PLACE = within(1.5, '°');

/** Fields of the second set's own program, beside those of a result. */
const EXTRAS = ['notes', 'readings', 'edition', 'plate', 'balanceAlikeN'];

/** Whether an angle lies in one of the bands that the other program gives for it. */
const inBands = (deg: unknown, bands: unknown): boolean =>
  (bands as [number, number][]).some(([from, to]) => typeof deg === 'number' && deg >= from && deg <= to);

/** Every field of the second set that `actual` does not agree with, in words. What is not named below is held to 1e-6. */
export function secondGoldenDifferences(actual: unknown, golden: unknown, at = ''): string[] {
  if (Array.isArray(golden) && golden.every((v) => typeof v === 'object' && v !== null && !Array.isArray(v)))
    return (actual as unknown[])?.length === golden.length
      ? golden.flatMap((v, i) => secondGoldenDifferences((actual as unknown[])[i], v, `${at}[${i}]`))
      : [`${at} has another length`];
  if (typeof golden === 'object' && golden !== null && !Array.isArray(golden))
    return Object.entries(golden).flatMap(([key, wanted]) => {
      if (EXTRAS.includes(key) || key.endsWith('BandDeg')) return [];
      const got = (actual as Record<string, unknown> | undefined)?.[key];
      const bands = (golden as Record<string, unknown>)[`${key.slice(0, -3)}BandDeg`];
      if (bands !== undefined && wanted !== null)
        return inBands(got, bands) || difference(got, wanted as number, PLACE) === null ? [] : [`${at}.${key}: ${got}`];
      return secondGoldenDifferences(got, wanted, `${at}.${key}`);
    });
  if (typeof golden === 'string') return golden === actual ? [] : [`${at}: ${String(actual)}`];
  const tolerance = /letGo\.(opening|shutting)J$/.test(at) ? ENERGY : FINE('its unit');
  const found = difference(actual, golden as Values, tolerance, at);
  return found === null ? [] : [found];
}
