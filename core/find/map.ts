// The works map: for one pivot, at every place of a grid, whether the strut would do there, what is to spare and what decides.
import { attempt } from '../error';
import type { EndName, Job, ResolvedJob, Spec, Zone } from '../job';
import { stemOf } from '../travel';
import { type Vec3, acos, add, asin, axisVec, cross, dot, perpendicularTo, scale, toDeg, unit } from '../space';
import type { StrutListEntry } from '../strut';
import { METRIC } from '../quantity';
import { type Workings, workingsOf } from '../workings';
import { heldOrNot } from './aim';
import { type Fitted, type PlaceEnd, applyPlace } from './apply';
import { type Field, fieldOf, toAxes } from './field';
import { PARTS, type Quick, quickOf } from './quick';
import { setStem } from './stems';
import { type Site, hasFoot, holds, mountAxes, referenceOn, siteOf } from './site';
import { type Verdict, judged } from './verdict';

/** Where a map's cells stand: `at` the first, `across` and `up` from one to the next. Base axes, lid closed, mm. */
export interface MapGrid {
  readonly at: Vec3;
  readonly across: Vec3;
  readonly up: Vec3;
  readonly columns: number;
  readonly rows: number;
}

export interface MapOptions {
  readonly strutId: string;
  /** The pivot that stands in turn at every cell; the other stays. */
  readonly end: EndName;
  readonly grid: MapGrid;
  /** Cells whose foot is off this zone are left out. */
  readonly zoneId?: string;
  /** The best of these with the best studs, in place of the strut as it is fitted with its studs as they are set. */
  readonly list?: readonly StrutListEntry[];
}

/** A cell: off the zone; it fails; it works; what it takes to know is not looked at yet (gaps, brackets, ratings). */
export const CELL = { off: 0, fails: 1, works: 2, open: 3 } as const;

/** What can decide a cell, by the number that the map holds: ids of demands. */
export const MAP_DEMANDS = [...PARTS, 'dead-centre', 'base-joint', 'lid-joint', 'clearance-twin'] as const;
const [DEAD, BASE, LID, TWIN] = [8, 9, 10, 11] as const;
/** Nothing decides, or something that is no part of the list above: see `others`. */
const NONE = 255;

/** A map so far. Rows of the grid one after the other. */
export interface WorksMap {
  readonly grid: MapGrid;
  readonly end: EndName;
  readonly state: Uint8Array;
  /** Share to spare, 0 at the limit; NaN off the zone. */
  readonly spare: Float32Array;
  /** Index into MAP_DEMANDS or, from its length on, into `others`; 255 for none. */
  readonly decides: Uint8Array;
  readonly others: readonly string[];
  /** Index into `caseIds`; −1 where no load case decides. */
  readonly caseOf: Int8Array;
  readonly caseIds: readonly string[];
  /** With a list: which entry, and which of its forces; −1 for none. */
  readonly entry: Int16Array;
  readonly force: Int16Array;
}

/** The demand that a cell's number stands for. */
export const decidesAt = (map: WorksMap, cell: number): string | null => {
  const k = map.decides[cell]!;
  return MAP_DEMANDS[k] ?? map.others[k - MAP_DEMANDS.length] ?? null;
};

/** A cell's place, base axes, lid closed, mm. */
export const cellAt = ({ at, across, up, columns }: MapGrid, cell: number): Vec3 =>
  add(at, add(scale(across, cell % columns), scale(up, Math.floor(cell / columns))));

/** A grid over a zone, as far off its surface as `off`: its box in so many columns and rows, cells at its edges too. */
export function zoneGrid(zone: Zone, offMm: number, columns: number, rows = columns): MapGrid {
  const { middle, e, f, normal, low, high } = siteOf(zone);
  const at = add(middle, add(add(scale(e, low[0]), scale(f, low[1])), scale(normal, offMm)));
  return {
    ...{ at, columns, rows },
    across: scale(e, (high[0] - low[0]) / Math.max(1, columns - 1)),
    up: scale(f, (high[1] - low[1]) / Math.max(1, rows - 1)),
  };
}

/** The same grid with other numbers of cells. */
export function withCells(grid: MapGrid, columns: number, rows = columns): MapGrid {
  const share = (from: number, to: number): number => Math.max(1, from - 1) / Math.max(1, to - 1);
  return {
    ...{ at: grid.at, columns, rows },
    across: scale(grid.across, share(grid.columns, columns)),
    up: scale(grid.up, share(grid.rows, rows)),
  };
}

