import {
  ballAt,
  type BracketSpec,
  bracketSpecOf,
  type HardwareBody,
  hardwareBodies,
  hardwareOf,
  isBent,
  isPinned,
  movedContour,
  originFromEndMm,
  placedHoles,
  type Point2,
  standBracket,
  viewOf,
} from '../bracket';
import {
  boundsOf,
  circleMark,
  lineMark,
  type LineRole,
  type Mark,
  type Point,
  polygonMark,
  polylineMark,
} from '../drawing';
import type { Bracket, EndName, ResolvedJob, Strut } from '../job';
import { footprintSize, sizedFitting, thicknessAt } from '../joint';
import { type Vec3, cos, distance, dot, rad, sin, sub, toRad, unit } from '../space';
import type { Frame } from '../travel';
import { endWedge } from './end-wedge';
import type { PartRole } from './parts';

/** A place inside a part of the drawing. */
export interface PartPlace {
  readonly role: PartRole;
  readonly at: Point;
}

/** One end put together, seen from the side of its bracket, the mount's surface at height 0. Paper mm. */
export interface EndArt {
  readonly marks: readonly Mark[];
  readonly places: readonly PartPlace[];
}

/** Shown of the mount past the parts, and its thickness where nobody states one; of the strut past its fitting. Real mm. */
const PAST_MM = 12;
const SHOWN_MOUNT_MM = 10;
const SHOWN_STRUT_MM = 22;
/** A strut that points at the eye more than this shows its head alone. */
const LEAST_ASIDE = 0.3;

/** A place in the bracket's body that no screw and no stud goes through, in the bracket frame, mm. */
export function bodyPlace(spec: BracketSpec): Vec3 {
  const t = spec.thicknessMm;
  const middle = 0 - spec.studHole.acrossMm;
  if (isBent(spec)) return [-t / 2, middle, t + (spec.studHole.heightMm - t) * 0.45];
  const from = originFromEndMm(spec);
  const taken = [0, ...spec.fixings.map((f) => f.fromEndMm - from)];
  const free = (x: number): number => Math.min(...taken.map((u) => Math.abs(u - x)));
  const places = Array.from({ length: 19 }, (_, i) => -from + (spec.baseLegMm * (i + 1)) / 20);
  return [places.reduce((p, q) => (free(q) > free(p) ? q : p)), middle, t / 2];
}

const broken = (a: Point, b: Point): Mark => {
  const on = (t: number, aside: number): Point => {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const long = Math.hypot(dx, dy) || 1;
    return [a[0] + dx * t - (dy / long) * aside, a[1] + dy * t + (dx / long) * aside];
  };
  return polylineMark('narrow', [a, on(0.4, 0), on(0.46, 1.4), on(0.54, -1.4), on(0.6, 0), b]);
};

/** Draws with a pen that turns and lifts the bracket's side view to where it stands on its wedge. */
class EndPen {
  readonly marks: Mark[] = [];
  readonly places: PartPlace[] = [];
  private readonly seen = new Set<string>();

  constructor(
    private readonly k: number,
    private readonly turnRad: number,
    private readonly move: Point2,
  ) {}

  /** A place of the bracket frame, its y left out. */
  at([x, , z]: Vec3): Point {
    const [c, s] = [cos(rad(this.turnRad)), sin(rad(this.turnRad))];
    return [(-x * c - z * s + this.move[0]) * this.k, (-x * s + z * c + this.move[1]) * this.k];
  }

  aim(role: PartRole, at: Point): void {
    if (!this.places.some((p) => p.role === role)) this.places.push({ role, at });
  }

  body(spec: BracketSpec): void {
    const by = { turnRad: rad(this.turnRad), move: this.move };
    const big = ([x, y]: Point2): Point => [x * this.k, y * this.k];
    for (const { role, closed, segments } of viewOf(spec, 'side'))
      if (role === 'visible' && closed)
        this.marks.push({
          ...{ kind: 'path', role, closed },
          segments: movedContour(segments, by).map((s) =>
            s.kind === 'line'
              ? { ...s, from: big(s.from), to: big(s.to) }
              : { ...s, centre: big(s.centre), radiusMm: s.radiusMm * this.k },
          ),
        });
  }

