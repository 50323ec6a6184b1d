import { describe, it } from 'vitest';
import { type GroupBolt, groupCentroid, inPlaneForces, liftForces } from '../../core/strength';
import { expectClose, within, withinEither } from '../support/close';

const at = (...places: readonly (readonly [number, number])[]): GroupBolt[] =>
  places.map(([xMm, yMm]) => ({ xMm, yMm }));
const sizes = (bolts: GroupBolt[], fx: number, fy: number, m: number): number[] =>
  inPlaneForces(bolts, fx, fy, m)!.forcesN.map(([x, y]) => Math.hypot(x, y));
const rest = { xMinMm: -100, xMaxMm: 100, yMinMm: -100, yMaxMm: 100 };

describe('bolt groups, elastic vector method', () => {
  // Shigley, Mechanical Engineering Design, eccentric-shear example with M16 bolts (8-7 in the 9th/10th edition): 16 kN at
  // 425 mm. Dimensions and answers from memory (21.0 and 14.8 kN), arithmetic checked.
  it('four bolts: 21.0 kN near the load, 14.8 kN far from it', () => {
    const found = sizes(at([75, 60], [75, -60], [-75, 60], [-75, -60]), 0, -16000, -16000 * 425);
    expectClose(found, [20972.6, 20972.6, 14788.8, 14788.8], within(50, 'N'));
  });

  // Computed: three M12 in line, 30 mm apart, 9 kN at 250 mm: √(3² + 37.5²) kN, 332 MPa on the full shank.
  it('three M12 in line: 332 MPa', () => {
    const found = sizes(at([0, 30], [0, 0], [0, -30]), 0, -9000, -9000 * 250);
    expectClose(found[0]! / ((Math.PI / 4) * 144), 332, within(1, 'MPa'));
    expectClose(found[0], 37619.8, within(1, 'N'));
  });

  // Sadhu Singh, Machine Design I, Ex. 5.3 p. 150, in FOSSEE Python-Textbook-Companions: 54 kN at 200 mm, 120 MPa.
  it('six fasteners: 16.99 mm are needed', () => {
    const found = sizes(at([50, 100], [50, 0], [50, -100], [-50, 100], [-50, 0], [-50, -100]), 0, -54000, -54000 * 200);
    const worst = Math.max(...found);
    expectClose(worst, 27197.6, within(1, 'N'));
    expectClose(Math.sqrt(worst / ((Math.PI / 4) * 120)), 16.99, within(0.01, 'mm'));
  });

  // Abbott Aerospace, Analytical Methods, sheet AA-SM-004 (openly published), after Niu ch. 9. Inches and pounds.
  it('six unequal bolts', () => {
    const d = [0.375, 0.25, 0.25, 0.375, 0.25, 0.375];
    const places = [
      [1, 1],
      [-1, 1],
      [-1, -1],
      [1, 5],
      [0, 5],
      [10, 2],
    ] as const;
    const bolts = places.map(([xMm, yMm], i): GroupBolt => ({ xMm, yMm, weight: d[i]! ** 2 }));
    expectClose(groupCentroid(bolts), [2.564103, 2.358974], within(1e-6, 'in'));
    // at (0.3, 0), with a couple of 12 000 clockwise
    const found = sizes(bolts, 0, -10000, 0.3 * -10000 - 12000);
    expectClose(found, [2493, 1210, 1220, 2507, 1165, 1451], within(1, 'lbf'));
  });

  // Computed: 2 × 3 bolts, 120 kN at 200 mm.
  it('two by three bolts', () => {
    const found = sizes(at([40, 70], [40, 0], [40, -70], [-40, 70], [-40, 0], [-40, -70]), 0, -120000, -120000 * 200);
    expectClose(Math.max(...found), 78141.77, within(10, 'N'));
  });

  // Computed: four bolts, 40 mm from the middle along the arm and 30 mm across, 10 kN at 100 mm: 7.16 kN.
  it('four bolts of a bracket: 7.16 kN', () => {
    const found = sizes(at([40, 30], [40, -30], [-40, 30], [-40, -30]), 0, -10000, -10000 * 100);
    expectClose(Math.max(...found), 7160, within(5, 'N'));
  });
});

describe('tension by the pivoting edge', () => {
  // Statics: T_i = M·l_i/Σl² about the lower edge (Shigley; Bhandari, from memory); numbers computed here.
  it('four bolts 50 and 150 mm over the edge', () => {
    const bolts = at([-30, -50], [30, -50], [-30, 50], [30, 50]);
    // a moment that presses at −y: about +x
    const lift = liftForces(bolts, rest, 0, 1e6, 0)!;
    const sum = 2 * (50 ** 2 + 150 ** 2);
    expectClose(
      lift.tensionN,
      [50, 50, 150, 150].map((l) => (1e6 * l) / sum),
      withinEither(1e-6, 1e-9, 'N'),
    );
  });
  // A pull b beside one row of fixings, a to the free end behind it: T = F·(1 + b/a), the lever about the toe.
  it('a pull beside one row levers about the toe', () => {
    const foot = { xMinMm: -50, xMaxMm: 0, yMinMm: -30, yMaxMm: 30 };
    const lift = liftForces(at([-36, -18], [-36, 18]), foot, 1000, 0, -1000 * 0)!;
    expectClose(lift.tensionN[0]! + lift.tensionN[1]!, 1000 * (1 + 36 / 14), withinEither(1e-6, 1e-9, 'N'));
  });
});
