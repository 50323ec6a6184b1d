import {
  blanks,
  type BracketSpec,
  bracketSpecOf,
  isBent,
  originFromEndMm,
  placedHoles,
  roundedPolygon,
  standBracket,
  type ThreadName,
  isPinned,
} from '../bracket';
import type { PathSegment, Point } from '../drawing';
import { fail } from '../error';
import type { Bracket, ResolvedJob } from '../job';
import { footprintSize, type WedgeSpec } from '../joint';
import { type Vec3, atan2, dot, norm, rad, scale, sub, unit } from '../space';
import { coreHoleWords } from './fastening';
import { mirroredTemplate, type TemplateDirection, type TemplateHole, type TemplateSpec } from './template-art';

/** A direction is shown where at least this share of it lies in the surface; the hinge, which is a place, sooner. */
const LEAST_SHARE = 0.5;
const LEAST_HINGE_SHARE = 0.15;

/** The fixed leg's outline on the mount, in the bracket frame. */
function legOutline(spec: BracketSpec): readonly PathSegment[] {
  const across = spec.studHole.acrossMm;
  if (isBent(spec)) {
    const half = spec.baseWidthMm / 2;
    const r = isPinned(spec) ? 0 : spec.baseCornerRadiusMm;
    return roundedPolygon([
      { at: [-spec.baseLegMm, -half - across], radiusMm: r },
      { at: [0, -half - across], radiusMm: 0 },
      { at: [0, half - across], radiusMm: 0 },
      { at: [-spec.baseLegMm, half - across], radiusMm: r },
    ]);
  }
  // a plate's blank, [across, along] seen from above, turned by a quarter: x along, y to the left of it
  const from = originFromEndMm(spec);
  const at = ([a, l]: Point): Point => [l - from, -a - across];
  return blanks(spec)[0]!.outline.map((s): PathSegment =>
    s.kind === 'line'
      ? { kind: 'line', from: at(s.from), to: at(s.to) }
      : { ...s, centre: at(s.centre), startRad: rad(s.startRad - Math.PI / 2) },
  );
}

interface Named {
  readonly words: string;
  readonly vector: Vec3;
  readonly leastShare: number;
}

/** Directions in space, as they lie in the surface; those that hardly do are left out. */
function inSurface(named: readonly Named[], x: Vec3, y: Vec3): TemplateDirection[] {
  return named.flatMap(({ words, vector, leastShare }) => {
    const length = norm(vector);
    if (!(length > 1e-9)) return [];
    const direction: Point = [dot(vector, x) / length, dot(vector, y) / length];
    return Math.hypot(...direction) < leastShare ? [] : [{ words, direction }];
  });
}

const SCREWS: Readonly<Record<BracketSpec['into'], (thread: ThreadName | null) => string>> = {
  through: () => 'Round holes: drill the mount to the same size as drawn.',
  tapped: (thread) =>
    thread
      ? `Tapped holes ${thread}: centre-punch the crosses and drill the core hole ${coreHoleWords(thread)}, not these circles.`
      : 'Tapped holes: centre-punch the crosses and drill the core hole of the thread, not these circles.',
  wood: () =>
    'Wood screws: centre-punch the crosses and drill for the screw’s root, as deep as the screw goes, not these circles.',
  rivet: () => 'Blind rivets: drill the mount through these holes to the size that the rivet’s maker states.',
  insert: () => 'Inserts: centre-punch the crosses and drill to the size the insert’s maker states, not these circles.',
};

const slotWords = ({ into }: BracketSpec): string =>
  `Slots are in the bracket, for setting it: the mount gets one round hole at the middle cross of each${into === 'through' ? ', as wide as the slot' : ''}.`;

/**
 * The drill template of one of a job's brackets, seen from outside, square on to its mount; coordinates of the bracket frame. With
 * the directions to the hinge, up and forward where they lie in the surface, for the lid closed. Throws a LidwrightError when
 * the bracket can't be made or the job has no point for its end.
 */
