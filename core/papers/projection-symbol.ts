import type { Mark, Point } from '../drawing';

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
  const centreLine = (from: Point, to: Point): Mark => ({ kind: 'line', role: 'centre', from, to });
  const over = 0.3 * d;
  return [
    {
      kind: 'path',
      role: 'visible',
      closed: true,
      segments: [
        { kind: 'line', from: [small, cy - d / 2], to: [large, cy - d] },
        { kind: 'line', from: [large, cy - d], to: [large, cy + d] },
        { kind: 'line', from: [large, cy + d], to: [small, cy + d / 2] },
        { kind: 'line', from: [small, cy + d / 2], to: [small, cy - d / 2] },
      ],
    },
    { kind: 'circle', role: 'visible', centre: [ringX, cy], radiusMm: d / 2 },
    { kind: 'circle', role: 'visible', centre: [ringX, cy], radiusMm: d },
    centreLine([small - over, cy], [large + over, cy]),
    centreLine([ringX - d - over, cy], [ringX + d + over, cy]),
    centreLine([ringX, cy - d - over], [ringX, cy + d + over]),
  ];
}
