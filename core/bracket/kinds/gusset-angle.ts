import type { Bracket } from '../../job';
import { type Rad, cos, sin, toRad } from '../../space';
import { bolted, fixingWhere, type IssueList, mm, spannerRoomMm } from '../check/issue';
import { type Contour, roundedPolygon } from '../contour';
import { fixingHoles } from '../pattern';
import type { BracketSpec } from '../types';
import { becomeAngle, halfUp, plainOr, washerMm } from './become';
import { BASE_LEG, type Change, type Kind, type Room } from './kind';

type Gusset = NonNullable<BracketSpec['gusset']>;

/** Throat of the fillet welds where the job gives none, mm: 0.7 of the thinner part, common practice. */
const throatMm = (a: number, b: number): number => Math.round(7 * Math.min(a, b)) / 10;

/** Where gussets stand, from the centre line, mm. */
const placesOf = ({ count, acrossMm }: Gusset): readonly number[] => (count === 1 ? [0] : [-acrossMm, acrossMm]);

/** A triangle whose corner is snipped off straight, just clear of the bend's inside radius. */
function outlineOf({ alongMm, upMm }: Gusset, snipMm: number): Contour {
  const corner = snipMm > 0 ? ([[snipMm, 0]] as const) : ([[0, 0]] as const);
  const end = snipMm > 0 ? ([[0, snipMm]] as const) : [];
  return roundedPolygon(
    [...corner, [alongMm, 0] as const, [0, upMm] as const, ...end].map((at) => ({ at, radiusMm: 0 })),
  );
}

export const gussetAngle: Kind = {
  name: 'Gusseted angle',
  use: 'A bent angle with ribs welded into its bend.',
  legs: ['base', 'upright'],
  holds: 'stud',
  bothSides: true,
  sizes: [
    BASE_LEG,
    [['gusset', 'thicknessMm'], 'gusset thickness'],
    [['gusset', 'alongMm'], 'gusset leg along the base'],
    [['gusset', 'upMm'], 'gusset leg up the upright'],
  ],
  edges: ['free-end', 'upright-top', 'side', 'stud-side'],
  settle: ({ gusset: g, thicknessMm, baseWidthMm }, { topWidthMm }) => ({
    gusset: g
      ? {
          ...{ thicknessMm: g.thicknessMm, alongMm: g.alongMm, upMm: g.upMm, count: g.count },
          acrossMm: g.count === 1 ? 0 : (g.acrossMm ?? (Math.min(baseWidthMm, topWidthMm) - g.thicknessMm) / 2),
          weldThroatMm: g.weldThroatMm ?? throatMm(g.thicknessMm, thicknessMm),
        }
      : null,
  }),
  plates: ({ gusset, name, insideRadiusMm }) =>
    gusset
      ? [
          {
            ...{ id: 'gusset', name: `${name}, gusset`, thicknessMm: gusset.thicknessMm },
            outline: outlineOf(gusset, insideRadiusMm),
            acrossMm: placesOf(gusset),
          },
        ]
      : [],
  handles: ({ gusset: g, thicknessMm: t }) =>
    g
      ? [
          {
            ...{ id: 'gusset-along', name: 'Gusset along the base', words: 'gusset along', faces: ['top', 'side'] },
            ...{ path: ['gusset', 'alongMm'], called: 'gusset’s leg along the base' },
            ...{ from: [t, g.acrossMm, t], way: [1, 0, 0], valueMm: g.alongMm },
          },
          {
            ...{ id: 'gusset-up', name: 'Gusset up the upright', words: 'gusset up', faces: ['side', 'front'] },
            ...{ path: ['gusset', 'upMm'], called: 'gusset’s leg up the upright' },
            ...{ from: [t, g.acrossMm, t], way: [0, 0, 1], valueMm: g.upMm },
          },
        ]
      : [],
  checkNumbers({ gusset }, list) {
    if (!gusset) list.fails('number', ['gusset'], 'The gusset has no sizes.', 'Give its thickness and its two legs.');
    else list.across(['gusset', 'acrossMm'], gusset.acrossMm);
  },
  checkRoom(spec, room, list) {
    const g = spec.gusset!;
    checkSize(spec, g, list);
    for (const across of placesOf(g)) {
      checkStud(spec, g, room, across, list);
      checkFixings(spec, g, room, across, list);
      checkSocket(spec, g, room, across, list);
    }
  },
  become(before) {
    const change = becomeAngle(before);
    return before.raw.gusset ? change : { ...change, gusset: usual(before.plain, change) };
  },
  /** Two gussets, three free fixings and its ball on the inside. */
  sample: {
    id: 'b5',
    name: 'Deck bracket',
    kind: 'gusset-angle',
    thicknessMm: 5,
    insideRadiusMm: 6,
    baseLegMm: 78,
    uprightLegMm: 83,
    baseWidthMm: 96,
    topWidthMm: 88,
    baseCornerRadiusMm: 7,
    topCornerRadiusMm: 16,
    fixings: [
      { id: 'f1', acrossMm: -28, fromEndMm: 15, diameterMm: 9 },
      { id: 'f2', acrossMm: 28, fromEndMm: 15, diameterMm: 9 },
      { id: 'f3', acrossMm: 0, fromEndMm: 30, diameterMm: 9, slotMm: 4, slotDeg: 90 },
    ],
    studHole: { diameterMm: 9, heightMm: 58 },
    ballOffsetMm: 17,
    ballSide: 'inside',
    gusset: { thicknessMm: 4, alongMm: 36, upMm: 42, count: 2, acrossMm: 38 },
    material: { name: 'Steel S355J2', densityKgM3: 7850 },
  },
};

