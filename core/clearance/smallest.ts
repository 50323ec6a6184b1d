import type { EndName } from '../job';
import { type Vec3, add, cos, dot, norm, rad, rotateVec, scale, sin, sub, toRad } from '../space';
import { type Segment, type Solid, segmentToPoint } from '../solid';
import { type Passage, type StrutGeometry, deadCentres, turned } from '../travel';

/** What a strut is made of for clearances: thick straight segments with round ends. */
export type StrutPart = 'base joint' | 'base shank' | 'tube' | 'rod' | 'lid shank' | 'lid joint';

/** Sizes of one end's joint, mm; 0 where they are not known. */
export interface EndSizes {
  readonly headRadiusMm: number;
  readonly shankRadiusMm: number;
  /** Ball or pin centre to the end of the shank. */
  readonly offsetMm: number;
}

/** A strut's sizes, mm. */
export interface StrutSizes {
  readonly tubeMm: number;
  readonly rodMm: number;
  readonly rodAt: EndName;
  readonly base: EndSizes;
  readonly lid: EndSizes;
}

/** One thick segment, from the base ball centre along the strut: ends at from and to, both mm from the base end. */
export interface Span {
  readonly part: StrutPart;
  readonly fromMm: number;
  readonly toMm: number;
  readonly radiusMm: number;
}

/**
 * Where the parts of a strut of `lengthMm` lie. The tube is as long as the compressed strut leaves room for, between the two
 * shanks: the longest it can be. The rod takes up the rest.
 */
export function spansOf(
  strut: Pick<StrutGeometry, 'extendedMm' | 'strokeMm'>,
  sizes: StrutSizes,
  lengthMm: number,
): Span[] {
  const base = Math.min(sizes.base.offsetMm, lengthMm / 2);
  const lid = Math.min(sizes.lid.offsetMm, lengthMm / 2);
  const room = Math.max(0, lengthMm - base - lid);
  const tube = Math.min(
    room,
    Math.max(0, strut.extendedMm - strut.strokeMm - sizes.base.offsetMm - sizes.lid.offsetMm),
  );
  const [tubeR, rodR] = [sizes.tubeMm / 2, sizes.rodMm / 2];
  const from = sizes.rodAt === 'lid' ? base : lengthMm - lid - tube;
  const spans: Span[] = [
    { part: 'base joint', fromMm: 0, toMm: 0, radiusMm: sizes.base.headRadiusMm },
    { part: 'base shank', fromMm: 0, toMm: base, radiusMm: sizes.base.shankRadiusMm },
    { part: 'tube', fromMm: from, toMm: from + tube, radiusMm: tubeR },
    sizes.rodAt === 'lid'
      ? { part: 'rod', fromMm: from + tube, toMm: lengthMm - lid, radiusMm: rodR }
      : { part: 'rod', fromMm: base, toMm: from, radiusMm: rodR },
    { part: 'lid shank', fromMm: lengthMm - lid, toMm: lengthMm, radiusMm: sizes.lid.shankRadiusMm },
    { part: 'lid joint', fromMm: lengthMm, toMm: lengthMm, radiusMm: sizes.lid.headRadiusMm },
  ];
  // the ends of tube and rod are flat with a rolled edge: a round end set in by half its radius lies between both (a sharp
  // rim would stand 0.12 of the radius out of it)
  const setIn = (s: Span): Span => {
    if (s.part !== 'tube' && s.part !== 'rod') return s;
    const by = Math.min(s.radiusMm / 2, (s.toMm - s.fromMm) / 2);
    return { ...s, fromMm: s.fromMm + by, toMm: s.toMm - by };
  };
  return spans.filter((s) => s.radiusMm > 0).map(setIn);
}

/** Both pivots at an opening angle (degrees) in the axes of one body, lid as closed. mm. */
export function pivotsIn(plan: Pick<Passage, 'axis'>, strut: StrutGeometry, body: EndName, angleDeg: number): Segment {
  const angle = toRad(angleDeg);
  const { origin, opening } = plan.axis;
  return body === 'base'
    ? { p: add(origin, strut.base), q: add(origin, turned(strut.lid, angle)) }
    : { p: add(origin, rotateVec(strut.base, opening, rad(-angle))), q: add(origin, turned(strut.lid, rad(0))) };
}

