// The fast judge: one place and one strut against every demand with a number, from flat arrays. What it says is held against
// the full findings before anything is offered.
import { demandOf } from '../demands';
import { BUCKLING_FACTOR } from '../strut';
import { type Vec3, asin, atan2, cos, sin, toDeg, toRad } from '../space';
import { strutStop } from '../travel';
import type { Body, EndLimits, Field } from './field';

/** What a body can do at a place: share of the tightest demand, 0 at its limit, and with which of its forces. */
export interface Hit {
  score: number;
  force: number;
}

const shareOf = (id: string) => demandOf(id)!.share;
const [ofReserve, ofHand, ofHold, ofRod] = ['closed-reserve', 'hand-opening', 'stays-open', 'rod-buckling'].map(
  shareOf,
) as [Share, Share, Share, Share];
type Share = ReturnType<typeof shareOf>;
/** From here on the rod bears. */
const ROD = BUCKLING_FACTOR;

/** Far outside: a place with a dead centre in its travel, or where another strut can't be. */
const HOPELESS = -100;
/** With lengths further off than this share no force is looked at. */
const FAR_OFF = -3;

export interface Quick {
  /** Poses a place (ball centres in hinge axes) with the lid opening to `opens[o]`; `step` takes every so manieth row only. */
  readonly pose: (base: Vec3, lid: Vec3, o: number, step: number) => void;
  /** 0 where the strut keeps turning the lid the same way; how far into the travel it does not, under 0. */
  readonly dead: () => number;
  /** Share to spare of both lengths of a body, 1 or less. */
  readonly lengths: (body: Body) => number;
  /** The best of a body's forces; quantity index 0 for one, 1 for a pair. `least`: no force is looked at under this. */
  readonly best: (body: Body, quantity: 0 | 1, hit: Hit) => void;
  /** One force of a body: its share to spare. */
  readonly one: (body: Body, force: number, quantity: 0 | 1) => number;
  /** What has least to spare of the force looked at last, as an index of PARTS; and in which load case, −1 where none decides. */
  readonly tightest: () => number;
  readonly tightestCase: (part: number) => number;
  readonly shareOf: (part: number) => number;
  /** Shares of one force by themselves: closed, open, lifting, holding, closing with what else more force harms, rod. */
  readonly shares: (body: Body, force: number, quantity: 0 | 1, into: Float64Array) => void;
  /** Share of an end's range that no stem can better: a bound from three directions, ≤ 1; under 0 no stem holds. */
  readonly joint: (end: 'base' | 'lid') => number;
  /** Gap between a strut and its mirror twin over clearanceMm, taken as round as its tube throughout, mm. */
  readonly twinGapMm: (body: Body) => number;
  /** The strut's direction base → lid at a row as its end sees it, hinge axes. */
  readonly direction: (end: 'base' | 'lid', row: number, into: Float64Array) => void;
  /** The stem of the bound: its best guess, hinge axes. */
  readonly guess: (end: 'base' | 'lid') => Vec3;
  /** The same with another row for the middle one of the three directions. */
  readonly guessWith: (end: 'base' | 'lid', row: number) => Vec3;
  readonly rows: () => number;
  /** Struts looked at so far. */
  readonly tried: () => number;
  readonly openDeg: () => number;
}

/** Demands with a share, in the order in which the judge keeps them. */
export const PARTS = [
  'closed-reserve',
  'open-reserve',
  'hand-opening',
  'stays-open',
  'hand-closing',
  'grip-at-shut',
  'latch-holds',
  'rod-buckling',
] as const;
const [CLOSED, OPEN, LIFT, HOLD, SHUT, GRIP, LATCH, BEARS] = [0, 1, 2, 3, 4, 5, 6, 7] as const;

const least3 = new Float64Array(9);

