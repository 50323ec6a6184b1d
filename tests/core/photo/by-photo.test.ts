import { describe, expect, it } from 'vitest';
import { type Photo, readJob, resolveJob, writeJob } from '../../../core/job';
import { VIEW_AXES, lengthOnPhoto, lineUp, seenPlace, viewPlaceOf, worstOffPlane } from '../../../core/photo';
import { type Vec3, distance } from '../../../core/space';
import { expectClose, within } from '../../support/close';
import { example } from '../examples/example';

const WIDTH_PX = 4000;
const HEIGHT_PX = 3000;
const FOCAL_PX = 3200;
/** The camera stands square over the plane, this far off it, over this place of the paper, mm. */
const [DISTANCE_MM, FOOT] = [2500, [120, -80]] as const;
const PLANE_MM = 350;

/** A pinhole's picture of a place, by similar triangles. */
function pictured(view: Photo['view'], at: Vec3): [number, number] {
  const { right, rightSign, up, depth, towards } = VIEW_AXES[view];
  const perMm = FOCAL_PX / (DISTANCE_MM - towards * (at[depth] - PLANE_MM));
  return [WIDTH_PX / 2 + perMm * (rightSign * at[right] - FOOT[0]), HEIGHT_PX / 2 - perMm * (at[up] - FOOT[1])];
}

/** A place by its coordinates along the view's axes and off the plane towards who looks, mm. */
function placed(view: Photo['view'], x: number, y: number, offMm: number): Vec3 {
  const { right, up, depth, towards } = VIEW_AXES[view];
  const at: [number, number, number] = [0, 0, 0];
  at[right] = x;
  at[up] = y;
  at[depth] = PLANE_MM + towards * offMm;
  return at;
}

function photoOf(view: Photo['view']): Photo {
  const corners = [
    [-500, -400],
    [500, -400],
    [450, 420],
    [-480, 390],
  ] as const;
  return {
    ...resolveJob(example('workboat-hatch')).photos[0]!,
    view,
    widthPx: WIDTH_PX,
    heightPx: HEIGHT_PX,
    focal: { px: FOCAL_PX, from: 'typed' },
    rectify: {
      depthMm: PLANE_MM,
      marks: corners.map(([x, y]) => ({ px: pictured(view, placed(view, x, y, 0)), planeMm: [x, y] as const })),
    },
  } as unknown as Photo;
}

describe.each(['side', 'top', 'front'] as const)('a flat photo of the %s view, against a pinhole', (view) => {
  const photo = photoOf(view);
  it('gives a place off its plane back as it is', () => {
    for (const [x, y, offMm] of [
      [0, 0, 0],
      [310, -150, 0],
      [310, -150, 240],
      [-420, 260, -330],
    ] as const) {
      const at = placed(view, x, y, offMm);
      expectClose(seenPlace(photo, [1e4, 1e4, 1e4], pictured(view, at), offMm)!, at, within(1e-5, 'mm'));
    }
  });
  it('measures between two places of the plane', () => {
    const [a, b] = [placed(view, -200, 40, 0), placed(view, 330, 310, 0)];
    const { lengthMm, sigmaMm } = lengthOnPhoto(photo, pictured(view, a), pictured(view, b));
    expectClose(lengthMm, distance(a, b), within(1e-6, 'mm'));
    expect(sigmaMm).toBeGreaterThan(0);
  });
  it('names the point that it shows farthest from its place: off · r/(distance − off) from the camera’s foot', () => {
    const point = (id: string, at: Vec3) => ({ id, on: 'base', at }) as const;
    const far = placed(view, VIEW_AXES[view].rightSign * 420, -80, 200);
    const points = [
      point('in', placed(view, 480, 380, 0)),
      point('off', far),
      point('behind-me', placed(view, 0, 0, 3000)),
    ];
    const worst = worstOffPlane(photo, points)!;
    expect(worst.point.id).toBe('off');
    expectClose([worst.offMm, worst.shownMm], [200, (200 * (420 - FOOT[0])) / (DISTANCE_MM - 200)], within(1e-4, 'mm'));
    expect(worstOffPlane({ ...photo, rectify: { ...photo.rectify!, depthMm: undefined } } as never, points)).toBeNull();
  });
});

describe('lining a photo up with a place', () => {
  const job = example('workboat-hatch');
  const [raw, photo] = [job.photos![0]!, resolveJob(job).photos[0]!];
  it.each([
    ['by its anchor', job],
    ['by all its marks', { ...job, photos: [{ ...raw, rectify: photoOf('side').rectify }] }],
  ])('%s', (_, before) => {
    const at: Vec3 = [77, 5, -33];
    const px = [600, 500] as const;
    const shown = resolveJob(before as never).photos[0]!;
    const after = lineUp(before as never, { photo: shown, px, at });
    expectClose(viewPlaceOf(resolveJob(after).photos[0]!, px)!, [77, -33], within(1e-6, 'mm'));
    expect(readJob(writeJob(after)).points).toEqual(job.points);
    expect(photo.view).toBe('side');
  });
});