/** The smallest gap of a strut to a solid over the travel. */
export interface Clearance {
  /** Surface to surface, mm; negative where they go into each other (then only: by this much at least). */
  readonly gapMm: number;
  readonly part: StrutPart;
  /** Opening angle where, degrees. */
  readonly atDeg: number;
  /** The two points between which it is, base frame, at that opening angle: on the strut's middle line, and on the solid. */
  readonly onStrut: Vec3;
  readonly onSolid: Vec3;
  /** No gap anywhere over the travel is smaller than gapMm by more than this, mm. */
  readonly withinMm: number;
}

export interface ClearanceOptions {
  /** Which body the solid rides on. */
  readonly on: EndName;
  /** Round the pivot on the same body the strut is let be so far, mm. */
  readonly freeMm?: number;
  /** Parts to leave out: what is bolted to the solid on purpose. */
  readonly without?: readonly StrutPart[];
}

const FINE_MM = 0.05;
const FINE_SHARE = 0.02;
const MOST_LOOKS = 4000;
/** Tube and rod are looked at in so many segments: each moves at a pace of its own, and most are soon out of the question. */
const PIECES = 4;

/** Shortest and longest distance between the pivots over the travel, mm. */
function lengthsOver(plan: Pick<Passage, 'openDeg'>, { law }: StrutGeometry): readonly [number, number] {
  const open = toRad(plan.openDeg);
  const angles = [rad(0), open, ...deadCentres(law).filter((a) => a < open)];
  const lengths = angles.map((a) => Math.sqrt(Math.max(0, law.k + law.p * cos(a) + law.q * sin(a))));
  return [Math.min(...lengths), Math.max(...lengths)];
}

/** What is known of a segment at one angle. */
interface Look {
  readonly deg: number;
  /** Its gap, or, where that can't be the smallest, something not over it. */
  readonly gapMm: number;
  /** How far inside the free reach all of it lies; under 0 when some of it is outside. */
  readonly hiddenMm: number;
}

/** A stretch of the travel between two looks. */
interface Stretch {
  readonly a: Look;
  readonly b: Look;
  /** Nothing between is nearer. */
  readonly floor: number;
}

/**
 * The smallest gap between a strut and a solid over the whole travel; null where no part is left to look at. No angle step
 * decides: a point of the strut that lies s from the pivot on the solid's own body moves, seen from there, no faster than the
 * other pivot's share s/ℓ, so a stretch of travel is thrown out as soon as its ends are so far off that nothing between can
 * come nearer (Piyavskii's method). Looks until the answer is known within 0.05 mm or 2 % of the gap, or 4000 times.
 */
