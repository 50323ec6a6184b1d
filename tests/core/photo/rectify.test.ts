import { describe, expect, it } from 'vitest';
import {
  type Camera,
  type Plane2,
  type PlaneMark,
  applyHomography,
  cameraOverPlane,
  fitHomography,
  flatPicture,
  lengthOnPlane,
  lookingCamera,
  mmPerPxAt,
  parallaxMm,
  parallaxOfTrueMm,
  parallaxNote,
  placeOnPlane,
  projectPoint,
  rectify,
  regionFor,
} from '../../../core/photo';
import { LidwrightError } from '../../../core/error';
import { type Vec3, distance } from '../../../core/space';
import { expectClose, within } from '../../support/close';
import { refusal } from '../../support/refusal';
import { CHI95, random, squaredDistance } from './random';
import { truth } from './truth';

const size = { widthPx: 4000, heightPx: 3000 };
/** A phone photo of a plane y = −300 (x right, z up), from aside and above. */
const aslant = lookingCamera({
  eyeMm: [-250, -2100, 1150],
  targetMm: [330, -300, 240],
  up: [0, 0, 1],
  focalPx: 3050,
  ...size,
});
const onPlane = (p: Plane2, off = 0): Vec3 => [p[0], -300 - off, p[1]];
const seen = (camera: Camera, p: Plane2, off = 0): Plane2 => projectPoint(camera, onPlane(p, off));
const corners: Plane2[] = [
  [0, 0],
  [640, 10],
  [655, 470],
  [-15, 455],
];
const marksOf = (places: readonly Plane2[], noise: () => number = () => 0): PlaneMark[] =>
  places.map((planeMm) => {
    const [u, v] = seen(aslant, planeMm);
    return { planeMm, px: [u + noise(), v + noise()] };
  });

describe('degenerate marks are refused in words', () => {
  const pairsFor = (places: readonly Plane2[]) =>
    places.map((p) => ({ from: p, to: [p[0] * 2 + 7, p[1] * 3 - 1] as Plane2 }));
  it('fewer than four', () => {
    expect(refusal(() => fitHomography(pairsFor(corners.slice(0, 3)))).what).toMatch(/3 marks: a plane needs four/);
  });
  it('three of four in line', () => {
    const error = refusal(() =>
      fitHomography(
        pairsFor([
          [0, 0],
          [310, 41],
          [620, 82],
          [100, 400],
        ]),
      ),
    );
    expect(error.what).toMatch(/marks 1, 2 and 3 lie in one line/);
    expect(error.advice).toMatch(/corners of a rectangle/);
  });
  it('three in line on the other side only', () => {
    const pairs = corners.map((p, i) => ({ from: p, to: [10 + 3 * i, i === 3 ? 50 : 20 + 6 * i] as Plane2 }));
    expect(refusal(() => fitHomography(pairs)).what).toMatch(/lie in one line/);
  });
  it('five marks of which four are in line', () => {
    const places: Plane2[] = [
      [0, 0],
      [100, 20],
      [200, 40],
      [330, 66],
      [50, 400],
    ];
    expect(refusal(() => fitHomography(pairsFor(places))).what).toMatch(/in one line/);
  });
  it('but three in line do no harm among enough others', () => {
    const places: Plane2[] = [...corners, [320, 5]];
    expect(fitHomography(pairsFor(places)).sumOfSquares).toBeLessThan(1e-18);
  });
  it('two marks on one spot', () => {
    expect(refusal(() => fitHomography(pairsFor([corners[0]!, corners[0]!, corners[1]!, corners[2]!]))).what).toMatch(
      /fall together/,
    );
  });
  it('marks named in the wrong order, crosswise', () => {
    const crossed = marksOf(corners);
    const bad = [
      crossed[0]!,
      crossed[1]!,
      { ...crossed[2]!, px: crossed[3]!.px },
      { ...crossed[3]!, px: crossed[2]!.px },
    ];
    expect(refusal(() => rectify(bad)).advice).toMatch(/same order/);
  });
  it('a coordinate that is no number', () => {
    expect(refusal(() => rectify([{ px: [NaN, 1], planeMm: [0, 0] }, ...marksOf(corners)])).what).toMatch(
      /mark 1 is not/,
    );
  });
});

