import { blanks, type BracketSpec, contourPoints, isBent, isPinned, platesOf } from '../../bracket';
import { boundsOf, type Box, type Part } from '../../drawing';
import type { SeenEdge } from '../../solid';
import { rad } from '../../space';
import { tablePart } from '../table';
import type { Projection } from '../projection-symbol';
import type { DrawingScale } from '../scales';
import { scaleText } from '../scales';
import { align, pack } from './arrange';
import { blankView, gussetView } from './blank-view';
import { NoRoom } from './place-dimensions';
import { isometricMarks } from './isometric';
import { type DrawnView, frontView, sideView, tabEdgeView, titled, topView, type ViewWords } from './views';
import { wedgeSection } from './wedge-section';

/** Least breadth of the isometric view: smaller says nothing. */
const ISO_LEAST_MM = 15;
/** And its most: larger takes the room of what is measured. */
const ISO_MOST_MM = 130;

/** Whether the bare blank is larger than the room: then no view needs to be laid out to know. */
function outgrows(spec: BracketSpec, scale: number, room: Box): boolean {
  const outline = contourPoints(blanks(spec)[0]!.outline, rad(Math.PI / 8));
  const reach = (k: 0 | 1): number =>
    (Math.max(...outline.map((p) => p[k])) - Math.min(...outline.map((p) => p[k]))) * scale;
  return reach(0) > room.right - room.left || reach(1) > room.top - room.bottom;
}

/** The views a kind needs at a scale: those on one line with each other, and those that stand alone. */
function viewsOf(spec: BracketSpec, scale: number, words: ViewWords) {
  try {
    return bracketViews(spec, scale, words);
  } catch (error) {
    if (error instanceof NoRoom) return null;
    throw error;
  }
}

/** As `viewsOf`; throws NoRoom where a size finds no place. */
export function bracketViews(spec: BracketSpec, scale: number, words: ViewWords) {
  const rows = (...views: DrawnView[]) => views.flatMap((v) => v.rows);
  if (isBent(spec)) {
    // a plain angle shows all it has from front and side
    const top = isPinned(spec) || platesOf(spec).length > 0 ? topView(spec, scale, words) : null;
    const blank = blankView(spec, scale, words);
    return {
      aligned: {
        front: frontView(spec, scale, words).part,
        side: sideView(spec, scale, words).part,
        top: top?.part ?? null,
      },
      alone: [blank.part, ...(spec.gusset ? [gussetView(spec, scale).part] : [])],
      rows: rows(...(top ? [top] : []), blank),
    };
  }
  const top = topView(spec, scale, words);
  return spec.wedge
    ? {
        aligned: { front: top.part, side: null, top: null },
        alone: [wedgeSection(spec, scale).part],
        rows: rows(top),
      }
    : {
        aligned: { front: tabEdgeView(spec, scale).part, side: null, top: top.part },
        alone: [],
        rows: rows(top),
      };
}

/** The table of holes that have no sizes of place in a view. */
function holeTable(rows: DrawnView['rows']): Part | null {
  if (rows.length === 0) return null;
  const columns = [
    { heading: 'Hole', widthMm: 11 },
    { heading: 'x', widthMm: 17 },
    { heading: 'y', widthMm: 17 },
    { heading: 'Size', widthMm: 46 },
  ];
  const { part } = tablePart(
    'hole-table',
    columns,
    rows.map((r) => [r.name, r.across, r.along, r.size]),
    [0, 0],
  );
  return part;
}

/** The isometric at the drawing's scale, then at each smaller standard one that still says something. */
function* isometrics(
  edges: readonly SeenEdge[],
  scale: DrawingScale,
  smaller: readonly DrawingScale[],
): Generator<Part> {
  for (const s of [scale, ...smaller]) {
    const marks = isometricMarks(edges, s.paper / s.real);
    const box = boundsOf(marks);
    const wide = Math.max(box.right - box.left, box.top - box.bottom);
    if ((wide < ISO_LEAST_MM && s !== scale) || wide > ISO_MOST_MM) continue;
    const title = s === scale ? 'Isometric' : `Isometric, ${scaleText(s)}`;
    yield { name: 'isometric', marks: titled(marks, marks, title) };
  }
}

/**
 * All views of a bracket at a scale, in the room; null when they do not fit. `smaller`: the standard scales under this one, for the isometric alone, whose edges
 * `isometric` gives when the rest fits.
 */
export function compose(
  spec: BracketSpec,
  scale: DrawingScale,
  smaller: readonly DrawingScale[],
  projection: Projection,
  words: ViewWords,
  room: Box,
  isometric: () => readonly SeenEdge[],
): Part[] | null {
  const k = scale.paper / scale.real;
  if (outgrows(spec, k, room)) return null;
  const views = viewsOf(spec, k, words);
  if (!views) return null;
  const { aligned, alone, rows } = views;
  const table = holeTable(rows);
  const block = align(aligned, projection);
  const fixed = [block, ...alone.map((p) => [p]), ...(table ? [[table]] : [])];
  const bare = pack(fixed, room);
  if (!bare) return null;
  for (const iso of isometrics(isometric(), scale, smaller)) {
    const all = pack([...fixed, [iso]], room);
    if (all) return all;
  }
  // under full size what is to be measured is worth more than the picture of it
  return scale.paper < scale.real ? bare : null;
}
