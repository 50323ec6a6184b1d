import { type Underlay, VIEW_AXES, type ViewAxes, mmToPixel, pixelToMm } from '../../core/photo';

export type Plane = 'side' | 'top' | 'front';

/** How a base-frame point falls onto a view. */
export interface Projection extends ViewAxes {
  readonly plane: Plane;
  readonly title: string;
}

/** The top view lies below the side view, and the one from behind to the right of it. */
export const PROJECTIONS: Record<Plane, Projection> = {
  side: { plane: 'side', ...VIEW_AXES.side, title: 'Side  X–Z' },
  top: { plane: 'top', ...VIEW_AXES.top, title: 'Top  X–Y' },
  front: { plane: 'front', ...VIEW_AXES.front, title: 'From behind  Y–Z' },
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
