import { circleMark, lineMark, type LineRole, type Mark, type Point, polygonMark, type Sheet } from '../drawing';
import { KNOWN_KINDS, type ResolvedJob } from '../job';
import { type Vec3, cross, dot, unit } from '../space';
import { KNOWN, isKnown, planSurvey } from '../survey';
import { slimHeadOf } from './numbers';
import type { SheetOptions } from './bracket-sheet';
import { CAUTIONS } from './cautions';
import { Flow } from './flow';
import { TextPlacer } from './place-text';
import { figure } from './report-tables';
import { textAt } from './text';

/** The picture's height, and its clear border, mm. */
const HEIGHT_MM = 76;
const BORDER_MM = 9;
const BALLOON_MM = 2.4;
const NUMBER_MM = 2.5;
const LETTER_MM = 3.5;
/** Seen from behind whoever opens the lid, from his right and above. */
const EYE = unit([-1, -0.55, 0.85]);
const RIGHT = unit(cross([0, 0, 1], EYE));
const UP = cross(EYE, RIGHT);
/** Where along its line a number may stand, best first. */
const PLACES = [0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73, 0.2, 0.8];

interface Line {
  readonly number: string;
  readonly from: Point;
  readonly to: Point;
  readonly role: LineRole;
}

/** A planned reading as the table and the picture tell it. */
interface Row {
  readonly number: string;
  readonly from: string;
  readonly to: string;
  readonly level: boolean;
  readonly check: boolean;
}

/** A name that a point has on the sheet: A, B … Z, A1 … @example pointLetter(27) // 'B1' */
export const pointLetter = (i: number): string =>
  `${String.fromCharCode(65 + (i % 26))}${i < 26 ? '' : Math.floor(i / 26)}`;

const gap = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const between = (a: Point, b: Point, t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];

/** How far a place is from a line, paper mm. */
function off(p: Point, { from, to }: Line): number {
  const square = gap(from, to) ** 2 || 1e-9;
  const t = ((p[0] - from[0]) * (to[0] - from[0]) + (p[1] - from[1]) * (to[1] - from[1])) / square;
  return gap(p, between(from, to, Math.min(1, Math.max(0, t))));
}

/** How far aside a line may be drawn that would lie on another, paper mm. */
const ASIDE_MM = [0, 2.6, -2.6, 5.2, -5.2];
const APART_MM = 2;

/** A line, drawn aside where it would lie on one that is drawn already. */
function apart(line: Line, drawn: readonly Line[]): Line {
  const long = gap(line.from, line.to) || 1;
  const [nx, ny] = [(line.from[1] - line.to[1]) / long, (line.to[0] - line.from[0]) / long];
  const moved = (mm: number): Line => ({
    ...line,
    from: [line.from[0] + nx * mm, line.from[1] + ny * mm],
    to: [line.to[0] + nx * mm, line.to[1] + ny * mm],
  });
  const lies = (one: Line): boolean =>
    drawn.some((other) => [0.35, 0.5, 0.65].every((t) => off(between(one.from, one.to, t), other) < APART_MM));
  return ASIDE_MM.map(moved).find((one) => !lies(one)) ?? line;
}

/**
 * Each line with its number in it where nothing else is drawn, the line left open under the number; and the numbers that found
 * no room, with the middle of their line.
 */
function numbered(
  rows: readonly Line[],
  edges: readonly Line[],
  points: readonly Point[],
): { readonly marks: Mark[]; readonly aside: { readonly number: string; readonly at: Point }[] } {
  const lines = rows.reduce<Line[]>((drawn, row) => [...drawn, apart(row, [...edges, ...drawn])], []);
  const taken: Point[] = [...points];
  const aside: { number: string; at: Point }[] = [];
  const marks = lines.flatMap((line): Mark[] => {
    const clear = (p: Point): number =>
      Math.min(
        ...taken.map((q) => gap(p, q) / 2),
        ...[...lines, ...edges].filter((other) => other !== line).map((other) => off(p, other)),
      );
    const offers = PLACES.map((t) => between(line.from, line.to, t));
    const at = offers.find((p) => clear(p) > BALLOON_MM + 0.4);
    if (!at) {
      aside.push({ number: line.number, at: offers[0]! });
      return [lineMark(line.role, line.from, line.to)];
    }
    taken.push(at);
    const long = gap(line.from, line.to) || 1e-9;
    const step = Math.min(BALLOON_MM, long / 2) / long;
    const t = gap(line.from, at) / long;
    return [
      lineMark(line.role, line.from, between(line.from, line.to, Math.max(0, t - step))),
      lineMark(line.role, between(line.from, line.to, Math.min(1, t + step)), line.to),
      circleMark('narrow', at, BALLOON_MM),
      textAt([at[0], at[1] - NUMBER_MM / 2], line.number, NUMBER_MM, 'middle'),
    ];
  });
  return { marks, aside };
}

