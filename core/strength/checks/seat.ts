import { type Vec3, cross } from '../../space';
import { type Part, lacks } from '../check';
import { GAMMA_M2, TABLE_3_4, bearingN } from '../holes';
import { unknownMaterial } from '../materials';
import { SEAT_MENDS, fixingMends } from '../mend-changes';
import { DEFAULTS, type StrengthModel } from '../model';
import { collapseForceN, plateStress, roundPlate } from '../plate';
import { pitchMm } from '../shape';

/** Radius of the round of a rectangle's area, mm. */
const roundMm = (a: number, b: number): number => Math.sqrt((a * b) / Math.PI);

/** The larger of what lifts the sheet and what presses it, N. */
function localLoad({ bolts, forcesOf, footprint, ballMm }: StrengthModel): (force: Vec3) => number {
  if (bolts)
    return (force) => {
      const { tensionN, contactN } = forcesOf(force);
      const lift = tensionN?.reduce((a, b) => a + b, 0) ?? Infinity;
      return Math.max(lift, contactN);
    };
  const { xMinMm, xMaxMm, yMinMm, yMaxMm } = footprint;
  return (force) => {
    const m = cross([ballMm[0] - (xMinMm + xMaxMm) / 2, ballMm[1] - (yMinMm + yMaxMm) / 2, ballMm[2]], force);
    return Math.abs(force[2]) + Math.abs(m[1]) / (xMaxMm - xMinMm) + Math.abs(m[0]) / (yMaxMm - yMinMm);
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
  const { thicknessMm: t, material, spreader } = seat;
  if (!material) return lacks('seat-bending', name, ...unknownMaterial(seat.name, t), 'seat', 'material', 'yieldMPa');
  const load = localLoad(model);
  const under = roundMm(footprint.xMaxMm - footprint.xMinMm, footprint.yMaxMm - footprint.yMinMm);
  const panel = Math.max(DEFAULTS.panelRadiusMm, 2 * under);
  const centre = (loadN: number, radiusMm: number) => roundPlate(loadN, panel, radiusMm, t, 'resting').centreN;
  const stress = (loadN: number): number => {
    if (!spreader) return plateStress(centre(loadN, under), t);
    // two plates that lie loose on each other bend alike: each takes its share by t³
    const shared = (6 * centre(loadN, under) * t) / (t ** 3 + spreader.thicknessMm ** 3);
    const edge = centre(loadN, Math.max(under, roundMm(spreader.widthMm, spreader.lengthMm)));
    return Math.max(shared, plateStress(edge, t));
  };
  const { yieldMPa, ultimateMPa, source } = material;
  const sheet = {
    capacitySource: `yield of ${source}${spreader ? '; the spreader counts as the mount’s material' : ''}`,
    mends: SEAT_MENDS,
  };
  const loadNote =
    'The load is the larger of what lifts and what presses; lift and press side by side partly undo each other, which is not counted (on the safe side).';
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
      formula: 'σ = 6·W·[(1 + ν)·ln(a/r₀) + 1]/(4π·t²), r₀ the round of the same area as the footprint',
      source: 'Roark’s Formulas for Stress and Strain: round plate resting at its edge, load on a small circle',
      notes: [
        `The sheet counts as free for ${Math.round(panel)} mm all round (common practice, no source): a frame or stiffener nearer helps.`,
        loadNote,
      ],
      demand: (force) => stress(load(force)),
      capacity: yieldMPa,
    },
    {
      ...sheet,
      id: 'seat-collapse',
      name: 'Mounting sheet, giving way',
      unit: 'N',
      formula: 'W ≤ 2π·f_y·t²/4',
      source:
        'yield-line theory, round plate resting at its edge, point load (from memory): the lowest of the patterns, whatever the size of the sheet',
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
      mends: fixingMends(),
      demand: (force) => Math.max(...forcesOf(force).shearN.map(([x, y]) => Math.hypot(x, y))),
      capacity: bearingN(hole, ultimateMPa, bolts?.class?.tensileMPa ?? 0),
    },
  ];
};