/** On the bracket at all, and clear of each other. */
function checkSize(spec: BracketSpec, g: Gusset, list: IssueList): void {
  const { thicknessMm: t, insideRadiusMm: r } = spec;
  const room = { alongMm: spec.baseLegMm - t, upMm: spec.uprightLegMm - t };
  for (const key of ['alongMm', 'upMm'] as const) {
    if (g[key] <= r + 1e-9)
      list.fails(
        'gusset-small',
        ['gusset', key],
        `The gusset’s leg of ${mm(g[key])} ends in the bend’s radius (${mm(r)}): nothing of it is left to weld.`,
        `Make it well over ${mm(r)}.`,
      );
    if (g[key] > room[key] + 1e-9)
      list.fails(
        'gusset-over',
        ['gusset', key],
        `The gusset’s leg of ${mm(g[key])} sticks out over the bracket’s own leg.`,
        `At most ${mm(room[key])} here.`,
      );
  }
  const half = g.thicknessMm / 2;
  const risen = Math.max(0, g.upMm - r) / (spec.uprightLegMm - r - t);
  const halfUpright = (spec.baseWidthMm + (spec.topWidthMm - spec.baseWidthMm) * risen) / 2;
  const most = Math.min(halfUpright, spec.baseWidthMm / 2);
  if (g.acrossMm + half > most + 1e-9)
    list.fails(
      'gusset-side',
      ['gusset', 'acrossMm'],
      'The gusset stands out over the side of the upright.',
      `Set it at most ${mm(Math.max(0, most - half))} from the centre line.`,
    );
  if (g.count === 2 && g.acrossMm < half)
    list.fails(
      'gusset-side',
      ['gusset', 'acrossMm'],
      'The two gussets stand in each other.',
      `Set them at least ${mm(half)} from the centre line.`,
    );
}

/** Clear of the stud's hole, nut and washer. */
function checkStud(spec: BracketSpec, g: Gusset, room: Room, across: number, list: IssueList): void {
  const { studHole, thicknessMm: t } = spec;
  const nut = Math.max(studHole.diameterMm, room.stud?.washerDiameterMm ?? 0) / 2;
  const beside = Math.abs(studHole.acrossMm - across) - g.thicknessMm / 2;
  const inFront = (radiusMm: number): boolean => beside < radiusMm && studHole.heightMm - radiusMm < t + g.upMm;
  const advice = `Keep its upright leg under ${mm(studHole.heightMm - nut - t)}, or set two gussets apart.`;
  if (inFront(studHole.diameterMm / 2))
    list.fails('gusset-stud', ['gusset', 'upMm'], 'The gusset stands in front of the stud’s hole.', advice);
  else if (inFront(nut))
    list.fails(
      'gusset-nut',
      ['gusset', 'upMm'],
      `The stud’s ${spec.ballSide === 'inside' ? 'collar has' : 'nut and washer have'} no room beside the gusset.`,
      advice,
    );
}

