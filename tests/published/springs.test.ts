// Rate of a helical spring.
import { describe, it } from 'vitest';
import { coilRateNPerMm } from '../../core/strut';
import { expectClose, within } from '../support/close';

describe('rates', () => {
  // Shigley, Mechanical Engineering Design, helical spring example (music wire no. 16, d = 0.037 in, outside 7/16 in,
  // D = 0.4 in, 10½ active coils, G = 11.85 Mpsi): k = 4.13 lbf/in. From memory; arithmetic computed here.
  it('music wire spring of a textbook example', () => {
    expectClose(coilRateNPerMm(11.85e6, 0.037, 0.4, 10.5), 4.13, within(0.005, 'lbf/in'));
  });
});
