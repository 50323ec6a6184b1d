import { describe, expect, it } from 'vitest';
import { levelTurnDeg, photoPlace, pixelToMm, rectanglePlaces, shiftMarks, underlayOf } from '../../../core/photo';
import { refusal } from '../../support/refusal';
import { truth } from './truth';

const plain = { anchorPx: [10, 20], anchorMm: [5, 7], widthPx: 1000 } as const;

describe('where a photo lies on its view', () => {
  it('without marks it lies as its underlay', () => {
    const place = photoPlace(plain);
    expect(place.plane).toBeNull();
    expect(place.toMm([300, 40])).toEqual(pixelToMm(underlayOf(plain), [300, 40]));
    expect(place.toPx(place.toMm([300, 40]))![0]).toBeCloseTo(300, 9);
  });

  it('laid flat on a known plane, things in it land where they are, in a view that runs left too', () => {
    // starboard side of the workboat’s hatch: marks and check lie in the plane y = −492
    const { points, camera } = truth('workboat-side');
    const seen = (at: readonly [number, number, number]): [number, number] => {
      const c = camera.rotation.map((r) => r.reduce((s, v, k) => s + v * (at[k]! - camera.eyeMm[k]!), 0));
      return [
        camera.principalPx[0] + (camera.focalPx * c[0]!) / c[2]!,
        camera.principalPx[1] + (camera.focalPx * c[1]!) / c[2]!,
      ];
    };
    expect(seen(points.find((p) => p.id === 'c3')!.atMm)[0]).toBeCloseTo(206.932, 2);
    for (const sign of [1, -1] as const) {
      const marks = [
        [-930, 0],
        [-30, 0],
        [-30, 405],
        [-930, 405],
      ].map(([x, z]) => ({ px: seen([x!, -492, z!]), planeMm: [sign * x!, z!] as [number, number] }));
      const place = photoPlace({ ...plain, rectify: { marks } }, sign);
      const [x, z] = place.toMm(seen([-400, -492, 210]));
      expect(Math.hypot(x + 400, z - 210)).toBeLessThan(1e-6);
      const back = place.toPx([x, z])!;
      expect(Math.hypot(back[0] - seen([-400, -492, 210])[0], back[1] - seen([-400, -492, 210])[1])).toBeLessThan(1e-6);
    }
  });

  it('marks in one line lay nothing flat, and it says so', () => {
    const marks = [0, 1, 2, 3].map((i) => ({
      px: [i * 100, i * 50] as [number, number],
      planeMm: [i, 2 * i] as [number, number],
    }));
    const place = photoPlace({ ...plain, rectify: { marks } });
    expect(place.plane).toBeNull();
    expect(place.trouble).toMatch(/line/);
  });

  it('beyond the horizon there is no pixel', () => {
    const marks = [
      { px: [0, 1000], planeMm: [0, 0] },
      { px: [1000, 1000], planeMm: [100, 0] },
      { px: [700, 500], planeMm: [100, 100] },
      { px: [300, 500], planeMm: [0, 100] },
    ] as never;
    expect(photoPlace({ ...plain, rectify: { marks } }).toPx([50, -1e6])).toBeNull();
  });
});

describe('setting square', () => {
  it('tells the corners of a rectangle apart whatever the order of clicks', () => {
    const px = [
      [900, 100],
      [120, 820],
      [100, 150],
      [930, 790],
    ] as const;
    const places = rectanglePlaces(px, { widthMm: 800, heightMm: 600, cornerMm: [10, 20] });
    expect(places).toEqual([
      [810, 620],
      [10, 20],
      [10, 620],
      [810, 20],
    ]);
    expect(rectanglePlaces(px, { widthMm: 800, heightMm: 600, cornerMm: [10, 20], rightSign: -1 })[0]).toEqual([
      -790, 620,
    ]);
  });

  it('refuses three corners, no sides, and marks that stand in a row', () => {
    const side = { widthMm: 1, heightMm: 1, cornerMm: [0, 0] } as const;
    expect(refusal(() => rectanglePlaces([[0, 0]], side)).what).toContain('four corners');
    const row = [0, 1, 2, 3].map((i) => [i, 0] as const);
    expect(refusal(() => rectanglePlaces(row, { ...side, widthMm: 0 })).what).toContain('no length');
    expect(refusal(() => rectanglePlaces(row, side)).what).toContain('which corner');
  });

  it('shifts places but not those that a given holds', () => {
    const marks = [{ px: [0, 0] as [number, number], planeMm: [1, { given: 'g' }] as never }];
    expect(shiftMarks({ marks }, [10, 20]).marks[0]!.planeMm).toEqual([11, { given: 'g' }]);
  });
});

describe('levelling', () => {
  it('turns two marks level or plumb by the smaller turn, whichever was clicked first', () => {
    expect(levelTurnDeg([0, 0], [1000, 10.472], 'level')).toBeCloseTo(0.6, 4);
    expect(levelTurnDeg([1000, 10.472], [0, 0], 'level')).toBeCloseTo(0.6, 4);
    expect(levelTurnDeg([0, 0], [10.472, -1000], 'plumb')).toBeCloseTo(0.6, 4);
    expect(levelTurnDeg([10.472, -1000], [0, 0], 'plumb')).toBeCloseTo(0.6, 4);
    expect(refusal(() => levelTurnDeg([1, 1], [1, 1], 'level')).advice).toContain('far apart');
  });
  it('undoes the 0.6° of the locker’s photo', () => {
    const { rotation, eyeMm, focalPx, principalPx } = truth('locker-side').camera;
    const seen = (at: readonly [number, number, number]): [number, number] => {
      const c = rotation.map((r) => r.reduce((s, v, k) => s + v * (at[k]! - eyeMm[k]!), 0));
      return [principalPx[0] + (focalPx * c[0]!) / c[2]!, principalPx[1] + (focalPx * c[1]!) / c[2]!];
    };
    expect(levelTurnDeg(seen([0, -262, 902]), seen([742, -262, 902]), 'level')).toBeCloseTo(0.6, 2);
  });
});