/** The unit n for which the greatest |n·u| over three directions (rows of `u`) is least, into `out`; gives that sine. */
function squarest(u: Float64Array, out: Float64Array): number {
  const [ax, ay, az, bx, by, bz, cx, cy, cz] = u as unknown as number[] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const px = by * cz - bz * cy;
  const py = bz * cx - bx * cz;
  const pz = bx * cy - by * cx;
  const qx = cy * az - cz * ay;
  const qy = cz * ax - cx * az;
  const qz = cx * ay - cy * ax;
  const rx = ay * bz - az * by;
  const ry = az * bx - ax * bz;
  const rz = ax * by - ay * bx;
  const det = ax * px + ay * py + az * pz;
  if (Math.abs(det) < 1e-12) {
    // all in one plane: square to it
    const long = px * px + py * py + pz * pz > rx * rx + ry * ry + rz * rz;
    const [x, y, z] =
      qx * qx + qy * qy + qz * qz > (long ? px * px + py * py + pz * pz : rx * rx + ry * ry + rz * rz)
        ? [qx, qy, qz]
        : long
          ? [px, py, pz]
          : [rx, ry, rz];
    const size = Math.sqrt(x * x + y * y + z * z);
    if (size < 1e-12) {
      // one direction only: anything square to it
      const [sx, sy, sz] = Math.abs(az) < 0.9 ? [-ay, ax, 0] : [0, -az, ay];
      const s = Math.sqrt(sx * sx + sy * sy + sz * sz) || 1;
      out[0] = sx / s;
      out[1] = sy / s;
      out[2] = sz / s;
      return 0;
    }
    out[0] = x / size;
    out[1] = y / size;
    out[2] = z / size;
    return 0;
  }
  let most = 0;
  for (let i = 0; i < 4; i++) {
    const s = i & 1 ? -1 : 1;
    const t = i & 2 ? -1 : 1;
    const x = px + s * qx + t * rx;
    const y = py + s * qy + t * ry;
    const z = pz + s * qz + t * rz;
    const square = x * x + y * y + z * z;
    if (square <= most) continue;
    most = square;
    out[0] = x;
    out[1] = y;
    out[2] = z;
  }
  const size = Math.sqrt(most);
  out[0]! /= size;
  out[1]! /= size;
  out[2]! /= size;
  return Math.abs(det) / size;
}

