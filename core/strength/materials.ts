import type { Provenance } from './types';

export type MaterialFamily = 'steel' | 'stainless' | 'aluminium';

/** Modulus of elasticity, N/mm². Sources: EN 1993-1-1 3.2.6, EN 1993-1-4 2.1.3, EN 1999-1-1 3.2.5 (from memory). */
const MODULUS_MPA: Readonly<Record<MaterialFamily, number>> = { steel: 210_000, stainless: 200_000, aluminium: 70_000 };

/** Modulus of elasticity, N/mm²; where nobody knows what the material is, the lowest of all. */
export const modulusMPa = (family: MaterialFamily | null): number => MODULUS_MPA[family ?? 'aluminium'];

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
  readonly provenance: Provenance;
  /** What was taken where the name leaves it open. */
  readonly taken?: string;
}

/** Rows of one standard: id, spelling, β_w, then for every band: up to mm, yield, tensile strength N/mm². */
type Standard = Pick<MaterialRow, 'family' | 'source' | 'provenance'> & {
  readonly rows: readonly (readonly [string, RegExp, number | null, ...(readonly [number, number, number])[]])[];
};

/** Aluminium: the most particular spelling stands first. */
const STANDARDS: readonly Standard[] = [
  {
    family: 'steel',
    source: 'EN 10025-2, least R_eH and R_m by thickness',
    provenance: 'from published tables, not the standard’s own text',
    rows: [
      ['S235', /S235|ST37|1\.0038|1\.0037/, 0.8, [16, 235, 360], [40, 225, 360], [100, 215, 360]],
      [
        'S275',
        /S275|ST44|1\.0044/,
        0.85,
        [2.999, 275, 430],
        [16, 275, 410],
        [40, 265, 410],
        [63, 255, 410],
        [80, 245, 410],
        [100, 235, 410],
      ],
      [
        'S355',
        /S355|ST52|1\.0577|1\.0570|1\.0045/,
        0.9,
        [2.999, 355, 510],
        [16, 355, 470],
        [40, 345, 470],
        [63, 335, 470],
        [80, 325, 470],
        [100, 315, 470],
      ],
    ],
  },
  {
    family: 'steel',
    source: 'EN 10130: R_m from 270; for design R_e counts as 140',
    provenance: 'not checked against the standard’s text',
    rows: [['DC01', /DC01|1\.0330/, 0.8, [3, 140, 270]]],
  },
  {
    family: 'steel',
    source: 'EN 10346: R_m from 270, R_e from 140 (stated for DX53D; the softer one taken for all)',
    provenance: 'from published tables, not the standard’s own text',
    rows: [['DX51D', /DX5[1-3]D|1\.0226|1\.0350|1\.0355/, null, [6.5, 140, 270]]],
  },
  {
    family: 'stainless',
    source: 'EN 10088-2, least R_p0.2 and R_m of hot strip and plate, the lower of the forms',
    provenance: 'not checked against the standard’s text',
    rows: [
      ['1.4301', /1\.4301|X5CRNI18-?10|(AISI|^|STEEL|STAINLESS)304(?!L)|V2A/, 1, [75, 210, 520]],
      ['1.4307', /1\.4307|1\.4306|X2CRNI1[89]-?9|304L/, 1, [75, 200, 500]],
      ['1.4404', /1\.4404|1\.4401|1\.4435|X[25]CRNIMO17-?12-?2|(AISI|^|STEEL|STAINLESS)316L?|V4A/, 1, [75, 220, 520]],
      ['1.4571', /1\.4571|316TI/, 1, [75, 220, 520]],
    ],
  },
  {
    family: 'aluminium',
    source: 'EN 485-2, least R_p0.2 and R_m of sheet',
    provenance: 'not checked against the standard’s text',
    rows: [
      ['EN AW-5754 H24', /5754.*H24/, null, [6, 160, 240]],
      ['EN AW-5754 H22', /5754.*H22/, null, [12.5, 130, 220]],
      ['EN AW-5754 O/H111', /5754(?!.*H\d)|5754.*(H111|H112)|ALMG3/, null, [100, 80, 190]],
      ['EN AW-5083 O/H111', /5083(?!.*H[23]\d|.*H116|.*H321)/, null, [80, 115, 270]],
      ['EN AW-6082 T6', /6082.*T6/, null, [6, 260, 310], [12.5, 255, 300], [100, 240, 295]],
    ],
  },
  {
    family: 'aluminium',
    source: 'EN 1999-1-1 table 3.2b, f_o and f_u of extruded profile',
    provenance: 'not checked against the standard’s text',
    rows: [
      ['EN AW-6061 T6', /6061.*T6/, null, [20, 240, 260]],
      ['EN AW-6060 T66', /6060.*T66/, null, [3, 160, 215]],
      ['EN AW-6060 T6', /6060.*T6(?!6)/, null, [15, 140, 170]],
      ['EN AW-6005A T6', /6005A?.*T6/, null, [5, 225, 270]],
    ],
  },
];

/** The table of materials. */
export const MATERIALS: readonly MaterialRow[] = STANDARDS.flatMap(({ rows, ...common }) =>
  rows.map(([id, spelled, weldFactor, ...bands]) => ({
    ...{ id, spelled, weldFactor, ...common },
    bands: bands.map(([upToMm, yieldMPa, ultimateMPa]) => ({ upToMm, yieldMPa, ultimateMPa })),
    ...(id.endsWith('O/H111') && { taken: 'temper O or H111, the weakest, where the name does not say it' }),
  })),
);

/** What a material bears, N/mm², and where that is from. */
export interface MaterialStrength {
  readonly name: string;
  readonly family: MaterialFamily | null;
  readonly yieldMPa: number;
  readonly ultimateMPa: number;
  /** β_w; null: no weld strength known. */
  readonly weldFactor: number | null;
  readonly source: string;
  readonly provenance: Provenance;
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
      : `${row!.id}, ${row!.source}${row!.taken ? `; ${row!.taken}` : ''} (${row!.provenance})`,
    provenance: own ? 'stated by the user' : row!.provenance,
  };
}

/** Why a check lacks a strength, and what to do. */
export const unknownMaterial = (name: string, thicknessMm: number): readonly [why: string, advice: string] => [
  `the strength of “${name}” at ${thicknessMm} mm is in no table`,
  'Type its yield strength and its tensile strength.',
];
