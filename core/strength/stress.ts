/**
 * Von Mises equivalent stress of normal stresses and shears, N/mm². Source: distortion energy, R. von Mises (1913).
 * @example vonMises({ x: 3, xy: 0 }) // 3
 */
export function vonMises(s: { readonly x: number } & Partial<Record<'y' | 'z' | 'xy' | 'yz' | 'zx', number>>): number {
  const { x, y = 0, z = 0, xy = 0, yz = 0, zx = 0 } = s;
  return Math.sqrt(((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) / 2 + 3 * (xy * xy + yz * yz + zx * zx));
}

/** Stresses in a round section, N/mm². */
export interface RoundStress {
  readonly bending: number;
  readonly axial: number;
  readonly shear: number;
  readonly equivalent: number;
}

/**
 * A round section of diameter `rootMm` (a thread's root) under a bending moment (N·mm), an axial force and a shear force (N).
 * σ_b = 32M/(πd³), σ_n = 4N/(πd²), mean τ = 4V/(πd²), equivalent √((σ_b + |σ_n|)² + 3τ²). Source: beam theory; von Mises.
 */
export function roundStress(rootMm: number, momentNmm: number, axialN: number, shearN: number): RoundStress {
  const area = (Math.PI / 4) * rootMm ** 2;
  const bending = (32 * Math.abs(momentNmm)) / (Math.PI * rootMm ** 3);
  const axial = axialN / area;
  const shear = Math.abs(shearN) / area;
  return { bending, axial, shear, equivalent: vonMises({ x: bending + Math.abs(axial), xy: shear }) };
}

/** Everything that goes through a section: N and N·mm. Weak: bending about the section's long side; strong: about its short one. */
export interface SectionForces {
  readonly axialN: number;
  readonly shearN: number;
  readonly weakNmm: number;
  readonly strongNmm: number;
  readonly torsionNmm: number;
}

/** A section's moduli: area mm², W mm³ for both ways of bending and for torsion (τ = T/W_t). */
export interface Section {
  readonly areaMm2: number;
  readonly weakMm3: number;
  readonly strongMm3: number;
  readonly torsionMm3: number;
}

/**
 * Torsion modulus of a rectangle, long side b, short side t, mm³: τ_max = T·(3 + 1.8·t/b)/(b·t²).
 * Source: approximate formula for Saint-Venant's rectangle, within 4 % (Shigley, Mechanical Engineering Design, from memory).
 */
export const torsionModulusMm3 = (bMm: number, tMm: number): number => {
  const [long, short] = bMm >= tMm ? [bMm, tMm] : [tMm, bMm];
  return (long * short ** 2) / (3 + (1.8 * short) / long);
};

/**
 * A rectangle t thick and b wide, with holes of the given diameters at the given places from its middle (b counts net of them).
 * Out of its plane only `workingMm` of the width bends, with all holes in it.
 */
export function plateSection(
  tMm: number,
  bMm: number,
  holes: readonly { readonly atMm: number; readonly diameterMm: number }[] = [],
  workingMm = bMm,
): Section {
  const gone = holes.reduce((sum, hole) => sum + hole.diameterMm, 0);
  const net = bMm - gone;
  const inertia =
    (tMm * bMm ** 3) / 12 -
    holes.reduce((sum, h) => sum + (tMm * h.diameterMm ** 3) / 12 + tMm * h.diameterMm * h.atMm ** 2, 0);
  return {
    areaMm2: net * tMm,
    weakMm3: ((Math.min(workingMm, bMm) - gone) * tMm ** 2) / 6,
    strongMm3: inertia / (bMm / 2),
    torsionMm3: net > 0 ? torsionModulusMm3(net, tMm) : 0,
  };
}

/** A plate b × t with `count` ribs of the given thickness standing `depthMm` off one face, elastic: areas, neutral axis from the other face, I. */
export function ribOn(tMm: number, bMm: number, ribMm: number, depthMm: number, count: number) {
  const flange = bMm * tMm;
  const ribMm2 = count * ribMm * depthMm;
  const faceMm = (flange * (tMm / 2) + ribMm2 * (tMm + depthMm / 2)) / (flange + ribMm2);
  const inertiaMm4 =
    (bMm * tMm ** 3) / 12 +
    flange * (faceMm - tMm / 2) ** 2 +
    (count * ribMm * depthMm ** 3) / 12 +
    ribMm2 * (tMm + depthMm / 2 - faceMm) ** 2;
  return { areaMm2: flange + ribMm2, ribMm2, faceMm, inertiaMm4 };
}

/** Moduli of a plate with ribs, the lower of both faces; never below the bare plate. Torsion: the sum of b·t²/3, for open sections. */
export function ribbedSection(tMm: number, bMm: number, ribMm: number, depthMm: number, count: number): Section {
  const bare = plateSection(tMm, bMm);
  if (!(depthMm > 0)) return bare;
  const { areaMm2, faceMm, inertiaMm4 } = ribOn(tMm, bMm, ribMm, depthMm, count);
  return {
    areaMm2,
    weakMm3: Math.max(bare.weakMm3, inertiaMm4 / Math.max(faceMm, tMm + depthMm - faceMm)),
    strongMm3: bare.strongMm3,
    torsionMm3: Math.max(bare.torsionMm3, (bMm * tMm ** 3 + count * depthMm * ribMm ** 3) / (3 * Math.max(tMm, ribMm))),
  };
}

/**
 * Equivalent stress of a section, N/mm²: axial and both bendings added at one corner, mean shear and torsion added to each
 * other there (none of it happens at the same spot: on the safe side), then von Mises.
 */
export function sectionStress(section: Section, forces: SectionForces): number {
  const { areaMm2, weakMm3, strongMm3, torsionMm3 } = section;
  // a section that holes have used up bears nothing
  if (!(areaMm2 > 0 && weakMm3 > 0 && strongMm3 > 0 && torsionMm3 > 0)) return Infinity;
  const normal =
    Math.abs(forces.axialN) / areaMm2 + Math.abs(forces.weakNmm) / weakMm3 + Math.abs(forces.strongNmm) / strongMm3;
  const shear = Math.abs(forces.shearN) / areaMm2 + Math.abs(forces.torsionNmm) / torsionMm3;
  return vonMises({ x: normal, xy: shear });
}
