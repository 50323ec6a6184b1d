import { memo } from 'react';
import { CELL, type MapLine, type WorksMap, contour } from '../../../core/find';
import { demandOf } from '../../../core/demands';
import { type Vec3, add, scale, toRad } from '../../../core/space';
import { poseAt } from '../../../core/travel';
import { placesStore } from '../../state/places';
import { worksMap } from '../../state/works-map';
import { zoneTool } from '../../state/zone-tool';
import { DASH, Ink, type Pen, type Px, disc, label, labelWidth, line, trace } from './ink';
import type { Look } from './view';

// Where the strut may go: zones, the works map, and the places found.

const ZONE_DASH = [10, 3];

/** Where a zone's name begins, px, and how wide it is; null where the zone is seen too narrow for it. */
export function zoneName(
  pen: Pen,
  id: string,
  { scene, state, at }: Look,
): { text: string; x: number; y: number; width: number } | null {
  const corners = scene.zones.get(id)?.map(at);
  if (!corners) return null;
  const [xs, ys] = [corners.map((p) => p[0]), corners.map((p) => p[1])];
  const text = state.resolved.zones.find((z) => z.id === id)?.name ?? 'Zone';
  const width = labelWidth(pen, text);
  const broad = Math.max(...xs) - Math.min(...xs) > width + 20 && Math.max(...ys) - Math.min(...ys) > 36;
  return broad ? { text, width, x: Math.min(...xs) + 10, y: Math.min(...ys) + 14 } : null;
}

/** A zone's edge, and its name where it is seen broad. */
export const Zone = memo(({ id }: { id: string }) => (
  <Ink
    name={`zone ${id}`}
    draw={(pen, look) => {
      const { scene, state, at, palette: c } = look;
      const zone = state.resolved.zones.find((z) => z.id === id);
      const corners = scene.zones.get(id)?.map(at);
      if (!zone || !corners) return;
      line(pen, corners, c.ink, zone.strength === 'strong' ? 2.5 : 1.5, ZONE_DASH, true);
      const name = zoneName(pen, id, look);
      if (name) label(pen, name.text, name.x, name.y, c);
    }}
  />
));

/** A zone that is being drawn. */
export const ZoneDrawing = memo(() => (
  <Ink
    name="zone being drawn"
    draw={(pen, { projection, paperPx, palette: c }) => {
      const { draft } = zoneTool.getState();
      if (draft?.plane !== projection.plane) return;
      const corners = draft.corners.map(paperPx);
      line(pen, corners, c.accent, 2, ZONE_DASH);
      corners.forEach((p, i) => disc(pen, p, i === 0 && corners.length > 2 ? 8 : 4, c.paper, c.accent, 2));
    }}
  />
));

/** How a grid lies in a view: pixels of the first cell, and from one to the next. */
interface Lie {
  readonly from: Px;
  readonly across: Px;
  readonly up: Px;
}

function lieOf(map: WorksMap, look: Look): Lie | null {
  const { grid, end } = map;
  const { axis } = look.scene;
  const posed = (p: Vec3): Px => look.at(end === 'lid' && axis ? poseAt(axis, p, toRad(look.state.angleDeg)) : p);
  const far = (way: Vec3, n: number): Px => posed(add(grid.at, scale(way, n)));
  const from = posed(grid.at);
  const [a, u] = [far(grid.across, grid.columns - 1), far(grid.up, grid.rows - 1)];
  const across: Px = [(a[0] - from[0]) / (grid.columns - 1), (a[1] - from[1]) / (grid.columns - 1)];
  const up: Px = [(u[0] - from[0]) / (grid.rows - 1), (u[1] - from[1]) / (grid.rows - 1)];
  const area = Math.abs((a[0] - from[0]) * (u[1] - from[1]) - (a[1] - from[1]) * (u[0] - from[0]));
  // seen along its plane there is nothing to see
  return area < 0.1 * Math.hypot(a[0] - from[0], a[1] - from[1]) * Math.hypot(u[0] - from[0], u[1] - from[1]) || area < 400 ? null : { from, across, up }; // prettier-ignore
}

