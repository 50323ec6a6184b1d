// Coil and torsion spring rates by numbers worked out by hand, and the laws they must obey.
import { describe, expect, it } from 'vitest';
import {
  coilEnergyJ,
  coilPushN,
  coilRateNPerMm,
  torsionEnergyJ,
  torsionMomentNm,
  torsionRateNmmPerRad,
} from '../../../core/strut';
import { expectClose, within, withinEither } from '../../support/close';

describe('rates', () => {
  // k = G·d⁴/(8·D³·n), EN 13906-1.
  // d = 2, D = 20, n = 10, G = 80 000: 80 000·16/(8·8000·10) = 2 N/mm. d = 3, D = 24, n = 8, G = 81 500: 7.4622 N/mm.
  it('compression spring', () => {
    expectClose(coilRateNPerMm(80_000, 2, 20, 10), 2, within(1e-12, 'N/mm'));
    expectClose(coilRateNPerMm(81_500, 3, 24, 8), (81_500 * 81) / (8 * 13_824 * 8), within(1e-9, 'N/mm'));
    expectClose(coilRateNPerMm(81_500, 3, 24, 8), 7.4616, within(1e-3, 'N/mm'));
  });
  // k = E·d⁴/(64·D·n) per radian: E = 206 000, d = 4, D = 32, n = 6: 206 000·256/(64·32·6) = 4291.667 N·mm/rad.
  it('torsion spring', () => {
    expectClose(torsionRateNmmPerRad(206_000, 4, 32, 6), 4291.6667, within(1e-3, 'N·mm/rad'));
    // texts give E·d⁴/(10.2·D·n) per turn for the plain formula: 64/2π = 10.186
    expectClose(
      (2 * Math.PI * torsionRateNmmPerRad(206_000, 4, 32, 6)) / ((206_000 * 256) / (32 * 6)),
      (2 * Math.PI) / 64,
      within(1e-12, '1'),
    );
  });
});

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