/** Whether the judge of arrays knows all that can refuse a place: nothing stands in the way, nothing else is rated. */
function sure(job: ResolvedJob): boolean {
  const { limits, latch, struts, loadCases } = job;
  return (
    job.travel.stop === 'lid' &&
    struts.length === 1 &&
    job.springs.length + job.obstacles.length + job.brackets.length === 0 &&
    !(job.panel !== undefined && job.outline.length > 2) &&
    job.hinge.ratedN === undefined &&
    limits.letGoJ === undefined &&
    !(latch?.ratedN !== undefined && loadCases.some((c) => !c.mustHold)) &&
    struts.every(({ ends }) => ends.base.swingDeg === undefined && ends.lid.swingDeg === undefined)
  );
}

/** With a stop of its own a strut's travel ends between rows, where moments are taken by a straight line: so near is left open. */
const NEAR = 0.03;

/** What a map of a job is made with; made once for any number of grids. Throws a LidwrightError as fieldOf does. */
export interface Mapper {
  readonly field: Field;
  /** Whether no cell is left open. */
  readonly sure: boolean;
  /** The map of a grid as far as arrays tell. */
  readonly map: () => WorksMap;
  /** The same in steps: yields after every few rows. */
  readonly mapSteps: () => Generator<null, WorksMap, void>;
  /** What stands at a cell. */
  readonly fitted: (map: WorksMap, cell: number) => Fitted | null;
  /** The job with the cell's strut at the cell. */
  readonly jobAt: (map: WorksMap, cell: number) => Job;
}

/** A mount where none is given: the studs stand along the hinge. */
const sideways = ({ axis }: Field, end: EndName, balls: { base: Vec3; lid: Vec3 }): Site => {
  const least = axis.opening.map(Math.abs).indexOf(Math.min(...axis.opening.map(Math.abs)));
  return plainSite(end, axis.opening, balls[end], unit(perpendicularTo(axisVec(least), axis.opening)));
};

/** A surface that only its normal is known of, through a place. */
function plainSite(end: EndName, normal: Vec3, at: Vec3, along: Vec3): Site {
  const m = unit(normal);
  const e = unit(perpendicularTo(along, m));
  return siteOf({ id: '', on: end, corners: [at, add(at, e), add(at, cross(m, e))], faces: m, offMm: [0, 0] } as Zone);
}

/** A stop is heard after so many rows. */
const ROWS_A_STEP = 8;

