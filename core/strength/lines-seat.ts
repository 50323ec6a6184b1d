import { cross } from '../space';
import { fixingForces } from './fixing-forces';
import { GAMMA_M2, bearingN } from './holes';
import { DEFAULTS, type StrengthModel } from './model';
import { collapseForceN, plateStress, roundPlate } from './plate';
import type { CheckLine, Unchecked } from './types';

/** The sheet or beam the bracket sits on. */
export function seatLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { seat, bolts, fixings, footprint, ballMm, weld } = model;
  const name = 'Mounting sheet, bending';
  if (!seat)
    return [
      {
        id: 'seat-bending',
        name,
        why: 'nothing is said of what it is fixed to',
        advice: 'Give the thickness and the material of the panel or beam it sits on.',
        path: ['seat'],
      },
    ];
  if (!seat.material)
    return [
      {
        id: 'seat-bending',
        name,
        why: `the strength of “${seat.name}” at ${seat.thicknessMm} mm is in no table`,
        advice: 'Type its yield strength and its tensile strength.',
        path: ['seat', 'material', 'yieldMPa'],
      },
    ];
  const { thicknessMm: t, material, spreader } = seat;
  const lengthMm = footprint.xMaxMm - footprint.xMinMm;
  const widthMm = footprint.yMaxMm - footprint.yMinMm;
  const cx = (footprint.xMinMm + footprint.xMaxMm) / 2;
  const cy = (footprint.yMinMm + footprint.yMaxMm) / 2;
  const group = bolts ? fixingForces(model) : null;
  /** The larger of what lifts the sheet and what presses it, N. */
  const local = (force: readonly [number, number, number]): number => {
    if (group && !weld) {
      const { tensionN, contactN } = group(force);
      return tensionN
        ? Math.max(
            tensionN.reduce((a, b) => a + b, 0),
            contactN,
          )
        : Infinity;
    }
    const m = cross([ballMm[0] - cx, ballMm[1] - cy, ballMm[2]], force);
    return Math.abs(force[2]) + Math.abs(m[1]) / lengthMm + Math.abs(m[0]) / widthMm;
  };
  const round = (a: number, b: number): number => Math.sqrt((a * b) / Math.PI);
  const under = round(lengthMm, widthMm);
  const panel = Math.max(DEFAULTS.panelRadiusMm, 2 * under);
  const stress = (loadN: number): number => {
    const beneath = roundPlate(loadN, panel, under, t, 'resting').centreN;
    if (!spreader) return plateStress(beneath, t);
    // two plates that lie loose on each other bend alike: each takes its share by t³
    const shared = (6 * beneath * t) / (t ** 3 + spreader.thicknessMm ** 3);
    const edge = roundPlate(loadN, panel, Math.max(under, round(spreader.widthMm, spreader.lengthMm)), t, 'resting');
    return Math.max(shared, plateStress(edge.centreN, t));
  };
  const collapse =
    collapseForceN(material.yieldMPa, t) + (spreader ? collapseForceN(material.yieldMPa, spreader.thicknessMm) : 0);
  const capacitySource = `yield of ${material.source}${spreader ? '; the spreader counts as the mount’s material' : ''}`;
  const loads =
    'The load is the larger of what lifts and what presses; lift and press side by side partly undo each other, which is not counted (on the safe side).';
  const lines: CheckLine[] = [
    {
      id: 'seat-bending',
      name: `${name}${spreader ? ', with its spreader' : ''}`,
      unit: 'N/mm²',
      formula: 'σ = 6·W·[(1 + ν)·ln(a/r₀) + 1]/(4π·t²), r₀ the round of the same area as the footprint',
      source: 'Roark’s Formulas for Stress and Strain: round plate resting at its edge, load on a small circle',
      capacitySource,
      gravity: 'fails',
      notes: [
        `The sheet counts as free for ${Math.round(panel)} mm all round (common practice, no source): a frame or stiffener nearer helps.`,
        loads,
      ],
      at: (force) => ({ demand: stress(local(force)), capacity: material.yieldMPa }),
    },
    {
      id: 'seat-collapse',
      name: 'Mounting sheet, giving way',
      unit: 'N',
      formula: 'W ≤ 2π·f_y·t²/4',
      source:
        'yield-line theory, round plate resting at its edge, point load (from memory): the lowest of the patterns, whatever the size of the sheet',
      capacitySource,
      gravity: 'fails',
      notes: [loads],
      at: (force) => ({ demand: local(force), capacity: collapse }),
    },
  ];
  if (bolts?.class && group) {
    const d = bolts.thread.diameterMm;
    const hole = bolts.into === 'through' ? Math.max(...fixings.map((f) => f.diameterMm)) : d;
    const pitchMm = Math.min(
      ...fixings.flatMap((f, i) =>
        fixings.slice(i + 1).map((g) => Math.hypot(g.centreMm[0] - f.centreMm[0], g.centreMm[1] - f.centreMm[1])),
      ),
    );
    const capacity = bearingN(
      { thicknessMm: t, boltMm: d, holeMm: hole, endMm: Infinity, sideMm: Infinity, pitchMm },
      material.ultimateMPa,
      bolts.class.tensileMPa,
    );
    lines.push({
      id: 'seat-bearing',
      name: 'Bearing of the fixings in the mount',
      unit: 'N',
      formula: `V ≤ k₁·α_b·f_u·d·t/γ_M2 (γ_M2 ${GAMMA_M2})`,
      source: 'EN 1993-1-8 table 3.4',
      capacitySource: `f_u of ${material.source}`,
      gravity: 'fails',
      notes: ['The mount’s own edges are not in the job: they count as far, 3 hole diameters or more.'],
      at: (force) => ({ demand: Math.max(...group(force).shearN.map(([x, y]) => Math.hypot(x, y))), capacity }),
    });
  }
  return lines;
}
