import { type Box, type Mark, type Part, type Point, type Sheet } from '../drawing';
import { fail } from '../error';
import type { Workings } from '../workings';
import type { SheetOptions } from './bracket-sheet';
import { Flow } from './flow';
import { type PaperFormat, formatOf, sheetOf } from './formats';
import { sheetFrame } from './frame';
import { angleMark, layoutLabels } from './layout-labels';
import { type LayoutDatum, layoutScene, type LayoutScene } from './layout-scene';
import { areas, BETWEEN_MM, extentOf, JOG_MM, LINE_OFF_MM, type Placed, placeViews } from './layout-place';
import { layoutTables } from './layout-tables';
import { layoutView, onPaper } from './layout-view';
import { notesPart } from './notes';
import { TextPlacer } from './place-text';
import { figure } from './report-tables';
import { runningDimensions, type RunningEntry } from './running';
import { scaleText } from './scales';
import { NOTHING_MADE, titleBlock } from './title-block';
import { textAt } from './text';

export interface LayoutOptions extends SheetOptions {
  /** All lengths run from here; the base frame's origin without it. */
  readonly datum?: LayoutDatum;
}

const MOST_STRUT_NOTES = 3;
const FREE_MM = 30;
/** The opening angle is drawn as an arc where the view shows it truly to this, degrees. */
const ANGLE_OF = 0.05;

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
    // figures may run past the view where nothing else stands: over the upper one, under the lower one
    low: view.lower ? Math.max(room.bottom + 3, box.bottom - FREE_MM) : box.bottom - BETWEEN_MM / 2 + 3,
    high: view.lower ? box.top + BETWEEN_MM / 2 - 3 : Math.min(room.top - 3, box.top + FREE_MM),
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

function firstSheet(scene: LayoutScene, format: PaperFormat, options: LayoutOptions, datumName: string) {
  const projection = options.projection ?? 'first';
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
export function layoutDrawing(outcome: Pick<Workings, 'job' | 'frame'>, options: LayoutOptions): Sheet[] {
  const { job } = outcome;
  const papers = job.papers ?? {};
  const { creator = '', approver = '', owner = '' } = papers;
  const format = formatOf(options.paper ?? papers.paper ?? 'A4');
  const datumName = options.datum?.name ?? 'origin of the base frame';
  const scene = layoutScene(outcome, options.datum);
  const info = {
    title: (job.title === '' ? 'Lid and strut' : job.title).slice(0, 100),
    number: papers.number ? `${papers.number}-L` : 'L',
    ...{ creator, approver, owner },
    date: options.date,
  };
  const flow = new Flow({ ...info, documentType: 'Layout drawing' }, format);
  layoutTables(scene, flow, datumName);
  const more = flow.sheets(1);
  const { parts, scale, projection } = firstSheet(
    scene,
    format,
    { ...options, projection: options.projection ?? papers.projection ?? 'first' },
    datumName,
  );
  const shown = { ...NOTHING_MADE, scale: scaleText(scale), projection, sheet: `1/${more.length + 1}` };
  const block = titleBlock(info, { documentType: 'Layout drawing', ...shown }, format);
  return [{ ...sheetOf(format, info, [...parts, block]), realPerPaper: scale.real / scale.paper }, ...more];
}
