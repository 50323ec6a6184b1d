/*
Sums by hand: tests/fixtures/jobs/workboat-hatch.lidjob, load case "As used, 20 °C", lid open 30°.
Worked apart from the product; mm, kg, N, N·mm; moments about hinge point A.

 1  Hinge. A (4, 452, 398), B (−8, −458, 393): B − A = (−12, −910, −5), |AB| = √(144 + 828100 + 25) = 910.092852
    a = (−0.013185, −0.999898, −0.005494)
 2  Opening sense. Arms of the masses from A, weighed:
      31.5·(−466, −446, −10) + 27.5·(−394, −427, 194) + 3.6·(−394, −427, 34) = (−26932.4, −27328.7, 5142.4) over 62.6 kg
      centre at (−430.230, −436.561, 82.147); a × that has z = −424.430: it would fall, so o = −a = (0.013185, 0.999898, 0.005494)
 3  Turn by 30°: r' = r·cos 30° + (o × r)·sin 30° + o·(o·r)·(1 − cos 30°), cos = 0.866025, sin = 0.5
      panel    (−466, −446, −10) → (−408.140916, −448.032443, 221.042807)
      canister (−394, −427, 194) → (−243.812469, −429.902783, 361.856432)
      cradle   (−394, −427,  34) → (−323.805860, −428.965701, 223.291720)
 4  Weights, level: panel 31.5·9.80665 = 308.909475, canister 269.682875, cradle 35.303940, all along −z
      r × (0, 0, −W) = (−y·W, x·W, 0): panel (138401.467, −126078.596, 0), canister (115937.418, −65752.048, 0),
      cradle (15144.179, −11431.623, 0); along o: −124240.845 − 64216.650 − 11230.773 = M_w = −199688.268 N·mm = −199.688268 N·m
 5  Strut. Lid pivot (−290, −516, 372) → L = (−266.667988, −969.148176, 117.371194) from A; base from A: (−122, −1004, −358)
      d = (−144.667988, 34.851824, 475.371194), ℓ = 498.117706, u = (−0.290429, 0.069967, 0.954335)
      L × u = (−933.104205, 220.402576, −300.127020); h = o·(L × u) = 206.427792
      balance force = 199688.268/206.427792 = 967.351662
 6  Gas, 20 °C. s = 620 − 498.117706 = 121.882294; rod area π·10²/4 = 78.539816
      P₁ = (900 + 15)/78.539816 + 0.101325 = 11.751467 MPa; q = ((1.35·900 + 15)/78.539816 + 0.101325)/P₁ = 1.341293953
      c = (q − 1)/(q·270 − 5) = 0.000955605649; P = P₁·(1 − 5c)/(1 − c·s) = 13.237057
      midway (13.237057 − 0.101325)·78.539816 = 1031.677950; out 1016.677950, in 1046.677950
 7  Left over. Opening −199688.268 + 1016.677950·206.427792 − 2000 = 8182.316669; closing with 1046.677950 and + 2000: 18375.150444
      grip from A (−904, −392, 30), along o −403.714851, so r = √(904² + 392² + 30² − 403.714851²) = 899.329928
      hand opening −8182.316669/899.329928 = −9.098237; closing −18375.150444/899.329928 = −20.432046
 8  Base joint. Mount normal z, reference (0, −1, 0), side z × (0, −1, 0) = (1, 0, 0): stem = cos 32°·(0, −1, 0) + sin 32°·(1, 0, 0)
      = (0.529919, −0.848048, 0); n·u = −0.213240; φ = 102.312264°
    Lid joint. Stem (0, −1, 0) turned with the lid = (0.000981, −0.999973, −0.007329); φ = 94.430167°
 9  Hinge. Hand at the grip, turned (−767.524852, −396.245019, 475.053141), along o × that/r = (0.530597, −0.011654, 0.847544):
      H = (−4.827496, 0.106028, −7.711158); strut 1016.677950·u = (−295.273088, 71.133952, 970.251420); weight −613.896290 in z
      sum F = (−300.100584, 71.239980, 348.643972); sum M = (−676178.267, 12604.350, −307126.774): 2000 of it along o, the hinge's friction
      R_B⊥ = (a × M)/|AB| = (337.509174, −0.367791, −743.084041); axial sum −F·a = 69.191176
      R_A⊥ = −F⊥ − R_B⊥ = (−36.496271, −1.688072, 394.820201)
*/
import { describe, expect, it } from 'vitest';
import { checkJob } from '../../../core/result';
import { jobAt } from '../../support/files';
import { expectClose, within } from '../../support/close';

describe('the sums by hand for the workboat hatch at 30°', () => {
  const result = checkJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob')).cases[0]!;
  const t = result.travel;
  const i = t.angleDeg.indexOf(30);
  const strut = t.struts[0]!;
  const mm = within(1e-6, 'mm');
  const n = within(1e-6, 'N');
  it('is about the case that was worked', () => {
    expect(result.id).toBe('normal');
    expect(i).toBe(30);
  });
  it('weight moment (4)', () => expectClose(t.weightMomentNm[i], -199.688268, within(1e-6, 'N·m')));
  it('strut length and lever arm (5)', () => {
    expectClose(strut.lengthMm[i], 498.117706, mm);
    expectClose(strut.leverArmMm[i], 206.427792, mm);
    expectClose(strut.balanceForceN[i], 967.351662, n);
  });
  it('gas force out and in (6)', () => {
    expectClose(strut.extendingN[i], 1016.67795, n);
    expectClose(strut.compressingN[i], 1046.67795, n);
  });
  it('hand force both ways (7)', () => {
    expectClose(t.handOpeningN[i], -9.098237, n);
    expectClose(t.handClosingN[i], -20.432046, n);
  });
  it('joint angles (8)', () => {
    expectClose(strut.baseJointDeg[i], 102.312264, within(1e-6, '°'));
    expectClose(strut.lidJointDeg[i], 94.430167, within(1e-6, '°'));
  });
  it('hinge reactions (9)', () => {
    expectClose(t.hingeBN[i], [337.509174, -0.367791, -743.084041], n);
    expectClose(t.hingeAN[i], [-36.496271, -1.688072, 394.820201], n);
    expectClose(t.hingeAxialN[i], 69.191176, n);
  });
});
