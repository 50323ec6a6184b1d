import { type Rad, cos, rad, sin } from '../space';
import type { Provenance } from './types';

/** What wood is, as far as EN 1995-1-1 tells it apart. */
export type WoodFamily = 'softwood' | 'hardwood' | 'plywood';

/** One row of the table of woods; strengths characteristic, N/mm². */
export interface WoodRow {
  readonly id: string;
  readonly family: WoodFamily;
  /** Spellings a person may type, tried on the name in capitals without spaces. */
  readonly spelled: RegExp;
  readonly densityKgM3: { readonly characteristic: number; readonly mean: number };
  /** Bending across the weaker way, up to a thickness in mm. */
  readonly bending: readonly (readonly [upToMm: number, MPa: number])[];
  /** The thinnest sheet for which the row stands, mm. */
  readonly leastMm: number;
  /** Pressed across the grain. */
  readonly crossMPa: number;
  /** Sheared through its thickness. */
  readonly shearMPa: number;
  readonly source: string;
  readonly provenance: Provenance;
}

const NOT_CHECKED = 'not checked against the standard’s text';

/** The table of woods: of two editions of a standard the lower value. */
export const WOODS: readonly WoodRow[] = [
  {
    ...{ id: 'Birch plywood', family: 'plywood', spelled: /BIRCH/, leastMm: 6.5, crossMPa: 5.3, shearMPa: 9.5 },
    densityKgM3: { characteristic: 630, mean: 680 },
    bending: [
      [8.99, 29],
      [11.99, 32.1],
      [14.99, 33.2],
      [17.99, 33.8],
      [50, 34.1],
    ],
    source:
      'Handbook of Finnish Plywood, 1.4 mm veneers, the weaker way; pressed across as D30 of EN 338, for no table of plywood gives it',
    provenance: NOT_CHECKED,
  },
  {
    ...{ id: 'Softwood plywood', family: 'plywood', spelled: /(SOFTWOOD|SPRUCE|PINE|FIR)(PLY|PLYWOOD)$/ },
    ...{ leastMm: 9, crossMPa: 2.2, shearMPa: 3.5 },
    densityKgM3: { characteristic: 400, mean: 460 },
    bending: [[50, 12]],
    source: 'Handbook of Finnish Plywood, spruce, the weaker way; pressed across as C16 of EN 338',
    provenance: NOT_CHECKED,
  },
  {
    ...{ id: 'Poplar plywood', family: 'plywood', spelled: /POPLAR/, leastMm: 9, crossMPa: 2, shearMPa: 2.5 },
    densityKgM3: { characteristic: 370, mean: 430 },
    bending: [[50, 10]],
    source: 'low values for light plywood: type its maker’s bending strength',
    provenance: 'common practice, no source',
  },
  {
    ...{ id: 'Softwood C24', family: 'softwood', spelled: /C24/, leastMm: 18, crossMPa: 2.5, shearMPa: 2.5 },
    densityKgM3: { characteristic: 350, mean: 420 },
    bending: [[300, 24]],
    ...{ source: 'EN 338', provenance: 'from published tables, not the standard’s own text' },
  },
  {
    ...{ id: 'Softwood C16', family: 'softwood', spelled: /C16|PINE|SPRUCE|LARCH|SOFTWOOD|^FIR$/, leastMm: 18 },
    ...{ crossMPa: 2.2, shearMPa: 1.8 },
    densityKgM3: { characteristic: 310, mean: 370 },
    bending: [[300, 16]],
    ...{ source: 'EN 338', provenance: NOT_CHECKED },
  },
  {
    ...{ id: 'Hardwood D30', family: 'hardwood', spelled: /D30|OAK|BEECH|^ASH|HARDWOOD|IROKO|TEAK/, leastMm: 15 },
    ...{ crossMPa: 5.3, shearMPa: 3 },
    densityKgM3: { characteristic: 530, mean: 640 },
    bending: [[300, 30]],
    ...{ source: 'EN 338', provenance: 'from published tables, not the standard’s own text' },
  },
];