/** See Mapper. */
export function mapperOf(raw: Job, { strutId, end, grid, zoneId, list }: MapOptions): Mapper {
  const field = fieldOf(raw, { asFitted: true, strutId, ...(list ? { list } : {}) });
  const { job, strutIndex } = field;
  const strut = job.struts[strutIndex]!;
  const quick = quickOf(field);
  const isSure = sure(job);
  const zone = zoneId === undefined ? undefined : job.zones.find((z) => z.id === zoneId);
  const site = zone && siteOf(zone);
  const other: EndName = end === 'base' ? 'lid' : 'base';
  const at = (id: string): Vec3 => job.points.find((p) => p.id === id)!.at;
  const still = at(strut[other]);
  const ballsAt = (cell: number): { base: Vec3; lid: Vec3 } => {
    const here = cellAt(grid, cell);
    return end === 'base' ? { base: here, lid: still } : { base: still, lid: here };
  };
  const quantity = strut.quantity === 2 ? 1 : 0;
  const inAxes = (v: Vec3): Vec3 => [dot(v, field.x), dot(v, field.y), dot(v, field.axis.opening)];
  const setStems = { base: inAxes(stemOf(strut.ends.base)), lid: inAxes(stemOf(strut.ends.lid)) };

  const siteAt = (which: EndName, balls: { base: Vec3; lid: Vec3 }): Site => {
    const own = which === end && site ? site : job.zones.map(siteOf).find((s) => s.zone.on === which && holds(s, balls[which])); // prettier-ignore
    const mount = strut.ends[which].mount;
    return (
      own ?? (mount ? plainSite(which, mount.normal, balls[which], mount.reference) : sideways(field, which, balls))
    );
  };

  const steps = function* (): Generator<null, WorksMap, void> {
    const count = grid.columns * grid.rows;
    const made: WorksMap = {
      ...{ grid, end, others: [] },
      state: new Uint8Array(count),
      spare: new Float32Array(count).fill(NaN),
      decides: new Uint8Array(count).fill(NONE),
      caseOf: new Int8Array(count).fill(-1),
      caseIds: field.cases.map((c) => c.id),
      entry: new Int16Array(count).fill(-1),
      force: new Int16Array(count).fill(-1),
    };
    const judge = list ? bestJudge(field, quick, quantity) : presentJudge(field, quick, quantity, setStems);
    const stillAt = toAxes(field, still);
    const [first, across, up] = [toAxes(field, grid.at), inAxes(grid.across), inAxes(grid.up)];
    const here: [number, number, number] = [0, 0, 0];
    const mask = site && maskOf(site, grid);
    for (let row = 0, cell = 0; row < grid.rows; row++) {
      if (row % ROWS_A_STEP === 0) yield null;
      for (let column = 0; column < grid.columns; column++, cell++) {
        if (mask && !mask(column, row)) continue;
        for (let k = 0; k < 3; k++) here[k] = first[k]! + column * across[k]! + row * up[k]!;
        quick.pose(end === 'base' ? here : stillAt, end === 'base' ? stillAt : here, 0, 1);
        judge(made, cell);
        if (list && made.spare[cell]! >= 0) roundStems(made, cell);
        const spare = made.spare[cell]!;
        const far = isSure || (job.travel.stop === 'lid' ? spare < 0 : spare < -NEAR);
        made.state[cell] = !far ? CELL.open : spare >= 0 ? CELL.works : CELL.fails;
      }
    }
    return made;
  };
  const map = (): WorksMap => {
    const making = steps();
    for (;;) {
      const { done, value } = making.next();
      if (done) return value;
    }
  };

  /** Where studs of whole degrees lose the range, the joint decides. The judge stands at the cell. */
  const roundStems = (made: WorksMap, cell: number): void => {
    if (Math.min(quick.joint('base') * field.ends.base.rangeDeg, quick.joint('lid') * field.ends.lid.rangeDeg) > 1.6) return; // prettier-ignore
    const set = stemsAt(ballsAt(cell));
    for (const which of ['base', 'lid'] as const) {
      const over = set[which].offDeg - field.ends[which].rangeDeg;
      if (over <= 0) continue;
      made.spare[cell] = -0.001 - over / 100;
      made.decides[cell] = which === 'base' ? BASE : LID;
      made.caseOf[cell] = -1;
    }
  };

  const stemsAt = (balls: { base: Vec3; lid: Vec3 }) => {
    const one = (which: EndName) => {
      const on = siteAt(which, balls);
      const { e, side, m } = mountAxes(on, balls.base, balls.lid);
      quick.joint(which);
      return { site: on, ...setStem(field, quick, which, { e: inAxes(e), side: inAxes(side), m: inAxes(m) }) };
    };
    return { base: one('base'), lid: one('lid') };
  };

  const fitted = (made: WorksMap, cell: number): Fitted | null => {
    const body = field.bodies.find((b) => b.entry === made.entry[cell]);
    if (!list || !body) return null;
    const balls = ballsAt(cell);
    quick.pose(toAxes(field, balls.base), toAxes(field, balls.lid), 0, 1);
    quick.lengths(body);
    const set = stemsAt(balls);
    const endOf = (which: EndName): PlaceEnd => {
      const { site: on, azimuthDeg, tiltDeg, stem } = set[which];
      const { fitting, rangeDeg } = field.ends[which];
      const inBase = add(add(scale(field.x, stem[0]), scale(field.y, stem[1])), scale(field.axis.opening, stem[2]));
      const reference = referenceOn(on, balls.base, balls.lid);
      return { ...{ zoneId: on.zone.id, fitting, rangeDeg, azimuthDeg, tiltDeg }, ...{ normal: on.normal, reference, stem: inBase } }; // prettier-ignore
    };
    return {
      ...balls,
      quantity: strut.quantity,
      openDeg: job.travel.openDeg,
      spec: body.specs[made.force[cell]!] as Spec,
      ends: { base: endOf('base'), lid: endOf('lid') },
    };
  };

  const jobAt = (made: WorksMap, cell: number): Job => {
    const place = fitted(made, cell);
    if (place) return applyPlace(raw, { strutIndex, place });
    const here = cellAt(grid, cell);
    return { ...raw, points: raw.points.map((p) => (p.id === strut[end] ? { ...p, at: here } : p)) };
  };
  return { field, sure: isSure, map, mapSteps: steps, fitted, jobAt };
}

