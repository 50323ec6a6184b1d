import { type Vec3, cross } from '../../space';
import { type Check, type Part, lacks } from '../check';
import { GAMMA_M2, TABLE_3_4, bearingN } from '../holes';
import { unknownMaterial } from '../materials';
import type { Unchecked } from '../types';
import { SEAT_REPAIRS, fixingRepairs } from '../repair-changes';
import { DEFAULTS, type Seat, type StrengthModel } from '../model';
import { collapseForceN, plateStress, roundPlate } from '../plate';
import { pitchMm } from '../shape';
import { GAMMA_M_WOOD, type WoodRow, kModLasting, woodBendingMPa } from '../wood';

/** Radius of the round of a rectangle's area, mm. */
const roundMm = (a: number, b: number): number => Math.sqrt((a * b) / Math.PI);

/** A force on the sheet and the radius of the round on which it acts. */
interface Spot {
  readonly forceN: number;
  readonly radiusMm: number;
}

/**
 * What lifts the sheet and what presses it. A bracket tilts about its edge and presses there on a strip, no narrower than it is
 * thick; nearer to the middle on all that lies even about the place. Fixings lift it by what their washers span.
 */
function spotsOf(model: StrengthModel): (force: Vec3) => { lift: readonly Spot[]; press: readonly Spot[] } {
  const { bolts, forcesOf, footprint, ballMm, fixings, spec } = model;
  const { xMinMm, xMaxMm, yMinMm, yMaxMm } = footprint;
  const strip = (mm: number): number => Math.max(mm, spec.thicknessMm);
  const contact = (xMm: number, yMm: number, forceN: number): Spot => ({
    forceN,
    radiusMm: roundMm(strip(2 * Math.min(xMm - xMinMm, xMaxMm - xMm)), strip(2 * Math.min(yMm - yMinMm, yMaxMm - yMm))),
  });
  if (bolts) {
    const span = (axis: 0 | 1): number => {
      const at = fixings.map((f) => f.centreMm[axis]);
      return Math.max(...at) - Math.min(...at);
    };
    const [dx, dy, washer] = [span(0), span(1), bolts.washerMm];
    const spanned = Math.sqrt((dx * dy + (dx + dy) * washer) / Math.PI + washer ** 2 / 4);
    return (force) => {
      const { tensionN, contacts } = forcesOf(force);
      const forceN = tensionN?.reduce((a, b) => a + b, 0) ?? Infinity;
      return {
        lift: [{ forceN, radiusMm: spanned }],
        press: contacts.map((c) => contact(c.xMm, c.yMm, c.forceN)),
      };
    };
  }
  const [x, y] = [(xMinMm + xMaxMm) / 2, (yMinMm + yMaxMm) / 2];
  return (force) => {
    const m = cross([ballMm[0] - x, ballMm[1] - y, ballMm[2]], force);
    const press = [
      contact(x, y, Math.abs(force[2])),
      contact(xMinMm, y, Math.abs(m[1]) / (xMaxMm - xMinMm)),
      contact(x, yMinMm, Math.abs(m[0]) / (yMaxMm - yMinMm)),
    ];
    return { lift: [], press };
  };
}

/** The sheet or beam the bracket sits on. */
export const seat: Part = (model) => {
  const { seat, bolts, fixings, footprint, forcesOf } = model;
  const name = 'Mounting sheet, bending';
  if (!seat) {
    const advice = 'Give the thickness and the material of the panel or beam it sits on.';
    return lacks('seat-bending', name, 'nothing is said of what it is fixed to', advice, 'seat');
  }
  if (seat.wood) return woodSeat(model, seat, seat.wood);
  const { thicknessMm: t, material, spreader } = seat;
  if (!material) return lacks('seat-bending', name, ...unknownMaterial(seat.name, t), 'seat', 'material', 'yieldMPa');
  const spots = spotsOf(model);
  const load = (force: Vec3): number => {
    const { lift, press } = spots(force);
    return Math.max(...[lift, press].map((all) => all.reduce((sum, spot) => sum + spot.forceN, 0)));
  };
  const under = roundMm(footprint.xMaxMm - footprint.xMinMm, footprint.yMaxMm - footprint.yMinMm);
  const panel = Math.max(DEFAULTS.panelRadiusMm, 2 * under);
  const centre = (all: readonly Spot[], leastMm = 0): number =>
    all.reduce(
      (sum, { forceN, radiusMm }) => sum + roundPlate(forceN, panel, Math.max(radiusMm, leastMm), t, 'resting').centreN,
      0,
    );
  const stress = (all: readonly Spot[]): number => {
    if (!spreader) return plateStress(centre(all), t);
    // two plates that lie loose on each other bend alike: each takes its share by t³
    const shared = (6 * centre(all) * t) / (t ** 3 + spreader.thicknessMm ** 3);
    return Math.max(shared, plateStress(centre(all, roundMm(spreader.widthMm, spreader.lengthMm)), t));
  };
  const { yieldMPa, ultimateMPa, source } = material;
  const sheet = {
    capacitySource: `yield of ${source}${spreader ? '; the spreader counts as the mount’s material' : ''}`,
    repairs: SEAT_REPAIRS,
  };
  const loadNote =
    'The load is the larger of what lifts and what presses, each added up as if at one place; lift and press side by side partly undo each other, which is not counted (on the safe side).';
  const boltMm = bolts?.thread.diameterMm ?? 0;
  const hole = {
    thicknessMm: t,
    boltMm,
    holeMm: bolts?.into === 'through' ? Math.max(...fixings.map((f) => f.diameterMm)) : boltMm,
    ...{ endMm: Infinity, sideMm: Infinity },
    pitchMm: Math.min(...fixings.map((f) => pitchMm(f, fixings))),
  };
  return [
    {
      ...sheet,
      id: 'seat-bending',
      name: `${name}${spreader ? ', with its spreader' : ''}`,
      unit: 'N/mm²',
      formula:
        'σ = 6·ΣW·[(1 + ν)·ln(a/r₀) + 1]/(4π·t²), r₀ the round of the same area as the strip that presses, or as what the washers span',
      source:
        'Roark’s Formulas for Stress and Strain: round plate resting at its edge, load on a small circle; a strip at the edge about which the bracket tilts, as wide as it is thick (plain statics)',
      notes: [
        `The sheet counts as free for ${Math.round(panel)} mm all round (common practice, no source): a frame or stiffener nearer helps.`,
        loadNote,
      ],
      demand: (force) => {
        const { lift, press } = spots(force);
        return Math.max(stress(lift), stress(press));
      },
      capacity: yieldMPa,
    },
    {
      ...sheet,
      id: 'seat-collapse',
      name: 'Mounting sheet, giving way',
      unit: 'N',
      formula: 'W ≤ 2π·f_y·t²/4',
      source:
        'yield-line theory, round plate resting at its edge, point load (not checked against a text): the lowest of the patterns, whatever the size of the sheet',
      notes: [loadNote],
      demand: load,
      capacity: collapseForceN(yieldMPa, t) + (spreader ? collapseForceN(yieldMPa, spreader.thicknessMm) : 0),
    },
    {
      id: 'seat-bearing',
      name: 'Bearing of the fixings in the mount',
      unit: 'N',
      formula: `V ≤ k₁·α_b·f_u·d·t/γ_M2 (γ_M2 ${GAMMA_M2})`,
      source: TABLE_3_4,
      capacitySource: `f_u of ${source}`,
      notes: ['The mount’s own edges are not in the job: they count as far, 3 hole diameters or more.'],
      applies: !!bolts?.class,
      repairs: fixingRepairs(),
      demand: (force) => Math.max(...forcesOf(force).shearN.map(([x, y]) => Math.hypot(x, y))),
      capacity: bearingN(hole, ultimateMPa, bolts?.class?.tensileMPa ?? 0),
    },
  ];
};

