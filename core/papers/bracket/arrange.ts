import { type Box, boundsOf, boxesMeet, joinBoxes, movePart, type Part } from '../../drawing';
import type { Projection } from '../projection-symbol';

export const BETWEEN_MM = 6;

/** The views that stand on one another's lines: front, what is seen from its right, what is seen from above. */
export interface Aligned {
  readonly front: Part;
  readonly side: Part | null;
  readonly top: Part | null;
}

const moved = (box: Box, dx: number, dy: number): Box => ({
  left: box.left + dx,
  right: box.right + dx,
  bottom: box.bottom + dy,
  top: box.top + dy,
});

/** Views put where the projection says: third angle on the side they are seen from, first angle on the far side. */
export function align({ front, side, top }: Aligned, projection: Projection): Part[] {
  const third = projection === 'third';
  const f = boundsOf(front.marks);
  const parts = [front];
  const s = side && boundsOf(side.marks);
  if (side && s) parts.push(movePart(side, third ? f.right + BETWEEN_MM - s.left : f.left - BETWEEN_MM - s.right, 0));
  if (top) {
    const t = boundsOf(top.marks);
    // what is wider than the front reaches under or over the side view
    const reach =
      s && (third ? t.right > f.right : t.left < f.left) ? joinBoxes([f, { ...s, left: f.left, right: f.right }]) : f;
    parts.push(movePart(top, 0, third ? reach.top + BETWEEN_MM - t.bottom : reach.bottom - BETWEEN_MM - t.top));
  }
  return parts;
}

interface Item {
  readonly parts: readonly Part[];
  readonly boxes: readonly Box[];
  readonly box: Box;
}

const itemOf = (parts: readonly Part[]): Item => {
  const boxes = parts.map((p) => boundsOf(p.marks));
  return { parts, boxes, box: joinBoxes(boxes) };
};

/**
 * Groups of parts put into the room without meeting, each group kept together; the first from the upper left corner, the others where they go highest.
 * The whole then stands in the middle. Null when they do not fit.
 */
export function pack(groups: readonly (readonly Part[])[], room: Box): Part[] | null {
  const items = groups.map(itemOf);
  for (const order of orders(items.length)) {
    const put = packInOrder(
      order.map((i) => items[i]!),
      room,
    );
    if (put) return put;
  }
  return null;
}

const orders = (n: number): number[][] => {
  const rest = Array.from({ length: n - 1 }, (_, i) => i + 1);
  const all: number[][] = [[0, ...rest]];
  for (let i = 1; i < n; i++) {
    const other = [0, ...rest.filter((k) => k !== i)];
    other.splice(1, 0, i);
    all.push(other);
    all.push([i, ...[0, ...rest].filter((k) => k !== i)]);
  }
  return all;
};

function packInOrder(items: readonly Item[], room: Box): Part[] | null {
  const placed: { item: Item; dx: number; dy: number }[] = [];
  const taken: Box[] = [];
  for (const item of items) {
    const { box } = item;
    if (box.right - box.left > room.right - room.left || box.top - box.bottom > room.top - room.bottom) return null;
    // left edges and tops where something could stand against what is there
    const lefts = [
      room.left,
      ...taken.map((b) => b.right + BETWEEN_MM),
      ...taken.map((b) => b.left),
      room.right - (box.right - box.left),
    ];
    const tops = [
      room.top,
      ...taken.map((b) => b.bottom - BETWEEN_MM),
      ...taken.map((b) => b.top),
      room.bottom + (box.top - box.bottom),
    ];
    let best: { dx: number; dy: number; cost: number } | undefined;
    for (const left of lefts)
      for (const top of tops) {
        const [dx, dy] = [left - box.left, top - box.top];
        const whole = moved(box, dx, dy);
        if (whole.left < room.left - 1e-9 || whole.right > room.right + 1e-9) continue;
        if (whole.bottom < room.bottom - 1e-9 || whole.top > room.top + 1e-9) continue;
        const own = item.boxes.map((b) => moved(b, dx, dy));
        if (own.some((b) => taken.some((t) => boxesMeet(b, t, BETWEEN_MM - 1e-6)))) continue;
        const cost = room.top - whole.top + (whole.left - room.left) * 0.7;
        if (!best || cost < best.cost - 1e-9) best = { dx, dy, cost };
      }
    if (!best) return null;
    placed.push({ item, ...best });
    taken.push(...item.boxes.map((b) => moved(b, best.dx, best.dy)));
  }
  const all = joinBoxes(taken);
  const mx = (room.left + room.right - all.left - all.right) / 2;
  const my = (room.bottom + room.top - all.bottom - all.top) / 2;
  return placed.flatMap(({ item, dx, dy }) => item.parts.map((p) => movePart(p, dx + mx, dy + my)));
}
