import { type Aim, type Candidate, DEMANDS, SIZE, aimOf, heldOrNot } from './aim';
import { climb } from './climb';
import type { Field } from './field';
import { type Place, type Tried, different, placeOf } from './place';
import type { Hit } from './quick';
import { type Draw, gaussian, seeded } from './random';
import { followRidge } from './ridge';
import type { Workings } from '../workings';
import { workingsOf } from '../workings';
import { METRIC } from '../quantity';
import { attempt } from '../error';

/** How hard places are looked for. */
export interface SearchOptions {
  /** Share of the usual work, 1 without it. */
  readonly effort?: number;
  readonly seed?: number;
  /** Places that are given. */
  readonly most?: number;
}

/** What a search has found so far, or in the end. */
export interface Found {
  readonly places: readonly Place[];
  /** Where none is found: the nearest one, refused by what it says. */
  readonly nearest: Tried | null;
  readonly tried: { readonly pairs: number; readonly struts: number };
}

/** What is told while a search runs: share done, and the best score of a place so far (0 and over: it works). */
export interface Progress {
  readonly share: number;
  readonly best: number;
  /** Places that stand before the full findings, as far as they are known: they get better. */
  readonly places?: readonly Place[];
}

const SCATTER = 15_000;
const LEAST_SCATTER = 60_000;
const MOST_SCATTER = 120_000;
const SEED = 20_26;
/** Starts that are kept of a pairing, a quantity and a body. */
const KEPT = 4;
/** Rounds of climbing: so many starts, so many looks each, how wide at first. */
const ROUNDS = [
  { starts: 240, looks: 120, sigmas: [0.12] },
  { starts: 24, looks: 150, sigmas: [0.06, 0.015] },
] as const;
/** Scattered ball pairs between two reports. */
const CHUNK = 4000;
/** A body whose lengths are further off than this is not looked at, as a share (1 is 10 mm or the reserve). */
const NEAR_LENGTHS = -2.5;

/**
 * Looks for places. A generator, so that whoever runs it can show progress, stop it and take what there is: it yields how far it is and
 * returns what it found. The same field gives the same answer.
 *
 * Ball pairs are scattered over every pairing of zones; what closed forms rule out (dead centre, lengths) costs next to nothing. The
 * best starts of each pairing, quantity and strut are then improved by climbing without slopes, in rounds that keep the best. What is
 * offered is rounded to what a workshop can set and held against the full findings.
 */
export function* searchSteps(field: Field, options: SearchOptions = {}): Generator<Progress, Found, void> {
  const aim = aimOf(field);
  const draw = seeded(options.seed ?? SEED);
  const starts = yield* scatterSteps(aim, draw, options);
  const climbed = yield* climbSteps(aim, draw, starts, options.effort ?? 1);
  return yield* offerSteps(aim, climbed, options.most ?? 6);
}

/** searchSteps run to its end; null where onProgress says false. */
export function search(
  field: Field,
  options: SearchOptions & { readonly onProgress?: (progress: Progress) => boolean | void } = {},
): Found | null {
  const steps = searchSteps(field, options);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (options.onProgress?.(step.value) === false) return null;
  }
}

function* scatterSteps(aim: Aim, draw: Draw, options: SearchOptions): Generator<Progress, Candidate[], void> {
  const { field, quick, pairings } = aim;
  const effort = options.effort ?? 1;
  const count = effort * Math.min(Math.max(pairings.length * SCATTER, LEAST_SCATTER), MOST_SCATTER);
  const hit: Hit = { score: 0, force: 0 };
  const at = new Float64Array(SIZE);
  const kept = new Map<number, Candidate[]>();
  const bodies = field.bodies.length;
  let best = -Infinity;
  const reaches = new Float64Array(bodies);
  for (let i = 0; i < count; i++) {
    if (i % CHUNK === 0) yield { share: (0.5 * i) / count, best };
    const pairing = i % pairings.length;
    aim.scatter(pairing, draw, at);
    const rows = field.opens[aim.openIndex(at)]!.rows;
    aim.pose(pairing, at, Math.max(1, Math.ceil((rows - 1) / 9)));
    const dead = quick.dead();
    let joint = NaN;
    for (let b = 0; b < bodies; b++) reaches[b] = dead < 0 ? -100 + dead : quick.lengths(field.bodies[b]!);
    for (let b = 0; b < bodies; b++) {
      const body = field.bodies[b]!;
      const reach = reaches[b]!;
      if (reach < NEAR_LENGTHS && (dead < 0 || b > 0)) if (best > -0.5 || reach < best) continue;
      if (Number.isNaN(joint))
        joint = dead < 0 ? -1 : Math.min(heldOrNot(quick.joint('base')), heldOrNot(quick.joint('lid')));
      for (const size of field.quantities) {
        const quantity = size === 2 ? 1 : 0;
        const key = (pairing * 2 + quantity) * bodies + b;
        const list = kept.get(key);
        let score = Math.min(reach, joint);
        const least = list && list.length === KEPT ? list[KEPT - 1]!.score : -Infinity;
        if (score <= least) continue;
        if (quantity === 1 && quick.twinGapMm(body) < 0)
          score = Math.min(score, Math.max(-3, quick.twinGapMm(body) / 10));
        if (score <= least) continue;
        if (dead >= 0) {
          if (field.leastStopDeg !== null) quick.lengths(body);
          quick.best(body, quantity, hit);
          score = Math.min(score, hit.score);
        }
        if (score <= least) continue;
        if (score > best) best = score;
        keep(kept, key, { pairing, quantity, body: b, at: Float64Array.from(at), score });
      }
    }
  }
  return [...kept.values()].flat().sort((a, b) => b.score - a.score);
}

