// Places as points of a box, for searching: foot on either zone and distance off it, each from 0 to 1, and the opening.
import { onPlane } from '../job';
import type { Vec3 } from '../space';
import { heightMiss, standingsOf, tiltsAt, wantsBracket } from './brackets';
import type { Body, Field } from './field';
import { toAxes } from './field';
import type { Quick, Hit } from './quick';
import { PARTS, quickOf } from './quick';
import type { Draw } from './random';
import { type SetStem, setStem } from './stems';
import { type Site, footIn, hasFoot, mountAxes } from './site';

/** A site in hinge axes. */
interface Ground {
  readonly site: Site;
  readonly middle: Vec3;
  readonly e: Vec3;
  readonly f: Vec3;
  readonly m: Vec3;
}

/** A base zone with a lid zone. */
export interface Pairing {
  readonly base: Ground;
  readonly lid: Ground;
}

/** A point of the search: foot x, y and off on the base zone, the same on the lid's, opening. */
export const SIZE = 7;

export interface Candidate {
  readonly pairing: number;
  readonly quantity: 0 | 1;
  readonly body: number;
  readonly at: Float64Array;
  score: number;
}

export interface Aim {
  readonly field: Field;
  readonly quick: Quick;
  readonly pairings: readonly Pairing[];
  /** Ball pairs looked at so far. */
  pairs: number;
  /** A random point of a pairing, inside both zones. */
  readonly scatter: (pairing: number, draw: Draw, into: Float64Array) => void;
  /** Moves a point back to where it is let. */
  readonly repair: (pairing: number, at: Float64Array) => void;
  /** Poses a point; every `step`th row. */
  readonly pose: (pairing: number, at: Float64Array, step: number) => void;
  /** Poses two balls in hinge axes. */
  readonly openIndex: (at: Float64Array) => number;
  readonly balls: (pairing: number, at: Float64Array) => { readonly base: Vec3; readonly lid: Vec3 };
  /** The point of a place: the nearest that is let. */
  readonly pointOf: (
    pairing: number,
    place: { readonly base: Vec3; readonly lid: Vec3; readonly openDeg: number },
  ) => Float64Array;
  /** Score of a body at a point: share to spare, negative where something is broken. */
  readonly score: (pairing: number, quantity: 0 | 1, body: Body, at: Float64Array, needed: number, hit: Hit) => number;
  /** Every demand of a body with one of its forces at a point, as a share, DEMANDS of them; the point is moved back to where it is let. */
  readonly shares: (
    pairing: number,
    quantity: 0 | 1,
    body: Body,
    force: number,
    at: Float64Array,
    into: Float64Array,
  ) => void;
  /** Stems at the present pose, on the mounts of both zones; where a first bracket must hold them, as one can for this body. */
  readonly stems: (
    pairing: number,
    body: Body,
    base: Vec3,
    lid: Vec3,
  ) => { readonly base: SetStem; readonly lid: SetStem };
}

/** A joint nearer to the end of its range than this may lose it when the stem is rounded: then that is looked at, degrees. */
const ROUNDING_DEG = 1.6;

/** A joint is held or not: it counts only where it is not, then by how far. */
export const heldOrNot = (share: number): number => (share < 0 ? 4 * share : 1);

/** How many demands `shares` tells: the judge's own, both joints, the gap of a pair, and both first brackets. */
export const DEMANDS = PARTS.length + 5;
/** A joint is held or not: beside its limit it counts as much as this many times its share, so that nothing else is given up for it. */
const JOINT_WEIGHT = 40;