  /** A turned body between two places of the bracket frame, as a rectangle; its middle. What covers another exactly is drawn once. */
  round(from: Vec3, to: Vec3, radiusMm: number, role: LineRole): Point {
    const [a, b] = [this.at(from), this.at(to)];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const long = Math.hypot(dx, dy);
    const key = `${role} ${[...a, ...b, radiusMm].map((v) => v.toFixed(3)).join(' ')}`;
    if (long > 1e-6 && !this.seen.has(key)) {
      this.seen.add(key);
      const [ax, ay] = [(-dy / long) * radiusMm * this.k, (dx / long) * radiusMm * this.k];
      this.marks.push(
        polygonMark(role, [
          [a[0] + ax, a[1] + ay],
          [b[0] + ax, b[1] + ay],
          [b[0] - ax, b[1] - ay],
          [a[0] - ax, a[1] - ay],
        ]),
      );
    }
    return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  }
}

const between = (from: Vec3, to: Vec3, t: number): Vec3 => [
  from[0] + (to[0] - from[0]) * t,
  from[1] + (to[1] - from[1]) * t,
  from[2] + (to[2] - from[2]) * t,
];

/** Screws, stud, nuts and washers on the bracket; the stud's neck ends where the joint's head begins. */
function hardware(pen: EndPen, spec: BracketSpec, headMm: number): void {
  const ball = ballAt(spec);
  const fixings = new Set(spec.fixings.map((f) => f.id));
  const role = (body: HardwareBody): PartRole | null => {
    if (body.part === 'pin') return 'pin';
    if (fixings.has(body.of)) return body.part === 'head' ? 'screw' : body.part === 'washer' ? 'washer' : null;
    if (body.part === 'nut') return 'stud-nut';
    return body.part === 'washer' ? 'stud-washer' : null;
  };
  for (const body of hardwareBodies(spec)) {
    const neck = body.part === 'stud' && distance(body.to, ball) < 1e-6;
    if (neck) {
      const long = distance(body.from, body.to);
      const to = between(body.from, body.to, Math.max(0.25, 1 - headMm / long));
      pen.aim('stud', pen.round(body.from, to, body.radiusMm, 'visible'));
      continue;
    }
    const inside = body.part === 'shank' || body.part === 'stud';
    const middle = pen.round(body.from, body.to, body.radiusMm, inside ? 'hidden' : 'visible');
    const what = role(body);
    // a washer's dot stands off the shank that goes through it
    if (what) pen.aim(what, body.part === 'washer' ? aside(pen, body, 0.75) : middle);
  }
}

/** A place in a turned body, this share of its radius off the axis. */
function aside(
  pen: EndPen,
  { from, to, radiusMm }: Pick<HardwareBody, 'from' | 'to' | 'radiusMm'>,
  share: number,
): Point {
  const middle = between(from, to, 0.5);
  const along = unit(sub(to, from));
  // square to the axis, in the plane that is seen
  return pen.at([middle[0] - along[2] * radiusMm * share, middle[1], middle[2] + along[0] * radiusMm * share]);
}

/** Washers and nuts on the far side of what the screws go through, inserts in it. */
function behind(pen: EndPen, spec: BracketSpec, depthMm: number): void {
  if (spec.attachedBy === 'weld' || !spec.fixingThread) return;
  const hw = hardwareOf(spec.fixingThread);
  const shank = Number(spec.fixingThread.slice(1)) / 2;
  for (const { role, centreMm } of placedHoles(spec)) {
    if (role !== 'fixing') continue;
    const down = (mm: number): Vec3 => [centreMm[0], centreMm[1], -mm];
    if (spec.into === 'insert')
      pen.aim('insert', pen.round(down(0), down(hw.nutHeightMm * 1.5), shank * 1.5, 'hidden'));
    if (spec.into !== 'through') continue;
    const under = depthMm + hw.washerThicknessMm;
    pen.round(down(0), down(under + hw.nutHeightMm + 0.3 * shank), shank, 'hidden');
    pen.round(down(depthMm), down(under), hw.washerDiameterMm / 2, 'visible');
    pen.aim('nut', pen.round(down(under), down(under + hw.nutHeightMm), hw.acrossCornersMm / 2, 'visible'));
  }
}

