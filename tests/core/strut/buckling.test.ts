// Euler's columns by numbers worked out apart from this code, and the stepped column against its limits.
import { describe, expect, it } from 'vitest';
import {
  STEEL_MPA,
  eulerN,
  plainBucklingN,
  roundInertiaMm4,
  steppedColumnN,
  tubeInertiaMm4,
} from '../../../core/strut';
import { expectClose, within, withinEither } from '../../support/close';

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