interface Drawn {
  readonly masks: Record<'fails' | 'open', OffscreenCanvas | null>;
  readonly boundary: readonly MapLine[];
  readonly levels: readonly MapLine[];
}

/** What is drawn of a map, made once. */
const drawn = new WeakMap<WorksMap, Drawn>();

const LEVELS = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9];

function drawnOf(map: WorksMap): Drawn {
  const had = drawn.get(map);
  if (had) return had;
  const { columns, rows } = map.grid;
  const mask = (state: number): OffscreenCanvas | null => {
    if (!map.state.includes(state)) return null;
    const canvas = new OffscreenCanvas(columns, rows);
    const pixels = new ImageData(columns, rows);
    map.state.forEach((s, i) => (pixels.data[4 * i + 3] = s === state ? 255 : 0));
    canvas.getContext('2d')!.putImageData(pixels, 0, 0);
    return canvas;
  };
  const made: Drawn = {
    masks: { fails: mask(CELL.fails), open: mask(CELL.open) },
    boundary: contour(map, 0),
    levels: LEVELS.flatMap((level) => contour(map, level)),
  };
  drawn.set(map, made);
  return made;
}

/** Lines aslant over a whole view, so far apart; both ways for what is not looked at yet. */
function hatch(
  pen: OffscreenCanvasRenderingContext2D,
  width: number,
  height: number,
  apart: number,
  style: string,
  both: boolean,
): void {
  pen.strokeStyle = style;
  pen.lineWidth = 1;
  pen.beginPath();
  for (let x = -height; x < width; x += apart) {
    pen.moveTo(x, height);
    pen.lineTo(x + height, 0);
    if (both) {
      pen.moveTo(x, 0);
      pen.lineTo(x + height, height);
    }
  }
  pen.stroke();
}

let scratch: OffscreenCanvas | null = null;

function hatched(pen: Pen, mask: OffscreenCanvas, { from, across, up }: Lie, look: Look, both: boolean): void {
  const { width, height } = look.size;
  if (!scratch || scratch.width !== width || scratch.height !== height) scratch = new OffscreenCanvas(width, height);
  const ink = scratch.getContext('2d')!;
  ink.setTransform(1, 0, 0, 1, 0, 0);
  ink.globalCompositeOperation = 'source-over';
  ink.clearRect(0, 0, width, height);
  hatch(ink, width, height, both ? 12 : 6, look.palette.soft, both);
  ink.globalCompositeOperation = 'destination-in';
  ink.imageSmoothingEnabled = false;
  // a cell reaches half a step to either side of its place
  ink.setTransform(
    across[0],
    across[1],
    up[0],
    up[1],
    from[0] - (across[0] + up[0]) / 2,
    from[1] - (across[1] + up[1]) / 2,
  );
  ink.drawImage(mask, 0, 0);
  pen.globalAlpha = 0.55;
  pen.drawImage(scratch, 0, 0, width, height);
  pen.globalAlpha = 1;
}

/** What a boundary is called: the demand that ends it, and the load case. */
function boundaryWords({ id, caseId }: MapLine, look: Look): string {
  if (id === null) return '';
  const at = look.state.resolved.loadCases.find((c) => c.id === caseId)?.name;
  const words = id === 'clearance-twin' ? 'the pair touching' : (demandOf(id)?.words ?? id);
  return at === undefined || look.state.resolved.loadCases.length < 2 ? words : `${words}, ${at}`;
}

const longOf = (points: readonly Px[]): number =>
  points.reduce((sum, p, i) => (i === 0 ? 0 : sum + Math.hypot(p[0] - points[i - 1]![0], p[1] - points[i - 1]![1])), 0);

/** Lines shorter than this go without a name, px. */
const NAMED_PX = 46;