/** Clear of fixings, their heads and a spanner. */
function checkFixings(spec: BracketSpec, g: Gusset, { screw }: Room, across: number, list: IssueList): void {
  const head = bolted(spec) ? screw : null;
  const need = Math.max(head?.acrossCornersMm ?? 0, ...spec.fixings.map((f) => f.diameterMm)) / 2;
  spec.fixings.forEach((f, i) => {
    const reach = (way: (angle: Rad) => number): number => (Math.abs(way(toRad(f.slotDeg))) * f.slotMm) / 2;
    const aside = Math.abs(f.acrossMm - across) - g.thicknessMm / 2 - reach(sin);
    const ahead = spec.baseLegMm - spec.thicknessMm - g.alongMm - f.fromEndMm - reach(cos);
    const away = Math.hypot(Math.max(0, aside), Math.max(0, ahead));
    if (away < need)
      list.fails(
        'gusset-fixing',
        fixingWhere(spec, i, 'acrossMm'),
        'A fixing’s hole or head has no room beside the gusset.',
        'Move the hole away, make the gusset shorter, or set it elsewhere.',
      );
    else if (head && away < spannerRoomMm(head.acrossFlatsMm))
      list.watch(
        'gusset-spanner',
        fixingWhere(spec, i, 'acrossMm'),
        `A spanner has ${mm(away)} between fixing and gusset; ${mm(spannerRoomMm(head.acrossFlatsMm))} is the usual room for a socket (common practice).`,
        'Move the hole away or make the gusset shorter.',
      );
  });
}

/** Clear of the socket of a joint on the inside. */
function checkSocket(spec: BracketSpec, g: Gusset, { ball }: Room, across: number, list: IssueList): void {
  if (!ball || spec.ballSide !== 'inside') return;
  const [x, y, z] = ball.at;
  const aside = Math.max(0, Math.abs(across - spec.studHole.acrossMm - y) - g.thicknessMm / 2);
  // distance from the gusset's sloping edge, in its own plane
  const [along, up] = [-x - spec.thicknessMm, z - spec.thicknessMm];
  const out = Math.max(0, (along * g.upMm + up * g.alongMm - g.alongMm * g.upMm) / Math.hypot(g.alongMm, g.upMm));
  if (Math.hypot(aside, out) < ball.radiusMm)
    list.fails(
      'ball-gusset',
      ['gusset'],
      'The joint’s socket meets the gusset.',
      'Put the ball outside, make the gusset lower, or set two gussets further apart.',
    );
}

/** Sizes that leave room beside holes and nut; where there is none, a small one, and the check says what is in its way. */
function usual(plain: Bracket, change: Change): Change['gusset'] {
  const t = plain.thicknessMm;
  const r = plainOr(change.insideRadiusMm, plain.insideRadiusMm);
  const upright = plainOr(change.uprightLegMm, plain.uprightLegMm);
  const height = plainOr(change.studHole?.heightMm, plain.studHole.heightMm);
  const leg = plainOr(change.baseLegMm, plain.baseLegMm);
  const nut = washerMm(plain.studHole.diameterMm);
  const narrow = Math.min(plain.baseWidthMm, plain.topWidthMm ?? plain.baseWidthMm);
  const studAcross = Math.abs(plain.studHole.acrossMm ?? 0);
  const onMiddle = studAcross < nut + t;
  const least = Math.max(1.5 * r, 8);
  for (const count of [1, 2] as const) {
    const acrossMm = count === 1 ? 0 : halfUp(narrow / 2 - t / 2) - 0.5;
    const besideStud = count === 2 && acrossMm - t / 2 > nut + studAcross;
    const up = Math.min(0.7 * (upright - t), besideStud || !onMiddle ? Infinity : height - nut - t - 1);
    const free = fixingHoles(plain).map((f) =>
      Math.abs(Math.abs(f.acrossMm) - acrossMm) > t / 2 + washerMm(f.diameterMm)
        ? Infinity
        : leg - t - f.fromEndMm - washerMm(f.diameterMm) - f.slotMm / 2,
    );
    const along = Math.min(0.7 * (leg - t), ...free);
    if (up < least || along < least) continue;
    const sizes = { thicknessMm: t, alongMm: Math.floor(along * 2) / 2, upMm: Math.floor(up * 2) / 2 };
    return count === 1 ? { ...sizes, count } : { ...sizes, count, acrossMm };
  }
  return { thicknessMm: t, alongMm: halfUp(least), upMm: halfUp(least), count: 1 };
}