describe('a rectified plane', () => {
  it('gives true lengths from exact marks, and scales with the unit', () => {
    for (const k of [1e-6, 1, 1e6]) {
      const plane = rectify(marksOf(corners).map((m) => ({ ...m, planeMm: [m.planeMm[0] * k, m.planeMm[1] * k] })));
      const { lengthMm } = lengthOnPlane(plane, seen(aslant, [111, 77]), seen(aslant, [512, 391]));
      expectClose(lengthMm / k, Math.hypot(401, 314), within(1e-7, 'mm'));
    }
  });

  it('covers the truth in 92–98 % of 600 runs, and states the length’s σ right', () => {
    const rng = random(20261);
    const places: Plane2[] = [...corners, [300, 240], [330, -20]];
    const wanted: Plane2 = [480, 120];
    let inside = 0;
    let ratio = 0;
    let lengthInside = 0;
    const runs = 600;
    for (let run = 0; run < runs; run++) {
      const plane = rectify(
        marksOf(places, () => rng.normal(1.5)),
        { sigmaPx: 1.5 },
      );
      const [u, v] = seen(aslant, wanted);
      const place = placeOnPlane(plane, [u + rng.normal(1.5), v + rng.normal(1.5)]);
      const error = [place.atMm[0] - wanted[0], place.atMm[1] - wanted[1]];
      if (squaredDistance(error, place.covariance) < CHI95[1]) inside++;
      ratio += plane.shownSigmaPx! ** 2 / runs;
      const ends: Plane2[] = [
        [30, 400],
        [610, 60],
      ];
      const [a, b] = ends.map((e): Plane2 => {
        const px = seen(aslant, e);
        return [px[0] + rng.normal(1.5), px[1] + rng.normal(1.5)];
      });
      const length = lengthOnPlane(plane, a!, b!);
      if (Math.abs(length.lengthMm - Math.hypot(580, 340)) < 1.96 * length.sigmaMm) lengthInside++;
    }
    expect(inside / runs).toBeGreaterThan(0.92);
    expect(inside / runs).toBeLessThan(0.98);
    expect(lengthInside / runs).toBeGreaterThan(0.92);
    expect(lengthInside / runs).toBeLessThan(0.98);
    expectClose(Math.sqrt(ratio), 1.5, within(0.1, 'px'));
  });

  it('names the mark that does not fit', () => {
    const places: Plane2[] = [...corners, [300, 240], [330, -20], [100, 200], [560, 300]];
    const rng = random(7);
    const marks = marksOf(places, () => rng.normal(1));
    const wrong = marks.map((m, i) => (i === 6 ? { ...m, planeMm: [m.planeMm[0] + 40, m.planeMm[1]] as Plane2 } : m));
    expect(rectify(marks).suspect).toBeNull();
    expect(rectify(wrong).suspect).toBe(6);
  });

  it('names each corner too, whose own residual stays small; of five marks it names none', () => {
    const places: Plane2[] = [...corners, [300, 240], [330, -20], [100, 200], [560, 300]];
    const rng = random(11);
    const marks = marksOf(places, () => rng.normal(0.5));
    const off = (i: number): PlaneMark[] =>
      marks.map((m, k) => (k === i ? { ...m, planeMm: [m.planeMm[0], m.planeMm[1] + 40] as Plane2 } : m));
    for (let i = 0; i < marks.length; i++) expect(rectify(off(i)).suspect, `mark ${i}`).toBe(i);
    const five = rectify(off(0).slice(0, 5));
    expect([five.agree, five.suspect]).toEqual([false, null]);
    expect(rectify(off(0).slice(0, 4)).agree).toBe(true);
  });

  it('tells the same parallax from the true place as from the place seen', () => {
    const camera = { footMm: [100, -40] as Plane2, distanceMm: 1500 };
    for (const depthMm of [-300, -1, 20, 600]) {
      const shift = parallaxOfTrueMm(camera, [420, 260], depthMm);
      const again = parallaxMm(camera, [420 + shift[0], 260 + shift[1]], depthMm);
      expect(Math.hypot(again[0] - shift[0], again[1] - shift[1])).toBeLessThan(1e-9);
    }
    expect(() => parallaxOfTrueMm(camera, [420, 260], 1500)).toThrow(LidwrightError);
  });
});

