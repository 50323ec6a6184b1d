import type { Standing } from './types';

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
  readonly standing: Standing;
}

const carbon = (
  name: string,
  tensileMPa: number,
  yieldMPa: number,
  proofMPa: number,
  shearFactor: number,
  standing: Standing = 'looked up',
  overMm = 0,
  upToMm = 39,
): PropertyClass => ({
  name,
  overMm,
  upToMm,
  tensileMPa,
  yieldMPa,
  proofMPa,
  shearFactor,
  stainless: false,
  source: `ISO 898-1 class ${name}`,
  standing,
});

const austenitic = (steel: string, number: number, yieldMPa: number): PropertyClass => ({
  name: `${steel}-${number}`,
  overMm: 0,
  upToMm: 39,
  tensileMPa: number * 10,
  yieldMPa,
  proofMPa: yieldMPa,
  shearFactor: 0.5,
  stainless: true,
  source: `ISO 3506-1 class ${steel}-${number}`,
  standing: 'memory',
});

/** The table of property classes. */
export const PROPERTY_CLASSES: readonly PropertyClass[] = [
  carbon('4.6', 400, 240, 225, 0.6),
  carbon('4.8', 400, 320, 310, 0.5, 'memory'),
  carbon('5.6', 500, 300, 280, 0.6),
  carbon('5.8', 500, 400, 380, 0.5),
  carbon('6.8', 600, 480, 440, 0.5, 'memory'),
  carbon('8.8', 800, 640, 580, 0.6, 'looked up', 0, 16),
  carbon('8.8', 800, 640, 600, 0.6, 'looked up', 16),
  carbon('10.9', 1000, 900, 830, 0.5),
  carbon('12.9', 1200, 1080, 970, 0.5),
  ...['A2', 'A4'].flatMap((steel) => [
    austenitic(steel, 50, 210),
    austenitic(steel, 70, 450),
    austenitic(steel, 80, 600),
  ]),
];

/** The class a person means by "8.8", "class 10.9", "A2-70", "a4/80"; undefined for one that is not in the table. */
export function propertyClass(name: string, diameterMm: number): PropertyClass | undefined {
  const plain = name.toUpperCase().replace(',', '.');
  const stainless = /A([24])\s*[-/ ]?\s*(50|70|80)/.exec(plain);
  const carbonSteel = /(?:^|[^\d.])(\d{1,2}\.\d)(?!\d)/.exec(` ${plain}`);
  const wanted = stainless ? `A${stainless[1]}-${stainless[2]}` : carbonSteel?.[1];
  return PROPERTY_CLASSES.find((row) => row.name === wanted && diameterMm > row.overMm && diameterMm <= row.upToMm);
}
