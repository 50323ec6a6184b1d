import { difference, withinEither } from './close';

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
