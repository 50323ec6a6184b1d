import { type Box, type Mark, type Part, type Point, type Sheet } from '../drawing';
import { fail } from '../error';
import type { Outcome } from '../findings';
import type { SheetWishes } from './bracket-sheet';
import { Flow } from './flow';
import { type PaperFormat, paperFormats } from './formats';
import { sheetFrame } from './frame';
import { angleMark, layoutLabels } from './layout-labels';
import { type LayoutDatum, layoutScene, type LayoutScene } from './layout-scene';
import { layoutView, onPaper, SIDE, TOP, type ViewAxes, type ViewPlace } from './layout-view';
import { notesPart } from './notes';
import { TextPlacer } from './place-text';
import { columns, figure } from './report-tables';
import { runningDimensions, type RunningEntry } from './running';
import { type DrawingScale, drawingScales, scaleText } from './scales';
import { TITLE_BLOCK_WIDTH_MM, titleBlock, titleBlockHeightMm } from './title-block';
import { textAt } from './text';

export interface LayoutWishes extends SheetWishes {
  /** All lengths run from here; the base frame's origin without it. */
  readonly datum?: LayoutDatum;
}

/** Room for running dimensions left of the views and under them: to the dimension line, the slanted run, the figure. */
const LINE_OFF_MM = 9;
const JOG_MM = 8;
const FIGURE_ROOM_MM = 18;
const ROW_MM = LINE_OFF_MM + JOG_MM + FIGURE_ROOM_MM;
const RIGHT_MM = 14;
const BETWEEN_MM = 16;
const TOP_MM = 12;
/** A datum farther off the views than this share of their size is left out of the picture. */
const NEAR_DATUM = 0.35;
const MOST_STRUT_NOTES = 3;
const ANGLE_OF = 0.05;

interface Extent {
  readonly low: readonly [number, number, number];
  readonly high: readonly [number, number, number];
}

function extentOf(scene: LayoutScene): Extent {
  const all = [
    ...scene.lidClosed,
    ...scene.lidOpen,
    ...scene.hinge,
    ...scene.pivots.flatMap((p) => (p.open ? [p.closed, p.open] : [p.closed])),
    ...scene.struts.flatMap((s) => [
      s.base,
      ...[0, 0.25, 0.5, 0.75, 1].map((t) => scene.pose(s.lidClosed, scene.openDeg * t)),
    ]),
  ];
  const axis = (k: 0 | 1 | 2): readonly [number, number] => {
    const values = all.map((p) => p[k]);
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const size = Math.max(high - low, 1);
    if (0 < low && low < NEAR_DATUM * size) return [0, high];
    if (0 > high && -high < NEAR_DATUM * size) return [low, 0];
    return [low, high];
  };
  const [x, y, z] = [axis(0), axis(1), axis(2)];
  return { low: [x[0], y[0], z[0]], high: [x[1], y[1], z[1]] };
}

interface Placed {
  readonly scale: DrawingScale;
  readonly views: readonly { readonly place: ViewPlace; readonly box: Box; readonly lower: boolean }[];
}

/** The two views over one another on one X, at the largest scale that leaves room for their dimensions. */
function placeViews(extent: Extent, room: Box, projection: 'first' | 'third'): Placed | null {
  const order: readonly ViewAxes[] = projection === 'first' ? [SIDE, TOP] : [TOP, SIDE];
  for (const scale of drawingScales.filter((s) => s.paper === 1)) {
    const k = scale.paper / scale.real;
    const width = (extent.high[0] - extent.low[0]) * k;
    const heights = order.map((v) => (extent.high[v.up] - extent.low[v.up]) * k);
    const spareX = room.right - room.left - ROW_MM - RIGHT_MM - width;
    const spareY = room.top - room.bottom - TOP_MM - BETWEEN_MM - ROW_MM - heights[0]! - heights[1]!;
    if (spareX < 0 || spareY < 0) continue;
    const left = room.left + ROW_MM + spareX / 2;
    let top = room.top - TOP_MM - spareY / 3;
    const views = order.map((axes, i) => {
      const height = heights[i]!;
      const box: Box = { left, right: left + width, top, bottom: top - height };
      const zero: Point = [left - extent.low[0] * k, top - height - extent.low[axes.up] * k];
      top -= height + BETWEEN_MM + spareY / 3;
      return { place: { axes, zero, scale: k }, box, lower: i === 1 };
    });
    return { scale, views };
  }
  return null;
}

