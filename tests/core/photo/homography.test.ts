// A homography goes there and back; its matrix worked out apart from this code.
import { it } from 'vitest';
import { type Plane2, applyHomography, fitHomography, invertHomography } from '../../../core/photo';
import { expectClose, within, withinEither } from '../../support/close';

it('there and back to 1e-9', () => {
  const from: Plane2[] = [
    [0, 0],
    [200, 0],
    [200, 200],
    [0, 200],
  ];
  const to: Plane2[] = [
    [58, 12],
    [162, 15],
    [154, 187],
    [9, 160],
  ];
  const fit = fitHomography(from.map((p, i) => ({ from: p, to: to[i]! })));
  expectClose(
    fit.matrix,
    [
      [0.4435915884878, -0.2579583399587, 58],
      [7.925147082207e-3, 0.5096295118461, 12],
      [-4.716568611862e-4, -1.439815550962e-3, 1],
    ],
    withinEither(1e-12, 1e-9, '1'),
  );
  const back = invertHomography(fit.matrix);
  from.forEach((p, i) => {
    expectClose(applyHomography(fit.matrix, p), to[i]!, within(1e-9, 'px'));
    expectClose(applyHomography(back, to[i]!), p, within(1e-9, 'px'));
  });
});
