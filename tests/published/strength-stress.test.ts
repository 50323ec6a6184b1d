import { describe, expect, it } from 'vitest';
import { coarseThread } from '../../core/bracket';
import {
  collapseForceN,
  plateSection,
  plateStress,
  propertyClass,
  roundPlate,
  roundStress,
  sectionStress,
  spinHoldNmm,
  vonMises,
} from '../../core/strength';
import { expectClose, within, withinEither } from '../support/close';

describe('combined stress', () => {
  // Dieter, Mechanical Metallurgy, 3rd ed., Ex. 3.2 p. 78, in FOSSEE Python-Textbook-Companions.
  it('Dieter: 224.05 MPa, safety 2.23 on 500', () => {
    const s = vonMises({ x: 200, y: 100, z: -50, xy: 30 });
    expectClose(s, 224.054, within(1e-3, 'MPa'));
    expectClose(500 / s, 2.2316, within(1e-3, '1'));
  });
  // Boresi & Schmidt, Advanced Mechanics of Materials, Ex. p. 124, same companions.
  it('Boresi: 138.19 MPa, safety 2.17 on 300', () => {
    const s = vonMises({ x: 100, y: -14, xy: 50 });
    expectClose(s, 138.188, within(0.005, 'MPa'));
    expectClose(300 / s, 2.17, within(0.005, '1'));
  });
  // Pytel & Kiusalaas, Ex. 12.7 p. 440, same companions: 3 in bar, M = 2.21 kip·ft, yield 40 ksi, T = 9.88 kip·ft.
  it('Pytel: the torque that a bent bar still bears', () => {
    const w = (Math.PI * 3 ** 3) / 32;
    const s = vonMises({ x: (2.21 * 12) / w, xy: (9.88 * 12) / (2 * w) });
    expectClose(s, 40, within(0.05, 'ksi'));
  });
});

describe('studs and bend lines', () => {
  // Computed from 32Fa/(πd₃³), 4F/(πd₃²), √(σ² + 3τ²) with d₃ rounded to 0.001 mm, apart from this code.
  it('M8, 500 N at 12 mm, then 200 N along it', () => {
    const root = 6.466;
    const s = roundStress(root, 500 * 12, 0, 500);
    expectClose([s.bending, s.shear, s.equivalent], [226.0707, 15.2268, 227.6039], within(0.01, 'MPa'));
    expectClose(roundStress(root, 500 * 12, 200, 500).equivalent, 233.6546, within(0.01, 'MPa'));
    expectClose(coarseThread('M8').rootDiameterMm, root, within(0.001, 'mm'));
  });
  it('M10, 800 N at 15.5 mm; M6, 300 N at 10.5 mm', () => {
    expectClose(roundStress(8.16, 800 * 15.5, 0, 800).equivalent, 233.9668, within(0.01, 'MPa'));
    expectClose(roundStress(4.773, 300 * 10.5, 0, 300).equivalent, 296.5033, within(0.01, 'MPa'));
  });
  it('a bend line 3 × 40 mm, 500 N at 25 mm', () => {
    const section = plateSection(3, 40);
    const through = { axialN: 0, shearN: 500, weakNmm: 500 * 25, strongNmm: 0, torsionNmm: 0 };
    expectClose(sectionStress(section, through), 208.4583, within(1e-4, 'MPa'));
    expectClose(through.weakNmm / section.weakMm3, 208.3333, within(1e-4, 'MPa'));
  });
  it('spin of a single fixing: 12.5 N·m against 9.75 N·m', () => {
    expectClose(spinHoldNmm(0.15, 10000, 6.5), 9750, within(1e-9, 'N·mm'));
    expectClose(spinHoldNmm(0.15, 10000, 6.5) / (500 * 25), 0.78, within(1e-12, '1'));
  });
});