/** The wood that a name means, or undefined: "18 mm birch ply", "C24", "Oak". */
export function woodRow(name: string): WoodRow | undefined {
  const plain = name.toUpperCase().replace(/[\s_-]/g, '');
  // "ply" alone says no species: the lightest sheet counts
  return WOODS.find((row) => row.spelled.test(plain)) ?? (/PLY/.test(plain) ? woodRow('Poplar plywood') : undefined);
}

/** Characteristic bending strength of a wood at a thickness, N/mm²; a number typed goes before the table. Null where the table ends. */
export const woodBendingMPa = (wood: WoodRow, thicknessMm: number, typedMPa?: number): number | null =>
  typedMPa ??
  (thicknessMm < wood.leastMm - 1e-9
    ? null
    : (wood.bending.find(([upToMm]) => thicknessMm <= upToMm + 1e-9)?.[1] ?? null));

export type ServiceClass = 1 | 2 | 3;

/** k_mod of solid timber and plywood under a load that stays. Source: EN 1995-1-1 table 3.1 (solid timber; plywood alike, from memory). */
export const kModLasting = (serviceClass: ServiceClass): number => (serviceClass === 3 ? 0.5 : 0.6);

/** Partial factors: connections and solid timber, plywood. Source: EN 1995-1-1 table 2.3. */
export const GAMMA_M_WOOD = { connection: 1.3, solid: 1.3, plywood: 1.2 } as const;

/**
 * Embedment strength f_h,α,k, N/mm², of a pre-drilled fixing of d mm whose force makes α with the grain. In solid wood from 6 mm on it
 * falls off across the grain; in plywood it is the same all ways. Source: EN 1995-1-1 (8.16), (8.31)–(8.33); plywood (8.20), (8.36) from memory.
 */
export function embedmentMPa(family: WoodFamily, densityKgM3: number, dMm: number, alpha: Rad): number {
  if (family === 'plywood') return 0.11 * densityKgM3 * (dMm <= 6 ? dMm ** -0.3 : 1 - 0.01 * dMm);
  const along = 0.082 * (1 - 0.01 * dMm) * densityKgM3;
  if (dMm <= 6) return along;
  const k90 = (family === 'softwood' ? 1.35 : 0.9) + 0.015 * dMm;
  return along / (k90 * sin(alpha) ** 2 + cos(alpha) ** 2);
}

/** Yield moment of a round fixing, N·mm: 0.3·f_u·d^2.6. Source: EN 1995-1-1 (8.30). @example yieldMomentNmm(400, 10).toFixed(2) // "47772.86" */
export const yieldMomentNmm = (tensileMPa: number, dMm: number): number => 0.3 * tensileMPa * dMm ** 2.6;

/**
 * Characteristic withdrawal of one screw, N: f_ax,k·d·l_ef·k_d/(1.2·cos²α + sin²α), f_ax,k = 0.52·d^−0.5·l_ef^−0.1·ρ_k^0.8, k_d = min(d/8, 1).
 * For solid wood, 6 ≤ d ≤ 12 mm, l_ef ≥ 6d, α ≥ 30°. Source: EN 1995-1-1 + A1:2008 (8.38)–(8.40); (8.39) from memory.
 */
export function withdrawalN(densityKgM3: number, dMm: number, threadMm: number, alpha: Rad): number {
  const f = 0.52 * dMm ** -0.5 * threadMm ** -0.1 * densityKgM3 ** 0.8;
  return (f * dMm * threadMm * Math.min(dMm / 8, 1)) / (1.2 * cos(alpha) ** 2 + sin(alpha) ** 2);
}

/**
 * Mean ultimate withdrawal out of side grain, N: wood screws 108.25·G²·d·l, coach screws 125.4·G^1.5·d^0.75·l, G the density over that of
 * water. Source: USDA Wood Handbook (FPL-GTR-282) ch. 8, from memory; coach screws checked against a worked example.
 */