/** Keeps the best of a key, none too near to a better one. */
function keep(kept: Map<number, Candidate[]>, key: number, one: Candidate): void {
  const list = kept.get(key);
  if (!list) {
    kept.set(key, [one]);
    return;
  }
  const near = list.findIndex((other) => apart(one.at, other.at) < 0.12);
  if (near >= 0) {
    if (list[near]!.score >= one.score) return;
    list.splice(near, 1);
  }
  const place = list.findIndex((other) => other.score < one.score);
  list.splice(place < 0 ? list.length : place, 0, one);
  if (list.length > KEPT) list.pop();
}

const apart = (a: Float64Array, b: Float64Array): number => {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!));
  return most;
};

function* climbSteps(
  aim: Aim,
  draw: Draw,
  starts: Candidate[],
  effort: number,
): Generator<Progress, Candidate[], void> {
  const { field } = aim;
  const hit: Hit = { score: 0, force: 0 };
  let list = starts;
  const done: Candidate[] = [];
  const total = ROUNDS.reduce((sum, r) => sum + r.starts * r.looks * r.sigmas.length, 0);
  let looked = 0;
  for (const { starts: count, looks, sigmas } of ROUNDS) {
    const now = spread(list, Math.ceil(count * effort));
    for (const candidate of now) {
      const body = field.bodies[candidate.body]!;
      const judge = (at: Float64Array, needed: number): number =>
        aim.score(candidate.pairing, candidate.quantity, body, at, needed, hit);
      // what was scattered was judged on a coarse table
      candidate.score = judge(candidate.at, -Infinity);
      for (const sigma of sigmas)
        candidate.score = climb(candidate.at, judge, { looks, sigma, score: candidate.score, draw });
      const before = looked;
      looked += looks * sigmas.length;
      if (Math.floor(looked / 2000) > Math.floor(before / 2000))
        yield { share: Math.min(0.85, 0.5 + (0.35 * looked) / total), best: list[0]?.score ?? -Infinity };
    }
    if (count === ROUNDS[0].starts) now.push(...alongRidges(aim, now));
    now.sort((a, b) => b.score - a.score);
    done.push(...now.map((c) => ({ ...c, at: Float64Array.from(c.at) })));
    list = now;
  }
  for (const candidate of spread(list, Math.ceil(HOPPING * effort))) done.push(hop(aim, draw, candidate));
  const best = Math.max(...done.map((c) => c.score));
  if (Math.abs(best) < SCARCE)
    for (const candidate of spread(list, Math.ceil(HOPPING_FAR * effort))) {
      yield { share: 0.85, best };
      done.push(hop(aim, draw, candidate, 2 * HOPS));
    }
  return done.sort((a, b) => b.score - a.score);
}

/** How many of the best follow their ridge, each with its best force and those beside it. */
const RIDGES = 40;
const FORCES = [-3, -2, -1, 0, 1];

/** With the best force at every point a climber stays on the hill where its force is best: here each force is climbed with by itself. */
function alongRidges(aim: Aim, list: readonly Candidate[]): Candidate[] {
  const hit: Hit = { score: 0, force: 0 };
  return spread(
    [...list].sort((a, b) => b.score - a.score),
    RIDGES,
  ).flatMap((c) => {
    const body = aim.field.bodies[c.body]!;
    aim.score(c.pairing, c.quantity, body, c.at, -Infinity, hit);
    const start = hit.force;
    return FORCES.map((by) => start + by)
      .filter((force) => force >= 0 && force < body.specs.length)
      .map((force): Candidate => {
        const at = Float64Array.from(c.at);
        followRidge(at, (point, into) => aim.shares(c.pairing, c.quantity, body, force, point, into), DEMANDS);
        return { ...c, at, score: aim.score(c.pairing, c.quantity, body, at, -Infinity, hit) };
      });
  });
}

