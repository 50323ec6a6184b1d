import { ballAt, bracketSpecOf, standBracket } from '../bracket';
import { attempt } from '../error';
import type { EndName, ResolvedJob, Strut } from '../job';
import { mountFrame, requireWedge, stemFromMount, thicknessAt, type WedgeSpec, footprintSize } from '../joint';
import {
  type Vec3,
  add,
  cos,
  cross,
  dot,
  mirrorPoint,
  norm,
  perpendicularTo,
  rad,
  rotateVec,
  scale,
  sin,
  sub,
  toRad,
  unit,
} from '../space';
import type { Frame } from '../travel';
import { bracketTemplate, wedgeTemplate } from './bracket-template';
import { bracketAt, endWedge } from './end-wedge';
import type { TemplateSpec } from './template-art';

/** Where one end of a strut goes, lid closed, mm in the base frame. */
export interface EndPlace {
  readonly ball: Vec3;
  /** What it stands on; null where the job does not say which way that faces. */
  readonly on: {
    /** Unit, out of the surface. */
    readonly normal: Vec3;
    /** The ball's foot on the surface, and how high the ball stands over it; null where nobody knows the height. */
    readonly foot: Vec3;
    readonly heightMm: number | null;
    /** Up on the page, unit, in the surface, and what it is called. */
    readonly up: Vec3;
    readonly upWords: string;
    readonly upShort: string;
    /** Over which the stud stands out, unit, in the surface. */
    readonly way: Vec3;
    /** What is drawn of the part, in its own coordinates on the surface, and where those lie. */
    readonly part: { readonly art: TemplateSpec; readonly origin: Vec3; readonly x: Vec3; readonly y: Vec3 } | null;
    readonly wedge: { readonly spec: WedgeSpec; readonly thick: Vec3 } | null;
  } | null;
}

/** A direction shows in a surface where at least this share of it lies in it. */
const LEAST_SHARE = 0.5;

/** Places and directions turned into the mirror about the hinge's mid-plane. */
function mirrorOf(
  job: ResolvedJob,
  { axis, points }: Frame,
): { readonly point: (p: Vec3) => Vec3; readonly way: (v: Vec3) => Vec3 } {
  const middle = scale(add(axis.origin, points.get(job.hinge.b)!), 0.5);
  return {
    point: (p) => mirrorPoint(p, middle, axis.along),
    way: (v) => mirrorPoint(v, [0, 0, 0], axis.along),
  };
}

/** Origin and axes on the mount of the wedge under a bracket whose stud stands `acrossMm` off its centre line, from where its ball must come to lie. */
function wedgeStand(
  wedge: WedgeSpec,
  acrossMm: number,
  ballOnBracket: Vec3,
  ball: Vec3,
  lying: Vec3,
  normal: Vec3,
  tiltDeg: number,
) {
  const half = footprintSize(wedge).lengthMm / 2;
  const a = toRad(wedge.angleDeg);
  const side = tiltDeg >= 0 ? 1 : -1;
  // in the wedge's frame: the bracket's foot under its stud at the upright's end of the face, its axes along the face
  const foot: Vec3 = [side * half, side * acrossMm, thicknessAt(wedge, side * half)];
  const bx: Vec3 = [side * cos(a), 0, side * sin(a)];
  const bz: Vec3 = [-sin(a), 0, cos(a)];
  const by = cross(bz, bx);
  const [u, v, w] = ballOnBracket;
  const at = add(foot, add(scale(bx, u), add(scale(by, v), scale(bz, w))));
  const x = scale(lying, side);
  const y = cross(normal, x);
  return { x, y, origin: sub(ball, add(scale(x, at[0]), add(scale(y, at[1]), scale(normal, at[2])))), heightMm: at[2] };
}

/** Where one end of a strut goes; `twin`: of its mirror image. Throws a LidwrightError where its bracket or wedge can't be made. */
export function endPlace(job: ResolvedJob, frame: Frame, strut: Strut, name: EndName, twin: boolean): EndPlace {
  const end = strut.ends[name];
  const ball = frame.points.get(strut[name])!;
  const mirror = mirrorOf(job, frame);
  const point = twin ? mirror.point : (p: Vec3): Vec3 => p;
  const turn = twin ? mirror.way : (v: Vec3): Vec3 => v;
  const { mount } = end;
  if (!mount) return { ball: point(ball), on: null };
  const normal = unit(mount.normal);
  const tiltDeg = end.tiltDeg ?? 0;
  const lying = stemFromMount(mount, toRad(end.azimuthDeg ?? 0), rad(0));
  const bracket = bracketAt(job, strut, name);
  const asked = endWedge(job, strut, name);
  const wedge = asked && attempt(() => requireWedge(asked)).error === null ? asked : null;
  let origin = ball;
  let heightMm: number | null = null;
  let part: NonNullable<EndPlace['on']>['part'] = null;
  let thick: Vec3 | null = null;
  if (bracket) {
    const spec = bracketSpecOf(bracket);
    if (wedge) {
      const stand = wedgeStand(wedge, spec.studHole.acrossMm, ballAt(spec), ball, lying, normal, tiltDeg);
      ({ origin, heightMm } = stand);
      thick = stand.x;
      part = { art: wedgeTemplate(wedge), origin, x: turn(stand.x), y: turn(stand.y) };
    } else {
      const stand = standBracket({ end, ball, spec })!;
      origin = stand.originMm;
      heightMm = dot(sub(ball, origin), normal);
      part = { art: bracketTemplate(job, bracket), origin, x: turn(stand.axes.x), y: turn(stand.axes.y) };
    }
    part = { ...part, origin: point(origin) };
  } else mountFrame(mount);
  const foot = heightMm === null ? ball : sub(ball, scale(normal, heightMm));
  const { axis } = frame;
  // the lid's side is marked with the lid open: what is up then
  const open = name === 'lid' ? rotateVec([0, 0, 1], axis.opening, rad(-toRad(frame.openDeg))) : ([0, 0, 1] as Vec3);
  const arm = sub(foot, axis.origin);
  const toHinge = sub(scale(axis.along, dot(arm, axis.along)), arm);
  const [m, at] = [turn(normal), point(foot)];
  const choices = [
    {
      v: turn(open),
      words: name === 'lid' ? 'up, with the lid open' : 'up',
      short: name === 'lid' ? 'up, lid open' : 'up',
      least: LEAST_SHARE,
    },
    { v: turn(toHinge), words: 'square to the hinge pin, towards it', short: 'to the hinge', least: 1e-6 },
    { v: turn(axis.along), words: 'along the hinge pin', short: 'along the hinge', least: 0 },
  ];
  const chosen = choices.find(({ v, least }) => norm(perpendicularTo(v, m)) > Math.max(1e-9, least * norm(v)))!;
  return {
    ball: point(ball),
    on: {
      ...{ normal: m, foot: at, heightMm, way: turn(lying), part },
      up: unit(perpendicularTo(chosen.v, m)),
      upWords: chosen.words,
      upShort: chosen.short,
      wedge: wedge && thick ? { spec: wedge, thick: turn(thick) } : null,
    },
  };
}
