import type { Size } from './projection';

/** A point that wants its name beside it: where it is in the view, px, and how wide the name is. */
export interface Named {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  /** Chosen, or under the pointer: it is named whatever it covers. */
  readonly must: boolean;
}

/** Where a name begins, px: its left end and the middle of its height. */
export interface NamePlace {
  readonly id: string;
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Half a name's height, what is kept free about a point, and how far off it a name stands, px. */
const HALF = 9;
const FREE = 9;
const OFF = 14;
/** Right and up first, as one reads. */
const WAYS = [[1, -1], [1, 0], [1, 1], [-1, -1], [-1, 0], [-1, 1], [0, -1], [0, 1]] as const; // prettier-ignore

export const meet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

function boxAt({ x, y, width }: Named, [dx, dy]: readonly [number, number]): Box {
  const left = dx > 0 ? x + OFF : dx < 0 ? x - OFF - width : x - width / 2;
  const middle = y + dy * (dx === 0 ? OFF + HALF - 4 : OFF);
  return { left: left - 3, top: middle - HALF, right: left + width + 3, bottom: middle + HALF };
}

/**
 * Places for the names of points, tried in eight directions about each: the first that lies in the view, off every point and
 * every name placed before. A name without one is left out, but for those that must be there; they come first and are kept
 * in the view. `taken`: what else stands in the view.
 */
export function placeNames(points: readonly Named[], size: Size, taken: readonly Box[] = []): NamePlace[] {
  const placed: Box[] = [];
  const marks = points.map(({ x, y }) => ({ left: x - FREE, top: y - FREE, right: x + FREE, bottom: y + FREE }));
  const inside = (b: Box): boolean =>
    b.left >= 2 && b.top >= 2 && b.right <= size.width - 2 && b.bottom <= size.height - 2;
  const ordered = [...points].sort((a, b) => Number(b.must) - Number(a.must));
  return ordered.flatMap((point, i) => {
    const boxes = WAYS.map((way) => boxAt(point, way));
    const clear = (b: Box): boolean => inside(b) && ![...placed, ...taken, ...marks].some((other) => meet(b, other));
    // of points on one another in this view the first is named
    const over = ordered.slice(0, i).some((o) => Math.hypot(o.x - point.x, o.y - point.y) < FREE);
    const box = point.must
      ? (boxes.find(clear) ?? boxes.find(inside) ?? boxes[0])
      : over
        ? undefined
        : boxes.find(clear);
    if (!box) return [];
    placed.push(box);
    const left = Math.min(Math.max(box.left, 2), Math.max(2, size.width - (box.right - box.left) - 2));
    return { id: point.id, x: left + 3, y: Math.min(Math.max((box.top + box.bottom) / 2, HALF), size.height - HALF) };
  });
}