/**
 * Plywood bends as a round plate of its weaker way, solid wood as a beam along its grain, as wide as the bracket or its backing plate: what of
 * the wood lies beside it helps, and is not counted.
 */
function woodSeat(model: StrengthModel, seat: Seat, wood: WoodRow): (Check | Unchecked)[] {
  const { thicknessMm: t, spreader, serviceClass } = seat;
  const { xMinMm, xMaxMm, yMinMm, yMaxMm } = model.footprint;
  const plywood = wood.family === 'plywood';
  const name = plywood ? 'Plywood it sits on, bending' : 'Wood it sits on, bending';
  const bending = woodBendingMPa(wood, t, seat.bendingMPa);
  if (bending === null)
    return lacks(
      ...(['seat-bending', name, `${wood.id} of ${t} mm is in no table`] as const),
      'Type its characteristic bending strength, as its maker states it.',
      ...['seat', 'material', 'yieldMPa'],
    );
  const spots = spotsOf(model);
  const panel = Math.max(DEFAULTS.panelRadiusMm, 2 * roundMm(xMaxMm - xMinMm, yMaxMm - yMinMm));
  const backed = spreader ? roundMm(spreader.widthMm, spreader.lengthMm) : 0;
  const wide = Math.max(Math.min(xMaxMm - xMinMm, yMaxMm - yMinMm), spreader?.widthMm ?? 0);
  const plate = (all: readonly Spot[]): number =>
    plateStress(
      all.reduce(
        (sum, { forceN, radiusMm }) =>
          sum + roundPlate(forceN, panel, Math.max(radiusMm, Math.min(backed, panel / 2)), t, 'resting').centreN,
        0,
      ),
      t,
    );
  const beam = (all: readonly Spot[]): number =>
    (6 * all.reduce((sum, { forceN }) => sum + forceN, 0) * 2 * panel) / 4 / (wide * t ** 2);
  const gamma = plywood ? GAMMA_M_WOOD.plywood : GAMMA_M_WOOD.solid;
  const kMod = kModLasting(serviceClass);
  return [
    {
      ...{ id: 'seat-bending', name: `${name}${spreader ? ', with its backing plate' : ''}`, unit: 'N/mm²' },
      formula: plywood
        ? 'σ = 6·ΣW·[(1 + ν)·ln(a/r₀) + 1]/(4π·t²) ≤ k_mod·f_m,k/γ_M'
        : 'σ = 6·(ΣW·2a/4)/(b·t²) ≤ k_mod·f_m,k/γ_M',
      source: plywood
        ? 'Roark’s Formulas for Stress and Strain: round plate resting at its edge; EN 1995-1-1 2.4.1'
        : 'beam on two rests, load in the middle; EN 1995-1-1 2.4.1',
      capacitySource: `f_m,k ${bending} N/mm² ${seat.bendingMPa ? 'as typed in the job' : `of ${wood.id}, ${wood.source} (${wood.provenance})`}; k_mod ${kMod} (lasting load, service class ${serviceClass}), γ_M ${gamma}`,
      notes: [
        `It counts as free for ${Math.round(panel)} mm all round (common practice, no source): a frame or stiffener nearer helps.`,
        ...(plywood ? [] : ['The grain runs along the free length; across it, solid wood splits.']),
      ],
      repairs: SEAT_REPAIRS,
      demand: (force) => {
        const { lift, press } = spots(force);
        const stress = plywood ? plate : beam;
        return Math.max(stress(lift), stress(press));
      },
      capacity: (kMod * bending) / gamma,
    },
  ];
}