/** The lid in space with the numbered lines, `widthMm` wide, its upper left corner at the origin. */
function picture(
  job: ResolvedJob,
  points: readonly { readonly id: string; readonly at: Vec3 }[],
  rows: readonly Row[],
  widthMm: number,
): Mark[] {
  const flat = points.map((p): Point => [dot(p.at, RIGHT), dot(p.at, UP)]);
  const [xs, ys] = [flat.map(([x]) => x), flat.map(([, y]) => y)];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const k = Math.min(
    (widthMm - 2 * BORDER_MM) / Math.max(1, right - left),
    (HEIGHT_MM - 2 * BORDER_MM) / Math.max(1, high - low),
  );
  const middle = [(left + right) / 2, (low + high) / 2] as const;
  const place = new Map(
    points.map((p, i) => [
      p.id,
      [widthMm / 2 + (flat[i]![0] - middle[0]) * k, -HEIGHT_MM / 2 + (flat[i]![1] - middle[1]) * k] as Point,
    ]),
  );
  const at = (id: string): Point => place.get(id)!;
  const corners = job.outline.filter((id) => place.has(id)).map(at);
  const edge = (from: Point, to: Point): Line => ({ number: '', from, to, role: 'visible' });
  const edges = [
    ...corners.map((p, i) => edge(p, corners[(i + 1) % corners.length]!)),
    edge(at(job.hinge.a), at(job.hinge.b)),
  ];
  const tapes = rows
    .filter((row) => !row.level)
    .map((row): Line => ({
      ...edge(at(row.from), at(row.to)),
      ...{ number: row.number, role: row.check ? 'hidden' : 'narrow' },
    }));
  const { marks: lines, aside } = numbered(tapes, edges, [...place.values()]);
  const marks: Mark[] = [
    ...(corners.length > 2 ? [polygonMark('visible', corners)] : []),
    lineMark('centre', at(job.hinge.a), at(job.hinge.b)),
    ...lines,
    ...[...place.values()].map((p) => circleMark('visible', p, 0.8)),
  ];
  const placer = new TextPlacer({ left: 0, right: widthMm, bottom: -HEIGHT_MM, top: 0 }, marks);
  const put = (text: string, sizeMm: number, p: Point): Mark[] => placer.near(text, sizeMm, p, { fromMm: 2.2 }) ?? [];
  return [
    ...marks,
    ...points.flatMap((p, i) => put(pointLetter(i), LETTER_MM, at(p.id))),
    ...aside.flatMap((one) => put(one.number, NUMBER_MM, one.at)),
    ...rows.filter((row) => row.level).flatMap((row) => put(`height ${row.number}`, NUMBER_MM, at(row.to))),
  ];
}

/**
 * What to measure before one goes out, A4: the lid in space with every tape and height numbered, those that check the others
 * dashed, and a table to write the readings into. Throws a LidwrightError where readings or conditions refer to what isn't there.
 */
export function surveySketch(job: ResolvedJob, options: SheetOptions): Sheet[] {
  const plan = planSurvey(job);
  const flow = new Flow(slimHeadOf(job, 'M', 'Measuring sketch', options.date));
  const letter = new Map(plan.points.map((p, i) => [p.id, pointLetter(i)]));
  const name = new Map(plan.points.map((p) => [p.id, p.name]));
  const rows = [...plan.take, ...plan.checks].map((o, i): Row => ({
    number: String(i + 1),
    from: o.points[0]!,
    to: o.points[1]!,
    level: o.kind !== 'tape',
    check: i >= plan.take.length,
  }));
  const known = KNOWN_KINDS.filter((what) => isKnown(job, what)).map((what) => {
    const sigma = job.observations.find((o) => o.known === what)?.sigmaMm ?? KNOWN[what].sigmaMm;
    return `${KNOWN[what].words}, ± ${figure(sigma, 1)} mm`;
  });
  const read = job.observations.filter((o) => !o.known && o.use !== false).length;
  flow.text([
    'Lid closed, the prop at hand for whatever is reached from inside. A tape runs straight from centre to centre; a height is upright, from a level or a water hose, over 0 where the second point is the higher. Read each twice and write both down: where they differ, a third time. Two readings in three should lie within 1 mm.',
    known.length > 0
      ? `Taken as known: ${known.join('; ')}. Where that is not so, untick it in Measure and print this anew.`
      : 'Nothing is taken as known of the lid’s shape. If it is a flat rectangle or alike left and right, say so in Measure: there will be fewer to take.',
    ...(read > 0 ? [`${read} ${read === 1 ? 'reading' : 'readings'} taken already are counted in.`] : []),
  ]);
  if (rows.length === 0) {
    flow.text(['The readings that the job has hold every point, and check one another: nothing is left to take.']);
    return flow.sheets();
  }
  flow.block({ name: 'sketch', marks: picture(job, plan.points, rows, flow.widthMm) }, HEIGHT_MM);
  flow.text([plan.points.map((p) => `${letter.get(p.id)!} ${p.name}`).join(' · ')]);
  const label = (id: string): string => `${letter.get(id)!} ${name.get(id)!}`;
  const table = (from: number, to: number): void =>
    flow.table(
      { 'No.': 9, What: 15, From: 47, To: 47, Reads: 24, Again: 24 },
      rows.slice(from, to).map((r) => [r.number, r.level ? 'height' : 'tape', label(r.from), label(r.to), '', '']),
    );
  const count = plan.take.length;
  if (count > 0) {
    flow.heading('To take', 30);
    table(0, count);
  }
  if (rows.length > count) {
    const { before, after } = plan.unchecked;
    flow.heading('To check them', 30);
    flow.text([
      before > after
        ? `Dashed. Without these a slip in ${before} of the ${count} above would pass unseen; with them in ${after === 0 ? 'none' : after} of those.`
        : 'Dashed. The more they check one another, the smaller a slip that shows.',
    ]);
    table(count, rows.length);
  }
  if (plan.loose.length > 0)
    flow.text([
      `Tape and level leave ${plan.loose.join(', ')} uncertain by more than 10 mm. Measure it from a plane that you know, or mark it on a photo.`,
    ]);
  flow.text([CAUTIONS[0]!, ...CAUTIONS.slice(3)]);
  return flow.sheets();
}
