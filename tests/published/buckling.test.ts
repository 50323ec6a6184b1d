// Euler buckling against computed and textbook columns, and the stepped column against its limits.
import { describe, expect, it } from 'vitest';
import {
  END_CONDITIONS,
  STEEL_MPA,
  eulerN,
  plainBucklingN,
  roundInertiaMm4,
  steppedColumnN,
  tubeInertiaMm4,
} from '../../core/strut';
import { expectClose, within, withinEither } from '../support/close';

describe('Euler', () => {
  // Computed: π²·E·I/L², I = π·d⁴/64, E = 210 000 N/mm².
  it.each([
    [8, 300, 4630.271],
    [8, 500, 1666.897],
    [10, 500, 4069.574],
    [10, 700, 2076.313],
  ])('solid round steel rod %d × %d mm, pinned', (rodMm, lengthMm, criticalN) => {
    expectClose(plainBucklingN(lengthMm, rodMm), criticalN, within(1e-3, 'N'));
  });

  // Jindal, Machine Design (2010), Ex. 7-6 p. 195 (read in a companion of worked examples): push rod tube, P = 1500 N,
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
  it('of one stiffness is Euler’s own, wherever the step', () => {
    for (const first of [0, 40, 170, 333, 500])
      expectClose(steppedColumnN(rod, first, rod, 500 - first), 1666.897, withinEither(1e-3, 1e-9, 'N'));
  });
  it('lies between all weak and all stiff, and grows as the stiff part does', () => {
    const tube = STEEL_MPA * tubeInertiaMm4(18, 16);
    let last = eulerN(roundInertiaMm4(8), 500);
    for (let stiff = 50; stiff <= 450; stiff += 50) {
      const here = steppedColumnN(rod, 500 - stiff, tube, stiff);
      expect(here).toBeGreaterThan(last);
      expect(here).toBeLessThan(eulerN(tubeInertiaMm4(18, 16), 500));
      last = here;
    }
  });
  it('half rod, half rigid: the root of tan x = −x, x = 2.028758 (of tan x = −x, any table of transcendental roots; computed here)', () => {
    // rigid half of length L/2: k·cot(kL/2) + 1/(L/2) = 0, so x = kL/2 with tan x = −x
    let [a, b] = [Math.PI / 2 + 1e-9, Math.PI - 1e-9];
    while (b - a > 1e-13) {
      const x = (a + b) / 2;
      if (Math.tan(x) + x < 0) a = x;
      else b = x;
    }
    expectClose(a, 2.028757838, within(1e-8, '1'));
    const critical = (rod * a * a) / (250 * 250);
    expectClose(steppedColumnN(rod, 250, rod * 1e9, 250), critical, withinEither(0, 1e-6, 'N'));
  });
  it('agrees with a finite-difference column of 800 pieces (power iteration on the deflection)', () => {
    const tube = STEEL_MPA * tubeInertiaMm4(22, 19.5);
    const rod10 = STEEL_MPA * roundInertiaMm4(10);
    const [l1, l2, n] = [275, 345, 800];
    const h = (l1 + l2) / n;
    const ei = Array.from({ length: n + 1 }, (_, i) => (i * h < l1 ? rod10 : tube));
    // EI·w″ = −P·w: solve w″ = −w_old/EI with w = 0 at both ends, again and again
    let w = Array.from({ length: n + 1 }, (_, i) => Math.sin((Math.PI * i) / n));
    let critical = 0;
    for (let turn = 0; turn < 60; turn++) {
      const load = w.map((v, i) => v / ei[i]!);
      const c = new Array<number>(n + 1).fill(0);
      const d = new Array<number>(n + 1).fill(0);
      for (let i = 1; i < n; i++) {
        const m = 2 - c[i - 1]!;
        c[i] = 1 / m;
        d[i] = (load[i]! * h * h + d[i - 1]!) / m;
      }
      const next = new Array<number>(n + 1).fill(0);
      for (let i = n - 1; i > 0; i--) next[i] = d[i]! + c[i]! * next[i + 1]!;
      const top = Math.max(...next);
      critical = Math.max(...w) / top;
      w = next.map((v) => v / top);
    }
    expectClose(steppedColumnN(rod10, l1, tube, l2), critical, withinEither(0, 3e-3, 'N'));
  });
});
