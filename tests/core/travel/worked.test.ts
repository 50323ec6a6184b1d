// Three hinge cases worked out beforehand (tests/fixtures/golden/README.md), 1e-6 relative or 1e-6 in the unit.
import { describe, expect, it } from 'vitest';
import { checkJob } from '../../../core/result';
import { poseAt } from '../../../core/travel';
import { toRad } from '../../../core/space';
import worked from '../../fixtures/golden/worked.json';
import { constantForce, lid, planOf, type V3 } from '../../support/build';
import { type Tolerance, expectClose, withinEither } from '../../support/close';

const six = (unit: string): Tolerance => withinEither(1.001e-6, 1e-6, unit);

interface Hinge {
  angleDeg: number;
  hingeAN: number[];
  hingeBN: number[];
  hingeAxialN: number;
}
type Travel = ReturnType<typeof checkJob>['cases'][number]['travel'];

/** Row of the table at a whole number of degrees. */
function at(travel: Travel, angleDeg: number): number {
  const i = travel.angleDeg.indexOf(angleDeg);
  expect(i).toBeGreaterThanOrEqual(0);
  return i;
}
function expectHinge(travel: Travel, rows: Hinge[]): void {
  for (const row of rows) {
    const i = at(travel, row.angleDeg);
    expectClose(travel.hingeAN[i], row.hingeAN, six('N'), `hinge A at ${row.angleDeg}°`);
    expectClose(travel.hingeBN[i], row.hingeBN, six('N'), `hinge B at ${row.angleDeg}°`);
    expectClose(travel.hingeAxialN[i], row.hingeAxialN, six('N'), `axial at ${row.angleDeg}°`);
  }
}

describe('worked case 1: level hinge, strut out of plane, 450 N constant', () => {
  const lidPivot: V3 = [420, 430, 880];
  const job = lid({
    a: [0, 400, 900],
    b: [0, -400, 900],
    grip: [980, 0, 905],
    masses: [{ kg: 25, at: [500, 0, 950] }],
    struts: [{ base: [150, 380, 600], lid: lidPivot, spec: constantForce(450, 780, 400) }],
    openDeg: 90,
  });
  const { travel } = checkJob(job).cases[0]!;
  const strut = travel.struts[0]!;
  const plan = planOf(job);
  it.each(worked.golden1.rows)('at $angleDeg°', (row) => {
    const i = at(travel, row.angleDeg);
    expectClose(travel.weightMomentNm[i], row.weightMomentNm, six('N·m'));
    expectClose(poseAt(plan.axis, lidPivot, toRad(row.angleDeg)), row.lidPivotMm, six('mm'));
    expectClose(strut.lengthMm[i], row.lengthMm, six('mm'));
    expectClose(strut.leverArmMm[i], row.leverArmMm, six('mm'));
    expectClose(strut.balanceForceN[i], row.balanceForceN, six('N'));
    expectClose(strut.extendingN[i], 450, six('N'));
    expectClose(travel.handOpeningN[i], row.handN, six('N'));
    expectClose(strut.baseJointDeg[i], row.jointDeg, six('°'));
    expectClose(strut.lidJointDeg[i], row.jointDeg, six('°'));
    const upTo = checkJob({ ...job, travel: { openDeg: row.angleDeg || 1e-9, stop: 'lid' } });
    expectClose(upTo.cases[0]!.dropEnergyJ, row.dropJ, six('J'));
  });
  it('hinge reactions', () => expectHinge(travel, worked.golden1.hinge));
});

