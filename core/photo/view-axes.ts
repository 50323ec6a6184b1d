import type { Photo } from '../job';

/** How the base frame falls onto a drawn view. */
export interface ViewAxes {
  /** The base axis that runs along the paper, and its sign to the right. */
  readonly right: 0 | 1 | 2;
  readonly rightSign: 1 | -1;
  readonly up: 0 | 1 | 2;
  /** The axis that the view looks along, and its sign towards who looks. */
  readonly depth: 0 | 1 | 2;
  readonly towards: 1 | -1;
}

/** First angle (ISO 5456-2): the side seen from starboard (−Y), the top, and from behind (−X), where port (+Y) lies left. */
export const VIEW_AXES: Readonly<Record<Photo['view'], ViewAxes>> = {
  side: { right: 0, rightSign: 1, up: 2, depth: 1, towards: -1 },
  top: { right: 0, rightSign: 1, up: 1, depth: 2, towards: 1 },
  front: { right: 1, rightSign: -1, up: 2, depth: 0, towards: -1 },
};
