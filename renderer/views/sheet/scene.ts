import { lidEdges, obstacleEdges } from '../../../core/clearance';
import type { ResolvedJob } from '../../../core/job';
import { type Vec3, toRad } from '../../../core/space';
import {
  type Axis,
  type PosedStrut,
  outOfRangeAlong,
  poseAt,
  posedPoint,
  posedStrut,
  sweptPath,
} from '../../../core/travel';
import type { Workings } from '../../../core/workings';

/** Handles of obstacles go by this before their id: they are no points of the job. */
export const OBSTACLE_HANDLE = 'obstacle/';
/** Handles of zones' corners: this, the zone's id, a slash and the corner's index. */
export const ZONE_HANDLE = 'zone/';

export interface StrutScene extends PosedStrut {
  /** Way of the lid end, closed to open, and where a joint is out of its range on it. */
  readonly way: readonly Vec3[];
  readonly wayOut: readonly boolean[];
}

interface MassScene {
  readonly pointId: string;
  readonly at: Vec3;
  readonly kg: number;
  /** The load case takes it off. */
  readonly off: boolean;
}

/** Everything the drawn views show at one θ, in base-frame mm, by id. */
export interface Scene {
  /** Points of the job, and the middles of obstacles under their handles' names. */
  readonly posed: ReadonlyMap<string, Vec3>;
  readonly outline: readonly Vec3[];
  readonly outlineClosed: readonly Vec3[];
  readonly outlineOpen: readonly Vec3[];
  readonly hinge: readonly [Vec3, Vec3] | null;
  /** Swept ways of corners and grip. */
  readonly traces: ReadonlyMap<string, readonly Vec3[]>;
  readonly struts: ReadonlyMap<string, StrutScene>;
  readonly masses: ReadonlyMap<string, MassScene>;
  readonly obstacles: ReadonlyMap<string, readonly (readonly Vec3[])[]>;
  /** Edges of the lid's panel and loads as it stands. */
  readonly bodies: readonly (readonly Vec3[])[];
  /** Corners of zones as the lid stands. */
  readonly zones: ReadonlyMap<string, readonly Vec3[]>;
  readonly openDeg: number;
  readonly axis: Axis | null;
  /** Alike where lid, hinge and obstacles look alike: a drag of a pivot leaves them as they are. */
  readonly lidKey: string;
}

const TRACE_STEPS = 36;

/** The scene of a job at θ; without an outcome (nothing can be computed) everything stands as closed. */
export function buildScene(job: ResolvedJob, outcome: Workings | null, angleDeg: number, caseId: string | null): Scene {
  const axis = outcome?.frame.axis ?? null;
  const openDeg = outcome?.frame.openDeg ?? 0;
  const points = new Map(job.points.map((p) => [p.id, p]));
  const posed = new Map(job.points.map((p) => [p.id, posedPoint(p, axis, angleDeg)]));
  const corners = (deg: number): Vec3[] =>
    job.outline.flatMap((id) => {
      const p = points.get(id);
      return p ? [posedPoint(p, axis, deg)] : [];
    });
  const way = (id: string): Vec3[] => {
    const p = points.get(id);
    if (!p) return [];
    return p.on === 'lid' ? sweptPath(axis, p.at, openDeg, TRACE_STEPS) : Array(TRACE_STEPS + 1).fill(p.at);
  };
  const struts = job.struts.flatMap((strut, k): [string, StrutScene][] => {
    const stands = posedStrut(job, strut, axis, angleDeg);
    if (!stands) return [];
    const row = outcome?.tables[0]?.struts[k];
    const path = axis ? way(strut.lid) : [];
    const wayOut = row && axis ? outOfRangeAlong(strut.ends, row, TRACE_STEPS) : path.map(() => false);
    return [[strut.id, { ...stands, way: path, wayOut }]];
  });
  const off = new Set(job.loadCases.find((c) => c.id === caseId)?.off ?? []);
  const masses = job.masses.flatMap((m): [string, MassScene][] => {
    const at = posed.get(m.at);
    return at ? [[m.id, { pointId: m.at, at, kg: m.kg, off: off.has(m.id) }]] : [];
  });
  const obstacles = job.obstacles.map((o): [string, Vec3[][]] => {
    const { lines, middle } = obstacleEdges(o);
    const pose = (p: Vec3): Vec3 => (o.on === 'lid' && axis ? poseAt(axis, p, toRad(angleDeg)) : p);
    posed.set(OBSTACLE_HANDLE + o.id, pose(middle));
    return [o.id, lines.map((line) => line.map(pose))];
  });
  const bodies = axis ? lidEdges(job, axis).map((line) => line.map((p) => poseAt(axis, p, toRad(angleDeg)))) : [];
  const zones = job.zones.map((zone): [string, Vec3[]] => {
    const corners = zone.corners.map((c) => (zone.on === 'lid' && axis ? poseAt(axis, c, toRad(angleDeg)) : c));
    corners.forEach((c, k) => posed.set(`${ZONE_HANDLE}${zone.id}/${k}`, c));
    return [zone.id, corners];
  });
  const [a, b] = [points.get(job.hinge.a)?.at, points.get(job.hinge.b)?.at];
  return {
    posed,
    outline: corners(angleDeg),
    outlineClosed: corners(0),
    outlineOpen: corners(openDeg),
    hinge: a && b ? [a, b] : null,
    traces: new Map(axis ? [...job.outline, job.grip].map((id) => [id, way(id)]) : []),
    struts: new Map(struts),
    masses: new Map(masses),
    obstacles: new Map(obstacles),
    bodies,
    zones: new Map(zones),
    openDeg,
    axis,
    lidKey: [
      angleDeg,
      openDeg,
      corners(0),
      corners(openDeg),
      a,
      b,
      points.get(job.grip)?.at,
      ...obstacles,
      ...bodies,
      ...zones,
    ].join(),
  };
}
