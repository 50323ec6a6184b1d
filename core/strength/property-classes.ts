import type { Provenance } from './types';

/** Strength of a bolt's or stud's property class, N/mm². */
export interface PropertyClass {
  readonly name: string;
  /** Thread diameters from and to which the row holds, mm. */
  readonly overMm: number;
  readonly upToMm: number;
  /** Nominal tensile strength and yield (R_eL, R_p0.2): what EN 1993-1-8 table 3.1 reckons with. */
  readonly tensileMPa: number;
  readonly yieldMPa: number;
  /** Stress under proof load S_p; stainless: R_p0.2. */
  readonly proofMPa: number;
  /** α_v for a shear plane in the thread. */
  readonly shearFactor: number;
  readonly stainless: boolean;
  readonly source: string;
  readonly provenance: Provenance;
}

/** ISO 898-1: name; tensile strength, yield, proof; α_v. */
const CARBON: readonly (readonly [string, number, number, number, number, Partial<PropertyClass>?])[] = [
  ['4.6', 400, 240, 225, 0.6],
  ['4.8', 400, 320, 310, 0.5],
  ['5.6', 500, 300, 280, 0.6],
  ['5.8', 500, 400, 380, 0.5],
  ['6.8', 600, 480, 440, 0.5],
  ['8.8', 800, 640, 580, 0.6, { upToMm: 16 }],
  ['8.8', 800, 640, 600, 0.6, { overMm: 16 }],
  ['10.9', 1000, 900, 830, 0.5],
  ['12.9', 1200, 1080, 970, 0.5],
];

/** ISO 3506-1, steels A2 and A4: a tenth of the tensile strength; R_p0.2. */
const AUSTENITIC = [
  [50, 210],
  [70, 450],
  [80, 600],
] as const;

/** The table of property classes. */
export const PROPERTY_CLASSES: readonly PropertyClass[] = [
  ...CARBON.map(([name, tensileMPa, yieldMPa, proofMPa, shearFactor, more]) => ({
    ...{ name, overMm: 0, upToMm: 39, tensileMPa, yieldMPa, proofMPa, shearFactor, stainless: false },
    source: `ISO 898-1 class ${name}`,
    provenance: 'not checked against the standard’s text' as const,
    ...more,
  })),
  ...['A2', 'A4'].flatMap((steel) =>
    AUSTENITIC.map(([tenth, yieldMPa]) => ({
      ...{ name: `${steel}-${tenth}`, overMm: 0, upToMm: 39, tensileMPa: tenth * 10, yieldMPa, proofMPa: yieldMPa },
      ...{ shearFactor: 0.5, stainless: true },
      source: `ISO 3506-1 class ${steel}-${tenth}`,
      provenance: 'not checked against the standard’s text' as const,
    })),
  ),
];

/** Why a check lacks a class, and what to do. */
export const noClass = (typed: string): readonly [why: string, advice: string] => [
  `the property class “${typed}” is in no table`,
  'Give one of ISO 898-1 (4.6 to 12.9) or ISO 3506 (A2-70, A4-70, A4-80).',
];

/** The class a person means by "8.8", "class 10.9", "A2-70", "a4/80"; undefined for one that is not in the table. */
export function propertyClass(name: string, diameterMm: number): PropertyClass | undefined {
  const plain = name.toUpperCase().replace(',', '.');
  const stainless = /A([24])\s*[-/ ]?\s*(50|70|80)/.exec(plain);
  const carbonSteel = /(?:^|[^\d.])(\d{1,2}\.\d)(?!\d)/.exec(` ${plain}`);
  const wanted = stainless ? `A${stainless[1]}-${stainless[2]}` : carbonSteel?.[1];
  return PROPERTY_CLASSES.find((row) => row.name === wanted && diameterMm > row.overMm && diameterMm <= row.upToMm);
}
