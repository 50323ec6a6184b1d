// The laws that coil and torsion springs must obey.
import { describe, expect, it } from 'vitest';
import { coilEnergyJ, coilPushN, torsionEnergyJ, torsionMomentNm } from '../../../core/strut';
import { expectClose, within, withinEither } from '../../support/close';

describe('laws', () => {
  const push = { kind: 'compression', rateNPerMm: 3, lengthMm: 200, preloadN: 40 } as const;
  const pull = { kind: 'extension', rateNPerMm: 1.5, lengthMm: 150, preloadN: 25 } as const;
  it('preload and rate on the working side, nothing on the other', () => {
    expect([coilPushN(push, 200), coilPushN(push, 180), coilPushN(push, 200.01)]).toEqual([40, 100, 0]);
    expect([coilPushN(pull, 150), coilPushN(pull, 170), coilPushN(pull, 149)]).toEqual([-25, -55, 0]);
  });
  it('force is the slope of the energy', () => {
    for (const [law, at] of [
      [push, 163],
      [pull, 181],
    ] as const) {
      const h = 1e-4;
      const slope = ((coilEnergyJ(law, at + h) - coilEnergyJ(law, at - h)) / (2 * h)) * 1000;
      expectClose(-slope, coilPushN(law, at), withinEither(1e-5, 0, 'N'));
    }
    for (const turns of ['open', 'shut'] as const) {
      const law = { turns, rateNmPerDeg: 0.3, preloadNm: 20 };
      const h = 1e-4;
      const perRad = (torsionEnergyJ(law, 30 + h) - torsionEnergyJ(law, 30 - h)) / ((2 * h * Math.PI) / 180);
      expectClose(-perRad, torsionMomentNm(law, 30), within(1e-6, 'N·m'));
    }
  });
  it('a torsion spring that opens the lid goes loose, never the other way', () => {
    const law = { turns: 'open', rateNmPerDeg: 0.5, preloadNm: 20 } as const;
    expect([0, 20, 40, 41, 80].map((deg) => torsionMomentNm(law, deg))).toEqual([20, 10, 0, 0, 0]);
  });
});
