import { bracketMesh, bracketSpecOf, outOfBracket, standBracket } from '../bracket';
import {
  type Box,
  boundsOf,
  circleMark,
  lineMark,
  type Mark,
  moveMarks,
  type Part,
  type Point,
  type Sheet,
} from '../drawing';
import { attempt, fail } from '../error';
import type { Bracket, ResolvedJob, Strut } from '../job';
import { visibleEdges } from '../solid';
import { type Vec3, add, dot } from '../space';
import type { Workings } from '../workings';
import { bodyPlace, endArt, type PartPlace } from './assembly-end';
import { BALLOON_ROOM_MM, balloons, type BalloonTarget } from './balloons';
import type { SheetOptions } from './bracket-sheet';
import { endWedge } from './end-wedge';
import { Flow } from './flow';
import { formatOf, sheetOf } from './formats';
import { sheetFrame } from './frame';
import { type Area, areas } from './layout-place';
import { layoutScene, type LayoutScene } from './layout-scene';
import { endOnAxes, HINGE_MM, lidPolygon, onPaper, PIVOT_MM, strutBody, type ViewPlace } from './layout-view';
import { DO_NOT_SCALE, notesPart } from './notes';
import { assemblyParts, type AssemblyPart } from './parts';
import { figure } from './report-tables';
import { type DrawingScale, drawingScales, scaleText } from './scales';
import { textAt } from './text';
import { NOTHING_MADE, titleBlock } from './title-block';
import { drawingInfo, revisedNumber } from './numbers';

const TITLE_MM = 3.5;
const TITLE_ROW_MM = 9;
/** A bracket's round edges are drawn with so many pieces where it is a few millimetres large on paper. */
const FACETS = 16;
const SIZES_ELSEWHERE = `${DO_NOT_SCALE} Sizes: layout, place sheet and the drawings of the parts.`;

/** Something to be drawn with balloons: at a scale, round any place; what its balloons point at. */
interface Figure {
  readonly title: string;
  readonly draw: (k: number) => { readonly marks: readonly Mark[]; readonly targets: readonly BalloonTarget[] };
}

type Pose = 'closed' | 'open';
type NumberOf = (strut: string, end: AssemblyPart['end'], role: AssemblyPart['role']) => number | null;

/** Lid, struts and brackets in one pose, seen along the hinge as nearly as a main view can. */
function wholeFigure(job: ResolvedJob, scene: LayoutScene, pose: Pose, number: NumberOf): Figure {
  const axes = endOnAxes(scene);
  const angle = pose === 'closed' ? 0 : scene.openDeg;
  const brackets = job.brackets.flatMap((bracket) => placedBracket(job, scene, bracket, angle));
  const draw: Figure['draw'] = (k) => {
    const place: ViewPlace = { axes, zero: [0, 0], scale: k };
    const at = (p: Vec3): Point => onPaper(place, p);
    const marks: Mark[] = [...lidPolygon((pose === 'closed' ? scene.lidClosed : scene.lidOpen).map(at), 'visible')];
    const targets: BalloonTarget[] = [];
    const aim = (no: number | null, to: Point): void => void (no !== null && targets.push({ no, at: to }));
    for (const { mesh } of brackets)
      for (const { from, to } of mesh(axes))
        marks.push(lineMark('visible', [from[0] * k, from[1] * k], [to[0] * k, to[1] * k]));
    const own = scene.struts.filter((s) => !s.twin);
    for (const s of scene.struts) {
      const lid = pose === 'closed' ? s.lidClosed : s.lidOpen;
      const [a, b] = [at(s.base), at(lid)];
      marks.push(...strutBody(s, a, b, 'visible', k, pose === 'closed' ? s.closedMm : s.openMm));
      for (const p of [a, b]) marks.push(circleMark('visible', p, PIVOT_MM));
      const strut = job.struts[own.indexOf(s)];
      if (!strut) continue;
      const along = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
      aim(number(strut.id, null, 'strut'), along(s.rodAt === 'lid' ? 0.35 : 0.65));
      for (const [end, p] of [
        ['base', a],
        ['lid', b],
      ] as const) {
        aim(number(strut.id, end, 'fitting'), p);
        // a wedge with no bracket over it is drawn nowhere else: it lies under the ball
        if (endWedge(job, strut, end) && !job.brackets.some((br) => br.strut === strut.id && br.end === end))
          aim(number(strut.id, end, 'wedge'), [p[0], p[1] - 2]);
      }
    }
    for (const { bracket, place: p } of brackets) {
      const foot = at(p);
      aim(number(bracket.strut, bracket.end, 'bracket'), foot);
    }
    for (const p of scene.hinge) marks.push(circleMark('visible', at(p), HINGE_MM));
    return { marks, targets };
  };
  return { title: pose === 'closed' ? 'Closed' : `Open at ${figure(scene.openDeg, 1)}°`, draw };
}

