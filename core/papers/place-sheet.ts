import {
  arrowhead,
  type DimensionMark,
  explode,
  type Mark,
  type PathSegment,
  type Point,
  type Sheet,
  lineMark,
} from '../drawing';
import { fail } from '../error';
import type { EndName, ResolvedJob, Strut } from '../job';
import { type Vec3, add, atan2, cross, distance, dot, rad, scale, sub, toDeg, unit } from '../space';
import type { Workings } from '../workings';
import type { SheetOptions } from './bracket-sheet';
import { holeMark } from './cutting-sheet';
import { drillTemplate } from './drill-template';
import { type EndPlace, endPlace } from './end-place';
import { Flow } from './flow';
import { sideOf } from './hands';
import { TextPlacer } from './place-text';
import { figure } from './report-tables';
import type { TemplateHole, TemplateSpec } from './template-art';
import { formatOf } from './formats';
import { revisedNumber, slimHeadOf } from './numbers';

/** A straight line that a tape can be held to. */
interface TapeLine {
  readonly name: string;
  readonly from: { readonly name: string; readonly at: Vec3 };
  readonly to: { readonly name: string; readonly at: Vec3 };
}

/** An edge is drawn at 1:1 where it is no further than this from the ball's foot, and no more than that off the surface. */
const DRAWN_MM = 160;
const OFF_SURFACE_MM = 5;
const DECIMALS = 1;
const ARROW_LENGTH_MM = 45;
const mm = (value: number): string => figure(value, DECIMALS);

/** The edges that one body is measured from: those the job names, else the hinge pin and, on the lid, its outline's nearest two. */
function tapeLines(job: ResolvedJob, end: EndName, at: Vec3): TapeLine[] {
  const point = (id: string): TapeLine['from'] => {
    const p = job.points.find((each) => each.id === id)!;
    return { name: p.name ?? p.id, at: p.at };
  };
  const { a, b } = job.hinge;
  const rides = (id: string): boolean => id === a || id === b || job.points.find((p) => p.id === id)!.on === end;
  const own = (job.papers?.edges ?? [])
    .map((e, i) => {
      const gone = [e.from, e.to].find((id) => !job.points.some((p) => p.id === id));
      return gone === undefined
        ? e
        : fail(
            `the edge "${e.name}" runs to the point "${gone}", which is not there.`,
            ['papers', 'edges', i],
            'Choose another point for it, or remove the edge.',
          );
    })
    .filter((e) => rides(e.from) && rides(e.to))
    .map((e): TapeLine => ({ name: e.name, from: point(e.from), to: point(e.to) }));
  if (own.length > 0) return own;
  const hinge: TapeLine = { name: 'hinge pin', from: point(a), to: point(b) };
  if (end === 'base') return [hinge];
  const sides = job.outline
    .map((id, i): TapeLine => ({
      name: 'lid edge',
      from: point(id),
      to: point(job.outline[(i + 1) % job.outline.length]!),
    }))
    .filter(({ from, to }) => distance(from.at, to.at) > 1)
    .sort((p, q) => toLine(at, p).squareMm - toLine(at, q).squareMm);
  const first = sides[0];
  const across = first && sides.find((s) => Math.abs(dot(along(s), along(first))) < 0.9);
  return [hinge, ...(first ? [first] : []), ...(across ? [across] : [])].map((line) =>
    line === hinge ? line : { ...line, name: `edge from ${line.from.name} to ${line.to.name}` },
  );
}

const along = ({ from, to }: TapeLine): Vec3 => unit(sub(to.at, from.at));

/** How far a place is from a line, square to it, and how far along it from its first end. */
function toLine(
  at: Vec3,
  line: TapeLine,
): { readonly squareMm: number; readonly alongMm: number; readonly foot: Vec3 } {
  const d = along(line);
  const alongMm = dot(sub(at, line.from.at), d);
  const foot = add(line.from.at, scale(d, alongMm));
  return { squareMm: distance(at, foot), alongMm, foot };
}

const alongWords = (line: TapeLine, alongMm: number): string =>
  `${mm(Math.abs(alongMm))} from “${line.from.name}” ${alongMm >= 0 ? 'towards' : 'away from'} “${line.to.name}”`;

/** Turns a template's parts into the page's axes, from the ball's foot. */
function onPage(
  art: TemplateSpec,
  at: (p: Point) => Point,
  turnRad: number,
  flipped: boolean,
): Pick<TemplateSpec, 'outline' | 'holes'> {
  const way = flipped ? -1 : 1;
  const outline = art.outline.map((s): PathSegment =>
    s.kind === 'line'
      ? { kind: 'line', from: at(s.from), to: at(s.to) }
      : { ...s, centre: at(s.centre), startRad: rad(turnRad + way * s.startRad), sweepRad: rad(way * s.sweepRad) },
  );
  const holes = art.holes.map((h): TemplateHole => ({
    ...h,
    centre: at(h.centre),
    slotRad: rad(turnRad + way * h.slotRad),
  }));
  return { outline, holes };
}

