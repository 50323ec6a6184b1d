import { describe, expect, it } from 'vitest';
import { placeCovariance } from '../../../renderer/views/sheet/scene-weigh';
import type { MassProposal } from '../../../core/weigh';
import { expectClose, within } from '../../support/close';

const proposal = { covariance: [[1, 0, 0, 0], [0, 100, 0, 0], [0, 0, 0, 0], [0, 0, 0, 4]] } as unknown as MassProposal; // prettier-ignore

describe('spread of a weighed place in the views', () => {
  it('lies as it was found with the lid closed', () => {
    expect(placeCovariance(proposal, [0, 1, 0], 0)).toEqual([
      [100, 0, 0],
      [0, 0, 0],
      [0, 0, 4],
    ]);
  });
  it('turns with the lid: at 90° the long way stands up', () => {
    const c = placeCovariance(proposal, [0, 1, 0], Math.PI / 2);
    expectClose(c.flat(), [4, 0, 0, 0, 0, 0, 0, 0, 100], within(1e-9, 'mm²'));
  });
  it('at 30° it is R·C·Rᵀ by hand', () => {
    const [s, k] = [Math.sin(Math.PI / 6), Math.cos(Math.PI / 6)];
    // about +Y: x → x·cos − …, z → −x·sin
    const c = placeCovariance(proposal, [0, 1, 0], Math.PI / 6);
    expectClose(c[0][0], 100 * k * k + 4 * s * s, within(1e-9, 'mm²'));
    expectClose(c[2][2], 100 * s * s + 4 * k * k, within(1e-9, 'mm²'));
    expectClose(c[0][2], (4 - 100) * s * k, within(1e-9, 'mm²'));
  });
});