/** A judge of its own working arrays; see Quick. */
export function quickOf(field: Field): Quick {
  const { cases, limits, opens } = { ...field, limits: field.job.limits };
  const { cos: cosOf, sin: sinOf, gripRadiusMm: radius, leastStopDeg } = field;
  const reserveMm = limits.reserveMm;
  const scale = { liftNm: (limits.handOpenN * radius) / 1000 };
  const reserveShare = (mm: number, limit: number): number => ofReserve(mm, limit, scale);
  const handShare = (value: number, limit: number): number => ofHand(value, limit, scale);
  const overCentre = field.job.hinge.overCentre === true;
  const midMm = (field.axis.sign * field.axis.spanMm) / 2;
  const most = cosOf.length + 1;
  const len = new Float64Array(most);
  const arm = new Float64Array(most);
  const inverse = new Float64Array(most);
  const lastOpening = new Float64Array(cases.length);
  const lastClosing = new Float64Array(cases.length);
  const lastHolds = new Float64Array(cases.length);
  const dir = new Float64Array(3);
  const stem = { base: new Float64Array(3), lid: new Float64Array(3) };
  /** First row where another strut can't be, so that nothing is known. */
  const unknownFrom = Math.min(
    ...cases.map(({ openingNmm }) => (openingNmm.includes(NaN) ? openingNmm.findIndex(Number.isNaN) : Infinity)),
    Infinity,
  );
  // the present pose
  let [bx, by, bz, lx, ly, lz] = [0, 0, 0, 0, 0, 0];
  let [k, p, q] = [0, 0, 0];
  let o = 0;
  let step = 1;
  let last = 0;
  let [shortest, longest] = [0, 0];
  let deadness = 0;
  let [lastLen, lastArm] = [0, 0];
  let openDeg = 0;
  let count = 0;
  let up = 0;
  let down = 0;
  let bears = 1;
  const parts = new Float64Array(PARTS.length).fill(1);
  const caseOf = new Int32Array(PARTS.length).fill(-1);

  const rowLength = (c: number, s: number): number => Math.sqrt(Math.max(k + p * c + q * s, 1e-12));

  const closeTravel = (c: number, s: number, deg: number): void => {
    lastLen = rowLength(c, s);
    lastArm = (q * c - p * s) / (2 * lastLen);
    openDeg = deg;
    const first = len[0]!;
    shortest = Math.min(first, lastLen);
    longest = Math.max(first, lastLen);
    // the length has one wave a turn: between two ends of one slope it does not turn, short of half a turn
    const [slope0, slope1] = [q, q * c - p * s];
    const turns = slope0 * slope1 <= 0 || deg >= 180;
    deadness = 0;
    if (turns) {
      const amplitude = Math.hypot(p, q);
      // how deep goes by the slopes at both ends
      deadness = -Math.min(Math.abs(slope0), Math.abs(slope1)) / Math.max(amplitude, 1e-9) - 1e-9;
      // lengths at the dead centres inside
      for (const sign of [1, -1]) {
        const [dc, ds] = [(sign * p) / Math.max(amplitude, 1e-12), (sign * q) / Math.max(amplitude, 1e-12)];
        // inside (0, open): told by the turn from closed
        const centreDeg = (toDeg(atan2(ds, dc)) + 360) % 360;
        if (centreDeg >= deg) continue;
        const at = rowLength(dc, ds);
        shortest = Math.min(shortest, at);
        longest = Math.max(longest, at);
      }
    }
  };

  const pose = (base: Vec3, lid: Vec3, at: number, by1: number): void => {
    [bx, by, bz] = base;
    [lx, ly, lz] = lid;
    o = at;
    step = by1;
    const dz = bz - lz;
    k = bx * bx + by * by + lx * lx + ly * ly + dz * dz;
    p = -2 * (bx * lx + by * ly);
    q = -2 * (by * lx - bx * ly);
    const end = opens[o]!;
    last = end.rows - 1;
    for (let i = 0; i < last; i += step) {
      const c = cosOf[i]!;
      const s = sinOf[i]!;
      const l = Math.sqrt(Math.max(k + p * c + q * s, 1e-12));
      len[i] = l;
      arm[i] = (q * c - p * s) / (2 * l);
    }
    closeTravel(cosOf[last]!, sinOf[last]!, end.deg);
    for (let c = 0; c < cases.length; c++) {
      lastOpening[c] = cases[c]!.openingNmm[last]!;
      lastClosing[c] = cases[c]!.closingNmm[last]!;
      lastHolds[c] = cases[c]!.holdsNmm[o]!;
    }
  };

  /** Where the strut is the lid's stop: cuts the travel at its own stop; rest moments between rows by a straight line. */
  const stopAt = (body: Body): number => {
    const end = opens[o]!;
    const stop = strutStop({ k, p, q }, body.extendedMm, body.strokeMm);
    const deg = stop === null ? end.deg : Math.min(end.deg, toDeg(stop));
    const whole = Math.floor(deg + 1e-9);
    last = deg - whole > 1e-9 ? whole + 1 : whole;
    closeTravel(cos(toRad(deg)), sin(toRad(deg)), deg);
    const share = deg - whole;
    for (let c = 0; c < cases.length; c++) {
      const { openingNmm, closingNmm } = cases[c]!;
      const mix = (rows: Float64Array): number =>
        share > 1e-9 && whole + 1 < rows.length ? rows[whole]! * (1 - share) + rows[whole + 1]! * share : rows[whole]!;
      lastOpening[c] = mix(openingNmm);
      lastClosing[c] = mix(closingNmm);
      lastHolds[c] = (lastOpening[c]! + lastClosing[c]!) / 2;
    }
    return (deg - leastStopDeg!) / 10;
  };

  const lengths = (body: Body): number => {
    let stops = 1;
    let asked = reserveMm;
    if (leastStopDeg !== null) {
      stops = stopAt(body);
      if (openDeg < opens[o]!.deg - 1e-9) asked = 0;
      else if (leastStopDeg > 0) stops = Math.min(stops, -0.01);
    }
    const closed = reserveShare(shortest - body.compressedMm, reserveMm);
    const open = body.extendedMm - longest - asked;
    const opened =
      asked === 0 && leastStopDeg !== null ? (open >= -1e-6 ? 1 : open / 10) : reserveShare(open + asked, asked);
    parts[CLOSED] = closed;
    parts[OPEN] = Math.min(opened, stops);
    return Math.min(closed, parts[OPEN]!);
  };

  /** Shares of what more force helps (up) and of what it harms (down), for an arm over 0. */
  const forces = (body: Body, f: number, quantity: 0 | 1, by1: number): void => {
    count++;
    const fill = body.fill[f]!;
    const { extendedMm, strokeMm, halfN, atmosphereN } = body;
    let mostInverse = 0;
    for (let i = 0; i < last; i += by1) {
      const raw = extendedMm - len[i]!;
      const s = raw < 0 ? 0 : raw > strokeMm ? strokeMm : raw;
      const v = 1 / (1 - fill * s);
      inverse[i] = v;
      if (v > mostInverse) mostInverse = v;
    }
    const rawLast = extendedMm - lastLen;
    const sLast = rawLast < 0 ? 0 : rawLast > strokeMm ? strokeMm : rawLast;
    const lastInverse = 1 / (1 - fill * sLast);
    if (lastInverse > mostInverse) mostInverse = lastInverse;
    const heldInverse = 1 / (1 - body.heldFill[f]! * sLast);
    let least = Infinity;
    let greatest = -Infinity;
    let hold = Infinity;
    let load = 0;
    let grip = -Infinity;
    let latch = -Infinity;
    const n = cases.length;
    for (let c = 0; c < n; c++) {
      const { openingNmm, closingNmm, pushing } = cases[c]!;
      const number = pushing[quantity];
      const full = number === 0 ? 0 : body.fullN[f * n + c]!;
      const atmosphere = number === 0 ? 0 : atmosphereN;
      const half = number === 0 ? 0 : halfN;
      let leastHere = Infinity;
      let greatestHere = -Infinity;
      for (let i = 0; i < last; i += by1) {
        const a = arm[i]!;
        const push = number * (full * inverse[i]! - atmosphere) * a;
        const drag = number * half * (a < 0 ? -a : a);
        const opening = openingNmm[i]! + push - drag;
        const closing = closingNmm[i]! + push + drag;
        if (opening < leastHere) leastHere = opening;
        if (closing > greatestHere) greatestHere = closing;
      }
      const push = number * (full * lastInverse - atmosphere) * lastArm;
      const drag = number * half * Math.abs(lastArm);
      const opening = lastOpening[c]! + push - drag;
      const closing = lastClosing[c]! + push + drag;
      if (opening < leastHere) leastHere = opening;
      if (closing > greatestHere) greatestHere = closing;
      if (leastHere < least) [least, caseOf[LIFT]] = [leastHere, c];
      if (greatestHere > greatest) [greatest, caseOf[SHUT]] = [greatestHere, c];
      const holds =
        lastHolds[c]! + (number === 0 ? 0 : number * (body.heldN[f * n + c]! * heldInverse - atmosphere) * lastArm);
      if (holds < hold) [hold, caseOf[HOLD]] = [holds, c];
      const pressed = full * mostInverse - atmosphere + half;
      if (number > 0 && pressed > load) [load, caseOf[BEARS]] = [pressed, c];
      const shut = number * (full * inverse[0]! - atmosphere) * arm[0]!;
      const opened = openingNmm[0]! + shut - number * half * Math.abs(arm[0]!);
      if (opened > grip) [grip, caseOf[GRIP]] = [opened, c];
      const mean = (openingNmm[0]! + closingNmm[0]!) / 2 + shut;
      if (mean > latch) [latch, caseOf[LATCH]] = [mean, c];
    }
    parts.fill(1, LIFT);
    if (n > 0) {
      parts[LIFT] = last >= unknownFrom ? HOPELESS : handShare(-least / radius, limits.handOpenN);
      parts[HOLD] = ofHold(hold / 1000, limits.holdOpenNm, scale);
      parts[SHUT] = handShare(greatest / radius, limits.handCloseN);
    }
    if (limits.letGoN !== undefined) parts[GRIP] = handShare(Math.max(0, grip) / radius, limits.letGoN);
    if (field.latch) parts[LATCH] = handShare(Math.max(0, latch) / field.latch.armMm, field.latch.ratedN);
    bears = load > 0 && body.plainN / load < ROD ? ofRod(body.steppedN / load, ROD, scale) : 1;
    parts[BEARS] = bears;
    up = Math.min(parts[LIFT]!, parts[HOLD]!);
    down = Math.min(parts[SHUT]!, parts[GRIP]!, parts[LATCH]!);
  };

  const scoreOf = (): number => Math.min(up, down, bears);

  /** Rows apart while the right force is looked for: enough to see the curve. */
  const coarse = (): number => Math.max(step, Math.ceil(last / 9 / step) * step);

  const best = (body: Body, quantity: 0 | 1, hit: Hit): void => {
    hit.force = 0;
    const reach = lengths(body);
    if (reach < FAR_OFF || (deadness < 0 && !overCentre)) {
      hit.score = Math.min(reach, deadness < 0 && !overCentre ? HOPELESS + deadness : 0);
      return;
    }
    const forceCount = body.specs.length;
    const rows = coarse();
    let top = -Infinity;
    let at = 0;
    const look = (f: number, by1: number): void => {
      forces(body, f, quantity, by1);
      const score = scoreOf();
      if (score > top) [top, at] = [score, f];
    };
    if (deadness < 0) {
      for (let f = 0; f < forceCount; f++) look(f, rows);
    } else {
      // at an arm over 0 more force helps what is up and harms what is down and the rod; under 0 it harms what is up too
      const pushes = arm[0]! + lastArm > 0;
      let [low, high] = [0, forceCount - 1];
      while (low < high) {
        const middle = (low + high) >> 1;
        look(middle, rows);
        const helped = pushes ? up : down;
        const harmed = Math.min(pushes ? down : up, bears);
        if (helped < harmed) low = middle + 1;
        else high = middle;
      }
      look(low, rows);
    }
    if (rows > step) {
      // with every row; the neighbours may be better now
      const start = at;
      top = -Infinity;
      look(start, step);
      const reached = top;
      if (start > 0) look(start - 1, step);
      if (start + 1 < forceCount && (top === reached || at === start)) look(start + 1, step);
    }
    hit.score = Math.min(reach, top);
    hit.force = at;
  };

  const one = (body: Body, force: number, quantity: 0 | 1): number => {
    const reach = lengths(body);
    if (deadness < 0 && !overCentre) return HOPELESS + deadness;
    forces(body, force, quantity, step);
    return Math.min(reach, scoreOf());
  };

  const shares = (body: Body, force: number, quantity: 0 | 1, into: Float64Array): void => {
    lengths(body);
    forces(body, force, quantity, step);
    into[0] = parts[CLOSED]!;
    into[1] = parts[OPEN]!;
    into[2] = parts[LIFT]!;
    into[3] = parts[HOLD]!;
    into[4] = down;
    into[5] = bears;
  };

  const direction = (end: 'base' | 'lid', row: number, into: Float64Array): void => {
    const at = row >= last ? last : row;
    const [cc, ss] =
      at === last && leastStopDeg !== null ? [cos(toRad(openDeg)), sin(toRad(openDeg))] : [cosOf[at]!, sinOf[at]!];
    const l = rowLength(cc, ss);
    if (end === 'base') {
      into[0] = (lx * cc - ly * ss - bx) / l;
      into[1] = (lx * ss + ly * cc - by) / l;
    } else {
      into[0] = (lx - bx * cc - by * ss) / l;
      into[1] = (ly + bx * ss - by * cc) / l;
    }
    into[2] = (lz - bz) / l;
  };

  const joint = (end: 'base' | 'lid'): number => {
    const { rangeDeg, axial }: EndLimits = field.ends[end];
    const out = stem[end];
    direction(end, 0, dir);
    least3.set(dir, 0);
    direction(end, last, dir);
    least3.set(dir, 6);
    direction(end, last >> 1, dir);
    least3.set(dir, 3);
    let offDeg: number;
    if (axial) {
      for (let i = 0; i < 3; i++) out[i] = least3[i]! + least3[6 + i]!;
      const size = Math.hypot(out[0]!, out[1]!, out[2]!) || 1;
      for (let i = 0; i < 3; i++) out[i]! /= size;
      const half = Math.hypot(least3[0]! - least3[6]!, least3[1]! - least3[7]!, least3[2]! - least3[8]!) / 2;
      offDeg = toDeg(asin(Math.min(1, half)));
    } else offDeg = toDeg(asin(Math.min(1, squarest(least3, out))));
    return rangeDeg > 0 ? (rangeDeg - offDeg) / rangeDeg : -offDeg;
  };

  return {
    pose,
    dead: () => (overCentre ? 0 : deadness),
    lengths,
    best,
    one,
    shares,
    tightest: () => {
      let least = 0;
      for (let i = 1; i < parts.length; i++) if (parts[i]! < parts[least]!) least = i;
      return least;
    },
    shareOf: (part) => parts[part]!,
    tightestCase: (part) => (part > OPEN ? caseOf[part]! : -1),
    joint,
    direction,
    twinGapMm: ({ tubeMm }) => {
      const [b, l] = [bz - midMm, lz - midMm];
      if (b * l <= 0) return -Math.min(Math.abs(b), Math.abs(l)) - tubeMm - limits.clearanceMm;
      return 2 * Math.min(Math.abs(b), Math.abs(l)) - tubeMm - limits.clearanceMm;
    },
    guess: (end) => [stem[end][0]!, stem[end][1]!, stem[end][2]!],
    guessWith: (end, row) => {
      for (const [i, at] of [0, row, last].entries()) {
        direction(end, at, dir);
        least3.set(dir, 3 * i);
      }
      const out = new Float64Array(3);
      squarest(least3, out);
      return [out[0]!, out[1]!, out[2]!];
    },
    rows: () => last + 1,
    tried: () => count,
    openDeg: () => openDeg,
  };
}
