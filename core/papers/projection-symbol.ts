import { circleMark, lineMark, type Mark, type Point, polygonMark } from '../drawing';

/** How views are placed: first angle puts a view on the far side of where it is seen from, third angle on the near side. */
export type Projection = 'first' | 'third';

/**
 * The symbol for the projection method, its middle at `centre`: a lying truncated cone (ends d and 2d, length 2d) and its
 * end view. Third angle: the small end points at the circles; first angle: the large end does. Source: ISO 5456-2.
 */
export function projectionSymbol(projection: Projection, centre: Point, smallMm: number): Mark[] {
  const d = smallMm;
  const [cx, cy] = centre;
  // The cone lies with its small end to the left; circles right of it for first angle, left of it for third.
  const way = projection === 'first' ? 1 : -1;
  const coneX = cx - way * 1.5 * d;
  const ringX = cx + way * 1.5 * d;
  const [small, large] = [coneX - d, coneX + d];
  const over = 0.3 * d;
  return [
    polygonMark('visible', [
      [small, cy - d / 2],
      [large, cy - d],
      [large, cy + d],
      [small, cy + d / 2],
    ]),
    circleMark('visible', [ringX, cy], d / 2),
    circleMark('visible', [ringX, cy], d),
    lineMark('centre', [small - over, cy], [large + over, cy]),
    lineMark('centre', [ringX - d - over, cy], [ringX + d + over, cy]),
    lineMark('centre', [ringX, cy - d - over], [ringX, cy + d + over]),
  ];
}
