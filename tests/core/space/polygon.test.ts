import { describe, expect, it } from 'vitest';
import { type Vec3, areaVector, norm, plateOf, rotateVec, scale, toRad, unit } from '../../../core/space';
import { expectClose, within } from '../../support/close';

// an L, 12 by 7 less 8 by 4, laid askew
const axis = unit([1, 2, 3]);
const corners = [
  [0, 0],
  [12, 0],
  [12, 3],
  [4, 3],
  [4, 7],
  [0, 7],
].map(([x, y]): Vec3 => rotateVec([x! + 50, y!, -20], axis, toRad(70)));

describe('a polygon in space', () => {
  it('has the area vector of its plate, twice its area long', () => {
    const area = areaVector(corners);
    const { normal, areaMm2 } = plateOf(corners)!;
    expectClose(norm(area), 2 * (12 * 7 - 8 * 4), within(1e-9, 'mm²'));
    expectClose(area, scale(normal, 2 * areaMm2), within(1e-9, 'mm²'));
    expect(areaVector([])).toEqual([0, 0, 0]);
  });
});
