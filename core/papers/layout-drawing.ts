import { type Box, type Mark, type Part, type Point, type Sheet } from '../drawing';
import { fail } from '../error';
import { norm, sub } from '../space';
import type { Workings } from '../workings';
import type { SheetOptions } from './bracket-sheet';
import { Flow } from './flow';
import { type PaperFormat, formatOf, sheetOf } from './formats';
import { sheetFrame } from './frame';
import { angleMark, layoutLabels } from './layout-labels';
import { type LayoutDatum, layoutScene, type LayoutScene } from './layout-scene';
import {
  type Area,
  areas,
  BETWEEN_MM,
  extentOf,
  JOG_MM,
  LINE_OFF_MM,
  oneView,
  type Placed,
  type PlacedView,
  placeViews,
  threeViews,
} from './layout-place';
import { layoutTables } from './layout-tables';
import { END, endOnAxes, layoutView, onPaper, SIDE, TOP } from './layout-view';
import { DO_NOT_SCALE, notesPart } from './notes';
import { TextPlacer } from './place-text';
import { figure } from './report-tables';
import { runningDimensions, type RunningEntry } from './running';
import { scaleText } from './scales';
import { NOTHING_MADE, titleBlock } from './title-block';
import { textAt } from './text';
import { drawingInfo, revisedNumber } from './numbers';

export interface LayoutOptions extends SheetOptions {
  /** All lengths run from here; the base frame's origin without it. */
  readonly datum?: LayoutDatum;
}

const MOST_STRUT_NOTES = 3;
const FREE_MM = 30;
/** The opening angle is drawn as an arc where the view shows it truly to this, degrees. */
const ANGLE_OF = 0.05;

