import { cross } from '../space';
import { GAMMA_M2 } from './holes';
import type { MaterialStrength } from './materials';
import type { StrengthModel } from './model';
import type { CheckLine, Unchecked } from './types';
import { weldForces, weldGroup, weldResultant, weldRuns, weldShearMPa, weldUse } from './welds';

/** What a weld between two materials reckons with: the softer f_u and its β_w; null where either has none. */
function weldMetal(
  a: MaterialStrength,
  b: MaterialStrength | null,
): { ultimateMPa: number; factor: number; source: string } | null {
  const soft = b && b.ultimateMPa < a.ultimateMPa ? b : a;
  if (a.weldFactor === null || (b && b.weldFactor === null)) return null;
  return {
    ultimateMPa: soft.ultimateMPa,
    factor: soft.weldFactor!,
    source: `f_u ${soft.ultimateMPa} N/mm² of ${soft.source}, β_w ${soft.weldFactor}`,
  };
}

const lacking = (id: Unchecked['id'], name: string): Unchecked => ({
  id,
  name,
  why: 'the strength beside the weld is not known for this material',
  advice:
    'Aluminium, coated sheet and hardened steel lose strength where they are welded: bolt it, or have the weld reckoned by who welds it.',
  path: ['attach', 'by'],
});

/** The weld round the fixed leg, and the welds of a gusset. */
export function weldLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { weld, material, seat, footprint, ballMm } = model;
  const lines: (CheckLine | Unchecked)[] = gussetLines(model);
  if (!weld || !material) return lines;
  const metal = weldMetal(material, seat?.material ?? null);
  if (!metal) return [lacking('weld', 'Weld of the bracket on its mount'), ...lines];
  const group = weldGroup(weldRuns(footprint, weld.edges));
  const at = (force: readonly [number, number, number]) => weldForces(group, force, cross(ballMm, force));
  const notes = [
    `Throat ${Number(weld.throatMm.toFixed(2))} mm, ${Math.round(group.lengthMm)} mm long in all; ends of runs are not deducted.`,
  ];
  const capacitySource = metal.source + (seat?.material ? '' : '; the mount’s own is not known');
  const simple = weld.throatMm * weldShearMPa(metal.ultimateMPa, metal.factor);
  lines.unshift(
    {
      id: 'weld',
      name: 'Weld of the bracket on its mount',
      unit: '1',
      formula:
        '√(σ⊥² + 3(τ⊥² + τ∥²)) ≤ f_u/(β_w·γ_M2) and σ⊥ ≤ 0.9·f_u/γ_M2; forces per length F/L + M·r/I of the weld as lines',
      source: 'EN 1993-1-8 4.5.3.2, directional method; welds as lines',
      capacitySource,
      gravity: 'fails',
      notes,
      at: (force) => ({
        demand: Math.max(...at(force).map((f) => weldUse(f, weld.throatMm, metal.ultimateMPa, metal.factor))),
        capacity: 1,
      }),
    },
    {
      id: 'weld-simple',
      name: 'Weld, simplified method',
      unit: 'N/mm',
      formula: 'F_w ≤ a·f_u/(√3·β_w·γ_M2)',
      source: 'EN 1993-1-8 4.5.3.3, simplified method; welds as lines',
      capacitySource,
      // either method will do: the directional one decides
      gravity: 'watch',
      notes,
      at: (force) => ({ demand: Math.max(...at(force).map(weldResultant)), capacity: simple }),
    },
  );
  return lines;
}

/**
 * A gusset as a strut along its sloping edge: what the ribbed section gives to the rib at the bend comes in over its two welds,
 * square to each and along it. Both sides of the rib welded.
 */
function gussetLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { spec, material, ballMm, centreYMm } = model;
  const { gusset, thicknessMm: t, insideRadiusMm: r, baseWidthMm: b } = spec;
  if (!gusset || !material) return [];
  const name = 'Welds of the gusset';
  const metal = weldMetal(material, null);
  if (!metal) return [lacking('gusset-weld', name)];
  const depth = gusset.alongMm * Math.max(0, 1 - r / gusset.upMm);
  const rib = gusset.count * gusset.thicknessMm * depth;
  const flange = b * t;
  const face = (flange * (t / 2) + rib * (t + depth / 2)) / (flange + rib);
  const inertia =
    (b * t ** 3) / 12 +
    flange * (face - t / 2) ** 2 +
    (gusset.count * gusset.thicknessMm * depth ** 3) / 12 +
    rib * (t + depth / 2 - face) ** 2;
  const lengthMm = Math.max(1e-9, Math.min(gusset.upMm, gusset.alongMm) - r) * 2 * gusset.count;
  const slope = Math.hypot(1, gusset.alongMm / gusset.upMm, gusset.upMm / gusset.alongMm);
  const capacity = gusset.weldThroatMm * weldShearMPa(metal.ultimateMPa, metal.factor);
  return [
    {
      id: 'gusset-weld',
      name,
      unit: 'N/mm',
      formula: 'N_rib = A_rib·(M·e/I + N/A); N_rib·√(1 + (l/h)² + (h/l)²)/(2·n·l_w) ≤ a·f_u/(√3·β_w·γ_M2)',
      source: `plain statics, the gusset as a strut along its sloping edge; EN 1993-1-8 4.5.3.3 (γ_M2 ${GAMMA_M2})`,
      capacitySource: metal.source,
      gravity: 'fails',
      notes: [`Throat ${Number(gusset.weldThroatMm.toFixed(2))} mm, both sides of the gusset.`],
      at: (force) => {
        const m = cross([ballMm[0] + t / 2, ballMm[1] - centreYMm, ballMm[2] - t - r], force);
        const stress = (Math.abs(m[1]) * (t + depth / 2 - face)) / inertia + Math.abs(force[2]) / (flange + rib);
        return { demand: (stress * rib * slope) / lengthMm, capacity };
      },
    },
  ];
}
