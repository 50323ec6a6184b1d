import { hardwareOf, isPinned } from '../../bracket';
import type { Vec3 } from '../../space';
import { type Check, type Part, lacks } from '../check';
import {
  GAMMA_M2,
  TABLE_3_4,
  TEAR_OUT,
  bearingByParts,
  bearingN,
  boltShearN,
  boltTensionN,
  boltUse,
  boxDistances,
  pullThroughN,
  spinHoldNmm,
  stripN,
  tearOutN,
} from '../holes';
import type { MaterialStrength } from '../materials';
import { ballInside, deeperThread, fixingRepairs, moreFixings, spreaders, thicker, wider } from '../repair-changes';
import type { Bolted, BoltedDown } from '../model';
import { noClass } from '../property-classes';
import { halfWidthMm, pitchMm } from '../shape';
import type { Unchecked } from '../types';
import { inWood, woodScrews } from './wood';

const VECTOR = 'elastic vector method; tension by the pivoting edge, plain statics';
/** k_s of a slot, the lowest of EN 1993-1-8 table 3.6. */
const SLOT_SLIP = 0.63;

/** Fixings, their holes, what they are screwed into, slip and spin. None for a welded bracket. */
export const fixings: Part = (model) => {
  const { bolts, weld } = model;
  if (weld) return [];
  if (!bolts) {
    const advice = 'Name the thread of its fixings, or give larger holes.';
    return lacks('fixings', 'Fixings', 'no thread of M4 to M16 goes through its holes', advice, 'attach', 'thread');
  }
  if (!bolts.class) return lacks('fixings', 'Fixings', ...noClass(bolts.className), 'attach', 'propertyClass');
  const bolted: Bolted = { ...model, bolts, cls: bolts.class };
  if (bolts.into === 'wood' && !bolts.woodScrew) return woodScrews(bolted);
  const steel = bolts.into === 'rivet' ? rivets(bolted) : [bolt(bolted)];
  return [...steel, ...holes(bolted), ...thread[bolts.into](bolted), ...inWood(bolted), slip(bolted), spin(bolted)];
};

function bolt({ bolts, cls, fixings, forcesOf }: Bolted): Check {
  const area = bolts.thread.stressAreaMm2;
  const shearRd = boltShearN(cls.shearFactor, cls.tensileMPa, area);
  const tensionRd = boltTensionN(cls.tensileMPa, area);
  return {
    id: 'fixings',
    name: fixings.length === 1 ? 'Fixing, shear and tension' : 'Fixings, shear and tension',
    unit: '1',
    formula: 'F_v/F_v,Rd + F_t/(1.4·F_t,Rd) ≤ 1; V_i = F/n + M·r_i/Σr², T_i = F_z/n + M·l_i/Σl²',
    source: `${TABLE_3_4}; ${VECTOR}`,
    capacitySource: `${bolts.woodScrew ? `screw of ${bolts.thread.diameterMm} mm, by its root,` : bolts.thread.name} of ${cls.source} (${cls.provenance}): F_v,Rd ${Math.round(shearRd)} N, F_t,Rd ${Math.round(tensionRd)} N`,
    notes: ['The leverage of a pull beside the fixings is in it; the bracket counts as stiff.'],
    repairs: fixingRepairs({ before: [ballInside] }),
    places: (force) => {
      const { shearN, tensionN } = forcesOf(force);
      if (!tensionN) return [{ demand: 1, capacity: 0 }];
      return shearN.map(([x, y], i) => ({
        demand: boltUse(Math.hypot(x, y), shearRd, tensionN[i]!, tensionRd),
        capacity: 1,
      }));
    },
  };
}

