import { hardwareOf } from '../bracket';
import type { Vec3 } from '../space';
import { fixingForces } from './fixing-forces';
import { GAMMA_M2, bearingN, boltShearN, boltTensionN, boltUse, pullThroughN, stripN, tearOutN } from './holes';
import { noClass } from './lines-stud';
import type { BoltedDown, StrengthModel } from './model';
import { bearingByParts, boxDistances, halfWidthMm, worst } from './places';
import type { CheckLine, DemandCapacity, Unchecked } from './types';

const TABLE_3_4 = 'EN 1993-1-8 table 3.4';
const VECTOR = 'elastic vector method; tension by the pivoting edge, plain statics';
/** k_s of a slot, the lowest of EN 1993-1-8 table 3.6. */
const SLOT_SLIP = 0.63;

/** Fixings, their holes, slip and spin. Empty for a welded bracket. */
export function fixingLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { bolts, fixings, material } = model;
  if (model.weld) return [];
  if (!bolts)
    return [
      {
        id: 'fixings',
        name: 'Fixings',
        why: 'no thread of M4 to M16 goes through its holes',
        advice: 'Name the thread of its fixings, or give larger holes.',
        path: ['attach', 'thread'],
      },
    ];
  if (!bolts.class) return [noClass('fixings', 'Fixings', bolts.className, ['attach', 'propertyClass'])];
  const forces = fixingForces(model);
  const cls = bolts.class;
  const area = bolts.thread.stressAreaMm2;
  const shearRd = boltShearN(cls.shearFactor, cls.tensileMPa, area);
  const tensionRd = boltTensionN(cls.tensileMPa, area);
  const lines: (CheckLine | Unchecked)[] = [
    {
      id: 'fixings',
      name: fixings.length === 1 ? 'Fixing, shear and tension' : 'Fixings, shear and tension',
      unit: '1',
      formula: 'F_v/F_v,Rd + F_t/(1.4·F_t,Rd) ≤ 1; V_i = F/n + M·r_i/Σr², T_i = F_z/n + M·l_i/Σl²',
      source: `${TABLE_3_4}; ${VECTOR}`,
      capacitySource: `${bolts.thread.name} of ${cls.source} (${cls.standing}): F_v,Rd ${Math.round(shearRd)} N, F_t,Rd ${Math.round(tensionRd)} N`,
      gravity: 'fails',
      notes: ['The leverage of a pull beside the fixings is in it; the bracket counts as stiff.'],
      at: (force) => {
        const { shearN, tensionN } = forces(force);
        if (!tensionN) return { demand: 1, capacity: 0 };
        const use = shearN.map(([x, y], i) => boltUse(Math.hypot(x, y), shearRd, tensionN[i]!, tensionRd));
        return { demand: Math.max(...use), capacity: 1 };
      },
    },
  ];
  if (material)
    lines.push(...holeLines(model, bolts, material.ultimateMPa, `f_u of ${material.source}`, cls.tensileMPa));
  lines.push(...threadLines(model, bolts, cls.tensileMPa));
  lines.push(slipLine(model, bolts));
  if (fixings.length === 1) lines.push(spinLine(model, bolts));
  return lines;
}

