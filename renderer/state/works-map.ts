// The works map: kept up to date with the job while the Place stage is shown, in a drag too.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';
import { LidwrightError } from '../../core/error';
import {
  type MapGrid,
  MAP_STEPS,
  type MapOptions,
  type WorksMap,
  holds,
  siteOf,
  withCells,
  zoneGrid,
} from '../../core/find';
import type { EndName, Job, ResolvedJob } from '../../core/job';
import type { Vec3 } from '../../core/space';
import { type StrutListEntry, genericMetricList } from '../../core/strut';
import { ask, isAborted, mapping } from '../workers';
import { PROJECTIONS, type Plane } from './planes';
import { type BenchState, bench } from './store';

export type MapMode = 'none' | 'present' | 'best';

export interface WorksMapState {
  readonly mode: MapMode;
  /** Which ball's place it varies. */
  readonly end: EndName;
  /** Struts to choose the best from. */
  readonly list: readonly StrutListEntry[];
  readonly map: WorksMap | null;
  /** What it is of. */
  readonly of: Where | null;
  /** Why there is none. */
  readonly trouble: string | null;
  /** Maps drawn so far. */
  readonly drawn: number;
}

/** Whose place the map varies, and over what: a zone, or a plane through it that a view shows square. */
interface Where {
  readonly strutId: string;
  readonly end: EndName;
  readonly zoneId: string | null;
  readonly plane: Plane;
}

export const worksMap = createStore<WorksMapState>(() => ({
  mode: 'none',
  end: 'base',
  list: genericMetricList(),
  map: null,
  of: null,
  trouble: null,
  drawn: 0,
}));
export const useWorksMap = <T>(select: (state: WorksMapState) => T): T => useStore(worksMap, select);

export const showMap = (mode: MapMode): void => worksMap.setState({ mode, ...(mode === 'none' ? { map: null } : {}) });
export const showMapOf = (end: EndName): void => worksMap.setState({ end });
export const mapList = (list: readonly StrutListEntry[]): void => worksMap.setState({ list });

/** The view in which a pivot was last held: its map lies in a plane that this view shows square. */
let lastPlane: Plane = 'side';

function whereOf({ resolved, selection, drag }: BenchState): Where | null {
  if (drag && drag.kind !== 'bracket') lastPlane = drag.plane;
  const held = selection?.kind === 'point' ? selection.id : null;
  const strut = resolved.struts.find((s) => s.base === held || s.lid === held) ?? resolved.struts[0];
  if (!strut) return null;
  const { end } = worksMap.getState();
  const at = resolved.points.find((p) => p.id === strut[end])!.at;
  const zones = resolved.zones.filter((z) => z.on === end);
  const over = zones.find((z) => holds(siteOf(z), at));
  return { strutId: strut.id, end, zoneId: over?.id ?? null, plane: lastPlane };
}

/** Room round all points in a view, as a share of their extent. */
const ROOM = 0.12;

function gridOf(job: ResolvedJob, { strutId, end, zoneId, plane }: Where): MapGrid {
  const strut = job.struts.find((s) => s.id === strutId)!;
  const at = job.points.find((p) => p.id === strut[end])!.at;
  const zone = job.zones.find((z) => z.id === zoneId);
  const side = MAP_STEPS.resting[1];
  if (zone) {
    const { offMm } = zone;
    const site = siteOf(zone);
    const off = site.normal.reduce((sum, n, k) => sum + n * (at[k]! - site.middle[k]!), 0);
    return zoneGrid(zone, Math.min(offMm[1], Math.max(offMm[0], off)), side);
  }
  const { right, up } = PROJECTIONS[plane];
  const range = (k: number): [number, number] => {
    const all = [...job.points.map((p) => p.at[k]!), ...job.zones.flatMap((z) => z.corners.map((c) => c[k]!))];
    const [low, high] = [Math.min(...all), Math.max(...all)];
    const room = Math.max(50, ROOM * (high - low));
    return [low - room, high + room];
  };
  const [[x0, x1], [y0, y1]] = [range(right), range(up)];
  const from: [number, number, number] = [...at];
  [from[right], from[up]] = [x0, y0];
  const way = (k: number, length: number): Vec3 => [0, 1, 2].map((i) => (i === k ? length : 0)) as unknown as Vec3;
  return withCells({ at: from, across: way(right, x1 - x0), up: way(up, y1 - y0), columns: 2, rows: 2 }, side);
}

interface Asked {
  readonly job: Job;
  readonly mode: MapMode;
  readonly list: readonly StrutListEntry[];
  readonly where: Where;
  readonly dragging: boolean;
}

function askedNow(state: BenchState): Asked | null {
  const { mode, list } = worksMap.getState();
  if (mode === 'none' || state.stage !== 'place' || !state.outcome || state.startPage) return null;
  const where = whereOf(state);
  return where && { job: state.history.present, mode, list, where, dragging: state.history.mark !== null };
}

const same = (a: Asked | null, b: Asked | null): boolean =>
  a === b ||
  (a !== null &&
    b !== null &&
    a.job === b.job &&
    a.mode === b.mode &&
    a.list === b.list &&
    a.dragging === b.dragging &&
    JSON.stringify(a.where) === JSON.stringify(b.where));

/**
 * Keeps the map beside the present job. One question at a time: what changes meanwhile is asked about as soon as the answer is
 * there, so that a drag never starves it; only a map of something at rest is broken off.
 */
export function startWorksMap(): () => void {
  let asked: Asked | null = null;
  let running: { readonly stop: AbortController; readonly fine: boolean } | null = null;
  const run = async (now: Asked): Promise<void> => {
    const stop = new AbortController();
    running = { stop, fine: !now.dragging };
    const resolved = bench.getState().resolved;
    const { strutId, end, zoneId } = now.where;
    const options: MapOptions = {
      ...{ strutId, end, grid: gridOf(resolved, now.where) },
      ...(zoneId === null ? {} : { zoneId }),
      ...(now.mode === 'best' ? { list: now.list } : {}),
    };
    let picture = 0;
    const take = (map: WorksMap): void =>
      worksMap.setState((s) => ({ map, of: now.where, trouble: null, drawn: s.drawn + 1 }));
    try {
      const map = await ask(
        mapping,
        { job: now.job, options, sides: now.dragging ? MAP_STEPS.dragging : MAP_STEPS.resting, finish: !now.dragging },
        {
          signal: stop.signal,
          progress: (so) => {
            if (!so.map || so.picture === picture) return;
            picture = so.picture;
            take(so.map);
          },
        },
      );
      take(map);
    } catch (error) {
      if (!isAborted(error)) {
        if (!(error instanceof LidwrightError)) throw error;
        worksMap.setState({ map: null, of: null, trouble: error.issues[0]!.what });
      }
    }
    running = null;
    look();
  };
  const look = (): void => {
    const now = askedNow(bench.getState());
    if (same(now, asked)) return;
    if (running) {
      if (running.fine) running.stop.abort();
      return;
    }
    asked = now;
    if (now) void run(now);
    else if (worksMap.getState().map) worksMap.setState({ map: null, of: null });
  };
  look();
  const offs = [
    bench.subscribe(look),
    worksMap.subscribe((s, before) => {
      if (s.mode !== before.mode || s.end !== before.end || s.list !== before.list) look();
    }),
  ];
  return () => offs.forEach((off) => off());
}
