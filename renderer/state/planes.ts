import { type Underlay, mmToPixel, pixelToMm } from '../../core/photo';

export type Plane = 'side' | 'top' | 'front';

/** How a base-frame point falls onto a view: which axis runs right, which runs up, and their signs. */
export interface Projection {
  readonly plane: Plane;
  readonly right: 0 | 1 | 2;
  readonly rightSign: 1 | -1;
  readonly up: 0 | 1 | 2;
  /** The axis that the view looks along. */
  readonly depth: 0 | 1 | 2;
  readonly title: string;
}

/**
 * First angle (ISO 5456-2): side view seen from starboard (−Y), top view below it, and the view from behind (−X) to the
 * right of it, where port (+Y) lies left.
 */
export const PROJECTIONS: Record<Plane, Projection> = {
  side: { plane: 'side', right: 0, rightSign: 1, up: 2, depth: 1, title: 'Side  X–Z' },
  top: { plane: 'top', right: 0, rightSign: 1, up: 1, depth: 2, title: 'Top  X–Y' },
  front: { plane: 'front', right: 1, rightSign: -1, up: 2, depth: 0, title: 'From behind  Y–Z' },
};

/** The one scale and centre that the three drawn views share, so that they stay in line. */
export interface SheetView {
  readonly pxPerMm: number;
  /** Base-frame point at the middle of every view, mm. */
  readonly centre: readonly [number, number, number];
}

/** The sheet on which a side photo stays where it is seen while its scale or its anchor changes. */
export function keepPhotoStill(sheet: SheetView, before: Underlay, after: Underlay): SheetView {
  const [x, z] = pixelToMm(after, mmToPixel(before, [sheet.centre[0], sheet.centre[2]]));
  return { pxPerMm: (sheet.pxPerMm * before.mmPerPx) / after.mmPerPx, centre: [x, sheet.centre[1], z] };
}