/** How many of the best hop at last, how often each, and how wide by turns. */
const HOPPING = 6;
/** Where no more than this is to spare, hills are small and many: more of them hop, twice as often. */
const SCARCE = 0.15;
const HOPPING_FAR = 30;
const HOPS = 24;
const WIDTHS = [0.2, 0.1, 0.05] as const;

/** A ridge bends and ends at a zone's corners, where following it stops short: from beside it is followed again, and what is better kept. */
function hop(aim: Aim, draw: Draw, from: Candidate, hops = HOPS): Candidate {
  const hit: Hit = { score: 0, force: 0 };
  const { pairing, quantity } = from;
  const body = aim.field.bodies[from.body]!;
  const best = { ...from, at: Float64Array.from(from.at) };
  best.score = aim.score(pairing, quantity, body, best.at, -Infinity, hit);
  let { force } = hit;
  for (let i = 0; i < hops; i++) {
    const at = best.at.map((v) => Math.min(1, Math.max(0, v + WIDTHS[i % WIDTHS.length]! * gaussian(draw))));
    followRidge(at, (point, into) => aim.shares(pairing, quantity, body, force, point, into), DEMANDS);
    const score = aim.score(pairing, quantity, body, at, best.score, hit);
    if (score <= best.score) continue;
    best.at.set(at);
    [best.score, force] = [score, hit.force];
  }
  return best;
}

/**
 * A place moved to where it is best in a job whose zones, limits or ranges are others than those it was found with, and held against that
 * job's full findings. Null where the job has no such zones or strut.
 */
export function moved(field: Field, place: Place): Tried | null {
  const aim = aimOf(field);
  const { base, lid } = place.ends;
  const pairing = aim.pairings.findIndex(
    (p) => p.base.site.zone.id === base.zoneId && p.lid.site.zone.id === lid.zoneId,
  );
  const body = field.bodies.findIndex((b) => field.list[b.entry]!.name === place.entry);
  if (pairing < 0 || body < 0) return null;
  const at = aim.pointOf(pairing, place);
  const from: Candidate = { pairing, body, quantity: place.quantity === 2 ? 1 : 0, at, score: -Infinity };
  return placeOf(aim, hop(aim, seeded(SEED), from));
}

/** The first `count` of a list, half of them by score alone, the others one of a kind each. */
function spread(list: readonly Candidate[], count: number): Candidate[] {
  const chosen = new Set(list.slice(0, Math.ceil(count * 0.6)));
  const kinds = new Set<string>([...chosen].map((c) => `${c.quantity} ${c.body} ${c.pairing}`));
  for (const c of list) {
    if (chosen.size >= count) break;
    const kind = `${c.quantity} ${c.body} ${c.pairing}`;
    if (chosen.has(c) || kinds.has(kind)) continue;
    kinds.add(kind);
    chosen.add(c);
  }
  for (const c of list) {
    if (chosen.size >= count) break;
    chosen.add(c);
  }
  return [...chosen];
}

/** Candidates that are worked out in full; for who asks for one place, as many as it takes to know whether there is any. */
const MOST_FULL = 26;
const FEW_FULL = 8;

function* offerSteps(aim: Aim, climbed: readonly Candidate[], most: number): Generator<Progress, Found, void> {
  const { field } = aim;
  const best = climbed[0]?.score ?? -Infinity;
  const before: Workings | undefined = attempt(() => workingsOf(field.raw, METRIC).computed()).value ?? undefined;
  const full: Tried[] = [];
  const good: Place[] = [];
  let looked = 0;
  for (const candidate of worthwhile(aim, climbed)) {
    if (looked >= (most === 1 ? FEW_FULL : MOST_FULL)) break;
    looked++;
    const tried = attempt(() => placeOf(aim, candidate, before)).value;
    yield { share: 0.85 + (0.15 * looked) / MOST_FULL, best, places: chosen(good, most) };
    if (!tried) continue;
    full.push(tried);
    const { place, refused } = tried;
    if (refused.length > 0 || place.spare < field.keepSpare || place.playMm < field.keepPlayMm) continue;
    good.push(place);
    // who asks for one place asks whether there is any
    if (most === 1 && looked >= 3) break;
  }
  const tried = { pairs: aim.pairs, struts: aim.quick.tried() };
  return { places: chosen(good, most), nearest: good.length > 0 ? null : nearestOf(full), tried };
}