/** Running dimensions of the pivots in a view; what has no room is told. */
function dimensions(scene: LayoutScene, view: Placed['views'][number], room: Box): { marks: Mark[]; left: string[] } {
  const { place, box } = view;
  const entries: RunningEntry[] = scene.pivots.map((p) => ({
    id: `${place.axes.name}-${p.id}`,
    at: onPaper(place, p.closed),
  }));
  const marks: Mark[] = [];
  const left: string[] = [];
  const common = { scale: place.scale, decimals: 1, zero: place.zero };
  const up = runningDimensions(entries, {
    ...common,
    axis: 'y',
    level: box.left - LINE_OFF_MM,
    end: box.left - LINE_OFF_MM - JOG_MM,
    low: Math.max(room.bottom + 3, box.bottom - BETWEEN_MM / 2 + 3),
    high: box.top + BETWEEN_MM / 2 - 3,
  });
  if (up) marks.push(...up);
  else left.push(place.axes.up === 2 ? 'Z' : 'Y');
  if (view.lower) {
    const along = runningDimensions(entries, {
      ...common,
      axis: 'x',
      level: box.bottom - LINE_OFF_MM,
      end: box.bottom - LINE_OFF_MM - JOG_MM,
      low: box.left - 6,
      high: Math.min(room.right - 3, box.right + 10),
    });
    if (along) marks.push(...along);
    else left.push('X');
  }
  return { marks, left };
}

function strutNotes(scene: LayoutScene): string[] {
  const own = scene.struts.filter((s) => !s.twin);
  const told = own
    .slice(0, MOST_STRUT_NOTES)
    .map(
      (s) =>
        `${s.mark} ${s.name}: closed ${figure(s.closedMm, 1)}, open ${figure(s.openMm, 1)} between pivot centres; the strut itself ${figure(s.extendedMm - s.strokeMm, 1)} to ${figure(s.extendedMm, 1)}.`,
    );
  return own.length > MOST_STRUT_NOTES ? [...told, 'The other struts: see the next sheet.'] : told;
}

function tables(scene: LayoutScene, flow: Flow, datumName: string): void {
  flow.heading(`Pivots, mm from the datum (${datumName}); X forward, Y left, Z up`);
  flow.table(
    columns(
      flow.widthMm,
      ['No.', 8],
      ['Pivot', 44],
      ['X', 16],
      ['Y', 16],
      ['Z', 16],
      ['X open', 18],
      ['Y open', 18],
      ['Z open', 18],
    ),
    scene.pivots.map((p, i) => [
      String(i + 1),
      p.name,
      ...p.closed.map((v) => figure(v, 1)),
      ...(p.open ? p.open.map((v) => figure(v, 1)) : ['as closed', '', '']),
    ]),
  );
  const own = scene.struts.filter((s) => !s.twin);
  if (own.length > 0) {
    flow.heading('Struts, mm between pivot centres');
    flow.table(
      columns(
        flow.widthMm,
        ['Mark', 12],
        ['Strut', 50],
        ['Closed', 20],
        ['Open', 20],
        ['Compressed', 22],
        ['Extended', 22],
        ['Quantity', 16],
      ),
      own.map((s) => [
        s.mark,
        s.name,
        figure(s.closedMm, 1),
        figure(s.openMm, 1),
        figure(s.extendedMm - s.strokeMm, 1),
        figure(s.extendedMm, 1),
        scene.struts.some((t) => t.twin && t.mark === s.mark) ? '2' : '1',
      ]),
    );
  }
  if (scene.lidClosed.length > 0) {
    flow.heading('Corners of the lid, mm from the datum');
    flow.table(
      columns(
        flow.widthMm,
        ['Corner', 20],
        ['X', 20],
        ['Y', 20],
        ['Z', 20],
        ['X open', 20],
        ['Y open', 20],
        ['Z open', 20],
      ),
      scene.lidClosed.map((p, i) => [String(i + 1), ...[...p, ...scene.lidOpen[i]!].map((v) => figure(v, 1))]),
    );
  }
}

/** Where views and notes go: above the title block, or on a wide sheet beside it with the notes over the block. */
interface Area {
  readonly room: Box;
  readonly notesAt: Point;
  readonly notesWidthMm: number;
}

function areas(format: PaperFormat, notes: readonly string[]): Area[] {
  const { space } = format;
  const blockTop = space.bottom + titleBlockHeightMm(format);
  const onA4 = format.name === 'A4';
  const blockLeft = space.right - TITLE_BLOCK_WIDTH_MM;
  const all = { left: space.left + 6, right: space.right - 6, top: space.top - 6 };
  const over = (width: number): number => notesPart(notes, [0, 0], width).heightMm;
  const wide = onA4 ? space.right - space.left - 6 : blockLeft - space.left - 8;
  const top = (onA4 ? blockTop : space.bottom) + 3 + over(wide);
  const above: Area = {
    room: { ...all, bottom: Math.max(blockTop, top) + 3 },
    notesAt: [space.left + 3, top],
    notesWidthMm: wide,
  };
  if (onA4) return [above];
  const beside: Area = {
    room: { ...all, right: blockLeft - 6, bottom: space.bottom + 8 },
    notesAt: [blockLeft + 3, blockTop + 3 + over(TITLE_BLOCK_WIDTH_MM - 6)],
    notesWidthMm: TITLE_BLOCK_WIDTH_MM - 6,
  };
  return [above, beside];
}