/** Places aside of the cross where an edge's size may stand, best first; the cross's arms as far as they can reach. */
const ASIDE_MM = [22, -22, 31, -31, 40, -40, 52, -52, 66, -66, 80, -80];
const FAR = { left: -1e4, right: 1e4, bottom: -1e4, top: 1e4 };
const ARMS: readonly Mark[] = [lineMark('centre', [-300, 0], [300, 0]), lineMark('centre', [0, -300], [0, 300])];

/** Where the stud's line passes 100 mm from the cross: what a rule and a square need of its angle. */
function asideWords([x, y]: Point): string {
  const upright = Math.abs(y) >= Math.abs(x);
  const off = 100 * (upright ? x / Math.abs(y) : y / Math.abs(x));
  const to = upright ? (off >= 0 ? 'right' : 'left') : off >= 0 ? 'up' : 'down';
  const from = upright
    ? y > 0
      ? 'up the upright line'
      : 'down the upright line'
    : x > 0
      ? 'right along the level line'
      : 'left along the level line';
  return `from the cross 100 ${from}, then ${mm(Math.abs(off))} ${to}`;
}

/** One end at 1:1, up on the page as it is up in place; null where its surface is not known or nothing is to be seen on it. */
function pageOf(place: EndPlace, lines: readonly TapeLine[], words: { readonly name: string; readonly seen: string }) {
  const { on } = place;
  if (!on) return null;
  const v = on.up;
  const u = cross(v, on.normal);
  const flat = (p: Vec3): Point => [dot(sub(p, on.foot), u), dot(sub(p, on.foot), v)];
  const way: Point = [dot(on.way, u), dot(on.way, v)];
  let shown: Pick<TemplateSpec, 'outline' | 'holes'> = { outline: [], holes: [] };
  if (on.part) {
    const { art, origin, x, y } = on.part;
    const [o, px, py] = [flat(origin), [dot(x, u), dot(x, v)] as Point, [dot(y, u), dot(y, v)] as Point];
    const at = ([a, b]: Point): Point => [o[0] + a * px[0] + b * py[0], o[1] + a * px[1] + b * py[1]];
    const flipped = px[0] * py[1] - px[1] * py[0] < 0;
    shown = onPage(art, at, atan2(px[1], px[0]), flipped);
  }
  const tip: Point = [way[0] * ARROW_LENGTH_MM, way[1] * ARROW_LENGTH_MM];
  const beside: Mark[] = [lineMark('visible', [0, 0], tip), arrowhead(tip, way)];
  const sizes: string[] = [];
  const shape: Mark[] = [
    ...(shown.outline.length > 0
      ? [{ kind: 'path', role: 'visible', closed: true, segments: shown.outline } as const]
      : []),
    ...shown.holes.map(holeMark),
  ];
  lines.forEach((line, i) => {
    const d = along(line);
    const { foot } = toLine(on.foot, line);
    const off = Math.abs(dot(sub(foot, on.foot), on.normal));
    const [dx, dy]: Point = [dot(d, u), dot(d, v)];
    if (off > OFF_SURFACE_MM || Math.hypot(dx, dy) < 0.999) return;
    const at = flat(foot);
    const long = Math.hypot(...at);
    if (long > DRAWN_MM || long < 1) return;
    const unitAt: Point = [at[0] / long, at[1] / long];
    const edge = (k: number): Point => [at[0] + dx * k, at[1] + dy * k];
    const sized = (aside: number): DimensionMark => ({
      ...{ kind: 'dimension', id: `edge-${i + 1}`, scale: 1, before: '', after: '', decimals: DECIMALS },
      measured: { of: 'distance', from: [0, 0], to: at, along: unitAt },
      layout: { style: 'linear', through: [dx * aside, dy * aside], gapsMm: [3, 2], outside: 'end' },
    });
    // the size stands aside of the part, square to its edge, where its figure is clear
    const placer = new TextPlacer(FAR, [...shape, ...ARMS, ...beside]);
    const aside = ASIDE_MM.find((k) => {
      const marks = [lineMark('phantom', edge(-k - 12), edge(k + 12)), ...explode([sized(k)])];
      return marks.every((m) =>
        m.kind === 'text' ? placer.free(m) : m.kind !== 'line' || placer.freeLine(m.from, m.to),
      );
    });
    if (aside === undefined) return;
    beside.push(lineMark('phantom', edge(-Math.abs(aside) - 12), edge(Math.abs(aside) + 12)), sized(aside));
    sizes.push(`Dash-dot line, size ${mm(long)}: ${line.name}.`);
  });
  const deg = toDeg(atan2(way[0], way[1]));
  const turn =
    Math.abs(deg) < 0.05
      ? 'lies on the upright line and points up'
      : `points ${mm(Math.abs(deg))}° off the upright line’s upper end, turned ${deg > 0 ? 'clockwise' : 'counter-clockwise'} as seen here`;
  const spec: TemplateSpec = {
    name: words.name,
    ...shown,
    directions: [
      { words: on.upShort, direction: [0, 1] },
      ...(on.wedge
        ? [{ words: 'thick end', direction: [dot(on.wedge.thick, u), dot(on.wedge.thick, v)] as Point }]
        : []),
    ],
    originWords: 'ball over this cross',
    notes: [
      words.seen,
      `The long cross is under the ball’s centre${on.heightMm === null ? '' : `, which stands ${mm(on.heightMm)} over the surface`}. Its upright line is ${on.upWords}: scribe it first.`,
      `The stud ${turn}: ${asideWords(way)}. It is the arrow from the cross; the bracket lies along it.`,
      ...(on.wedge
        ? [
            `Outline: the wedge (${mm(on.wedge.spec.angleDeg)}°), its thick end where the arrow points; it lifts the bracket by ${mm(on.wedge.spec.thinMm)} at its thin end. Its holes lean: drill through the wedge.`,
          ]
        : []),
      ...sizes,
      ...(on.part
        ? ['Holes from the cross, x to the right and y up on this page:']
        : ['The job has no bracket here: the cross is all there is to mark.']),
    ],
  };
  return { spec, beside };
}

