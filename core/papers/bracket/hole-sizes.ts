import type { Point2, ThreadName } from '../../bracket';
import { circleMark, formatNumber, lineMark } from '../../drawing';
import { type Rad, atan2, cos, onCircle, rad, sin, toDeg } from '../../space';
import { textAt } from '../text';
import { holeFor } from '../fastening';
import type { Sketch } from './view-marks';
import { leaderOf, roundOf } from './wanted';

/** A hole as a view shows it, real mm in the view's own axes. */
export interface HoleSite {
  readonly id: string;
  readonly at: Point2;
  readonly diameterMm: number;
  readonly slotMm: number;
  /** Direction of a slot in the view, 0 to π. */
  readonly slotRad: Rad;
}

/** What places are measured from. */
export interface Datum {
  /** A point on the edge that sizes across start from, and on the end that sizes along start from. */
  readonly edge: Point2;
  readonly end: Point2;
  /** The centre line. */
  readonly middle: number;
  /** The origin that a table of holes counts from, and which way it counts along: 1 up, −1 down; across it counts to the right. */
  readonly origin: Point2;
  readonly up: 1 | -1;
  /** Where sizes across and along go first. */
  readonly acrossSide: 1 | -1;
  readonly alongSide: 1 | -1;
}

/** A line of the hole table. */
export interface HoleRow {
  readonly name: string;
  readonly across: string;
  readonly along: string;
  readonly size: string;
}

/** Ring round the origin of a table of holes, on paper. */
const ORIGIN_MM = 1.2;
const NEAR_MM = 1e-6;
/** More sizes of place than this are read better from a table. */
const MOST_PLACES = 6;
const distinct = (values: readonly number[]): number[] =>
  [...values].sort((a, b) => a - b).filter((v, i, all) => i === 0 || v - all[i - 1]! > NEAR_MM);
const nth = (i: number): string => (i === 0 ? '' : `-${i + 1}`);

const turned = (angle: Rad): Rad => (Math.abs(angle - Math.PI) < 1e-9 ? rad(0) : angle);

/**
 * Words after a slot's width: its whole length, and its direction where it follows neither axis: how far its upper end leans off the upright
 * centre line, and to which hand as it is seen.
 */
function slotWords(hole: HoleSite): string {
  const deg = toDeg(turned(hole.slotRad));
  const aslant = Math.abs(deg) > 1e-6 && Math.abs(deg - 90) > 1e-6;
  return ` × ${formatNumber(hole.diameterMm + hole.slotMm, 2)}${aslant ? `, ${formatNumber(Math.abs(90 - deg), 1)}° to the ${deg < 90 ? 'right' : 'left'}` : ''}`;
}

/** Alike in size, slot and direction. */
const kindOf = (h: HoleSite): string =>
  [h.diameterMm, h.slotMm, h.slotMm > 0 ? Math.round(turned(h.slotRad) * 1e6) : 0].join();

/** How far a hole's centre lines reach from its centre along an axis, as a diameter. */
const reachMm = (h: HoleSite, axis: 'x' | 'y'): number =>
  h.diameterMm + h.slotMm * Math.abs(axis === 'x' ? cos(h.slotRad) : sin(h.slotRad));

/** One size for each kind of hole, on a leader to the one that stands furthest right and up. */
export function sizeHoles(sketch: Sketch, holes: readonly HoleSite[], name: string, thread: ThreadName | null): void {
  const kinds = new Map<string, HoleSite[]>();
  for (const hole of holes) kinds.set(kindOf(hole), [...(kinds.get(kindOf(hole)) ?? []), hole]);
  [...kinds.values()].forEach((alike, i) => {
    const hole = alike.reduce((p, q) => (q.at[0] + q.at[1] / 4 > p.at[0] + p.at[1] / 4 + NEAR_MM ? q : p));
    const count = alike.length > 1 ? `${alike.length}× ` : '';
    const s = sketch.scale;
    const id = `${name}${nth(i)}`;
    const words = holeFor(hole.diameterMm, thread);
    if (hole.slotMm <= 0)
      return void sketch.wanted.push(
        roundOf(id, s, 'diameter', sketch.at(hole.at), (hole.diameterMm / 2) * s, {
          before: `${count}${words.before}`,
          after: words.after,
        }),
      );
    // the arrow stands on the round end that looks to the right
    const way = cos(hole.slotRad) < -1e-9 ? -1 : 1;
    const end: Point2 = [
      hole.at[0] + (way * cos(hole.slotRad) * hole.slotMm) / 2,
      hole.at[1] + (way * sin(hole.slotRad) * hole.slotMm) / 2,
    ];
    const middle = way > 0 ? hole.slotRad : hole.slotRad + Math.PI;
    const round = roundOf(id, s, 'diameter', sketch.at(end), (hole.diameterMm / 2) * s, {}, [
      middle - Math.PI / 2,
      middle + Math.PI / 2,
    ]);
    sketch.wanted.push(
      leaderOf(id, s, { of: 'diameter', centre: sketch.at(end), radiusMm: (hole.diameterMm / 2) * s }, round.tip, {
        before: `${count}slot `,
        after: `${slotWords(hole)}${words.after}`,
      }),
    );
  });
}