export const ultimateWithdrawalN = (densityKgM3: number, dMm: number, threadMm: number): number =>
  dMm < 6
    ? 108.25 * (densityKgM3 / 1000) ** 2 * dMm * threadMm
    : 125.4 * (densityKgM3 / 1000) ** 1.5 * dMm ** 0.75 * threadMm;

/** A fixing that holds a steel plate on wood, single shear. */
export interface SteelOnWood {
  readonly embedmentMPa: number;
  readonly yieldMomentNmm: number;
  readonly dMm: number;
  /** How deep it sits in the wood. */
  readonly depthMm: number;
  readonly plateMm: number;
  /** What holds it along its axis, characteristic; a quarter of it counts, up to ropeShare of the rest. */
  readonly axialN: number;
  /** Screws 1, bolts 0.25, dowels 0. */
  readonly ropeShare: number;
}

/** Characteristic lateral capacity of a fixing through a steel plate into wood, N. Source: EN 1995-1-1 (8.9), (8.10), 8.2.2(2). */
export function steelOnWoodN(joint: SteelOnWood): number {
  const { embedmentMPa: fh, yieldMomentNmm: my, dMm: d, depthMm: t1, plateMm, axialN, ropeShare } = joint;
  const roped = (johansenN: number): number => johansenN + Math.min(axialN / 4, ropeShare * johansenN);
  const thin = Math.min(0.4 * fh * t1 * d, roped(1.15 * Math.sqrt(2 * my * fh * d)));
  const thick = Math.min(
    fh * t1 * d,
    roped(fh * t1 * d * (Math.sqrt(2 + (4 * my) / (fh * d * t1 ** 2)) - 1)),
    roped(2.3 * Math.sqrt(my * fh * d)),
  );
  const share = Math.min(1, Math.max(0, (plateMm / d - 0.5) / 0.5));
  return thin + share * (thick - thin);
}

/** Force a washer bears on wood, characteristic, N: 3·f_c,90,k over its face less its hole. Source: EN 1995-1-1 8.5.2(2). */
export const washerOnWoodN = (crossMPa: number, outsideMm: number, holeMm: number): number =>
  (3 * crossMPa * Math.PI * (outsideMm ** 2 - holeMm ** 2)) / 4;

/** The washer a steel plate of t mm counts as under a bolt of d mm: at most 12t, 4d. Source: EN 1995-1-1 8.5.2(3). @example plateAsWasherMm(12, 12) // 48 */
export const plateAsWasherMm = (thicknessMm: number, dMm: number): number => Math.min(12 * thicknessMm, 4 * dMm);

/** What one of n screws pulled together counts: n^0.9/n. Source: EN 1995-1-1 (8.41), from memory. */
export const pulledTogether = (n: number): number => n ** -0.1;

/**
 * What one of n fixings in a row along the grain counts, a mm apart: over 6 mm (n^0.9·(a/13d)^0.25)/n, else n^k/n with k from table 8.1
 * (pre-drilled: 0.5 at 4d, 0.7 at 7d, 0.85 at 10d, 1 at 14d); 1 in plywood. Source: EN 1995-1-1 (8.34), 8.3.1.1(8), from memory.
 */
export function inRow(family: WoodFamily, n: number, apartMm: number, dMm: number): number {
  if (n < 2 || family === 'plywood') return 1;
  if (dMm > 6) return Math.min(1, n ** -0.1 * (apartMm / (13 * dMm)) ** 0.25);
  const a = apartMm / dMm;
  const steps = [
    [4, 0.5],
    [7, 0.7],
    [10, 0.85],
    [14, 1],
  ] as const;
  const next = steps.findIndex(([at]) => a <= at);
  if (next < 0) return 1;
  if (next === 0) return n ** (0.5 - 1);
  const [[a0, k0], [a1, k1]] = [steps[next - 1]!, steps[next]!];
  return n ** (k0 + ((a - a0) / (a1 - a0)) * (k1 - k0) - 1);
}