/** Whether a column and row stand over a zone. */
function maskOf(site: Site, grid: MapGrid): (column: number, row: number) => boolean {
  const { e, f, middle } = site;
  const d: Vec3 = [grid.at[0] - middle[0], grid.at[1] - middle[1], grid.at[2] - middle[2]];
  const [x0, y0] = [dot(d, e), dot(d, f)];
  const [xa, ya, xu, yu] = [dot(grid.across, e), dot(grid.across, f), dot(grid.up, e), dot(grid.up, f)];
  // cells of the box's own edge count as in
  const [w, h] = [site.high[0] - site.low[0], site.high[1] - site.low[1]];
  const inward = (v: number, low: number, size: number): number =>
    Math.min(low + size * (1 - 1e-9), Math.max(low + size * 1e-9, v));
  return (column, row) =>
    hasFoot(
      site,
      inward(x0 + column * xa + row * xu, site.low[0], w),
      inward(y0 + column * ya + row * yu, site.low[1], h),
    );
}

type Judge = (map: WorksMap, cell: number) => void;

const put = (map: WorksMap, cell: number, spare: number, decides: number, caseOf = -1): void => {
  map.spare[cell] = spare;
  map.decides[cell] = decides;
  map.caseOf[cell] = caseOf;
};

/** Lowers a cell's spare to what else has less. */
const lower = (map: WorksMap, cell: number, spare: number, decides: number): void => {
  if (spare < map.spare[cell]!) put(map, cell, spare, decides);
};

function presentJudge(field: Field, quick: Quick, quantity: 0 | 1, stems: Record<EndName, Vec3>): Judge {
  const body = field.bodies[0]!;
  const along = new Float64Array(3);
  const rangeShare = (end: EndName): number => {
    const { rangeDeg, axial } = field.ends[end];
    const [x, y, z] = stems[end];
    let worst = axial ? 1 : 0;
    for (let i = 0, rows = quick.rows(); i < rows; i++) {
      quick.direction(end, i, along);
      const d = Math.abs(x * along[0]! + y * along[1]! + z * along[2]!);
      if (axial ? d < worst : d > worst) worst = d;
    }
    const offDeg = toDeg(axial ? acos(Math.min(1, worst)) : asin(Math.min(1, worst)));
    return offDeg <= rangeDeg + 1e-9 ? 1 : Math.min((rangeDeg - offDeg) / Math.max(rangeDeg, 1), -1e-9);
  };
  return (map, cell) => {
    if (quick.dead() < 0) return put(map, cell, -1 + quick.dead(), DEAD);
    quick.one(body, 0, quantity);
    const part = quick.tightest();
    put(map, cell, quick.shareOf(part), part, quick.tightestCase(part));
    lower(map, cell, heldOrNot(rangeShare('base')), BASE);
    lower(map, cell, heldOrNot(rangeShare('lid')), LID);
    if (quantity === 1) lowerTwin(map, cell, quick.twinGapMm(body));
  };
}

const lowerTwin = (map: WorksMap, cell: number, gapMm: number): void => {
  if (gapMm < 0) lower(map, cell, gapMm / 10, TWIN);
};

function bestJudge(field: Field, quick: Quick, quantity: 0 | 1): Judge {
  const hit = { score: 0, force: 0 };
  const { bodies } = field;
  const reaches = new Float64Array(bodies.length);
  return (map, cell) => {
    if (quick.dead() < 0) return put(map, cell, -1 + quick.dead(), DEAD);
    const joints = { base: heldOrNot(quick.joint('base')), lid: heldOrNot(quick.joint('lid')) };
    // the strut whose lengths leave most is looked at first: what can't better it is not looked at
    let nearest = 0;
    for (let b = 0; b < bodies.length; b++) {
      reaches[b] = quick.lengths(bodies[b]!);
      if (reaches[b]! > reaches[nearest]!) nearest = b;
    }
    let top = -Infinity;
    let at = -1;
    let force = 0;
    const least = Math.min(joints.base, joints.lid, Infinity);
    const look = (b: number): void => {
      const reach = Math.min(reaches[b]!, least);
      if (reach <= top || reaches[b]! < -2.5) return;
      quick.best(bodies[b]!, quantity, hit);
      let score = Math.min(hit.score, least);
      if (quantity === 1)
        score = Math.min(score, quick.twinGapMm(bodies[b]!) < 0 ? quick.twinGapMm(bodies[b]!) / 10 : 1);
      if (score > top) [top, at, force] = [score, b, hit.force];
    };
    look(nearest);
    for (let b = 0; b < bodies.length; b++) if (b !== nearest && reaches[b]! > Math.min(0, reaches[nearest]!)) look(b);
    const body = bodies[at < 0 ? nearest : at]!;
    quick.one(body, force, quantity);
    const part = quick.tightest();
    put(map, cell, quick.shareOf(part), part, quick.tightestCase(part));
    lower(map, cell, joints.base, BASE);
    lower(map, cell, joints.lid, LID);
    if (quantity === 1) lowerTwin(map, cell, quick.twinGapMm(body));
    map.entry[cell] = body.entry;
    map.force[cell] = force;
  };
}