/** Bearing and tear-out in the bracket's own holes. */
function holeLines(
  model: StrengthModel,
  bolts: BoltedDown,
  ultimateMPa: number,
  capacitySource: string,
  tensileMPa: number,
): CheckLine[] {
  const forces = fixingForces(model);
  const { fixings, plate, spec } = model;
  // towards a bend the plate goes on, up its upright
  const xMax = plate.xMaxMm + spec.uprightLegMm;
  const xMin = plate.xMinMm - (spec.kind === 'channel' ? spec.uprightLegMm : 0);
  const boxOf = (i: number) => {
    const [cx, cy] = fixings[i]!.centreMm;
    const half = halfWidthMm(model, cx);
    return { a: [xMin - cx, xMax - cx], b: [model.centreYMm - half - cy, model.centreYMm + half - cy] };
  };
  // the fixing presses against the load
  const each = (force: Vec3, one: (i: number, against: readonly [number, number]) => DemandCapacity): DemandCapacity =>
    worst(forces(force).shearN.map(([x, y], i) => one(i, [-x, -y])));
  const pitches = fixings.map((f) =>
    Math.min(
      ...fixings
        .filter((g) => g !== f)
        .map((g) => Math.hypot(g.centreMm[0] - f.centreMm[0], g.centreMm[1] - f.centreMm[1])),
    ),
  );
  return [
    {
      id: 'bearing',
      name: 'Bearing of the fixings in the bracket’s holes',
      unit: 'N',
      formula: 'V ≤ k₁·α_b·f_u·d·t/γ_M2 (slotted: 0.6 of it)',
      source: TABLE_3_4,
      capacitySource,
      gravity: 'fails',
      notes: [],
      at: (force) =>
        each(force, (i, against) =>
          bearingByParts(against, boxOf(i), (endMm, sideMm) =>
            bearingN(
              {
                thicknessMm: fixings[i]!.thicknessMm,
                boltMm: bolts.thread.diameterMm,
                holeMm: fixings[i]!.diameterMm,
                endMm,
                sideMm,
                pitchMm: pitches[i]!,
                slotted: fixings[i]!.slotMm > 0,
              },
              ultimateMPa,
              tensileMPa,
            ),
          ),
        ),
    },
    {
      id: 'tear-out',
      name: 'Tear-out from a fixing’s hole to the edge',
      unit: 'N',
      formula: 'V ≤ 2·t·(e₁ − d₀/2)·f_u/(√3·γ_M2)',
      source: 'plain statics, two shear planes; EN 1993-1-8 3.10.2',
      capacitySource,
      gravity: 'fails',
      notes: [],
      at: (force) =>
        each(force, (i, against) => ({
          demand: Math.hypot(...against),
          capacity: tearOutN(
            fixings[i]!.thicknessMm,
            boxDistances(boxOf(i), against).endMm - fixings[i]!.slotMm / 2,
            fixings[i]!.diameterMm,
            ultimateMPa,
          ),
        })),
    },
  ];
}

/** What the fixing is screwed into: a tapped hole, an insert, or nothing (bolt and nut: pull through the plates). */
function threadLines(model: StrengthModel, bolts: BoltedDown, tensileMPa: number): (CheckLine | Unchecked)[] {
  const forces = fixingForces(model);
  const pull = (force: Vec3): number => Math.max(...(forces(force).tensionN ?? [Infinity]));
  const { seat } = model;
  if (bolts.into === 'insert') {
    const { insertPullN } = bolts;
    if (insertPullN === null)
      return [
        {
          id: 'insert',
          name: 'Pull-out of the inserts',
          why: 'the pull-out force of the inserts is not given',
          advice: 'Give the force its maker states for the thickness of this mount.',
          path: ['attach', 'insertPullN'],
        },
      ];
    return [
      {
        id: 'insert',
        name: 'Pull-out of the inserts',
        unit: 'N',
        formula: 'T ≤ the pull-out force stated by the insert’s maker',
        source: VECTOR,
        capacitySource: 'stated by the user from the maker’s data, without a factor',
        gravity: 'fails',
        notes: [],
        at: (force) => ({ demand: pull(force), capacity: insertPullN }),
      },
    ];
  }
  if (bolts.into === 'tapped') {
    const name = 'Stripping of the tapped thread';
    if (!seat?.material || !(bolts.engagementMm! > 0))
      return [
        {
          id: 'thread-strip',
          name,
          why: 'what the thread is cut into is not known',
          advice: 'Give the mount’s thickness and material, with yield and tensile strength where it is in no table.',
          path: ['seat'],
        },
      ];
    const capacity = stripN(bolts.thread, bolts.engagementMm!, seat.material.ultimateMPa, tensileMPa) / GAMMA_M2;
    return [
      {
        id: 'thread-strip',
        name,
        unit: 'N',
        formula:
          'T ≤ 0.6·0.9·min(π·d·(m/P)·(P/2 + (d − d₂)·tan 30°)·R_m, π·D₁·(m/P)·(P/2 + (d₂ − D₁)·tan 30°)·R_m,bolt)/γ_M2',
        source: `thread shear areas and factors as VDI 2230 (from memory); ${VECTOR}`,
        capacitySource: `R_m of ${seat.material.source}`,
        gravity: 'fails',
        notes: [`Thread engaged over ${Number(bolts.engagementMm!.toFixed(1))} mm.`],
        at: (force) => ({ demand: pull(force), capacity }),
      },
    ];
  }
  const head = hardwareOf(bolts.thread.name).acrossFlatsMm;
  const weakest: { n: number; source: string }[] = [];
  if (model.material)
    weakest.push({
      n: pullThroughN(head, model.spec.thicknessMm, model.material.ultimateMPa),
      source: `f_u of the bracket: ${model.material.source}`,
    });
  if (seat?.material) {
    const { spreader, thicknessMm, material } = seat;
    const spread = spreader ? (2 * (spreader.widthMm + spreader.lengthMm)) / Math.PI : head;
    weakest.push({
      n: pullThroughN(spread, thicknessMm, material.ultimateMPa),
      source: `f_u of the mount: ${material.source}`,
    });
    if (spreader)
      weakest.push({
        n: pullThroughN(head, spreader.thicknessMm, material.ultimateMPa),
        source: `f_u of the spreader, as the mount: ${material.source}`,
      });
  }
  if (weakest.length === 0) return [];
  const least = weakest.reduce((a, b) => (b.n < a.n ? b : a));
  return [
    {
      id: 'seat-pull-through',
      name: 'Head or nut pulled through the plates',
      unit: 'N',
      formula: 'T ≤ 0.6·π·d_m·t·f_u/γ_M2',
      source: `${TABLE_3_4}, punching shear, with the flats for d_m`,
      capacitySource: least.source,
      gravity: 'fails',
      notes: seat?.material ? [] : ['The mount is not known: only the bracket’s own plate is looked at.'],
      at: (force) => ({ demand: pull(force), capacity: least.n }),
    },
  ];
}