describe('on the rendered photos with known camera, marks set to whole pixels', () => {
  /** Plane of the photo → base frame. */
  const cases = [
    { photo: 'workboat-side', at: (p: Plane2): Vec3 => [p[0], -492, p[1]], box: [-930, 40, -30, 405] },
    { photo: 'workboat-top', at: (p: Plane2): Vec3 => [p[0], p[1], 405], box: [-930, -492, -30, 492] },
    { photo: 'locker-side', at: (p: Plane2): Vec3 => [p[0], -302, p[1]], box: [62, 470, 742, 902] },
  ] as const;
  it.each(cases)('$photo: every length within 0.5 %', ({ photo, at, box }) => {
    const { camera } = truth(photo);
    const [x0, y0, x1, y1] = box;
    const rng = random(41);
    const onPx = (p: Plane2): Plane2 => {
      const [u, v] = projectPoint(camera, at(p));
      return [Math.round(u), Math.round(v)];
    };
    const corners: Plane2[] = [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ];
    const middle: Plane2[] = [
      [(x0 + x1) / 2, y0],
      [(x0 + x1) / 2, y1],
    ];
    const plane = rectify([...corners, ...middle].map((planeMm) => ({ planeMm, px: onPx(planeMm) })));
    let worst = 0;
    let tried = 0;
    while (tried < 200) {
      const a: Plane2 = [x0 + (x1 - x0) * rng.uniform(), y0 + (y1 - y0) * rng.uniform()];
      const b: Plane2 = [x0 + (x1 - x0) * rng.uniform(), y0 + (y1 - y0) * rng.uniform()];
      const true_ = Math.hypot(a[0] - b[0], a[1] - b[1]);
      // 1 px is 0.9 to 1.3 mm here: a shorter length can't be had to 0.5 % by anybody
      if (true_ < 400) continue;
      tried++;
      worst = Math.max(worst, Math.abs(lengthOnPlane(plane, onPx(a), onPx(b)).lengthMm / true_ - 1));
    }
    expect(worst).toBeLessThan(0.005);
  });

  it('the points that truly lie on a plane of the top photo come out where they are', () => {
    const { points } = truth('workboat-top');
    const lid = points.filter((p) => p.atMm[2] === 405);
    expect(lid.length).toBe(4);
    const plane = rectify(
      lid.map((p) => ({ planeMm: [p.atMm[0], p.atMm[1]], px: [Math.round(p.px[0]), Math.round(p.px[1])] })),
    );
    for (const p of lid)
      for (const q of lid)
        if (p !== q) {
          const found = lengthOnPlane(plane, p.px, q.px).lengthMm;
          expect(Math.abs(found / distance(p.atMm, q.atMm) - 1)).toBeLessThan(0.005);
        }
  });
});

