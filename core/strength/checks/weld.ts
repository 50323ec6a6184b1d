import { cross } from '../../space';
import { type Part, lacks } from '../check';
import { GAMMA_M2 } from '../holes';
import type { MaterialStrength } from '../materials';
import { allEdges, thicker, thickerGussetWeld, thickerWeld, wider } from '../mend-changes';
import { ribOn } from '../stress';
import type { CheckId, Unchecked } from '../types';
import { weldForces, weldGroup, weldResultant, weldRuns, weldShearMPa, weldUse } from '../welds';

/** What a weld between two materials reckons with: the softer f_u and its β_w; null where either has none. */
function weldMetal(a: MaterialStrength, b: MaterialStrength | null) {
  const { ultimateMPa, weldFactor, source } = b && b.ultimateMPa < a.ultimateMPa ? b : a;
  if (weldFactor === null || a.weldFactor === null || b?.weldFactor === null) return null;
  return { ultimateMPa, weldFactor, source: `f_u ${ultimateMPa} N/mm² of ${source}, β_w ${weldFactor}` };
}

const lacksMetal = (id: CheckId, name: string): Unchecked[] =>
  lacks(
    id,
    name,
    'the strength beside the weld is not known for this material',
    'Aluminium, coated sheet and hardened steel lose strength where they are welded: bolt it, or have the weld reckoned by who welds it.',
    ...['attach', 'by'],
  );

/** The weld round the fixed leg. */
export const weld: Part = ({ weld, material, seat, footprint, ballMm }) => {
  if (!weld || !material) return [];
  const name = 'Weld of the bracket on its mount';
  const metal = weldMetal(material, seat?.material ?? null);
  if (!metal) return lacksMetal('weld', name);
  const { throatMm } = weld;
  const { ultimateMPa, weldFactor } = metal;
  const group = weldGroup(weldRuns(footprint, weld.edges));
  const at = (force: readonly [number, number, number]) => weldForces(group, force, cross(ballMm, force));
  const common = {
    capacitySource: metal.source + (seat?.material ? '' : '; the mount’s own is not known'),
    notes: [
      `Throat ${Number(throatMm.toFixed(2))} mm, ${Math.round(group.lengthMm)} mm long in all; ends of runs are not deducted.`,
    ],
    mends: [thickerWeld, allEdges, wider],
  };
  return [
    {
      ...common,
      id: 'weld',
      name,
      unit: '1',
      formula:
        '√(σ⊥² + 3(τ⊥² + τ∥²)) ≤ f_u/(β_w·γ_M2) and σ⊥ ≤ 0.9·f_u/γ_M2; forces per length F/L + M·r/I of the weld as lines',
      source: 'EN 1993-1-8 4.5.3.2, directional method; welds as lines',
      demand: (force) => Math.max(...at(force).map((f) => weldUse(f, throatMm, ultimateMPa, weldFactor))),
      capacity: 1,
    },
    {
      ...common,
      id: 'weld-simple',
      name: 'Weld, simplified method',
      unit: 'N/mm',
      formula: 'F_w ≤ a·f_u/(√3·β_w·γ_M2)',
      source: 'EN 1993-1-8 4.5.3.3, simplified method; welds as lines',
      // either method will do: the directional one decides
      gravity: 'watch',
      demand: (force) => Math.max(...at(force).map(weldResultant)),
      capacity: throatMm * weldShearMPa(ultimateMPa, weldFactor),
    },
  ];
};

/**
 * A gusset as a strut along its sloping edge: what the ribbed section gives to the rib at the bend comes in over its two welds,
 * square to each and along it. Both sides of the rib welded.
 */
export const gusset: Part = ({ spec, material, ballMm, centreYMm }) => {
  const { gusset, thicknessMm: t, insideRadiusMm: r } = spec;
  if (!gusset || !material) return [];
  const name = 'Welds of the gusset';
  const metal = weldMetal(material, null);
  if (!metal) return lacksMetal('gusset-weld', name);
  const { alongMm, upMm, count, weldThroatMm } = gusset;
  const depth = alongMm * Math.max(0, 1 - r / upMm);
  const { areaMm2, ribMm2, faceMm, inertiaMm4 } = ribOn(t, spec.baseWidthMm, gusset.thicknessMm, depth, count);
  const lengthMm = Math.max(1e-9, Math.min(upMm, alongMm) - r) * 2 * count;
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
      mends: [thickerGussetWeld, thicker],
      demand: (force) => {
        const m = cross([ballMm[0] + t / 2, ballMm[1] - centreYMm, ballMm[2] - t - r], force);
        const stress = (Math.abs(m[1]) * (t + depth / 2 - faceMm)) / inertiaMm4 + Math.abs(force[2]) / areaMm2;
        return (stress * ribMm2 * slope) / lengthMm;
      },
      capacity: weldThroatMm * weldShearMPa(metal.ultimateMPa, metal.weldFactor),
    },
  ];
};