/** Where the strut works: hatched where it doesn't, a line that names what ends it, and lines of what is to spare. */
export const WorksMapMark = memo(() => (
  <Ink
    name="works map"
    draw={(pen, look) => {
      const { map, of } = worksMap.getState();
      if (!map || !of || (of.zoneId === null && of.plane !== look.projection.plane)) return;
      const lie = lieOf(map, look);
      if (!lie) return;
      const { masks, boundary, levels } = drawnOf(map);
      if (masks.fails) hatched(pen, masks.fails, lie, look, false);
      if (masks.open) hatched(pen, masks.open, lie, look, true);
      const place = ([x, y]: readonly [number, number]): Px => [
        lie.from[0] + x * lie.across[0] + y * lie.up[0],
        lie.from[1] + x * lie.across[1] + y * lie.up[1],
      ];
      for (const { points } of levels) line(pen, points.map(place), look.palette.soft, 1);
      const lines = boundary.map((one) => ({ one, px: one.points.map(place) }));
      for (const { px } of lines) line(pen, px, look.palette.ink, 2);
      nameLines(pen, lines, look);
      if (masks.open)
        label(pen, 'crossed: gaps not looked at yet', 12, look.size.height - 36, look.palette); // prettier-ignore
      else if (!boundary.length && !look.state.drag) label(pen, allWords(map), 12, look.size.height - 56, look.palette);
    }}
  />
));

const allWords = (map: WorksMap): string =>
  map.state.includes(CELL.works) ? 'it works all over' : map.state.includes(CELL.fails) ? 'nothing works here' : '';

/** The longest line of each demand gets its name, beside its middle. */
function nameLines(pen: Pen, lines: readonly { one: MapLine; px: readonly Px[] }[], look: Look): void {
  const longest = new Map<string, { px: readonly Px[]; long: number }>();
  for (const { one, px } of lines) {
    const words = boundaryWords(one, look);
    const long = longOf(px);
    if (words !== '' && long > Math.max(NAMED_PX, longest.get(words)?.long ?? 0)) longest.set(words, { px, long });
  }
  const taken: [number, number, number][] = [];
  for (const [words, { px }] of [...longest].sort((a, b) => b[1].long - a[1].long).slice(0, 5)) {
    const [x, y] = px[Math.floor(px.length / 2)]!;
    const width = labelWidth(pen, words);
    const lx = Math.max(4, x + 22 + width > look.size.width ? x - 22 - width : x + 22);
    let ly = Math.min(Math.max(y - 10, 12), look.size.height - 12);
    while (taken.some(([tx, ty, tw]) => Math.abs(ty - ly) < 20 && tx < lx + width && lx < tx + tw)) ly += 20;
    if (ly > look.size.height - 12) continue;
    taken.push([lx, ly, width]);
    line(pen, [[x, y], [lx > x ? lx - 3 : lx + width + 3, ly]], look.palette.ink, 0.8); // prettier-ignore
    disc(pen, [x, y], 2.5, look.palette.ink, null);
    label(pen, words, lx, ly, look.palette);
  }
}

/** Places found: dashed, numbered at the base ball, the chosen one strong; where none works, the nearest. */
export const PlaceGhosts = memo(() => (
  <Ink
    name="places found"
    draw={(pen, look) => {
      const { places, chosen, answer } = placesStore.getState();
      const { scene, state, at, palette: c } = look;
      const { axis } = scene;
      const posed = (p: Vec3): Px => at(axis ? poseAt(axis, p, toRad(state.angleDeg)) : p);
      const near = places.length === 0 ? (answer?.relaxed?.place ?? answer?.nearest?.place) : undefined;
      const all = near ? [near] : places;
      [...all.keys()]
        .sort((a, b) => Number(a === chosen) - Number(b === chosen))
        .forEach((i) => {
          const place = all[i]!;
          const own = i === chosen;
          const [base, lid] = [at(place.base), posed(place.lid)];
          const ink = own ? c.accent : c.ink;
          line(pen, [base, lid], ink, own ? 4 : 1.5, own ? DASH.full : DASH.hidden);
          disc(pen, lid, own ? 6 : 4, c.paper, ink, 2);
          disc(pen, base, 9, own ? c.accent : c.paper, ink, 1.5);
          const text = near ? '–' : String(i + 1);
          pen.fillStyle = own ? c.paper : c.ink;
          pen.textAlign = 'center';
          pen.textBaseline = 'middle';
          pen.fillText(text, base[0], base[1] + 0.5);
          pen.textAlign = 'left';
        });
      trace(pen, []);
    }}
  />
));