describe('off the plane', () => {
  const plane = rectify(marksOf(corners));
  it('the eye is found with the focal length given, and without from a slanting view', () => {
    const given = cameraOverPlane(plane, { ...size, focalPx: 3050 })!;
    expectClose(given.distanceMm, 1800, within(1e-3, 'mm'));
    expectClose(given.footMm, [-250, 1150], within(1e-3, 'mm'));
    const own = cameraOverPlane(plane, size)!;
    expect(own.focalFrom).toBe('plane');
    expectClose(own.focalPx, 3050, within(1e-2, 'px'));
  });
  it('the parallax is what a thing off the plane is truly shown beside its place', () => {
    const camera = cameraOverPlane(plane, { ...size, focalPx: 3050 })!;
    for (const depth of [120, 35, -60]) {
      const place: Plane2 = [430, 95];
      const shown = applyHomography(plane.toMm, seen(aslant, place, depth));
      const said = parallaxMm(camera, shown, depth);
      expectClose([shown[0] - said[0], shown[1] - said[1]], place, within(1e-6, 'mm'));
      expect(Math.hypot(...said)).toBeGreaterThan(5);
    }
  });
  it('a thing beyond the camera is refused, and the note says what is not known', () => {
    expect(refusal(() => parallaxMm({ footMm: [0, 0], distanceMm: 900 }, [1, 2], 950)).what).toMatch(
      /beyond the camera/,
    );
    expect(parallaxNote(null, [])).toMatch(/give the focal length/);
    const camera = cameraOverPlane(plane, { ...size, focalPx: 3050 });
    expect(parallaxNote(camera, plane.marks)).toMatch(/about 1800 mm, a thing 50 mm off it is shown up to \d\d mm/);
  });
  it('a view square on does not show the focal length, but does with it given', () => {
    const square = lookingCamera({
      eyeMm: [300, -2000, 200],
      targetMm: [300, 0, 200],
      up: [0, 0, 1],
      focalPx: 3050,
      ...size,
    });
    const flat = rectify(corners.map((planeMm) => ({ planeMm, px: seen(square, planeMm) })));
    const guess = cameraOverPlane(flat, size);
    if (guess !== null) expect(Number.isFinite(guess.focalPx)).toBe(true);
    expectClose(cameraOverPlane(flat, { ...size, focalPx: 3050 })!.distanceMm, 1700, within(1e-3, 'mm'));
  });
});

describe('the flat picture', () => {
  const plane = rectify(marksOf(corners));
  const picture = flatPicture(plane, size);
  it('is no finer than the photo and holds all marks', () => {
    const [least] = mmPerPxAt(plane.toPx, corners[0]!);
    expect(picture.finestMmPerPx).toBeLessThanOrEqual(least);
    expect(picture.finestMmPerPx).toBeGreaterThan(least / 2);
    for (const [x, y] of corners) {
      expect(x).toBeGreaterThan(picture.leftMm);
      expect(x).toBeLessThan(picture.leftMm + picture.widthMm);
      expect(y).toBeLessThan(picture.topMm);
      expect(y).toBeGreaterThan(picture.topMm - picture.heightMm);
    }
    expect(picture.cut).toBe(false);
  });
  it('is cut towards the horizon instead of running to infinity', () => {
    const low = lookingCamera({
      eyeMm: [300, -1500, 260],
      targetMm: [300, 0, 0],
      up: [0, 0, 1],
      focalPx: 2000,
      ...size,
    });
    const floor: Plane2[] = [
      [0, -500],
      [600, -500],
      [600, 0],
      [0, 0],
    ];
    const flat = rectify(floor.map((planeMm) => ({ planeMm, px: projectPoint(low, [planeMm[0], planeMm[1], 0]) })));
    const cut = flatPicture(flat, size);
    expect(cut.cut).toBe(true);
    expect(cut.heightMm).toBeLessThan(6000);
    expect(cut.widthMm).toBeLessThan(10000);
  });
  it('asks for more pixels as the view zooms in, in steps, down to the photo’s own', () => {
    const view = { leftMm: 100, topMm: 400, widthMm: 200, heightMm: 150 };
    const at = (mmPerScreenPx: number) => regionFor(picture, { ...view, mmPerScreenPx })!;
    expect(at(10).mmPerPx).toBeLessThanOrEqual(10);
    expect(at(10).mmPerPx).toBeGreaterThan(5);
    expect(at(0.01).mmPerPx).toBe(picture.finestMmPerPx);
    for (const k of [3, 1, 0.4]) {
      const r = at(k);
      expect(r.mmPerPx).toBeLessThanOrEqual(Math.max(k, picture.finestMmPerPx));
      expect(r.leftMm).toBeLessThanOrEqual(100);
      expect(r.leftMm + r.widthPx * r.mmPerPx).toBeGreaterThanOrEqual(300);
      expect(r.topMm).toBeGreaterThanOrEqual(400);
      expect(r.topMm - r.heightPx * r.mmPerPx).toBeLessThanOrEqual(250);
    }
    expect(regionFor(picture, { ...view, leftMm: 1e5, mmPerScreenPx: 1 })).toBeNull();
  });
});