describe('worked case 2: skew hinge, slope, two masses, two unlike struts at 5 °C', () => {
  const spec = { extendedMm: 690, strokeMm: 270, forceN: 180, rodMm: 8, ratio: 1.35, frictionN: 0 };
  const lids: V3[] = [
    [640, 585, 1000],
    [655, -560, 985],
  ];
  const job = lid({
    a: [100, 620, 1040],
    b: [160, -590, 1010],
    grip: [1240, -60, 1010],
    masses: [
      { kg: 18.4, at: [690, 30, 1085] },
      { kg: 7.5, at: [420, -180, 1190] },
    ],
    struts: [
      { id: 'S1', base: [330, 560, 700], lid: lids[0]!, spec, baseStem: [0.1, 1, 0.05], lidStem: [0, 1, -0.1] },
      { id: 'S2', base: [345, -540, 690], lid: lids[1]!, spec, baseStem: [0, -1, 0], lidStem: [0.05, -1, 0] },
    ],
    openDeg: 40,
    cases: [{ pitchDeg: 4, rollDeg: -3, tempC: 5 }],
  });
  const { travel } = checkJob(job).cases[0]!;
  const plan = planOf(job);
  it('gravity in base axes: pitch about Y, then roll about the body’s own X', () => {
    expectClose(plan.gravity, [0.684077, 0.51199, -9.769355], withinEither(5e-7, 0, 'm/s²'));
    // the other order of turning would give 0.683140, 0.513240
    expect(Math.abs(plan.gravity[0] - 0.68314)).toBeGreaterThan(5e-4);
  });
  it.each(worked.golden2.rows)('at $angleDeg°', (row) => {
    const i = at(travel, row.angleDeg);
    expectClose(travel.weightMomentNm[i], row.weightMomentNm, six('N·m'));
    expectClose(travel.struts[0]!.balanceForceN[i], row.balanceS1N, six('N'));
    expectClose(travel.struts[1]!.balanceForceN[i], row.balanceS2N, six('N'));
    const arms = travel.struts[0]!.leverArmMm[i]! + travel.struts[1]!.leverArmMm[i]!;
    expectClose((-1000 * travel.weightMomentNm[i]!) / arms, row.balanceAlikeN, six('N'));
    expectClose(travel.handOpeningN[i], row.handN, six('N'));
    const upTo = checkJob({ ...job, travel: { openDeg: row.angleDeg || 1e-9, stop: 'lid' } });
    expectClose(upTo.cases[0]!.dropEnergyJ, row.dropJ, six('J'));
  });
  it.each(worked.golden2.struts)('$strut at $angleDeg°', (row) => {
    const i = at(travel, row.angleDeg);
    const k = row.strut === 'S1' ? 0 : 1;
    const strut = travel.struts[k]!;
    expectClose(poseAt(plan.axis, lids[k]!, toRad(row.angleDeg)), row.lidPivotMm, six('mm'));
    expectClose(strut.lengthMm[i], row.lengthMm, six('mm'));
    expectClose(690 - strut.lengthMm[i]!, row.compressionMm, six('mm'));
    expectClose(strut.extendingN[i], row.forceN, six('N'));
    expectClose(strut.compressingN[i], row.forceN, six('N'));
    expectClose(strut.leverArmMm[i], row.leverArmMm, six('mm'));
    expectClose(strut.baseJointDeg[i], row.baseJointDeg, six('°'));
    expectClose(strut.lidJointDeg[i], row.lidJointDeg, six('°'));
  });
  it('hinge reactions', () => expectHinge(travel, worked.golden2.hinge));
});

describe('worked case 3: a flap that opens downwards, 100 N constant', () => {
  const lidPivot: V3 = [-905, 455, 900];
  const job = lid({
    a: [-900, 500, 600],
    b: [-880, -480, 615],
    grip: [-930, 0, 1340],
    masses: [{ kg: 12, at: [-915, 10, 980] }],
    struts: [{ base: [-600, 470, 700], lid: lidPivot, spec: constantForce(100, 640, 320) }],
    opens: 'down',
    openDeg: 85,
  });
  const { travel } = checkJob(job).cases[0]!;
  const strut = travel.struts[0]!;
  const plan = planOf(job);
  it.each(worked.golden3.rows)('at $angleDeg°', (row) => {
    const i = at(travel, row.angleDeg);
    expectClose(travel.weightMomentNm[i], row.weightMomentNm, six('N·m'));
    expectClose(poseAt(plan.axis, lidPivot, toRad(row.angleDeg)), row.lidPivotMm, six('mm'));
    expectClose(strut.lengthMm[i], row.lengthMm, six('mm'));
    expectClose(strut.leverArmMm[i], row.leverArmMm, six('mm'));
    expectClose(strut.balanceForceN[i], row.balanceForceN, six('N'));
    expectClose(travel.handOpeningN[i], row.handN, six('N'));
    expectClose(strut.baseJointDeg[i], row.baseJointDeg, six('°'));
    expectClose(strut.lidJointDeg[i], row.lidJointDeg, six('°'));
    const upTo = checkJob({ ...job, travel: { openDeg: row.angleDeg || 1e-9, stop: 'lid' } });
    expectClose(upTo.cases[0]!.dropEnergyJ, row.dropJ, six('J'));
  });
  it('hinge reactions', () => expectHinge(travel, worked.golden3.hinge));
});
