// Homographies of the point sets that general-purpose libraries print in their documents and tests. Where they print no matrix it
// was worked out from their points with NumPy and SciPy (least squares of the target residuals), to the digits shown.
import { describe, expect, it } from 'vitest';
import { type Plane2, type PlanePair, applyHomography, fitHomography, invertHomography } from '../../core/photo';
import { expectClose, within, withinEither } from '../support/close';

const pairs = (from: readonly Plane2[], to: readonly Plane2[]): PlanePair[] =>
  from.map((p, i) => ({ from: p, to: to[i]! }));

describe('exactly through four marks', () => {
  // The unit test of OpenCV's getPerspectiveTransform for another language: points and matrix.
  it('a quarter turn of the unit square, from a set that is no square', () => {
    const fit = fitHomography(
      pairs(
        [
          [0, 1],
          [1, 1],
          [1, 0],
          [0.25, 0.25],
        ],
        [
          [1, 1],
          [1, 0],
          [0, 0],
          [0.25, 0.75],
        ],
      ),
    );
    expectClose(
      fit.matrix,
      [
        [0, 1, 0],
        [-1, 0, 1],
        [0, 0, 1],
      ],
      within(1e-10, '1'),
    );
    expect(fit.sigma).toBeNull();
  });

  // OpenCV tutorial "Geometric Transformations of Images": the points.
  it('a sheet of paper seen aslant, laid flat', () => {
    const fit = fitHomography(
      pairs(
        [
          [56, 65],
          [368, 52],
          [28, 387],
          [389, 390],
        ],
        [
          [0, 0],
          [300, 0],
          [0, 300],
          [300, 300],
        ],
      ),
    );
    expectClose(
      fit.matrix,
      [
        [1.055873761296, 9.181510967795e-2, -65.09691276167],
        [4.690100493754e-2, 1.125624118501, -75.79202397907],
        [1.832514481695e-4, 5.133370013304e-4, 1],
      ],
      withinEither(1e-12, 1e-9, '1'),
    );
    expectClose(applyHomography(fit.matrix, [200, 200]), [144.332755377, 139.305307129], within(1e-8, 'px'));
    expectClose(
      applyHomography(invertHomography(fit.matrix), [150, 150]),
      [206.112809889, 211.506496138],
      within(1e-8, 'px'),
    );
  });
});

describe('eight real control points', () => {
  // scikit-image, tests/skimage/transform/test_geometric.py of the library's own tests: points, and the misses of the four.
  const from: Plane2[] = [
    [-12.3705, -10.5075],
    [-10.7865, 15.4305],
    [8.6985, 10.8675],
    [11.4975, -9.5715],
    [7.8435, 7.4835],
    [-5.3325, 6.5025],
    [6.7905, -6.3765],
    [-6.1695, -0.8235],
  ];
  const to: Plane2[] = [
    [0, 0],
    [0, 5800],
    [4900, 5800],
    [4900, 0],
    [4479, 4580],
    [1176, 3660],
    [3754, 790],
    [1024, 1931],
  ];
  const all = pairs(from, to);

  it('the first four exactly; the other four miss by the published distances', () => {
    const { matrix } = fitHomography(all.slice(0, 4));
    expectClose(
      matrix,
      [
        [194.6690129078, -11.88818399437, 2283.237930855],
        [-8.691007753944, 221.6206977256, 2221.167369931],
        [-0.01269596673511, -0.009605362428954, 1],
      ],
      withinEither(1e-12, 1e-9, '1'),
    );
    const off = all.slice(4).map((p) => {
      const [u, v] = applyHomography(matrix, p.from);
      return [u - p.to[0], v - p.to[1]];
    });
    expectClose(
      off,
      [
        [12.238, 20.272],
        [-14.228, 29.26],
        [21.184, -21.837],
        [-18.679, -4.827],
      ],
      within(1e-3, 'target units'),
    );
  });

  it('all eight by least squares of the target residuals, which the linear fit alone misses', () => {
    const fit = fitHomography(all);
    expectClose(
      fit.matrix,
      [
        [194.0796, -12.16806, 2285.062],
        [-8.37118, 220.59428, 2216.9526],
        [-0.012631225, -0.009738248, 1],
      ],
      withinEither(0, 1e-6, '1'),
    );
    expectClose(fit.sumOfSquares, 2126.878492, withinEither(0, 1e-9, 'target units²'));
    expectClose(Math.sqrt(fit.sumOfSquares / 8), 16.3052, within(5e-5, 'target units'));
    expectClose(fit.sigma, Math.sqrt(2126.878492 / 8), withinEither(0, 1e-9, 'target units'));
    const linear = fitHomography(all, { refine: false });
    expectClose(Math.sqrt(linear.sumOfSquares / 8), 16.3907, within(5e-5, 'target units'));
    expect(Math.sqrt(linear.sumOfSquares / 8) - Math.sqrt(fit.sumOfSquares / 8)).toBeGreaterThan(0.08);
  });
});
