import { cross } from '../../space';
import { type Part, lacks } from '../check';
import type { MaterialStrength } from '../materials';
import { allEdges, thickerWeld, wider } from '../repair-changes';
import type { CheckId, Unchecked } from '../types';
import { weldForces, weldGroup, weldResultant, weldRuns, weldShearMPa, weldUse } from '../welds';

/** What a weld between two materials reckons with: the softer f_u and its β_w; null where either has none. */
export function weldMetal(a: MaterialStrength, b: MaterialStrength | null) {
  const { ultimateMPa, weldFactor, source } = b && b.ultimateMPa < a.ultimateMPa ? b : a;
  if (weldFactor === null || a.weldFactor === null || b?.weldFactor === null) return null;
  return { ultimateMPa, weldFactor, source: `f_u ${ultimateMPa} N/mm² of ${source}, β_w ${weldFactor}` };
}

/** Says that a weld check can't be made for want of the metal's strength beside a weld. */
export const lacksMetal = (id: CheckId, name: string): Unchecked[] =>
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
    repairs: [thickerWeld, allEdges, wider],
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