/** Cells a side of the pictures that come one after the other, while something moves and at rest. */
export const MAP_STEPS = { dragging: [40], resting: [50, 200], slow: [50] } as const;

/**
 * Maps of one question, each better than the one before: rough, then fine; then what was left open is held against the full
 * findings, cell by cell, rough places first; null where there is none yet that is better. `sides` says how many cells a side
 * each picture has. Without `finish`, for a drag, nothing is held against the full findings: what is open stays open.
 */
export function* mapSteps(
  raw: Job,
  options: MapOptions,
  sides: readonly number[] = MAP_STEPS.resting,
  finish = true,
): Generator<WorksMap | null, WorksMap, void> {
  let made: { mapper: Mapper; map: WorksMap } | null = null;
  for (const side of sides) {
    if (made) yield made.map;
    const mapper = mapperOf(raw, { ...options, grid: withCells(options.grid, side) });
    made = { mapper, map: yield* mapper.mapSteps() };
    // what has to be looked at cell by cell is looked at on the rough picture
    if (!mapper.sure && side >= MAP_STEPS.slow[0]) break;
  }
  const { mapper, map } = made!;
  if (mapper.sure || !finish) return map;
  yield map;
  return yield* finishSteps(raw, mapper, map);
}

function* finishSteps(raw: Job, mapper: Mapper, map: WorksMap): Generator<WorksMap | null, WorksMap, void> {
  const { columns, rows } = map.grid;
  const state = Uint8Array.from(map.state);
  const spare = Float32Array.from(map.spare);
  const decides = Uint8Array.from(map.decides);
  const caseOf = Int8Array.from(map.caseOf);
  const others: string[] = [];
  const before: Workings | undefined = attempt(() => workingsOf(raw, METRIC).computed()).value ?? undefined;
  const now = (): WorksMap => ({
    ...{ ...map, others: [...others], state: Uint8Array.from(state) },
    ...{ spare: Float32Array.from(spare), decides: Uint8Array.from(decides), caseOf: Int8Array.from(caseOf) },
  });
  const indexOf = (id: string): number => {
    const known = (MAP_DEMANDS as readonly string[]).indexOf(id);
    if (known >= 0) return known;
    if (!others.includes(id)) others.push(id);
    return MAP_DEMANDS.length + others.indexOf(id);
  };
  let looked = 0;
  for (const step of [4, 2, 1])
    for (let row = 0; row < rows; row += step)
      for (let column = 0; column < columns; column += step) {
        const cell = row * columns + column;
        if (state[cell] !== CELL.open) continue;
        const found = fullVerdict(mapper, map, cell, before);
        const twin = map.decides[cell] === TWIN && map.spare[cell]! < 0;
        state[cell] = found && found.refused.length === 0 && !twin ? CELL.works : CELL.fails;
        const worst = found?.refused[0];
        if (found && !twin) {
          spare[cell] = worst ? Math.min(spare[cell]!, -0.05) : found.spare;
          const { id, case: at } = worst ? { id: worst.id, case: worst.everyCase ? null : worst.case } : found.tightest;
          decides[cell] = indexOf(id);
          caseOf[cell] = at === null ? -1 : map.caseIds.indexOf(at);
        }
        // one look may take as long as a frame: whoever waits for a cancel is to hear it after each
        yield ++looked % 50 === 0 ? now() : null;
      }
  return now();
}

/** What the full findings say of a cell; null where the job can't be computed with the strut there. */
export function fullVerdict(mapper: Mapper, map: WorksMap, cell: number, before?: Workings): Verdict | null {
  const job = mapper.jobAt(map, cell);
  return attempt(() => judged(workingsOf(job, METRIC, before), mapper.field.strutIndex)).value;
}
