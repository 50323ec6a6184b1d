// Euler buckling against textbook columns.
import { describe, expect, it } from 'vitest';
import { END_CONDITIONS, STEEL_MPA, eulerN, roundInertiaMm4, steppedColumnN, tubeInertiaMm4 } from '../../core/strut';
import { expectClose, within, withinEither } from '../support/close';

describe('Euler', () => {
  // Jindal, Machine Design (2010), Ex. 7-6 p. 195: push rod tube, P = 1500 N,
  // safety 2, L = 280 mm, d/D = 0.8, E = 207 GPa. I = 115.124 mm⁴, D = 7.939 → 8 mm.
  it('push rod tube', () => {
    const needed = (1500 * 2 * 280 * 280) / (Math.PI ** 2 * 207_000);
    expectClose(needed, 115.124, within(0.01, 'mm⁴'));
    expectClose(tubeInertiaMm4(7.939, 0.8 * 7.939), 115.124, within(0.05, 'mm⁴'));
    expect(eulerN(tubeInertiaMm4(8, 6.4), 280, 'pinned-pinned', 207_000)).toBeGreaterThan(3000);
  });

  // Gere, Mechanics of Materials, Ex. 11.1 p. 763: 25 ft, E = 29 000 ksi, I = 98 / 21.7 in⁴, weak way held at mid-height.
  it('column held at mid-height', () => {
    const [strong, weak] = [eulerN(98, 300, 'pinned-pinned', 29_000), eulerN(21.7, 150, 'pinned-pinned', 29_000)];
    expectClose([strong, weak], [311.66, 276.04], within(0.5, 'kip'));
    expectClose(Math.min(strong, weak) / 2.5, 110, within(0.5, 'kip'));
  });

  // Gere Ex. 11.2 p. 774: aluminium tube D = 100 mm, fixed–pinned, L = 3.25 m, 100 kN × 3, E = 72 GPa: t = 6.83 mm
  // (6.8256 with 2.0457·π²EI/L²).
  it('fixed–pinned tube', () => {
    expectClose(1 / END_CONDITIONS['fixed-pinned'] ** 2, 2.0457, within(1e-3, '1'));
    let [thin, thick] = [1, 20];
    while (thick - thin > 1e-6) {
      const t = (thin + thick) / 2;
      if (eulerN(tubeInertiaMm4(100, 100 - 2 * t), 3250, 'fixed-pinned', 72_000) >= 300_000) thick = t;
      else thin = t;
    }
    expectClose(thick, 6.83, within(0.02, 'mm'));
  });
});

describe('stepped column', () => {
  const rod = STEEL_MPA * roundInertiaMm4(8);
  // Abramowitz & Stegun, Handbook of Mathematical Functions, table 4.19 (tan x = λx, λ = −1): 2.02876.
  it('half rod, half rigid: the root of tan x = −x, 2.02876', () => {
    // rigid half of length L/2: k·cot(kL/2) + 1/(L/2) = 0, so x = kL/2 with tan x = −x
    let [a, b] = [Math.PI / 2 + 1e-9, Math.PI - 1e-9];
    while (b - a > 1e-13) {
      const x = (a + b) / 2;
      if (Math.tan(x) + x < 0) a = x;
      else b = x;
    }
    expectClose(a, 2.02876, within(5e-6, '1'));
    const critical = (rod * a * a) / (250 * 250);
    expectClose(steppedColumnN(rod, 250, rod * 1e9, 250), critical, withinEither(0, 1e-6, 'N'));
  });
});
