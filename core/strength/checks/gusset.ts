import { type Vec3, cross } from '../../space';
import { type Check, type Part } from '../check';
import { GAMMA_M2 } from '../holes';
import { type MaterialStrength, modulusMPa } from '../materials';
import { thicker, thickerGusset, thickerGussetWeld } from '../repair-changes';
import type { StrengthModel } from '../model';
import { outstandShare, outstandSlenderness } from '../plate';
import { ribOn } from '../stress';
import type { Unchecked } from '../types';
import { weldShearMPa } from '../welds';
import { lacksMetal, weldMetal } from './weld';

/** A bracket with one or two gussets in its bend. */
interface Ribbed extends StrengthModel {
  readonly rib: NonNullable<StrengthModel['spec']['gusset']>;
  readonly metal: MaterialStrength;
}

/** The gussets of a bend: their welds, and whether their free edge buckles. */
export const gusset: Part = (model) => {
  const { spec, material: metal } = model;
  if (!spec.gusset || !metal) return [];
  const ribbed: Ribbed = { ...model, rib: spec.gusset, metal };
  return [...welds(ribbed), buckling(ribbed)];
};

/** A leg with its ribs, cut across at the bend line: moment of a force at the ball about the cut, and the force along the leg. */
function cutsOf({ spec, ballMm, centreYMm, rib }: Ribbed) {
  const { thicknessMm: t, insideRadiusMm: r, baseWidthMm } = spec;
  const y = ballMm[1] - centreYMm;
  const cut = (legMm: number, otherMm: number, arm: Vec3, along: 0 | 2) => {
    const depthMm = otherMm * Math.max(0, 1 - r / legMm);
    return {
      ...ribOn(t, baseWidthMm, rib.thicknessMm, depthMm, rib.count),
      depthMm,
      /** A stress along the leg is so much larger along the free edge: 1/cos² of the angle between them. */
      lean: 1 + (otherMm / legMm) ** 2,
      through: (force: Vec3) => ({ momentNmm: cross(arm, force)[1], axialN: force[along] }),
    };
  };
  return {
    upright: cut(rib.upMm, rib.alongMm, [ballMm[0] + t / 2, y, ballMm[2] - t - r], 2),
    base: cut(rib.alongMm, rib.upMm, [ballMm[0] + t + r, y, ballMm[2] - t / 2], 0),
  };
}

/**
 * A gusset as a strut along its sloping edge: what the ribbed section gives to the rib at the bend comes in over its two welds,
 * square to each and along it. Both sides of the rib welded.
 */
function welds(ribbed: Ribbed): (Check | Unchecked)[] {
  const { rib, metal: plate, spec } = ribbed;
  const { alongMm, upMm, count, weldThroatMm } = rib;
  const name = 'Welds of the gusset';
  const metal = weldMetal(plate, null);
  if (!metal) return lacksMetal('gusset-weld', name);
  const { areaMm2, ribMm2, faceMm, inertiaMm4, depthMm, through } = cutsOf(ribbed).upright;
  const lengthMm = Math.max(1e-9, Math.min(upMm, alongMm) - spec.insideRadiusMm) * 2 * count;
  const slope = Math.hypot(1, alongMm / upMm, upMm / alongMm);
  return [
    {
      id: 'gusset-weld',
      name,
      unit: 'N/mm',
      formula: 'N_rib = A_rib·(M·e/I + N/A); N_rib·√(1 + (l/h)² + (h/l)²)/(2·n·l_w) ≤ a·f_u/(√3·β_w·γ_M2)',
      source: `plain statics, the gusset as a strut along its sloping edge; EN 1993-1-8 4.5.3.3 (γ_M2 ${GAMMA_M2})`,
      capacitySource: metal.source,
      notes: [`Throat ${Number(weldThroatMm.toFixed(2))} mm, both sides of the gusset.`],
      repairs: [thickerGussetWeld, thicker],
      demand: (force) => {
        const { momentNmm, axialN } = through(force);
        const stress =
          (Math.abs(momentNmm) * (spec.thicknessMm + depthMm / 2 - faceMm)) / inertiaMm4 + Math.abs(axialN) / areaMm2;
        return (stress * ribMm2 * slope) / lengthMm;
      },
      capacity: weldThroatMm * weldShearMPa(metal.ultimateMPa, metal.weldFactor),
    },
  ];
}

/** A gusset's free edge in compression, as a plate with one edge free, as wide as its corner is from that edge. */
function buckling(ribbed: Ribbed): Check {
  const { rib, metal, spec } = ribbed;
  const widthMm = (rib.alongMm * rib.upMm) / Math.hypot(rib.alongMm, rib.upMm);
  const slenderness = outstandSlenderness(widthMm, rib.thicknessMm, metal.yieldMPa, modulusMPa(metal.family));
  const cuts = Object.values(cutsOf(ribbed));
  const share = outstandShare(slenderness);
  return {
    id: 'gusset-buckling',
    name: 'Gusset’s free edge, buckling',
    unit: 'N/mm²',
    formula:
      'σ = (1 + (l/h)²)·(M·e/I − N/A) ≤ ρ·f_y; λ̄_p = (b/t)·√(12(1 − ν²)·f_y/(0.43·π²·E)), ρ = (λ̄_p − 0.188)/λ̄_p² ≤ 1',
    source:
      'EN 1993-1-5 4.4 and 10 (reduced stress), outstand with k_σ 0.43 (not checked against the standard’s text; γ_M1 1.0)',
    capacitySource: `yield of ${metal.source}, ρ ${share.toFixed(2)}`,
    notes: [
      `b = ${widthMm.toFixed(1)} mm from the corner to the free edge, λ̄_p ${slenderness.toFixed(2)}; even compression over it is assumed (on the safe side).`,
    ],
    repairs: [thickerGusset, thicker],
    // a force that opens the bend pulls at the edge
    demand: (force) =>
      Math.max(
        0,
        ...cuts.map(({ areaMm2, faceMm, inertiaMm4, depthMm, lean, through }) => {
          const { momentNmm, axialN } = through(force);
          return -lean * ((momentNmm * (spec.thicknessMm + depthMm - faceMm)) / inertiaMm4 + axialN / areaMm2);
        }),
      ),
    capacity: share * metal.yieldMPa,
  };
}
