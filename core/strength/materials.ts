import type { Standing } from './types';

export type MaterialFamily = 'steel' | 'stainless' | 'aluminium';

/** Least strengths of a material up to a thickness. */
interface Band {
  readonly upToMm: number;
  readonly yieldMPa: number;
  readonly ultimateMPa: number;
}

/** One row of the table of materials. */
export interface MaterialRow {
  readonly id: string;
  readonly family: MaterialFamily;
  /** Spellings a person may type, tried on the name in capitals without spaces, dots kept. */
  readonly spelled: RegExp;
  readonly bands: readonly Band[];
  /** β_w of a fillet weld; null where welding takes strength away that is not reckoned here. */
  readonly weldFactor: number | null;
  readonly source: string;
  readonly standing: Standing;
  /** What was taken where the name leaves it open. */
  readonly taken?: string;
}

const EN10025 = 'EN 10025-2, least R_eH and R_m by thickness';
const EN10088 = 'EN 10088-2, least R_p0.2 and R_m of hot strip and plate, the lower of the forms';
const EN485 = 'EN 485-2, least R_p0.2 and R_m of sheet';
const EN1999 = 'EN 1999-1-1 table 3.2b, f_o and f_u of extruded profile';

const one = (yieldMPa: number, ultimateMPa: number, upToMm: number): readonly Band[] => [
  { upToMm, yieldMPa, ultimateMPa },
];

/** The table of materials. Aluminium: the most particular spelling stands first. */
export const MATERIALS: readonly MaterialRow[] = [
  {
    id: 'S235',
    family: 'steel',
    spelled: /S235|ST37|1\.0038|1\.0037/,
    bands: [
      { upToMm: 16, yieldMPa: 235, ultimateMPa: 360 },
      { upToMm: 40, yieldMPa: 225, ultimateMPa: 360 },
      { upToMm: 100, yieldMPa: 215, ultimateMPa: 360 },
    ],
    weldFactor: 0.8,
    source: EN10025,
    standing: 'looked up',
  },
  {
    id: 'S275',
    family: 'steel',
    spelled: /S275|ST44|1\.0044/,
    bands: [
      { upToMm: 2.999, yieldMPa: 275, ultimateMPa: 430 },
      { upToMm: 16, yieldMPa: 275, ultimateMPa: 410 },
      { upToMm: 40, yieldMPa: 265, ultimateMPa: 410 },
      { upToMm: 63, yieldMPa: 255, ultimateMPa: 410 },
      { upToMm: 80, yieldMPa: 245, ultimateMPa: 410 },
      { upToMm: 100, yieldMPa: 235, ultimateMPa: 410 },
    ],
    weldFactor: 0.85,
    source: EN10025,
    standing: 'looked up',
  },
  {
    id: 'S355',
    family: 'steel',
    spelled: /S355|ST52|1\.0577|1\.0570|1\.0045/,
    bands: [
      { upToMm: 2.999, yieldMPa: 355, ultimateMPa: 510 },
      { upToMm: 16, yieldMPa: 355, ultimateMPa: 470 },
      { upToMm: 40, yieldMPa: 345, ultimateMPa: 470 },
      { upToMm: 63, yieldMPa: 335, ultimateMPa: 470 },
      { upToMm: 80, yieldMPa: 325, ultimateMPa: 470 },
      { upToMm: 100, yieldMPa: 315, ultimateMPa: 470 },
    ],
    weldFactor: 0.9,
    source: EN10025,
    standing: 'looked up',
  },
  {
    id: 'DC01',
    family: 'steel',
    spelled: /DC01|1\.0330/,
    bands: one(140, 270, 3),
    weldFactor: 0.8,
    source: 'EN 10130: R_m from 270; for design R_e counts as 140',
    standing: 'memory',
  },
  {
    id: 'DX51D',
    family: 'steel',
    spelled: /DX5[1-3]D|1\.0226|1\.0350|1\.0355/,
    bands: one(140, 270, 6.5),
    weldFactor: null,
    source: 'EN 10346: R_m from 270, R_e from 140 (stated for DX53D; the softer one taken for all)',
    standing: 'looked up',
  },
  {
    id: '1.4301',
    family: 'stainless',
    spelled: /1\.4301|X5CRNI18-?10|(AISI|^|STEEL|STAINLESS)304(?!L)|V2A/,
    bands: one(210, 520, 75),
    weldFactor: 1,
    source: EN10088,
    standing: 'memory',
  },
  {
    id: '1.4307',
    family: 'stainless',
    spelled: /1\.4307|1\.4306|X2CRNI1[89]-?9|304L/,
    bands: one(200, 500, 75),
    weldFactor: 1,
    source: EN10088,
    standing: 'memory',
  },
  {
    id: '1.4404',
    family: 'stainless',
    spelled: /1\.4404|1\.4401|1\.4435|X[25]CRNIMO17-?12-?2|(AISI|^|STEEL|STAINLESS)316L?|V4A/,
    bands: one(220, 520, 75),
    weldFactor: 1,
    source: EN10088,
    standing: 'memory',
  },
  {
    id: '1.4571',
    family: 'stainless',
    spelled: /1\.4571|316TI/,
    bands: one(220, 520, 75),
    weldFactor: 1,
    source: EN10088,
    standing: 'memory',
  },
  {
    id: 'EN AW-5754 H24',
    family: 'aluminium',
    spelled: /5754.*H24/,
    bands: one(160, 240, 6),
    weldFactor: null,
    source: EN485,
    standing: 'memory',
  },
  {
    id: 'EN AW-5754 H22',
    family: 'aluminium',
    spelled: /5754.*H22/,
    bands: one(130, 220, 12.5),
    weldFactor: null,
    source: EN485,
    standing: 'memory',
  },
  {
    id: 'EN AW-5754 O/H111',
    family: 'aluminium',
    spelled: /5754(?!.*H\d)|5754.*(H111|H112)|ALMG3/,
    bands: one(80, 190, 100),
    weldFactor: null,
    source: EN485,
    standing: 'memory',
    taken: 'temper O or H111, the weakest, where the name does not say it',
  },
  {
    id: 'EN AW-5083 O/H111',
    family: 'aluminium',
    spelled: /5083(?!.*H[23]\d|.*H116|.*H321)/,
    bands: one(115, 270, 80),
    weldFactor: null,
    source: EN485,
    standing: 'memory',
    taken: 'temper O or H111, the weakest, where the name does not say it',
  },
  {
    id: 'EN AW-6082 T6',
    family: 'aluminium',
    spelled: /6082.*T6/,
    bands: [
      { upToMm: 6, yieldMPa: 260, ultimateMPa: 310 },
      { upToMm: 12.5, yieldMPa: 255, ultimateMPa: 300 },
      { upToMm: 100, yieldMPa: 240, ultimateMPa: 295 },
    ],
    weldFactor: null,
    source: EN485,
    standing: 'memory',
  },
  {
    id: 'EN AW-6061 T6',
    family: 'aluminium',
    spelled: /6061.*T6/,
    bands: one(240, 260, 20),
    weldFactor: null,
    source: EN1999,
    standing: 'looked up',
  },
  {
    id: 'EN AW-6060 T66',
    family: 'aluminium',
    spelled: /6060.*T66/,
    bands: one(160, 215, 3),
    weldFactor: null,
    source: EN1999,
    standing: 'looked up',
  },
  {
    id: 'EN AW-6060 T6',
    family: 'aluminium',
    spelled: /6060.*T6(?!6)/,
    bands: one(140, 170, 15),
    weldFactor: null,
    source: EN1999,
    standing: 'looked up',
  },
  {
    id: 'EN AW-6005A T6',
    family: 'aluminium',
    spelled: /6005A?.*T6/,
    bands: one(225, 270, 5),
    weldFactor: null,
    source: EN1999,
    standing: 'looked up',
  },
];