/** A bracket's edges where it stands, as a view's axes see them, and a place in its body; none where it can't be made or its mount is not known. */
function placedBracket(job: ResolvedJob, scene: LayoutScene, bracket: Bracket, angleDeg: number) {
  const strut = job.struts.find((s) => s.id === bracket.strut);
  const index = strut ? job.struts.indexOf(strut) : -1;
  const drawn = scene.struts.filter((s) => !s.twin)[index];
  if (!strut || !drawn) return [];
  const { value } = attempt(() => {
    const spec = bracketSpecOf(bracket);
    const ball = bracket.end === 'base' ? drawn.base : drawn.lidClosed;
    const stand = standBracket({ end: strut.ends[bracket.end], ball, spec });
    return stand && { spec, stand, mesh: bracketMesh(spec, FACETS) };
  });
  if (!value) return [];
  const { spec, stand, mesh } = value;
  const where = (p: Vec3): Vec3 => {
    const closed = add(stand.originMm, outOfBracket(stand, p));
    return bracket.end === 'lid' ? scene.pose(closed, angleDeg) : closed;
  };
  const seenIn = (axes: ViewPlace['axes']) => {
    const old = mesh.positionsMm;
    const positionsMm = new Float64Array(old.length);
    for (let i = 0; i < old.length; i += 3) {
      const p = where([old[i]!, old[i + 1]!, old[i + 2]!]);
      positionsMm.set([axes.way * p[axes.right], dot(p, axes.into), p[axes.up]], i);
    }
    return visibleEdges({ ...mesh, positionsMm }, [0, -1, 0]);
  };
  return [{ bracket, place: where(bodyPlace(spec)), mesh: seenIn }];
}

/** The figures beside or over one another at the largest scale at which they and their balloons find room; null where there is none. */
function arrange(figures: readonly Figure[], scales: readonly DrawingScale[], room: Box) {
  const n = figures.length;
  const beside = (i: number): Box => {
    const w = (room.right - room.left) / n;
    return { ...room, left: room.left + i * w, right: room.left + (i + 1) * w };
  };
  const over = (i: number): Box => {
    const h = (room.top - room.bottom) / n;
    return { ...room, top: room.top - i * h, bottom: room.top - (i + 1) * h };
  };
  for (const scale of scales) {
    const k = scale.paper / scale.real;
    const drawn = figures.map((f) => ({ ...f.draw(k), title: f.title }));
    const boxes = drawn.map((d) => boundsOf(d.marks));
    for (const cellOf of n > 1 ? [beside, over] : [beside]) {
      const parts = drawn.map((d, i): Part | null => {
        const cell = cellOf(i);
        const [box, clear] = [boxes[i]!, { ...cell, bottom: cell.bottom + TITLE_ROW_MM }];
        if (box.right - box.left > clear.right - clear.left - 2 * BALLOON_ROOM_MM) return null;
        if (box.top - box.bottom > clear.top - clear.bottom) return null;
        const dx = (clear.left + clear.right - box.left - box.right) / 2;
        const dy = (clear.bottom + clear.top - box.bottom - box.top) / 2;
        const shape: Box = { left: box.left + dx, right: box.right + dx, bottom: box.bottom + dy, top: box.top + dy };
        const around = balloons(
          d.targets.map(({ no, at }) => ({ no, at: [at[0] + dx, at[1] + dy] as Point })),
          shape,
          clear,
        );
        if (!around) return null;
        const title = textAt([(cell.left + cell.right) / 2, cell.bottom + 2], d.title, TITLE_MM, 'middle');
        return { name: `figure-${i + 1}`, marks: [...moveMarks(d.marks, dx, dy), ...around, title] };
      });
      if (parts.every((p) => p !== null)) return { parts: parts as Part[], scale };
    }
  }
  return null;
}

/** What lies on one sheet. */
interface Laid {
  readonly parts: readonly Part[];
  readonly scale: DrawingScale;
  readonly area: Area;
  readonly notes: readonly string[];
}

const paperPerReal = ({ paper, real }: DrawingScale): number => paper / real;
const WHOLE_SCALES = drawingScales.filter((s) => s.paper === 1);
const END_SCALES = drawingScales.filter((s) => s.paper <= 5 && s.real <= 20);

/**
 * The assembly drawing of a job: all of it closed and open, each bracket's end put together from its side, balloons by ISO 6433 practice, and the parts
 * list, numbered as the balloons. Throws a LidwrightError when nothing fits.
 */