/** Sizes of place for holes: spacings where they lie evenly about the centre line, else from the datum edge; null when they are better in a table. */
export function placeHoles(
  sketch: Sketch,
  holes: readonly HoleSite[],
  datum: Datum,
  thread: ThreadName | null,
): HoleRow[] | null {
  if (holes.length === 0) return null;
  const even = holes.every((h) =>
    holes.some(
      (o) =>
        kindOf({ ...o, slotRad: rad(0) }) === kindOf({ ...h, slotRad: rad(0) }) &&
        Math.abs(o.at[1] - h.at[1]) < NEAR_MM &&
        Math.abs(o.at[0] + h.at[0] - 2 * datum.middle) < NEAR_MM,
    ),
  );
  const across = distinct(holes.map((h) => (even ? Math.abs(h.at[0] - datum.middle) : h.at[0]))).filter(
    (v) => !even || v > NEAR_MM,
  );
  const along = distinct(holes.map((h) => h.at[1]));
  if (across.length + along.length > MOST_PLACES) return rows(holes, datum, thread);
  const nearest = (list: readonly HoleSite[], k: 0 | 1, side: number): HoleSite =>
    list.reduce((p, q) => ((q.at[k] - p.at[k]) * side > NEAR_MM ? q : p));
  across.forEach((v, i) => {
    const pick = (x: number): HoleSite =>
      nearest(
        holes.filter((h) => Math.abs(h.at[0] - x) < NEAR_MM),
        1,
        datum.acrossSide,
      );
    if (even) {
      const [a, b] = [pick(datum.middle - v), pick(datum.middle + v)];
      sketch.size(`hole-spacing${nth(i)}`, 'x', a.at, b.at, datum.acrossSide, {
        holes: [reachMm(a, 'y'), reachMm(b, 'y')],
      });
    } else {
      const h = pick(v);
      sketch.size(`hole-across${nth(i)}`, 'x', datum.edge, h.at, datum.acrossSide, { holes: [0, reachMm(h, 'y')] });
    }
  });
  const inOrder = [...along].sort((a, b) => Math.abs(a - datum.end[1]) - Math.abs(b - datum.end[1]));
  inOrder.forEach((v, i) => {
    const h = nearest(
      holes.filter((o) => Math.abs(o.at[1] - v) < NEAR_MM),
      0,
      datum.alongSide,
    );
    sketch.size(`hole-from-end${nth(i)}`, 'y', datum.end, h.at, datum.alongSide, { holes: [0, reachMm(h, 'x')] });
  });
  return null;
}

function sizeWords(h: HoleSite, thread: ThreadName | null): string {
  const { before, after } = holeFor(h.diameterMm, thread);
  const figure = formatNumber(h.diameterMm, 2);
  return h.slotMm > 0 ? `slot ${figure}${slotWords(h)}${after}` : `${before}${figure}${after}`;
}

const signed = (value: number): string => formatNumber(value, 2).replace(/^-/, '−');

/** Rings the origin that the table counts from, and says which way it counts. */
export function markOrigin(sketch: Sketch, { origin, up }: Datum): void {
  const at = sketch.at(origin);
  sketch.pen.push(circleMark('narrow', at, ORIGIN_MM));
  const words = `0: x to the right, y ${up === 1 ? 'up' : 'down'}`;
  sketch.wanted.push({
    kind: 'leader',
    id: 'hole-origin',
    tip: (landing) => onCircle(at, ORIGIN_MM, atan2(landing[1] - at[1], landing[0] - at[0])),
    draw: (from, landing, side) => [
      lineMark('narrow', from, landing),
      textAt([landing[0] + side, landing[1] - 1.75], words, 3.5, side === 1 ? 'start' : 'end'),
    ],
  });
}

function rows(holes: readonly HoleSite[], datum: Datum, thread: ThreadName | null): HoleRow[] {
  return holes.map((h, i) => ({
    name: `${i + 1}`,
    across: signed(h.at[0] - datum.origin[0]),
    along: signed((h.at[1] - datum.origin[1]) * datum.up),
    size: sizeWords(h, thread),
  }));
}