/** What a tape, a level and a rule read at one end. */
function tables(flow: Flow, place: EndPlace, lines: readonly TapeLine[]): void {
  const at = place.on?.foot ?? place.ball;
  const what =
    place.on && place.on.heightMm !== null ? 'the cross on the surface (under the ball’s centre)' : 'the ball’s centre';
  flow.text([
    `All sizes in mm to ${what}, lid closed.`,
    ...(place.on
      ? []
      : [
          'The job does not say which way this end’s surface faces, so there is no page of it at 1:1: give the end a mount under Joints.',
        ]),
  ]);
  flow.table(
    { 'From this line': 62, 'Square to it': 24, 'Along it': 66 },
    lines.map((line) => {
      const { squareMm, alongMm } = toLine(at, line);
      return [line.name, mm(squareMm), alongWords(line, alongMm)];
    }),
  );
  const ends = new Map<string, Vec3>(
    lines.flatMap(({ from, to }) => [[from.name, from.at] as const, [to.name, to.at] as const]),
  );
  flow.table(
    { 'From this point, straight': 62, 'Tape reads': 24, 'Along X (ahead), Y (left), Z (up)': 66 },
    [...ends].map(([name, from]) => {
      const off = sub(at, from);
      const signed = (value: number): string =>
        (value < 0 ? `−${mm(-value)}` : `+${mm(value)}`).replace(/^[−+]0$/, '0');
      return [name, mm(distance(at, from)), off.map(signed).join(', ')];
    }),
  );
}

/**
 * The place sheets of one strut: for each end, of a pair both, first what a tape reads from edges and points, then the surface at 1:1 with the part on it,
 * the cross under the ball, and the line that the stud lies over. First of all stands what is `against` drilling, and then the `play` of both balls. Sizes mm, lid closed. Throws a LidwrightError where a bracket can't be made.
 */
export function placeSheets(
  outcome: Pick<Workings, 'job' | 'frame'>,
  strut: Strut,
  options: SheetOptions & { readonly against?: string; readonly play?: string },
): Sheet[] {
  const { job, frame } = outcome;
  const papers = job.papers ?? {};
  const paper = options.paper ?? papers.paper ?? 'A4';
  const head = slimHeadOf(job, `${strut.id}-P`, 'Place sheet', options.date);
  const flow = new Flow(head, formatOf(paper));
  const pages: Sheet[] = [];
  flow.text([
    ...(options.against === undefined
      ? []
      : [`NOT READY TO DRILL when this was written. ${options.against}: see the report.`]),
    'Where the ends of the strut go. X ahead, Y left and Z up are the job’s own directions. Mark out by the sizes below, then hold the page at 1:1 to the marks: both must agree within 1 mm before anything is drilled.',
    ...(options.play === undefined ? [] : [`${options.play} Within that everything still holds.`]),
    'Keep a prop under the lid while you work at it.',
  ]);
  for (const end of ['base', 'lid'] as const)
    for (const twin of strut.quantity === 2 ? [false, true] : [false]) {
      const place = endPlace(job, frame, strut, end, twin);
      const side = strut.quantity === 2 ? sideOf(job, place.ball) : '';
      const title = `${end === 'base' ? 'Base end' : 'Lid end'}${side === '' ? '' : `, ${side} side seen from the grip`}`;
      const lines = tapeLines(job, end, place.on?.foot ?? place.ball);
      flow.heading(title, 40);
      tables(flow, place, lines);
      const seen =
        end === 'lid'
          ? `Seen square on to the lid’s surface, from the side the stud is on, with the lid open.`
          : 'Seen square on to the surface, from the side the stud is on.';
      const page = pageOf(place, lines, { name: title, seen });
      if (page)
        pages.push(
          ...drillTemplate(
            page.spec,
            {
              ...head,
              title: `${title}: ${head.title}`,
              number: revisedNumber(job, `${strut.id}-P-${end}${side === '' ? '' : `-${side}`}`),
            },
            paper,
            {
              upright: true,
              beside: page.beside,
            },
          ),
        );
    }
  return [...flow.sheets(), ...pages];
}