/** What a search over a job's zones asks of a point: to be drawn, mended, posed and scored. */
export function aimOf(field: Field): Aim {
  const quick = quickOf(field);
  const turnedTo = (v: Vec3): Vec3 => {
    const { x, y, axis } = field;
    const d = (w: Vec3): number => w[0] * v[0] + w[1] * v[1] + w[2] * v[2];
    return [d(x), d(y), d(axis.opening)];
  };
  const groundOf = (site: Site): Ground => ({
    site,
    middle: toAxes(field, site.middle),
    e: turnedTo(site.e),
    f: turnedTo(site.f),
    m: turnedTo(site.normal),
  });
  const lids = field.lidSites.map(groundOf);
  const pairings = field.baseSites.map(groundOf).flatMap((base) => lids.map((lid): Pairing => ({ base, lid })));
  const base = [0, 0, 0] as [number, number, number];
  const lid = [0, 0, 0] as [number, number, number];
  const opens = field.opens.length;
  const openIndex = (at: Float64Array): number => Math.min(opens - 1, Math.max(0, Math.floor(at[6]! * opens)));

  const put = (
    { site, middle, e, f, m }: Ground,
    at: Float64Array,
    from: number,
    into: [number, number, number],
  ): void => {
    const x = site.low[0] + at[from]! * (site.high[0] - site.low[0]);
    const y = site.low[1] + at[from + 1]! * (site.high[1] - site.low[1]);
    const off = site.offMm[0] + at[from + 2]! * (site.offMm[1] - site.offMm[0]);
    for (let i = 0; i < 3; i++) into[i] = middle[i]! + x * e[i]! + y * f[i]! + off * m[i]!;
  };
  const mendOne = ({ site }: Ground, at: Float64Array, from: number): void => {
    at[from + 2] = Math.min(1, Math.max(0, at[from + 2]!));
    const [w, h] = [site.high[0] - site.low[0], site.high[1] - site.low[1]];
    const x = site.low[0] + at[from]! * w;
    const y = site.low[1] + at[from + 1]! * h;
    if (hasFoot(site, x, y)) return;
    const [px, py] = footIn(site, x, y);
    at[from] = (px - site.low[0]) / w;
    at[from + 1] = (py - site.low[1]) / h;
  };
  const scatterOne = ({ site }: Ground, draw: Draw, at: Float64Array, from: number): void => {
    const [w, h] = [site.high[0] - site.low[0], site.high[1] - site.low[1]];
    for (let go = 0; go < 100; go++) {
      at[from] = draw();
      at[from + 1] = draw();
      if (hasFoot(site, site.low[0] + at[from]! * w, site.low[1] + at[from + 1]! * h)) break;
    }
    at[from + 2] = draw();
  };
  const repair = (pairing: number, at: Float64Array): void => {
    const pair = pairings[pairing]!;
    mendOne(pair.base, at, 0);
    mendOne(pair.lid, at, 3);
    at[6] = Math.min(1, Math.max(0, at[6]!));
  };
  const pose = (pairing: number, at: Float64Array, step: number): void => {
    const pair = pairings[pairing]!;
    put(pair.base, at, 0, base);
    put(pair.lid, at, 3, lid);
    quick.pose(base, lid, openIndex(at), step);
    aim.pairs++;
  };
  const standings = standingsOf(field);
  /** How far a ball's height is from what a first bracket of its end reaches, mm; 0 where none is wanted. */
  const missMm = (end: 'base' | 'lid', { site }: Ground, { specs }: Body, offMm: number): number =>
    wantsBracket(site) ? heightMiss(standings(end, specs[0]!.rodMm), offMm) : 0;
  const bothMissMm = (pairing: number, body: Body, at: Float64Array): [number, number] => {
    const { base: ground, lid: above } = pairings[pairing]!;
    const off = ({ site: { offMm } }: Ground, from: number): number => offMm[0] + at[from]! * (offMm[1] - offMm[0]);
    return [missMm('base', ground, body, off(ground, 2)), missMm('lid', above, body, off(above, 5))];
  };
  const bracketed = pairings.map((pair) => wantsBracket(pair.base.site) || wantsBracket(pair.lid.site));
  const stems = (pairing: number, body: Body, at: Vec3, lidAt: Vec3): { base: SetStem; lid: SetStem } => {
    const pair = pairings[pairing]!;
    const tilts = (end: 'base' | 'lid', { site }: Ground, ball: Vec3): readonly number[] | null => {
      if (!wantsBracket(site)) return null;
      const all = standings(end, body.specs[0]!.rodMm);
      const there = tiltsAt(all, onPlane(site, ball).offMm);
      return there.length > 0 ? there : all.length > 0 ? all.map((s) => s.tiltDeg) : null;
    };
    const mountOf = ({ site }: Ground): { e: Vec3; side: Vec3; m: Vec3 } => {
      const { e, side, m } = mountAxes(site, at, lidAt);
      return { e: turnedTo(e), side: turnedTo(side), m: turnedTo(m) };
    };
    quick.joint('base');
    quick.joint('lid');
    return {
      base: setStem(field, quick, 'base', mountOf(pair.base), tilts('base', pair.base, at)),
      lid: setStem(field, quick, 'lid', mountOf(pair.lid), tilts('lid', pair.lid, lidAt)),
    };
  };
  const back = ([u, v, w]: Vec3): Vec3 => {
    const { x, y, axis } = field;
    const o = axis.origin;
    return [0, 1, 2].map((i) => o[i]! + u * x[i]! + v * y[i]! + w * axis.opening[i]!) as unknown as Vec3;
  };
  const aim: Aim = {
    field,
    quick,
    pairings,
    pairs: 0,
    repair,
    pose,
    openIndex,
    stems,
    scatter: (pairing, draw, into) => {
      const pair = pairings[pairing]!;
      scatterOne(pair.base, draw, into, 0);
      scatterOne(pair.lid, draw, into, 3);
      into[6] = draw();
    },
    pointOf: (pairing, place) => {
      const pair = pairings[pairing]!;
      const o = field.opens.findIndex(({ deg }) => deg >= place.openDeg - 1e-9);
      const at = new Float64Array(SIZE).fill(((o < 0 ? opens - 1 : o) + 0.5) / opens);
      for (const [{ site }, ball, from] of [
        [pair.base, place.base, 0],
        [pair.lid, place.lid, 3],
      ] as const) {
        const { foot, offMm } = onPlane(site, ball);
        const within = (v: number, [low, high]: readonly [number, number]): number =>
          high > low ? (v - low) / (high - low) : 0;
        at[from] = within(foot[0], [site.low[0], site.high[0]]);
        at[from + 1] = within(foot[1], [site.low[1], site.high[1]]);
        at[from + 2] = within(offMm, site.offMm);
      }
      repair(pairing, at);
      return at;
    },
    balls: (pairing, at) => {
      const pair = pairings[pairing]!;
      put(pair.base, at, 0, base);
      put(pair.lid, at, 3, lid);
      return { base: back(base), lid: back(lid) };
    },
    shares: (pairing, quantity, body, force, at, into) => {
      repair(pairing, at);
      pose(pairing, at, 1);
      const dead = quick.dead();
      if (dead < 0) {
        into.fill(-100 + dead);
        return;
      }
      quick.one(body, force, quantity);
      for (let i = 0; i < PARTS.length; i++) into[i] = quick.shareOf(i);
      const misses = bothMissMm(pairing, body, at);
      into[PARTS.length] = Math.min(1, JOINT_WEIGHT * quick.joint('base'));
      into[PARTS.length + 1] = Math.min(1, JOINT_WEIGHT * quick.joint('lid'));
      into[PARTS.length + 2] = quantity === 1 ? Math.min(1, quick.twinGapMm(body)) : 1;
      into[PARTS.length + 3] = misses[0] > 0 ? -misses[0] : 1;
      into[PARTS.length + 4] = misses[1] > 0 ? -misses[1] : 1;
    },
    score: (pairing, quantity, body, at, needed, hit) => {
      repair(pairing, at);
      pose(pairing, at, 1);
      hit.force = 0;
      const dead = quick.dead();
      if (dead < 0) return -100 + dead;
      let top = Math.min(1, quick.lengths(body));
      if (top < needed) return top;
      if (quantity === 1) {
        const gap = quick.twinGapMm(body);
        if (gap < 0) top = Math.min(top, gap / 10);
        if (top < needed) return top;
      }
      const range = { base: quick.joint('base'), lid: quick.joint('lid') };
      top = Math.min(top, heldOrNot(range.base), heldOrNot(range.lid));
      const missed = Math.max(...bothMissMm(pairing, body, at));
      if (missed > 0) top = Math.min(top, -missed / 10);
      if (top < needed) return top;
      quick.best(body, quantity, hit);
      top = Math.min(top, hit.score);
      if (top < needed || top < 0) return top;
      const near = (end: 'base' | 'lid'): boolean => range[end] * field.ends[end].rangeDeg < ROUNDING_DEG;
      if (bracketed[pairing] || near('base') || near('lid')) {
        const set = stems(pairing, body, back(base), back(lid));
        const off = (end: 'base' | 'lid'): number => set[end].offDeg - field.ends[end].rangeDeg;
        const worst = Math.max(off('base'), off('lid'));
        if (worst > 0) return -0.001 - worst / 100;
      }
      return top;
    },
  };
  return aim;
}
