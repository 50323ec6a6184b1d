// Hatches and panels without a strut: the hand's force from the balance of moments alone.
import { describe, expect, it } from 'vitest';
import { checkJob } from '../../../core/result';
import { lid } from '../../support/build';
import { expectClose, within } from '../../support/close';

const G = 9.80665;

describe('doors, hatches and panels', () => {
  // Half the weight, at any opening; g = 9.8 here.
  it('a 12 kg hatch and a vertical force at the middle of the far edge: 6 g at any opening', () => {
    const hatch = lid({
      a: [0, 500, 0],
      b: [0, -500, 0],
      grip: [800, 0, 0],
      masses: [{ kg: (12 * 9.8) / G, at: [400, 0, 0] }],
      openDeg: 85,
    });
    const t = checkJob(hatch).cases[0]!.travel;
    // the kernel's hand force is along the grip's circle: its lift is the vertical force times cos θ
    for (const deg of [0, 13, 45, 60, 85])
      expectClose(t.handOpeningN[deg]! / Math.cos((deg * Math.PI) / 180), 58.8, within(1e-9, 'N'));
  });
  // The trade's rule of half the weight: common practice, no source.
  it('a level, uniform 25 kg panel lifted at the far edge: 122.583125 N = 12.5 kgf', () => {
    const panel = lid({ a: [0, 500, 0], b: [0, -500, 0], grip: [900, 30, 0], masses: [{ kg: 25, at: [450, 10, 0] }] });
    const hand = checkJob(panel).cases[0]!.travel.handOpeningN[0]!;
    expectClose(hand, 122.583125, within(1e-6, 'N'));
    expectClose(hand / G, 12.5, within(1e-7, 'kgf'));
    expect(hand).toBeGreaterThan(0);
  });
});
