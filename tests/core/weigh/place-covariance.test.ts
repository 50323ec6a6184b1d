import { describe, expect, it } from 'vitest';
import { rad } from '../../../core/space';
import { type MassProposal, placeCovariance, pullSeen } from '../../../core/weigh';
import { expectClose, within } from '../../support/close';

const proposal = { covariance: [[1, 0, 0, 0], [0, 100, 0, 0], [0, 0, 0, 0], [0, 0, 0, 4]] } as unknown as MassProposal; // prettier-ignore

describe('spread of a weighed place in the views', () => {
  it('lies as it was found with the lid closed', () => {
    expect(placeCovariance(proposal, [0, 1, 0], rad(0))).toEqual([
      [100, 0, 0],
      [0, 0, 0],
      [0, 0, 4],
    ]);
  });
  it('turns with the lid: at 90° the long way stands up', () => {
    const c = placeCovariance(proposal, [0, 1, 0], rad(Math.PI / 2));
    expectClose(c.flat(), [4, 0, 0, 0, 0, 0, 0, 0, 100], within(1e-9, 'mm²'));
  });
  it('at 30° it is R·C·Rᵀ by hand', () => {
    const [s, k] = [Math.sin(Math.PI / 6), Math.cos(Math.PI / 6)];
    // about +Y: x → x·cos − …, z → −x·sin
    const c = placeCovariance(proposal, [0, 1, 0], rad(Math.PI / 6));
    expectClose(c[0][0], 100 * k * k + 4 * s * s, within(1e-9, 'mm²'));
    expectClose(c[2][2], 100 * s * s + 4 * k * k, within(1e-9, 'mm²'));
    expectClose(c[0][2], (4 - 100) * s * k, within(1e-9, 'mm²'));
  });
});

describe('a pull as it is drawn', () => {
  const geometry = { originMm: [0, 0, 0], opening: [0, -1, 0], gripMm: [1000, 0, 0], up: [0, 0, 1] } as const;

  it('stands at the grip as it was posed, square to the line from the hinge or straight up', () => {
    const square = pullSeen(geometry, { angleDeg: 30, forceN: 100, pull: 'square' }, 1);
    expectClose([...square.gripMm], [866.0254, 0, 500], within(1e-3, 'mm'));
    expectClose([...square.way], [-0.5, 0, 0.8660254], within(1e-6, '1'));
    const upright = pullSeen(geometry, { angleDeg: 30, forceN: -100, pull: 'upright' }, 1);
    expectClose([...upright.way], [0, 0, -1], within(1e-12, '1'));
  });
  it('of a lid that opens downward goes the other way', () => {
    const [up, down] = ([1, -1] as const).map((s) => pullSeen(geometry, { angleDeg: 10, forceN: 5 }, s).way);
    expectClose([...down!], up!.map((v) => -v), within(1e-12, '1')); // prettier-ignore
  });
});