function firstSheet(scene: LayoutScene, format: PaperFormat, wishes: LayoutWishes, datumName: string) {
  const projection = wishes.projection ?? 'first';
  const notes = [
    `Lengths in mm from the datum: ${datumName}. X forward, Y left, Z up. Figures are those with the lid closed.`,
    `Long dashes with two dots: the lid open at ${figure(scene.openDeg, 1)}°. Long dashes with one dot: paths of the pivots.`,
    ...strutNotes(scene),
  ];
  const extent = extentOf(scene);
  // two lines are kept for what found no room
  const tries = areas(format, [...notes, 'x', 'x']).flatMap((area) => {
    const placed = placeViews(extent, area.room, projection);
    return placed ? [{ area, placed }] : [];
  });
  const best = tries.sort((p, q) => p.placed.scale.real - q.placed.scale.real)[0];
  if (!best)
    return fail(
      `the layout does not fit on ${format.name} at any scale.`,
      ['paper'],
      'Look for a point that lies far off.',
    );
  const { placed, area } = best;
  const { room } = area;
  const views = placed.views.map(({ place }) => layoutView(scene, place));
  const sized = placed.views.map((view) => dimensions(scene, view, room));
  const placer = new TextPlacer(room, [...views.flat(), ...sized.flatMap((s) => s.marks)]);
  const angle: Mark[] = [];
  placed.views.forEach(({ place }) => {
    if (place.axes.name === 'side') angle.push(...(angleMark(scene, place, placer, ANGLE_OF) ?? []));
  });
  const titles = placed.views.map(({ place, box }): Mark[] => {
    const words = place.axes.name === 'side' ? 'Side view' : 'Top view';
    const places = [0, 0.5, 1].flatMap((k) =>
      [3, 5, 7].map((up): Point => [box.left + k * (box.right - box.left), box.top + up]),
    );
    const mark = placer.put(places.map((p) => textAt(p, words, 2.5, p[0] > box.left + 1 ? 'middle' : 'start')));
    return mark ? [mark] : [];
  });
  const labels = layoutLabels(
    scene,
    placed.views.map((v) => v.place),
    placer,
  );
  const unplaced = [...new Set(sized.flatMap((s) => s.left))];
  const missing = [
    ...(unplaced.length > 0 ? [`${unplaced.join(', ')} along the view`] : []),
    ...(labels.missing > 0 ? [`${labels.missing} of the marks`] : []),
  ];
  if (missing.length > 0) notes.push(`No room here for ${missing.join(' and ')}: see the table on the next sheet.`);
  else notes.push('Numbers of the pivots: see the table on the next sheet.');
  const parts: Part[] = [
    sheetFrame(format),
    ...placed.views.map(({ place }, i): Part => ({
      name: `${place.axes.name}-view`,
      marks: [...views[i]!, ...titles[i]!],
    })),
    { name: 'dimensions', marks: [...sized.flatMap((s) => s.marks), ...angle] },
    { name: 'labels', marks: labels.marks },
    notesPart(notes, area.notesAt, area.notesWidthMm).part,
  ];
  return { parts, scale: placed.scale, projection };
}

/**
 * The layout drawing of a job: side and top view at an ISO 5455 scale with lid and struts closed and, in phantom lines, open;
 * every pivot sized from the datum by running dimensions, strut lengths, opening angle; on the next sheets the table of all
 * coordinates. What has no room in the views is told to be in the table. Throws a LidwrightError when nothing fits or a text is too
 * long for its field.
 */
export function layoutDrawing(outcome: Outcome, wishes: LayoutWishes): Sheet[] {
  const { job } = outcome;
  const papers = job.papers ?? {};
  const format = paperFormats[wishes.paper ?? papers.paper ?? 'A4'];
  if (!format) return fail(`there is no paper "${String(wishes.paper)}".`, ['paper'], 'Choose A4 or A3.');
  const datumName = wishes.datum?.name ?? 'origin of the base frame';
  const scene = layoutScene(outcome, wishes.datum);
  const info = {
    title: (job.title === '' ? 'Lid and strut' : job.title).slice(0, 100),
    number: papers.number ? `${papers.number}-L` : 'L',
    creator: papers.creator ?? '',
    approver: papers.approver ?? '',
    owner: papers.owner ?? '',
    date: wishes.date,
  };
  const flow = new Flow({ ...info, documentType: 'Layout drawing' }, format);
  tables(scene, flow, datumName);
  const more = flow.sheets(1);
  const { parts, scale, projection } = firstSheet(
    scene,
    format,
    { ...wishes, projection: wishes.projection ?? papers.projection ?? 'first' },
    datumName,
  );
  return [
    {
      title: [info.number, info.title].join(' '),
      widthMm: format.widthMm,
      heightMm: format.heightMm,
      parts: [
        ...parts,
        titleBlock(
          info,
          {
            documentType: 'Layout drawing',
            material: '',
            mass: '',
            scale: scaleText(scale),
            tolerance: '',
            edges: '',
            projection,
            sheet: `1/${more.length + 1}`,
          },
          format,
        ),
      ],
    },
    ...more,
  ];
}