export function bracketTemplate(job: ResolvedJob, bracket: Bracket): TemplateSpec {
  const spec = bracketSpecOf(bracket);
  const holes = placedHoles(spec)
    .filter((hole) => hole.role === 'fixing')
    .map(({ id, centreMm, diameterMm, slotMm, slotAxis }): TemplateHole => ({
      id,
      centre: [centreMm[0], centreMm[1]],
      diameterMm,
      slotMm,
      slotRad: slotMm > 0 ? atan2(slotAxis[1], slotAxis[0]) : rad(0),
    }));
  const strut = job.struts.find((s) => s.id === bracket.strut);
  if (!strut) return fail(`there is no strut "${bracket.strut}".`, ['strut'], 'Choose one of the job’s struts.');
  const at = (id: string): Vec3 => job.points.find((p) => p.id === id)!.at;
  const stand = standBracket({ end: strut.ends[bracket.end], ball: at(strut[bracket.end]), spec });
  const hinge = at(job.hinge.a);
  const axis = unit(sub(at(job.hinge.b), hinge));
  const directions = stand
    ? inSurface(
        [
          {
            words: 'to the hinge',
            vector: ((arm) => sub(scale(axis, dot(arm, axis)), arm))(sub(stand.originMm, hinge)),
            leastShare: LEAST_HINGE_SHARE,
          },
          { words: 'up', vector: [0, 0, 1], leastShare: LEAST_SHARE },
          { words: 'forward', vector: [1, 0, 0], leastShare: LEAST_SHARE },
        ],
        stand.axes.x,
        stand.axes.y,
      )
    : [];
  const thread = bracket.attach?.thread ?? null;
  const slotted = holes.some((h) => h.slotMm > 1e-9);
  return {
    name: spec.name,
    outline: legOutline(spec),
    holes,
    directions,
    originWords: 'under the stud',
    notes: [
      `Seen from outside, square on to the ${bracket.end === 'lid' ? 'lid, as it lies closed' : 'mount on the base'}. x runs along the bracket, out of its stud’s end; y to the left of it.`,
      ...(stand ? [] : ['The job does not say which way this mount faces: no directions are shown.']),
      ...(holes.some((h) => h.slotMm <= 1e-9) || spec.into !== 'through' ? [SCREWS[spec.into](thread)] : []),
      ...(slotted ? [slotWords(spec)] : []),
    ],
  };
}

/** The same for the other side of a through-bolted panel. */
export function templateFromBehind(spec: TemplateSpec): TemplateSpec {
  return {
    ...mirroredTemplate(spec),
    notes: [
      'Seen from behind the panel: everything is turned round against the front. x runs to the left here.',
      ...spec.notes.slice(1),
    ],
  };
}

/** The same for the mirrored bracket of a pair; directions that the mirror would falsify (a hinge that is not level) are left out. */
export function templateOfTwin(spec: TemplateSpec, job: ResolvedJob): TemplateSpec {
  const at = (id: string): Vec3 => job.points.find((p) => p.id === id)!.at;
  const axis = unit(sub(at(job.hinge.b), at(job.hinge.a)));
  const askew = (v: Vec3): boolean => Math.abs(dot(axis, v)) > 0.02;
  const false_ = new Set([...(askew([0, 0, 1]) ? ['up'] : []), ...(askew([1, 0, 0]) ? ['forward'] : [])]);
  const mirrored = mirroredTemplate(spec);
  return {
    ...mirrored,
    directions: mirrored.directions.filter((d) => !false_.has(d.words)),
    notes: [
      'For the mirrored bracket of the pair, seen from outside. x runs to the left here.',
      ...spec.notes.slice(1),
    ],
  };
}

/** The drill template of a wedge, seen from above: its footprint and where its holes meet the mount. */
export function wedgeTemplate(spec: WedgeSpec): TemplateSpec {
  const { lengthMm, widthMm } = footprintSize(spec);
  const [hx, hy] = [lengthMm / 2, widthMm / 2];
  const outline: readonly PathSegment[] =
    spec.footprint.kind === 'round'
      ? [
          { kind: 'arc', centre: [0, 0], radiusMm: hx, startRad: rad(0), sweepRad: rad(Math.PI) },
          { kind: 'arc', centre: [0, 0], radiusMm: hx, startRad: rad(Math.PI), sweepRad: rad(Math.PI) },
        ]
      : roundedPolygon([
          { at: [-hx, -hy], radiusMm: 0 },
          { at: [hx, -hy], radiusMm: 0 },
          { at: [hx, hy], radiusMm: 0 },
          { at: [-hx, hy], radiusMm: 0 },
        ]);
  return {
    name: spec.name,
    outline,
    holes: spec.holes.map((h, i) => ({
      id: String(i + 1),
      centre: [h.xMm, h.yMm],
      diameterMm: h.diameterMm,
      slotMm: 0,
      slotRad: rad(0),
    })),
    directions: [{ words: 'thick end', direction: [1, 0] }],
    originWords: 'middle',
    notes: [
      'Seen from above, on the mount. x runs to the thick end, from the middle of the wedge.',
      ...(spec.squareTo === 'face' && spec.holes.length > 0
        ? [
            'The holes lean with the wedge: drill them through it, square to its face; the crosses are where they meet the mount.',
          ]
        : []),
    ],
  };
}
