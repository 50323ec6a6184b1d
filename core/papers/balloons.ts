import { type Box, circleMark, lineMark, type Mark, type Point } from '../drawing';
import { onCircle, rad } from '../space';
import { spreadOut } from './running';
import { textAt } from './text';

/** A part's number, and a place inside the part where its leader may end; paper mm. */
export interface BalloonTarget {
  readonly no: number;
  readonly at: Point;
}

/** Numerals twice as high as those of sizes would be; one circle size for all. Source: ISO 6433 (practice; not checked against its text). */
const TEXT_MM = 5;
const RADIUS_MM = 5.5;
const PITCH_MM = 13;
const DOT_MM = 0.6;
/** How far off the shape the columns stand, tried in turn. */
const OFF_MM = [12, 18, 26, 36];
/** What balloons take beside a shape at least, mm. */
export const BALLOON_ROOM_MM = OFF_MM[0]! + 2 * RADIUS_MM;
/** Clear between a leader and another balloon. */
const CLEAR_MM = 1;

interface Held extends BalloonTarget {
  slot: Point;
}

const length = (h: Held, slot = h.slot): number => Math.hypot(h.at[0] - slot[0], h.at[1] - slot[1]);

/** Whether the straight line a–b comes nearer to a point than this. */
function passes(a: Point, b: Point, p: Point, within: number): boolean {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy) < within;
}

/** Slots in a column left of the shape and one right of it, shared out so that the leaders are shortest: then none crosses another. */
function settle(targets: readonly BalloonTarget[], shape: Box, room: Box, off: number): Held[] | null {
  const middle = (shape.left + shape.right) / 2;
  const byX = [...targets].sort((p, q) => p.at[0] - q.at[0]);
  const most = Math.floor((room.top - room.bottom - 2 * RADIUS_MM) / PITCH_MM) + 1;
  const natural = byX.filter((t) => t.at[0] < middle).length;
  const left = Math.max(byX.length - most, Math.min(most, natural));
  const held: Held[] = [];
  for (const [own, x] of [
    [byX.slice(0, left), shape.left - off - RADIUS_MM],
    [byX.slice(left), shape.right + off + RADIUS_MM],
  ] as const) {
    if (own.length > 0 && (x - RADIUS_MM < room.left || x + RADIUS_MM > room.right)) return null;
    const sorted = [...own].sort((p, q) => p.at[1] - q.at[1]);
    const places = spreadOut(
      sorted.map((t) => t.at[1]),
      PITCH_MM,
      room.bottom + RADIUS_MM,
      room.top - RADIUS_MM,
    );
    if (!places) return null;
    held.push(...sorted.map((t, i): Held => ({ ...t, slot: [x, places[i]!] })));
  }
  // two leaders that cross get shorter when their slots are changed: where no change shortens, none crosses
  for (let changed = true; changed;) {
    changed = false;
    held.forEach((a, i) => {
      for (const b of held.slice(i + 1))
        if (length(a, b.slot) + length(b, a.slot) < length(a) + length(b) - 1e-6) {
          [a.slot, b.slot] = [b.slot, a.slot];
          changed = true;
        }
    });
  }
  return held;
}

const dotCorners = (at: Point, from: number): Point[] =>
  [0, 1, 2, 3].map((i) => onCircle(at, DOT_MM, rad(from + (i * Math.PI) / 2)));

/**
 * Balloons for these targets in two columns beside a shape, inside the room; leaders end in a dot, cross neither each other nor a balloon. Null where there
 * is no room. Paper mm. Source: ISO 6433 practice.
 */
export function balloons(targets: readonly BalloonTarget[], shape: Box, room: Box): Mark[] | null {
  for (const off of OFF_MM) {
    const held = settle(targets, shape, room, off);
    if (!held) return null;
    const meets = held.some((a) => held.some((b) => b !== a && passes(a.at, a.slot, b.slot, RADIUS_MM + CLEAR_MM)));
    if (meets) continue;
    return held.flatMap(({ no, at, slot }): Mark[] => {
      const long = Math.hypot(slot[0] - at[0], slot[1] - at[1]);
      const rim = (k: number): Point => [
        slot[0] + ((at[0] - slot[0]) * k) / long,
        slot[1] + ((at[1] - slot[1]) * k) / long,
      ];
      return [
        // three squares make the dot: an area of four corners is one that every DXF reader fills
        ...[0, 1, 2].map((turn): Mark => ({ kind: 'area', points: dotCorners(at, turn * (Math.PI / 6)) })),
        lineMark('narrow', at, rim(RADIUS_MM)),
        circleMark('narrow', slot, RADIUS_MM),
        textAt([slot[0], slot[1] - TEXT_MM / 2], String(no), no > 99 ? TEXT_MM * 0.7 : TEXT_MM, 'middle'),
      ];
    });
  }
  return null;
}