describe('round plates', () => {
  // Timoshenko, Strength of Materials, part II, 3rd ed., pp. 96–103, in a finite-element program's verification manual (stored copy):
  // held edge, a = 40 in, t = 1 in, 7539.82 lb in the middle: 3600 psi at the edge.
  it('Timoshenko: 3600 psi at a held edge', () => {
    expectClose(plateStress(roundPlate(7539.82, 40, 1, 1, 'held').edgeN, 1), -3600, within(0.01, 'psi'));
  });
  // Computed from Roark's formulas (from memory): held edge, a = 150, r₀ = 10, t = 1.5 mm, ν = 0.29, 1 N/mm² on r₀ (314 N): 233 in the middle,
  // −67 N/mm² at the edge.
  it('a held plate after Roark: 233 and −67 N/mm²', () => {
    const m = roundPlate(Math.PI * 100, 150, 10, 1.5, 'held', 0.29);
    expectClose([plateStress(m.centreN, 1.5), plateStress(m.edgeN, 1.5)], [233, -67], within(0.5, 'MPa'));
  });
  // From the two formulas: a resting edge adds W/4π in the middle, whatever the sizes.
  it('a resting edge adds W/4π', () => {
    const held = roundPlate(1000, 150, 10, 2, 'held');
    const resting = roundPlate(1000, 150, 10, 2, 'resting');
    expectClose(resting.centreN - held.centreN, 1000 / (4 * Math.PI), within(1e-9, 'N'));
  });
  // Upper-bound yield-line result for a resting round plate under a point load: 2π·m_p (from memory), m_p = f_y·t²/4.
  it('a 2 mm sheet of 235 gives way at 1477 N', () => {
    expectClose(collapseForceN(235, 2), 2 * Math.PI * 235, withinEither(1e-9, 1e-12, 'N'));
  });
});

describe('ISO 898-1', () => {
  // ISO 898-1 (open text: BIS IS 1367-3:2002, its tables not read, so from memory): proof loads, N, A_s·S_p to three figures.
  const proof = {
    '8.8': { M5: 8230, M6: 11600, M8: 21200, M10: 33700, M12: 48900 },
    '10.9': { M5: 11800, M6: 16700, M8: 30400, M10: 48100, M12: 70000 },
  } as const;
  it('proof loads follow from A_s·S_p', () => {
    for (const [name, loads] of Object.entries(proof))
      for (const [thread, load] of Object.entries(loads)) {
        const { stressAreaMm2, diameterMm } = coarseThread(thread as 'M5');
        expectClose(propertyClass(name, diameterMm)!.proofMPa * stressAreaMm2, load, withinEither(0, 0.0065, 'N'));
      }
  });
  // Nominal tensile strength and yield, up to 10.9, as in open code for EN 1993-1-8 table 3.1 (github kuisidu/metku en1993_1_8.py); proof
  // stress and 12.9 from memory.
  it.each([
    ['4.6', 8, 400, 240, 225],
    ['5.6', 8, 500, 300, 280],
    ['5.8', 8, 500, 400, 380],
    ['8.8', 16, 800, 640, 580],
    ['8.8', 20, 800, 640, 600],
    ['10.9', 8, 1000, 900, 830],
    ['12.9', 8, 1200, 1080, 970],
  ])('class %s at %d mm', (name, d, tensile, yieldMPa, proofMPa) => {
    const row = propertyClass(name, d)!;
    expect([row.tensileMPa, row.yieldMPa, row.proofMPa]).toEqual([tensile, yieldMPa, proofMPa]);
  });
  // ISO 3506-1: classes 50, 70 and 80 are 500, 700 and 800 N/mm²; R_p0.2 210, 450 and 600; from memory.
  it('A2-70 and A4-80', () => {
    expect(propertyClass('A2-70', 8)).toMatchObject({ tensileMPa: 700, yieldMPa: 450 });
    expect(propertyClass('a4 80', 8)).toMatchObject({ tensileMPa: 800, yieldMPa: 600 });
  });
});