/** Slip of each fixing against what its preload holds by friction. */
function slipLine(model: StrengthModel, bolts: BoltedDown): CheckLine {
  const forces = fixingForces(model);
  const slides = !forces([1, 0, 0]).held || !forces([0, 1, 0]).held;
  const grip = (i: number, tension: number): number =>
    ((model.fixings[i]!.slotMm > 0 ? SLOT_SLIP : 1) * bolts.friction * Math.max(0, bolts.preloadN - 0.8 * tension)) /
    GAMMA_M2;
  return {
    id: 'slip',
    name: 'Slip of the bracket on its mount',
    unit: 'N',
    formula: 'V ≤ k_s·μ·(F_p − 0.8·F_t)/γ_M3',
    source: `EN 1993-1-8 3.9; ${VECTOR}`,
    capacitySource: `preload ${Math.round(bolts.preloadN)} N, μ ${bolts.friction}`,
    gravity: slides ? 'fails' : 'watch',
    notes: [
      slides
        ? 'Its slots let it slide: nothing but friction holds it.'
        : 'If it slips it moves by the play of its holes; then the fixings bear.',
    ],
    at: (force) => {
      const { shearN, tensionN } = forces(force);
      if (!tensionN) return { demand: 1, capacity: 0 };
      return worst(shearN.map(([x, y], i) => ({ demand: Math.hypot(x, y), capacity: grip(i, tensionN[i]!) })));
    },
  };
}

/** Torque about a single fixing against the friction its preload holds. */
function spinLine(model: StrengthModel, bolts: BoltedDown): CheckLine {
  const forces = fixingForces(model);
  const hole = model.fixings[0]!;
  const meanRadiusMm = (hardwareOf(bolts.thread.name).acrossFlatsMm + hole.diameterMm) / 4;
  return {
    id: 'spin',
    name: 'Spin about its single fixing',
    unit: 'N·mm',
    formula: '|M_z| ≤ μ·(F_p − F_t)·r_m, r_m = (s + d₀)/4',
    source: 'plain statics; friction ring under the head',
    capacitySource: `preload ${Math.round(bolts.preloadN)} N, μ ${bolts.friction}, r_m ${Number(meanRadiusMm.toFixed(2))} mm`,
    gravity: 'fails',
    notes: ['An offset ball makes this torque; a ball over the fixing, or a second fixing, takes it away.'],
    at: (force) => {
      const { spinNmm, tensionN } = forces(force);
      return {
        demand: Math.abs(spinNmm),
        capacity: spinHoldNmm(bolts.friction, Math.max(0, bolts.preloadN - (tensionN?.[0] ?? Infinity)), meanRadiusMm),
      };
    },
  };
}

/** Friction torque that a single fixing holds, N·mm: μ·F·r_m. Source: plain statics. @example spinHoldNmm(0.5, 100, 4) // 200 */
export const spinHoldNmm = (friction: number, preloadN: number, meanRadiusMm: number): number =>
  friction * preloadN * meanRadiusMm;