/** In what order candidates are worked out in full: the best, then what differs, the weakest and the shortest among them. */
function worthwhile(aim: Aim, climbed: readonly Candidate[]): Candidate[] {
  const { field } = aim;
  const top = climbed[0];
  if (!top) return [];
  const enough = top.score > 0 ? Math.max(field.keepSpare, top.score / 2) : -Infinity;
  const asPlace = (c: Candidate): Parameters<typeof different>[0] => ({
    ...aim.balls(c.pairing, c.at),
    quantity: c.quantity === 1 ? 2 : 1,
    entry: String(c.body),
  });
  const distinct: Candidate[] = [];
  const seen: ReturnType<typeof asPlace>[] = [];
  const spare: Candidate[] = [];
  for (const c of climbed) {
    const place = asPlace(c);
    if (seen.every((other) => different(place, other))) {
      seen.push(place);
      distinct.push(c);
    } else if (spare.length < 6) spare.push(c);
  }
  const fit = distinct.filter((c) => c.score >= enough);
  const by = (value: (c: Candidate) => number): Candidate[] =>
    fit
      .map((c) => [c, value(c)] as const)
      .sort((a, b) => a[1] - b[1])
      .slice(0, 4)
      .map(([c]) => c);
  const body = (c: Candidate): (typeof field.bodies)[number] => field.bodies[c.body]!;
  const order = [
    ...distinct.slice(0, 3),
    ...spare.slice(0, 2),
    ...by((c) => (c.quantity + 1) * bestForceN(aim, c)),
    ...by((c) => body(c).extendedMm),
    ...by((c) => c.quantity * 1e3 - c.score),
    ...distinct.slice(3),
    ...spare,
  ];
  return [...new Set(order)];
}

/** The force of a candidate's body that does best there, N. */
function bestForceN(aim: Aim, { pairing, quantity, body, at }: Candidate): number {
  const hit: Hit = { score: 0, force: 0 };
  aim.score(pairing, quantity, aim.field.bodies[body]!, at, -Infinity, hit);
  return aim.field.bodies[body]!.specs[hit.force]!.forceN;
}

/**
 * Spare that counts as the same as the best, as a share of it: of those the place whose struts push least stands first, and of them the one
 * that loads the hinge least. A strong pair that just beats a mild one strains lid, mounts and hinge for nothing, and its tolerance is wider.
 */
const ALIKE = 0.99;
/** How much of its spare a place may lose, as a share, to load the hinges not at all. */
const LIGHTER = 0.25;

/** Up to `most` places that differ: most to spare, most play, weakest strut, lightest on the hinge, one strut, shortest, then the rest. */
function chosen(good: readonly Place[], most: number): Place[] {
  const hinge = (p: Place): number => p.greatestHingeN ?? Infinity;
  const best = Math.max(...good.map((p) => p.spare));
  const heaviest = Math.max(1, ...good.map(hinge).filter(Number.isFinite));
  const worth = (p: Place): number => p.spare * (1 - LIGHTER * Math.min(1, hinge(p) / heaviest));
  const byWorth = [...good].sort((a, b) => worth(b) - worth(a));
  const push = (p: Place): number => p.quantity * p.spec.forceN;
  const [top] = byWorth.filter((p) => p.spare >= ALIKE * best).sort((a, b) => push(a) - push(b) || hinge(a) - hinge(b));
  if (!top) return [];
  // what is barely a place is offered where nothing better is
  const sound = byWorth.filter((p) => p.spare >= best / 2);
  const picked: Place[] = [top];
  const take = (list: readonly Place[]): void => {
    const next = list.find((p) => picked.every((other) => different(p, other)));
    if (next && picked.length < most) picked.push(next);
  };
  const by = (value: (p: Place) => number): Place[] => [...sound].sort((a, b) => value(a) - value(b));
  take(by((p) => -p.playMm));
  take(by(push));
  take(by(hinge));
  if (top.quantity === 2) take(sound.filter((p) => p.quantity === 1));
  take(by((p) => p.spec.extendedMm));
  while (picked.length < most) {
    const before = picked.length;
    take(byWorth);
    if (picked.length === before) break;
  }
  return picked;
}

/** Of what was refused the one that is least so. */
function nearestOf(full: readonly Tried[]): Tried | null {
  const weight = ({ refused, place }: Tried): number =>
    refused.reduce((sum, f) => sum + 1 + Math.abs(f.margin ?? 10) / Math.max(1, Math.abs(f.limit ?? 1)), 0) -
    place.spare;
  return full.reduce<Tried | null>((a, b) => (a && weight(a) <= weight(b) ? a : b), null);
}
