import { fail } from '../error';
import type { JobPhoto } from '../job';
import { atan2, rad, toDeg } from '../space';
import type { Pixel, ViewMm } from './underlay';

/**
 * Places of a rectangle's four corners on the view for marks clicked in any order: the order is told by where they lie on
 * the photo. `cornerMm` is the rectangle's lower corner on the left of the paper, along the view's axes.
 * Throws a LidwrightError for sides that are no lengths, or marks that do not stand like a rectangle's corners.
 * @example rectanglePlaces([[0, 10], [20, 10], [20, 0], [0, 0]], { widthMm: 200, heightMm: 100, cornerMm: [0, 0] }) // [[0, 0], [200, 0], [200, 100], [0, 100]]
 */
export function rectanglePlaces(
  marks: readonly Pixel[],
  args: {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly cornerMm: ViewMm;
    readonly rightSign?: 1 | -1;
  },
): ViewMm[] {
  const { widthMm, heightMm, cornerMm, rightSign = 1 } = args;
  if (marks.length !== 4)
    return fail(`a rectangle has four corners, and ${marks.length} are marked`, ['photos'], 'Mark its four corners.');
  if (!(widthMm > 0 && heightMm > 0))
    return fail('a side of the rectangle is no length', ['photos'], 'Type its width and its height.');
  const most = (of: (px: Pixel) => number): number =>
    marks.reduce((best, px, i) => (of(px) > of(marks[best]!) ? i : best), 0);
  const order = [most(([x, y]) => y - x), most(([x, y]) => x + y), most(([x, y]) => x - y), most(([x, y]) => -x - y)];
  if (new Set(order).size < 4)
    return fail(
      'it can’t be told which mark is which corner of the rectangle',
      ['photos'],
      'Type the place of each mark instead.',
    );
  const corners: ViewMm[] = [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ];
  return marks.map((_, i) => {
    const [x, y] = corners[order.indexOf(i)]!;
    return [cornerMm[0] + rightSign * x, cornerMm[1] + y];
  });
}

/** A photo's marks with all their places shifted, mm along the view's axes; places that givens hold stay. */
export const shiftMarks = (
  rectify: NonNullable<JobPhoto['rectify']>,
  by: ViewMm,
): NonNullable<JobPhoto['rectify']> => ({
  ...rectify,
  marks: rectify.marks.map((m) => {
    const [x, y] = m.planeMm;
    return {
      ...m,
      planeMm: [typeof x === 'number' ? x + by[0] : x, typeof y === 'number' ? y + by[1] : y],
    };
  }),
});

/**
 * The turn of a photo, degrees anticlockwise, that makes two marks lie level (or plumb) with each other: −90 … 90.
 * Throws a LidwrightError for marks on one pixel. @example levelTurnDeg([0, 0], [100, 100], 'level') // 45
 */
export function levelTurnDeg(from: Pixel, to: Pixel, along: 'level' | 'plumb'): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  if (!(Math.hypot(dx, dy) >= 1)) return fail('both marks are on one pixel', ['photos'], 'Click two marks far apart.');
  // on paper up is up: the line rises by −dy
  let turn = toDeg(atan2(dy, dx)) + (along === 'plumb' ? 90 : 0);
  while (turn > 90) turn -= 180;
  while (turn <= -90) turn += 180;
  return turn;
}

/** σ of that turn for marks of σ 1 px: what a pixel is worth over the distance between them, degrees. */
export const levelSigmaDeg = (from: Pixel, to: Pixel): number =>
  toDeg(rad(Math.SQRT2 / Math.max(1, Math.hypot(to[0] - from[0], to[1] - from[1]))));