/** Running dimensions of the pivots in a view; what has no room is told. */
function dimensions(scene: LayoutScene, view: PlacedView, room: Box): { marks: Mark[]; left: string[] } {
  const { place, box } = view;
  const { axes } = place;
  const entries: RunningEntry[] = scene.pivots.map((p) => ({
    id: `${axes.name}-${p.id}`,
    at: onPaper(place, p.closed),
  }));
  const marks: Mark[] = [];
  const left: string[] = [];
  const common = { scale: place.scale, decimals: 1, zero: place.zero };
  const take = (found: Mark[] | null, axis: 0 | 1 | 2): void => {
    if (found) marks.push(...found);
    else left.push('XYZ'[axis]!);
  };
  if (view.up)
    take(
      runningDimensions(entries, {
        ...common,
        axis: 'y',
        level: box.left - LINE_OFF_MM,
        end: box.left - LINE_OFF_MM - JOG_MM,
        // figures may run past the view where nothing else stands
        low: view.over ? box.bottom - BETWEEN_MM / 2 + 3 : Math.max(room.bottom + 3, box.bottom - FREE_MM),
        high: view.under ? box.top + BETWEEN_MM / 2 - 3 : Math.min(room.top - 3, box.top + FREE_MM),
      }),
      axes.up,
    );
  if (view.along)
    take(
      runningDimensions(entries, {
        ...common,
        axis: 'x',
        level: box.bottom - LINE_OFF_MM,
        end: box.bottom - LINE_OFF_MM - JOG_MM,
        low: box.left - 6,
        high: Math.min(room.right - 3, box.right + 10),
        backwards: axes.way < 0,
      }),
      axes.right,
    );
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

/** Views, their notes and where both lie on one sheet. */
interface Laid {
  readonly placed: Placed;
  readonly area: Area;
  readonly notes: readonly string[];
}

/** Everything of one sheet but its frame and its title block. */
function sheetParts(scene: LayoutScene, { placed, area, notes }: Laid): Part[] {
  const { room } = area;
  const views = placed.views.map(({ place }) => layoutView(scene, place));
  const sized = placed.views.map((view) => dimensions(scene, view, room));
  const placer = new TextPlacer(room, [...views.flat(), ...sized.flatMap((s) => s.marks)]);
  const along = placed.views.find(({ place }) => place.axes === endOnAxes(scene));
  const angle = along ? (angleMark(scene, along.place, placer, ANGLE_OF) ?? []) : [];
  const titles = placed.views.map(({ place, box }): Mark[] => {
    const places = [0, 0.5, 1].flatMap((k) =>
      [3, 5, 7].map((up): Point => [box.left + k * (box.right - box.left), box.top + up]),
    );
    const mark = placer.put(
      places.map((p) => textAt(p, place.axes.title, 2.5, p[0] > box.left + 1 ? 'middle' : 'start')),
    );
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
  const told =
    missing.length > 0
      ? `No room here for ${missing.join(' and ')}: see the table on the last sheet.`
      : 'Numbers of the pivots: see the table on the last sheet.';
  return [
    ...placed.views.map(({ place }, i): Part => ({
      name: `${place.axes.name}-view`,
      marks: [...views[i]!, ...titles[i]!],
    })),
    { name: 'dimensions', marks: [...sized.flatMap((s) => s.marks), ...angle] },
    { name: 'labels', marks: labels.marks },
    notesPart([...notes, told], area.notesAt, area.notesWidthMm).part,
  ];
}

const paperPerReal = ({ placed: { scale } }: Laid): number => scale.paper / scale.real;

/** The three views on one sheet, or each on its own where that makes every one of them larger. */
function laidOut(scene: LayoutScene, format: PaperFormat, options: LayoutOptions, datumName: string): Laid[] {
  const span = norm(sub(scene.hinge[1], scene.hinge[0]));
  const common = [
    `Lengths in mm from the datum: ${datumName}. X forward, Y left, Z up. Figures are those with the lid closed.`,
    `Long dashes with two dots: the lid open at ${figure(scene.openDeg, 1)}°. Long dashes with one dot: paths of the pivots, and the hinge, ${figure(span, 1)} long in truth.`,
  ];
  const last = [DO_NOT_SCALE];
  const extent = extentOf(scene);
  const fit = (grid: Parameters<typeof placeViews>[2], own: readonly string[]): Laid | null => {
    const notes = [...common, ...own, ...last];
    // two lines are kept for what found no room
    return (
      areas(format, [...notes, 'x', 'x'])
        .flatMap((area) => {
          const placed = placeViews(extent, area.room, grid);
          return placed ? [{ placed, area, notes }] : [];
        })
        .sort((p, q) => paperPerReal(q) - paperPerReal(p))[0] ?? null
    );
  };
  const together = fit(threeViews(options.projection ?? 'first'), strutNotes(scene));
  const apart = [SIDE, TOP, END].map((axes) => fit(oneView(axes), axes === endOnAxes(scene) ? strutNotes(scene) : []));
  const whole = together ? paperPerReal(together) : 0;
  if (apart.every((one): one is Laid => one !== null && paperPerReal(one) > whole)) return apart;
  return together
    ? [together]
    : fail(`the layout does not fit on ${format.name} at any scale.`, ['paper'], 'Look for a point that lies far off.');
}

/**
 * The layout drawing of a job: side, top and end view at the largest ISO 5455 scale that the sheet, or a sheet for each, has room for, with lid and struts closed and, in phantom lines, open;
 * every pivot sized from the datum by running dimensions, strut lengths, opening angle; on the next sheets the table of all
 * coordinates. What has no room in the views is told to be in the table. Throws a LidwrightError when nothing fits or a text is too
 * long for its field.
 */
export function layoutDrawing(outcome: Pick<Workings, 'job' | 'frame'>, options: LayoutOptions): Sheet[] {
  const { job } = outcome;
  const papers = job.papers ?? {};
  const format = formatOf(options.paper ?? papers.paper ?? 'A4');
  const datumName = options.datum?.name ?? 'origin of the base frame';
  const scene = layoutScene(outcome, options.datum);
  const info = drawingInfo(job, 'L', options.date);
  const projection = options.projection ?? papers.projection ?? 'first';
  const laid = laidOut(scene, format, { ...options, projection }, datumName);
  const flow = new Flow({ ...info, number: revisedNumber(job, 'L'), documentType: 'Layout drawing' }, format);
  layoutTables(scene, flow, datumName);
  const more = flow.sheets(laid.length);
  const count = laid.length + more.length;
  return [
    ...laid.map((one, i): Sheet => {
      const { scale } = one.placed;
      const shown = { ...NOTHING_MADE, scale: scaleText(scale), projection, sheet: `${i + 1}/${count}` };
      const block = titleBlock(info, { documentType: 'Layout drawing', ...shown }, format);
      const parts = [sheetFrame(format), ...sheetParts(scene, one), block];
      return { ...sheetOf(format, info, parts), realPerPaper: scale.real / scale.paper };
    }),
    ...more,
  ];
}