/** A screw for wood, mm. */
export interface WoodScrew {
  readonly diameterMm: number;
  readonly rootMm: number;
  readonly lengthMm: number;
  readonly threadMm: number;
}

/** Thread 0.6 of the length, root 0.7 of the diameter: screws to DIN 96, 97 and 571. Sources: Blaß and Bejtka, Selbstbohrende Holzschrauben; root common practice. */
export const woodScrew = (
  diameterMm: number,
  lengthMm: number,
  own: { readonly threadMm?: number | undefined; readonly rootMm?: number | undefined } = {},
): WoodScrew => ({
  ...{ diameterMm, lengthMm },
  threadMm: own.threadMm ?? 0.6 * lengthMm,
  rootMm: own.rootMm ?? 0.7 * diameterMm,
});

/** Lengths that wood screws are kept in, mm: common practice, no source. */
export const SCREW_LENGTHS_MM = [12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120] as const;

/** What a screw of 4.6 steel bears in wood, characteristic and for design, N, with where each is from. */
export interface ScrewInWood {
  readonly axialN: number;
  readonly axialSource: string;
  readonly lateralN: number;
  /** Null: nothing asks for more than there is. */
  readonly shallow: string | null;
}

/** Of a mean ultimate withdrawal a sixth counts for good: below the fifth that is usual for screws. */
const SIXTH = 1 / 6;

/**
 * Design values of one screw square to the face of wood, held down under a steel plate, N. A pull-out force typed goes before formulas. In
 * plywood, under 6 mm, over 12 mm or with less than 6d of thread EN 1995-1-1 8.7.2 says nothing: there a sixth of the Wood Handbook's mean counts.
 */
export function screwInWood(
  wood: WoodRow,
  woodMm: number,
  screw: WoodScrew,
  plateMm: number,
  how: { readonly tensileMPa: number; readonly serviceClass: ServiceClass; readonly typedPullN?: number | null },
): ScrewInWood {
  const { diameterMm: d, rootMm, lengthMm, threadMm } = screw;
  const across = rad(Math.PI / 2);
  const density = wood.densityKgM3.characteristic;
  const inside = Math.max(0, Math.min(lengthMm - plateMm, woodMm));
  const shankMm = Math.max(0, lengthMm - threadMm - plateMm);
  const held = Math.min(threadMm, inside);
  const factor = kModLasting(how.serviceClass) / GAMMA_M_WOOD.connection;
  const slim = rootMm / d;
  const byStandard =
    wood.family !== 'plywood' && d >= 6 && d <= 12 && slim >= 0.6 && slim <= 0.75 && held >= 6 * d - 1e-9;
  const k = withdrawalN(density, d, held, across);
  const sixth = ultimateWithdrawalN(density, d, held) * SIXTH;
  const [axialN, axialSource] = how.typedPullN
    ? [how.typedPullN * factor, 'pull-out force as typed, times k_mod/γ_M']
    : byStandard
      ? [k * factor, 'EN 1995-1-1 + A1 (8.38)']
      : [
          sixth,
          'a sixth of the mean of the USDA Wood Handbook ch. 8 (not checked against its text): EN 1995-1-1 8.7.2 does not reach here',
        ];
  const dEf = shankMm >= 4 * d ? d : Math.min(d, 1.1 * rootMm);
  const lateral = steelOnWoodN({
    embedmentMPa: embedmentMPa(wood.family, density, dEf, across),
    yieldMomentNmm: yieldMomentNmm(how.tensileMPa, dEf),
    ...{ dMm: dEf, depthMm: inside, plateMm },
    axialN: axialN / factor,
    ropeShare: byStandard ? 1 : 0,
  });
  return {
    ...{ axialN, axialSource, lateralN: lateral * factor },
    shallow:
      inside < 6 * d
        ? `It goes ${Number(inside.toFixed(1))} mm into the wood, less than the 6 diameters that EN 1995-1-1 asks for: longer screws, or bolts through, are better.`
        : null,
  };
}