export function smallestGap(
  plan: Pick<Passage, 'axis' | 'openDeg'>,
  strut: StrutGeometry,
  sizes: StrutSizes,
  solid: Solid,
  { on, freeMm = 0, without = [] }: ClearanceOptions,
): Clearance | null {
  const [shortest, longest] = lengthsOver(plan, strut);
  if (!(shortest > 1e-6)) return null;
  const axial = dot(strut.base, plan.axis.opening);
  // mm per radian of the pivot on the other body
  const farMm = norm(on === 'base' ? strut.lid.even : sub(strut.base, scale(plan.axis.opening, axial)));
  let best: Omit<Clearance, 'withinMm'> | null = null;
  let looks = 0;

  const look = (part: StrutPart, share: readonly [number, number], deg: number): Look => {
    looks++;
    const pivots = pivotsIn(plan, strut, on, deg);
    const d = sub(pivots.q, pivots.p);
    const length = norm(d);
    const span = spansOf(strut, sizes, length).find((s) => s.part === part)!;
    const [from, to] = share.map((k) => span.fromMm + (span.toMm - span.fromMm) * k) as [number, number];
    const most = length - freeMm;
    const [near, end] =
      on === 'base' ? [Math.max(from, freeMm), Math.max(to, freeMm)] : [Math.min(from, most), Math.min(to, most)];
    const segment: Segment = { p: add(pivots.p, scale(d, near / length)), q: add(pivots.p, scale(d, end / length)) };
    const far = segmentToPoint(segment, solid.centre) - solid.reachMm - span.radiusMm;
    const hiddenMm = freeMm > 0 ? freeMm - (on === 'base' ? to : length - from) : -Infinity;
    if (best && far > best.gapMm) return { deg, gapMm: far, hiddenMm };
    const gap = solid.gapTo(segment);
    const gapMm = gap.distanceMm - span.radiusMm;
    if (hiddenMm < 0 && (!best || gapMm < best.gapMm))
      best = { gapMm, part, atDeg: deg, onStrut: gap.here, onSolid: gap.there };
    return { deg, gapMm, hiddenMm };
  };
  const smallest = (): typeof best => best;
  const target = (): number => {
    const gap = smallest()?.gapMm;
    return gap === undefined ? Infinity : gap - Math.max(FINE_MM, FINE_SHARE * Math.abs(gap));
  };

  const searches = spansOf(strut, sizes, longest)
    .filter((span) => !without.includes(span.part))
    .flatMap((span) => {
      const pieces = span.part === 'tube' || span.part === 'rod' ? PIECES : 1;
      return Array.from({ length: pieces }, (_, i) => ({
        part: span.part,
        share: [i / pieces, (i + 1) / pieces] as const,
      }));
    })
    .map(({ part, share }) => {
      // the furthest that the segment gets from the pivot on the solid's own body, over the shortest strut
      const reach = Math.max(
        freeMm,
        ...[shortest, longest].flatMap((length) => {
          const span = spansOf(strut, sizes, length).find((s) => s.part === part)!;
          return share.map((k) => {
            const at = span.fromMm + (span.toMm - span.fromMm) * k;
            return on === 'base' ? at : length - at;
          });
        }),
      );
      const pace = farMm * Math.min(1, reach / shortest);
      const stretch = (a: Look, b: Look): Stretch => {
        const turn = toRad(b.deg - a.deg);
        // lengths change no faster than the far pivot moves: hidden so deep at both ends it stays hidden between
        const staysHidden = a.hiddenMm >= 0 && b.hiddenMm >= 0 && a.hiddenMm + b.hiddenMm >= farMm * turn;
        return { a, b, floor: staysHidden ? Infinity : (a.gapMm + b.gapMm - pace * turn) / 2 };
      };
      const steps = Math.max(3, Math.ceil(plan.openDeg / 20));
      const known = Array.from({ length: steps + 1 }, (_, i) =>
        look(part, share, i === steps ? plan.openDeg : (plan.openDeg * i) / steps),
      );
      const open = known.slice(1).map((l, i) => stretch(known[i]!, l));
      return { part, share, stretch, open };
    });
  let floor = Infinity;
  for (const { part, share, stretch, open } of searches) {
    while (open.length > 0) {
      const last = open.pop()!;
      if (last.floor >= target()) continue;
      if (looks >= MOST_LOOKS) {
        floor = Math.min(floor, last.floor);
        continue;
      }
      const middle = look(part, share, (last.a.deg + last.b.deg) / 2);
      const halves = [stretch(last.a, middle), stretch(middle, last.b)];
      // the lower one is looked at next
      open.push(...halves.sort((x, y) => y.floor - x.floor));
    }
  }
  const found = smallest();
  if (!found) return null;
  const toBase = (v: Vec3): Vec3 =>
    on === 'base'
      ? v
      : add(plan.axis.origin, rotateVec(sub(v, plan.axis.origin), plan.axis.opening, toRad(found.atDeg)));
  return {
    ...found,
    onStrut: toBase(found.onStrut),
    onSolid: toBase(found.onSolid),
    withinMm: found.gapMm - Math.min(target(), floor),
  };
}
