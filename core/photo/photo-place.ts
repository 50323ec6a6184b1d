import { attempt, wordsOf } from '../error';
import type { Photo } from '../job';
import { applyHomography } from './homography';
import { type Rectification, rectify } from './rectify';
import { type Pixel, type Underlay, type ViewMm, mmToPixel, pixelToMm, underlayOf } from './underlay';

/** How a photo lies on its view: by scale, turn and anchor, or laid flat by its marks. */
export interface PhotoPlace {
  /** Null where it is laid flat. */
  readonly underlay: Underlay | null;
  /** Its plane on paper (right and up, mm); null where it is not laid flat. */
  readonly plane: Rectification | null;
  /** Why its marks can't lay it flat, in words; it is then shown by scale, turn and anchor. */
  readonly trouble: string | null;
  /** Pixel → place on paper, mm. */
  toMm(px: Pixel): ViewMm;
  /** Place on paper → pixel; null beyond the plane's horizon. */
  toPx(mm: ViewMm): Pixel | null;
}

type Placed = Pick<Photo, 'anchorPx' | 'anchorMm' | 'widthPx' | 'scale' | 'rotationDeg' | 'rectify'>;
// Keyed on a job's marks, which nothing writes: every frame of a view and every move of the pointer asks for the same plane, a
// least-squares fit each, and none of them has workings at hand.
const flats = new WeakMap<object, Map<number, Rectification | string>>();

/** A photo's marks as one plane on paper, worked out once for each; words where they can't be. */
function flat(marks: NonNullable<Photo['rectify']>, rightSign: 1 | -1): Rectification | string {
  const bySign = flats.get(marks) ?? new Map<number, Rectification | string>();
  flats.set(marks, bySign);
  const known = bySign.get(rightSign);
  if (known !== undefined) return known;
  const { value, error } = attempt(() =>
    rectify(
      marks.marks.map((m) => ({ px: m.px, planeMm: [rightSign * m.planeMm[0], m.planeMm[1]] as const })),
      marks.sigmaPx === undefined ? {} : { sigmaPx: marks.sigmaPx },
    ),
  );
  const made = error ? wordsOf(error) : value;
  bySign.set(rightSign, made);
  return made;
}

/**
 * Where a photo whose number fields are resolved lies on its view. `rightSign` is −1 in a view whose axis runs to the left.
 * Never throws: marks that lay nothing flat are told in `trouble`.
 */
export function photoPlace(photo: Placed, rightSign: 1 | -1 = 1): PhotoPlace {
  const plane = photo.rectify ? flat(photo.rectify, rightSign) : null;
  if (plane !== null && typeof plane !== 'string')
    return {
      underlay: null,
      plane,
      trouble: null,
      toMm: (px) => applyHomography(plane.toMm, px),
      toPx: (mm) => {
        const [a, b, c] = plane.toPx[2];
        return a * mm[0] + b * mm[1] + c > 0 ? applyHomography(plane.toPx, mm) : null;
      },
    };
  const underlay = underlayOf(photo, rightSign);
  return {
    underlay,
    plane: null,
    trouble: plane,
    toMm: (px) => pixelToMm(underlay, px),
    toPx: (mm) => mmToPixel(underlay, mm),
  };
}