export function assemblyDrawing(outcome: Pick<Workings, 'job' | 'frame'>, options: SheetOptions): Sheet[] {
  const { job, frame } = outcome;
  const papers = job.papers ?? {};
  const format = formatOf(options.paper ?? papers.paper ?? 'A4');
  const parts = assemblyParts(job);
  const shown = new Set<number>();
  const number: NumberOf = (strut, end, role) => {
    const i = parts.findIndex((p) => p.strut === strut && p.end === end && p.role === role);
    return i < 0 ? null : i + 1;
  };
  const scene = layoutScene(outcome);
  const info = drawingInfo(job, 'A', options.date);
  const sheets: Laid[] = [];
  const fit = (figures: readonly Figure[], scales: readonly DrawingScale[], notes: readonly string[]): Laid | null =>
    areas(format, notes)
      .flatMap((area) => {
        const one = arrange(figures, scales, area.room);
        return one ? [{ ...one, area, notes }] : [];
      })
      .sort((p, q) => paperPerReal(q.scale) - paperPerReal(p.scale))[0] ?? null;
  const put = (figures: readonly Figure[], scales: readonly DrawingScale[], notes: readonly string[]): void => {
    const together = fit(figures, scales, notes);
    const apart = figures.map((figure) => fit([figure], scales, notes));
    // a sheet for each where that makes all of them larger
    const larger =
      figures.length > 1 &&
      apart.every((one) => one !== null && paperPerReal(one.scale) > (together ? paperPerReal(together.scale) : 0));
    const laid = larger ? apart : [together];
    for (const one of laid)
      if (one) sheets.push(one);
      else
        fail(
          `the assembly does not fit on ${format.name} at any scale.`,
          ['paper'],
          'Look for a point that lies far off, or use A3.',
        );
    for (const f of figures) for (const t of f.draw(1).targets) shown.add(t.no);
  };
  put(
    (['closed', 'open'] as const).map((pose) => wholeFigure(job, scene, pose, number)),
    WHOLE_SCALES,
    ['Numbers: see the parts list on the last sheet. Of a pair one is drawn with numbers.', SIZES_ELSEWHERE],
  );
  for (const strut of job.struts)
    for (const bracket of job.brackets.filter((b) => b.strut === strut.id)) {
      const figure = endFigure(job, frame, strut, bracket, number);
      // a bracket that can't be made stands in the parts list as such
      if (attempt(() => figure.draw(1)).error) continue;
      put([figure], END_SCALES, [
        'Seen from the side of the bracket, the mount level, the lid closed; the strut is broken off. Dashed: what is hidden.',
        ...(bracket.seat ? [] : ['The job does not state how thick the mount is: it is drawn 10 mm thick.']),
        SIZES_ELSEWHERE,
      ]);
    }
  const flow = new Flow({ ...info, number: revisedNumber(job, 'A'), documentType: 'Assembly drawing' }, format);
  flow.heading('Parts list');
  flow.table(
    { 'No.': 9, Part: 38, Qty: 9, 'What it is': 56, Remark: 46 },
    parts.map((p, i) => [
      String(i + 1),
      p.what,
      String(p.quantity),
      p.order,
      shown.has(i + 1) ? p.remark : [p.remark, 'not drawn'].filter((t) => t !== '').join('; '),
    ]),
  );
  flow.text(['Lengths, torques and stock: see the shopping list, which is made from this list.']);
  const list = flow.sheets(sheets.length);
  const all = sheets.length + list.length;
  return [
    ...sheets.map(({ parts: drawn, scale, area, notes }, i): Sheet => {
      const made = {
        ...NOTHING_MADE,
        scale: scaleText(scale),
        projection: options.projection ?? papers.projection ?? 'first',
      };
      return {
        ...sheetOf(format, info, [
          sheetFrame(format),
          ...drawn,
          notesPart(notes, area.notesAt, area.notesWidthMm).part,
          titleBlock(info, { documentType: 'Assembly drawing', ...made, sheet: `${i + 1}/${all}` }, format),
        ]),
        realPerPaper: scale.real / scale.paper,
      };
    }),
    ...list,
  ];
}

function endFigure(
  job: ResolvedJob,
  frame: Workings['frame'],
  strut: Strut,
  bracket: Bracket,
  number: NumberOf,
): Figure {
  const { end } = bracket;
  return {
    title: `${end === 'base' ? 'Base end' : 'Lid end'}: ${bracket.name ?? bracket.id}`,
    draw: (k) => {
      const { marks, places } = endArt(job, frame, strut, end, bracket, k);
      const targets = places.flatMap(({ role, at }: PartPlace): BalloonTarget[] => {
        const no = number(strut.id, role === 'strut' ? null : end, role);
        return no === null ? [] : [{ no, at }];
      });
      return { marks, targets };
    },
  };
}