/** Bearing and tear-out in the bracket's own holes. */
function holes(bolted: Bolted): Check[] {
  const { material, fixings, plate, spec, bolts, cls, centreYMm, forcesOf } = bolted;
  if (!material) return [];
  // towards a bend the plate goes on, up its upright
  const xMin = plate.xMinMm - (isPinned(spec) ? spec.uprightLegMm : 0);
  const xMax = plate.xMaxMm + spec.uprightLegMm;
  const places = fixings.map((fixing) => {
    const [cx, cy] = fixing.centreMm;
    const half = halfWidthMm(bolted, cx);
    return {
      fixing,
      box: { a: [xMin - cx, xMax - cx], b: [centreYMm - half - cy, centreYMm + half - cy] },
      pitchMm: pitchMm(fixing, fixings),
    };
  });
  /** The fixing presses against the load. */
  const pressed = (force: Vec3) =>
    forcesOf(force).shearN.map(([x, y], i) => ({ ...places[i]!, against: [-x, -y] as const }));
  const hole = { unit: 'N', capacitySource: `f_u of ${material.source}`, repairs: [thicker, wider, moreFixings] };
  return [
    {
      ...hole,
      id: 'bearing',
      name: 'Bearing of the fixings in the bracket’s holes',
      formula: 'V ≤ k₁·α_b·f_u·d·t/γ_M2 (slotted: 0.6 of it)',
      source: TABLE_3_4,
      places: (force) =>
        pressed(force).flatMap(({ fixing: { thicknessMm, diameterMm, slotMm }, box, against, pitchMm }) => {
          const sizes = {
            thicknessMm,
            boltMm: bolts.thread.diameterMm,
            holeMm: diameterMm,
            pitchMm,
            slotted: slotMm > 0,
          };
          return bearingByParts(against, box, (to) =>
            bearingN({ ...sizes, ...to }, material.ultimateMPa, cls.tensileMPa),
          );
        }),
    },
    {
      ...hole,
      id: 'tear-out',
      name: 'Tear-out from a fixing’s hole to the edge',
      formula: 'V ≤ 2·t·(e₁ − d₀/2)·f_u/(√3·γ_M2)',
      source: TEAR_OUT,
      places: (force) =>
        pressed(force).map(({ fixing: { thicknessMm, diameterMm, slotMm }, box, against }) => {
          const endMm = boxDistances(box, against).endMm - slotMm / 2;
          return {
            demand: Math.hypot(...against),
            capacity: tearOutN(thicknessMm, endMm, diameterMm, material.ultimateMPa),
          };
        }),
    },
  ];
}

/** The most any fixing is pulled, N. */
const pull =
  ({ forcesOf }: Bolted) =>
  (force: Vec3): number =>
    Math.max(...(forcesOf(force).tensionN ?? [Infinity]));

/** Blind rivets by what their maker states: the two shares added, on the safe side. */
function rivets({ bolts, forcesOf }: Bolted): (Check | Unchecked)[] {
  const { insertPullN, rivetShearN } = bolts;
  const name = 'Blind rivets, shear and pull';
  if (!insertPullN || !rivetShearN) {
    const advice = 'Give the shear and the pull-out force that their maker states for these thicknesses.';
    const key = rivetShearN ? 'insertPullN' : 'rivetShearN';
    return lacks('rivet', name, 'the forces of the rivets are not given', advice, 'attach', key);
  }
  return [
    {
      ...{ id: 'rivet', name, unit: '1', formula: 'F_v/F_v,maker + F_t/F_t,maker ≤ 1', source: VECTOR },
      capacitySource: 'stated by the user from the maker’s data, without a factor',
      repairs: [ballInside, moreFixings],
      places: (force) => {
        const { shearN, tensionN } = forcesOf(force);
        if (!tensionN) return [{ demand: 1, capacity: 0 }];
        return shearN.map(([x, y], i) => ({
          demand: Math.hypot(x, y) / rivetShearN + tensionN[i]! / insertPullN,
          capacity: 1,
        }));
      },
    },
  ];
}

/** What the fixing is screwed into: a tapped hole, an insert, or nothing (bolt and nut: pull through the plates). */
const thread: Record<BoltedDown['into'], (bolted: Bolted) => readonly (Check | Unchecked)[]> = {
  insert: (bolted) => {
    const { insertPullN } = bolted.bolts;
    const name = 'Pull-out of the inserts';
    if (insertPullN === null) {
      const advice = 'Give the force its maker states for the thickness of this mount.';
      return lacks('insert', name, 'the pull-out force of the inserts is not given', advice, 'attach', 'insertPullN');
    }
    return [
      {
        id: 'insert',
        name,
        unit: 'N',
        formula: 'T ≤ the pull-out force stated by the insert’s maker',
        source: VECTOR,
        capacitySource: 'stated by the user from the maker’s data, without a factor',
        repairs: fixingRepairs(),
        demand: pull(bolted),
        capacity: insertPullN,
      },
    ];
  },
  wood: woodScrews,
  rivet: () => [],
  tapped: (bolted) => {
    const { bolts, seat, cls } = bolted;
    const name = 'Stripping of the tapped thread';
    if (seat?.wood)
      return lacks(
        'thread-strip',
        name,
        'a machine thread cut in wood holds nothing that can be reckoned with',
        'Take wood screws, inserts, or bolts through.',
        'attach',
        'into',
      );
    if (!seat?.material || !bolts.engagementMm) {
      const advice =
        'Give the mount’s thickness and material, with yield and tensile strength where it is in no table.';
      return lacks('thread-strip', name, 'what the thread is cut into is not known', advice, 'seat');
    }
    return [
      {
        id: 'thread-strip',
        name,
        unit: 'N',
        formula:
          'T ≤ 0.6·0.9·min(π·d·(m/P)·(P/2 + (d − d₂)·tan 30°)·R_m, π·D₁·(m/P)·(P/2 + (d₂ − D₁)·tan 30°)·R_m,bolt)/γ_M2',
        source: `thread shear areas and factors as VDI 2230 (not checked against the standard’s text); ${VECTOR}`,
        capacitySource: `R_m of ${seat.material.source}`,
        notes: [`Thread engaged over ${Number(bolts.engagementMm.toFixed(1))} mm.`],
        repairs: fixingRepairs({ after: [deeperThread] }),
        demand: pull(bolted),
        capacity: stripN(bolts.thread, bolts.engagementMm, seat.material.ultimateMPa, cls.tensileMPa) / GAMMA_M2,
      },
    ];
  },
  through: (bolted) => {
    const { bolts, material, seat, spec } = bolted;
    const head = hardwareOf(bolts.thread.name).acrossFlatsMm;
    const through = (
      what: string,
      { ultimateMPa, source }: MaterialStrength,
      widthMm: number,
      thicknessMm: number,
    ) => ({
      capacity: pullThroughN(widthMm, thicknessMm, ultimateMPa),
      capacitySource: `f_u of the ${what}: ${source}`,
    });
    const plates = material ? [through('bracket', material, head, spec.thicknessMm)] : [];
    if (seat?.material) {
      const { spreader, thicknessMm } = seat;
      const spread = spreader ? (2 * (spreader.widthMm + spreader.lengthMm)) / Math.PI : head;
      plates.push(through('mount', seat.material, spread, thicknessMm));
      if (spreader) plates.push(through('spreader, as the mount', seat.material, head, spreader.thicknessMm));
    }
    if (plates.length === 0) return [];
    return [
      {
        id: 'seat-pull-through',
        name: 'Head or nut pulled through the plates',
        unit: 'N',
        formula: 'T ≤ 0.6·π·d_m·t·f_u/γ_M2',
        source: `${TABLE_3_4}, punching shear, with the flats for d_m`,
        notes: seat?.material ? [] : ['The mount is not known: only the bracket’s own plate is looked at.'],
        repairs: fixingRepairs({ after: [thicker, spreaders] }),
        demand: pull(bolted),
        ...plates.reduce((a, b) => (b.capacity < a.capacity ? b : a)),
      },
    ];
  },
};