/** What a material bears, N/mm², and where that is from. */
export interface MaterialStrength {
  readonly name: string;
  readonly family: MaterialFamily | null;
  readonly yieldMPa: number;
  readonly ultimateMPa: number;
  /** β_w; null: no weld strength known. */
  readonly weldFactor: number | null;
  readonly source: string;
  readonly standing: Standing;
}

/** The row whose spelling the name has, or undefined: "Steel S235JR", "1.4301", "EN AW-6082 T6". */
export function materialRow(name: string): MaterialRow | undefined {
  const plain = name.toUpperCase().replace(/[\s_]/g, '');
  return MATERIALS.find((row) => row.spelled.test(plain));
}

/**
 * Yield and tensile strength of a named material at a thickness, mm. Numbers of the user's own go before the table. Null
 * where neither says it: an unknown name, or a thickness the row does not reach.
 */
export function materialStrength(
  material: {
    readonly name: string;
    readonly yieldMPa?: number | undefined;
    readonly ultimateMPa?: number | undefined;
  },
  thicknessMm: number,
): MaterialStrength | null {
  const row = materialRow(material.name);
  const band = row?.bands.find((b) => thicknessMm <= b.upToMm + 1e-9);
  const yieldMPa = material.yieldMPa ?? band?.yieldMPa;
  const ultimateMPa = material.ultimateMPa ?? band?.ultimateMPa;
  if (yieldMPa === undefined || ultimateMPa === undefined) return null;
  const own = material.yieldMPa !== undefined || material.ultimateMPa !== undefined;
  return {
    name: material.name,
    family: row?.family ?? null,
    yieldMPa,
    ultimateMPa,
    weldFactor: row?.weldFactor ?? null,
    source: own
      ? 'as typed in the job'
      : `${row!.id}, ${row!.source}${row!.taken ? `; ${row!.taken}` : ''} (${row!.standing})`,
    standing: own ? 'stated by the user' : row!.standing,
  };
}
