import { describe, expect, it } from 'vitest';
import type { ThreadName } from '../../core/bracket';
import { assemblyPreloadN, torqueNm } from '../../core/papers/tightening';

describe('tightening torques', () => {
  // VDI 2230-1, table of assembly torques for hexagon head bolts, class 8.8, 90 % of yield: friction 0.10, 0.12, 0.14. From memory;
  // not checked against the guideline's text. Bearing diameters differ a little between its editions: 4 %.
  it.each<[ThreadName, number, number, number]>([
    ['M4', 2.6, 3.0, 3.3],
    ['M5', 5.2, 5.9, 6.5],
    ['M6', 9.0, 10.1, 11.3],
    ['M8', 21.6, 24.6, 27.3],
    ['M10', 43, 48, 54],
    ['M12', 73, 84, 93],
    ['M14', 117, 133, 148],
    ['M16', 180, 206, 230],
  ])('%s, class 8.8: %d, %d, %d N·m', (name, ...table) => {
    [0.1, 0.12, 0.14].forEach((friction, i) => {
      const torque = torqueNm(name, assemblyPreloadN(name, 640, friction), friction);
      expect(Math.abs(torque / table[i]! - 1)).toBeLessThan(0.04);
    });
  });

  it('follow from statics alone: the work of a turn lifts the preload by a pitch and rubs in thread and head', () => {
    // M8: F·P/2π + F·μ·d2/(2·cos 30°) + F·μ·D/2, to the first order of the guideline's rounded factors
    const [force, friction] = [10_000, 0.12];
    const exact =
      force * (1.25 / (2 * Math.PI) + (friction * 7.188) / (2 * Math.cos(Math.PI / 6)) + (friction * (11.6 + 9)) / 4);
    expect(torqueNm('M8', force, friction) / (exact / 1000)).toBeCloseTo(1, 2);
  });
});