/** Slip of each fixing against what its preload holds by friction. */
function slip({ bolts, fixings, forcesOf, seat }: Bolted): Check {
  const slides = !forcesOf([1, 0, 0]).held || !forcesOf([0, 1, 0]).held;
  const grip = (i: number, tensionN: number): number =>
    ((fixings[i]!.slotMm > 0 ? SLOT_SLIP : 1) * bolts.friction * Math.max(0, bolts.preloadN - 0.8 * tensionN)) /
    GAMMA_M2;
  return {
    id: 'slip',
    name: 'Slip of the bracket on its mount',
    unit: 'N',
    formula: 'V ≤ k_s·μ·(F_p − 0.8·F_t)/γ_M3',
    source: `EN 1993-1-8 3.9; ${VECTOR}`,
    capacitySource: `preload ${Math.round(bolts.preloadN)} N, μ ${bolts.friction}`,
    gravity: slides ? 'fails' : 'watch',
    // on wood, and under screws and rivets, the fixings bear from the start
    applies: slides || !(seat?.wood || bolts.into === 'wood' || bolts.into === 'rivet'),
    notes: [
      slides
        ? 'Its slots let it slide: nothing but friction holds it.'
        : 'If it slips it moves by the play of its holes; then the fixings bear.',
    ],
    repairs: fixingRepairs({ before: [ballInside] }),
    places: (force) => {
      const { shearN, tensionN } = forcesOf(force);
      if (!tensionN) return [{ demand: 1, capacity: 0 }];
      return shearN.map(([x, y], i) => ({ demand: Math.hypot(x, y), capacity: grip(i, tensionN[i]!) }));
    },
  };
}

/** Torque about a single fixing against the friction its preload holds. */
function spin({ bolts, fixings, forcesOf }: Bolted): Check {
  const ringMm = (hardwareOf(bolts.thread.name).acrossFlatsMm + fixings[0]!.diameterMm) / 4;
  return {
    id: 'spin',
    name: 'Spin about its single fixing',
    unit: 'N·mm',
    formula: '|M_z| ≤ μ·(F_p − F_t)·r_m, r_m = (s + d₀)/4',
    source: 'plain statics; friction ring under the head',
    capacitySource: `preload ${Math.round(bolts.preloadN)} N, μ ${bolts.friction}, r_m ${Number(ringMm.toFixed(2))} mm`,
    notes: ['An offset ball makes this torque; a ball over the fixing, or a second fixing, takes it away.'],
    applies: fixings.length === 1,
    repairs: fixingRepairs({ before: [ballInside] }),
    places: (force) => {
      const { spinNmm, tensionN } = forcesOf(force);
      const left = Math.max(0, bolts.preloadN - (tensionN?.[0] ?? Infinity));
      return [{ demand: Math.abs(spinNmm), capacity: spinHoldNmm(bolts.friction, left, ringMm) }];
    },
  };
}
