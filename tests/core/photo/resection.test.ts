// A camera found from eight known points. The world–image pairs are computed (P = K·[R, −R·C]) apart from this code.
import { describe, expect, it } from 'vitest';
import {
  type Camera,
  cameraShift,
  fitHomography,
  lookingCamera,
  projectPoint,
  resectCamera,
  triangulate,
} from '../../../core/photo';
import { type Vec3, distance } from '../../../core/space';
import { expectClose, within, withinEither } from '../../support/close';

const world: Vec3[] = [
  [0, 0, 0],
  [1000, 0, 0],
  [1000, 800, 0],
  [0, 800, 0],
  [0, 0, 600],
  [1000, 0, 600],
  [500, -300, 900],
  [200, 700, 1200],
];
const image: [number, number][] = [
  [1693.066993, 2059.012743],
  [2274.421252, 2614.003332],
  [2975.323106, 2293.220829],
  [2302.199757, 1873.73175],
  [1671.990049, 1518.716493],
  [2300.299877, 1924.361817],
  [1596.092526, 1409.446961],
  [2388.345115, 867.942299],
];
const rotation: Camera['rotation'] = [
  [0.533992991, 0.845488903, 0],
  [0.283557909, -0.179089206, -0.942083844],
  [-0.796521435, 0.50306617, -0.335377447],
];
const eyeMm: Vec3 = [2500, -1200, 1600];
const camera: Camera = { focalPx: 3000, principalPx: [2000, 1500], k1: 0, rotation, eyeMm };
const marks = world.map((atMm, i) => ({ atMm, px: image[i]! }));

describe('a camera of known numbers', () => {
  it('shows the eight points where they are', () => {
    expectClose(
      world.map((p) => projectPoint(camera, p)),
      image,
      within(2e-5, 'px'),
    );
    expectClose(cameraShift(camera), [-320.395795, 583.532329, 3131.586907], within(5e-6, 'mm'));
  });

  it('is found from them: eye, focal length, axes', () => {
    const found = resectCamera(marks, { widthPx: 4000, heightPx: 3000 });
    expectClose(found.camera.eyeMm, eyeMm, within(1e-3, 'mm'));
    expectClose(found.camera.focalPx, 3000, within(1e-3, 'px'));
    expectClose(found.camera.rotation, rotation, within(1e-6, '1'));
    expect(found.spare).toBe(16 - 7);
    expect(found.shownSigmaPx).toBeLessThan(1e-5);
  });

  it('with the focal length known, and with the radial term solved as well', () => {
    const known = resectCamera(marks, { widthPx: 4000, heightPx: 3000, focalPx: 3000 });
    expectClose(known.camera.eyeMm, eyeMm, within(1e-3, 'mm'));
    expect(known.sigmaFocalPx).toBe(0);
    const radial = resectCamera(marks, { widthPx: 4000, heightPx: 3000, solveK1: true });
    expectClose(radial.camera.eyeMm, eyeMm, within(1e-2, 'mm'));
    expectClose(radial.camera.k1, 0, within(1e-6, '1'));
  });

  it('sees the floor z = 0 by columns 1, 2 and 4 of its matrix', () => {
    const { matrix } = fitHomography(
      [0, 1, 2, 3].map((i) => ({ from: [world[i]![0], world[i]![1]], to: projectPoint(camera, world[i]!) })),
    );
    // the printed matrix has ten digits; the printed rotation nine, so it holds to about 1e-8
    expectClose(
      matrix,
      [
        [2.853538305e-3, 1.131247241, 1693.066993],
        [-0.1098830834, 6.939984212e-2, 2059.012743],
        [-2.543507363e-4, 1.606425703e-4, 1],
      ],
      withinEither(2e-9, 1e-8, '1'),
    );
  });

  it('and a second eye put every point back in space', () => {
    const second = lookingCamera({
      eyeMm: [-900, -1900, 1500],
      targetMm: [500, 250, 300],
      up: [0, 0, 1],
      focalPx: 3000,
      widthPx: 4000,
      heightPx: 3000,
    });
    for (const p of world) {
      const point = triangulate([
        { camera, px: projectPoint(camera, p) },
        { camera: second, px: projectPoint(second, p) },
      ]);
      expect(distance(point.atMm, p)).toBeLessThan(1e-6);
    }
  });
});
