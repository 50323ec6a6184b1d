// Moments about points and lines: worked examples of open and printed textbooks. Tolerance on a rounded printed answer:
// half a unit of its last digit and 0.3 %.
import { describe, it } from 'vitest';
import { type Vec3, cross, moment, scale, sub, unit } from '../../core/space';
import { expectClose, within } from '../support/close';

describe('moment about a point', () => {
  // Baker & Haynes, Engineering Statics: Open and Interactive (an open textbook), ch. 4, "3D Moment about a Point".
  it('2 kN at B(−0.9, 1.1, 0) m towards D(0.4, 0, 1.0) m about the origin: (1.114, 0.911, −0.446) kN·m', () => {
    const [b, d]: Vec3[] = [
      [-0.9, 1.1, 0],
      [0.4, 0, 1],
    ];
    const m = cross(b!, scale(unit(sub(d!, b!)), 2));
    expectClose(m, [1.114, 0.911, -0.446], within(5e-4, 'kN·m'));
    expectClose(m, [1.114013, 0.911465, -0.445605], within(1e-6, 'kN·m'));
  });
  // Beer, Johnston et al., Vector Mechanics for Engineers: Statics, 9th ed., Sample 3.4 p. 87.
  it('200 N along (−0.3, 0.24, −0.32) at (0.3, 0, 0.08) m: (−7.68, 28.80, 28.80) N·m', () => {
    expectClose(cross([0.3, 0, 0.08], scale(unit([-0.3, 0.24, -0.32]), 200)), [-7.68, 28.8, 28.8], within(5e-3, 'N·m'));
  });
  // Baker & Haynes, ch. 5, "3D Bent Bar": cable from A(4, 4, 5) to B(6, 0, 4) ft, held at C(0, 4, 0).
  it('500 lb of cable on a bent bar: reaction (−218, 436, 109) lb, moment (−2182, −1528, 1746) ft·lb', () => {
    const f = scale(unit(sub([6, 0, 4], [4, 4, 5])), 500);
    expectClose(f, [218, -436, -109], within(1, 'lb'));
    expectClose(scale(cross(sub([4, 4, 5], [0, 4, 0]), f), -1), [-2182, -1528, 1746], within(1, 'ft·lb'));
  });
});

describe('moment about a line', () => {
  // Baker & Haynes, ch. 4, "3D Moment about a Line".
  it('25 lbf along x at H, 2 ft below G, about the line through G along (−2, 0, 2): 50/√2 ft·lbf', () => {
    expectClose(moment(unit([-2, 0, 2]), [0, -2, 0], [25, 0, 0]), 35.355, within(1e-3, 'ft·lbf'));
  });
  // Hibbeler & Gupta, Engineering Mechanics: Statics, Ex. 4.8 p. 118.
  it('r (−3, 4, 6) m, F (−40, 20, 10) N: −80 N·m about x, −120 N·m about (−3/5, 4/5, 0)', () => {
    const [r, f]: Vec3[] = [
      [-3, 4, 6],
      [-40, 20, 10],
    ];
    expectClose(moment([1, 0, 0], r!, f!), -80, within(1e-12, 'N·m'));
    expectClose(moment([-3 / 5, 4 / 5, 0], r!, f!), -120, within(1e-12, 'N·m'));
    expectClose(cross(r!, f!), [-80, -210, 100], within(1e-12, 'N·m'));
  });
  // Hibbeler & Gupta, Ex. 4.9 p. 119.
  it('r (0, 0.2, 0) m, F (−600, 200, −300) N about (0.4, 0.2, 0): −53.6656 N·m, as a vector (−48, −24, 0)', () => {
    const axis = unit([0.4, 0.2, 0]);
    const m = moment(axis, [0, 0.2, 0], [-600, 200, -300]);
    expectClose(m, -53.6656, within(1e-3, 'N·m'));
    expectClose(scale(axis, m), [-48, -24, 0], within(1e-3, 'N·m'));
  });
});
