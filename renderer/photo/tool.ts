import type { JobPhoto } from '../../core/job';
import type { Pixel } from '../../core/photo';

type JobMark = NonNullable<JobPhoto['rectify']>['marks'][number];

/** A mark that is being placed for laying a photo flat; its place is typed afterwards. */
export interface SquareMark {
  readonly px: Pixel;
  /** Along the view's axes, mm; null until typed. */
  readonly planeMm: readonly [number | null, number | null];
  readonly name?: string;
  /** The place as the job holds it, a given's name or an expression perhaps; gone where it is typed anew. */
  readonly held?: JobMark['planeMm'] | undefined;
}

/** A click on a photo that means something; pixels are of the upright picture. */
export type PhotoTool = { readonly photoId: string } & (
  | { readonly kind: 'scale'; readonly from: Pixel | null; readonly to: Pixel | null }
  /** The pixel that a point lies on. */
  | { readonly kind: 'anchor'; readonly pointId: string }
  /** Two marks that are level or plumb with each other. */
  | { readonly kind: 'level'; readonly along: 'level' | 'plumb'; readonly from: Pixel | null }
  /** Marks on one plane; `redo` is clicked anew, otherwise one is added. */
  | { readonly kind: 'square'; readonly marks: readonly SquareMark[]; readonly redo: number | null }
  /** A point's mark, for the camera. */
  | { readonly kind: 'mark'; readonly pointId: string }
  /** A length between two places on the photo. */
  | { readonly kind: 'length'; readonly from: Pixel | null; readonly to: Pixel | null }
  /** Puts a point where it is seen, so far off the plane towards the camera. */
  | { readonly kind: 'put'; readonly pointId: string; readonly offMm: number }
);

/** A rectangle on paper, mm: left, top, width, height. */
export interface PaperBox {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}