/** The joint's head over the ball, and the strut's own end as far as the view shows it. */
function joint(pen: EndPen, k: number, centre: Point, strut: Strut, end: EndName, toOther: Point | null): void {
  const { fitting } = sizedFitting(strut.ends[end].fitting, strut.spec.rodMm);
  const head = (fitting.headRadiusMm?.value ?? strut.spec.rodMm) * k;
  pen.marks.push(circleMark('visible', centre, head), circleMark('hidden', centre, ((fitting.ballMm ?? 10) / 2) * k));
  const share = toOther ? Math.hypot(...toOther) : 0;
  const way: Point = toOther && share > LEAST_ASIDE ? [toOther[0] / share, toOther[1] / share] : [0, 1];
  const on = (along: number, across: number): Point => [
    centre[0] + way[0] * along - way[1] * across,
    centre[1] + way[1] * along + way[0] * across,
  ];
  pen.aim('fitting', on(-head * 0.75, 0));
  if (share <= LEAST_ASIDE) return;
  const shank = (fitting.shankRadiusMm?.value ?? strut.spec.rodMm / 2) * k;
  const from = Math.sqrt(Math.max(0, head * head - shank * shank));
  const to = Math.max(from + 2, (fitting.offsetMm?.value ?? 25) * k * share);
  pen.marks.push(polylineMark('visible', [on(from, shank), on(to, shank), on(to, -shank), on(from, -shank)]));
  const half = (((strut.rodAt ?? 'lid') === end ? strut.spec.rodMm : strut.spec.tubeMm) / 2) * k;
  const far = to + SHOWN_STRUT_MM * k * share;
  for (const y of [half, -half]) pen.marks.push(lineMark('visible', on(to, y), on(far, y)));
  pen.marks.push(lineMark('visible', on(to, half), on(to, -half)), broken(on(far, half), on(far, -half)));
  pen.aim('strut', on((to + far) / 2, 0));
}

/**
 * Puts one end of a strut together as it is seen from the side of its bracket, lid closed, at `k` paper mm for one real mm. Throws a LidwrightError
 * where the bracket can't be made.
 */
export function endArt(
  job: ResolvedJob,
  frame: Frame,
  strut: Strut,
  end: EndName,
  bracket: Bracket,
  k: number,
): EndArt {
  const spec = bracketSpecOf(bracket);
  const wedge = endWedge(job, strut, end);
  const side = (strut.ends[end].tiltDeg ?? 0) >= 0 ? 1 : -1;
  const half = wedge ? footprintSize(wedge).lengthMm / 2 : 0;
  const pen = wedge
    ? new EndPen(k, -side * toRad(wedge.angleDeg), [-half, thicknessAt(wedge, side * half)])
    : new EndPen(k, 0, [0, 0]);
  const { fitting } = sizedFitting(strut.ends[end].fitting, strut.spec.rodMm);
  pen.body(spec);
  pen.aim('bracket', pen.at(bodyPlace(spec)));
  hardware(pen, spec, isPinned(spec) ? 0 : (fitting.headRadiusMm?.value ?? 0));
  const seatMm = bracket.seat ? bracket.seat.thicknessMm + (bracket.seat.spreader?.thicknessMm ?? 0) : SHOWN_MOUNT_MM;
  behind(pen, spec, seatMm + (wedge ? thicknessAt(wedge, 0) : 0));
  if (wedge) {
    const at = (x: number, z: number): Point => [-side * x * k, z * k];
    pen.marks.push(
      polygonMark('visible', [
        at(-half, 0),
        at(half, 0),
        at(half, thicknessAt(wedge, half)),
        at(-half, thicknessAt(wedge, -half)),
      ]),
    );
    pen.aim('wedge', at(half * 0.9, thicknessAt(wedge, half * 0.9) / 2));
  }
  const shown = boundsOf(pen.marks);
  const [left, right] = [shown.left - PAST_MM * k, shown.right + PAST_MM * k];
  for (const y of [0, -seatMm * k]) pen.marks.push(lineMark('visible', [left, y], [right, y]));
  for (const x of [left, right]) pen.marks.push(broken([x, 0], [x, -seatMm * k]));
  pen.aim('mount', [left + PAST_MM * 0.4 * k, (-seatMm * k) / 2]);
  const stand = standBracket({ end: strut.ends[end], ball: frame.points.get(strut[end])!, spec });
  const other = frame.points.get(strut[end === 'base' ? 'lid' : 'base'])!;
  const toOther = unit(sub(other, frame.points.get(strut[end])!));
  joint(
    pen,
    k,
    pen.at(ballAt(spec)),
    strut,
    end,
    // the placement's axes are the mount's: the view's as well
    stand ? [-dot(toOther, stand.axes.x), dot(toOther, stand.axes.z)] : null,
  );
  return { marks: pen.marks, places: pen.places };
}
