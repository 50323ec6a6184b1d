import type { ResolvedJob } from '../../../core/job';
import { type Vec3, mirrorPoint, rotateVec, scale, add, sub, toRad, unit, norm } from '../../../core/space';
import { type Axis, poseAt, stemOf } from '../../../core/travel';
import type { Workings } from '../../../core/workings';
import { OBSTACLE_HANDLE, obstacleLines } from './scene-obstacles';

export interface JointScene {
  readonly end: 'base' | 'lid';
  readonly at: Vec3;
  readonly stem: Vec3;
  readonly rangeDeg: number;
  /** Out of the surface it stands on, as posed; null for a bare stem. */
  readonly normal: Vec3 | null;
  /** |90° − φ| now. */
  readonly deviationDeg: number;
  readonly out: boolean;
}

export interface StrutScene {
  readonly id: string;
  readonly base: Vec3;
  readonly lid: Vec3;
  /** Mirror image of a pair. */
  readonly twin: { readonly base: Vec3; readonly lid: Vec3 } | null;
  readonly lengthMm: number;
  readonly compressedMm: number;
  readonly extendedMm: number;
  readonly strokeMm: number;
  readonly inside: boolean;
  readonly rodMm: number;
  readonly tubeMm: number;
  readonly joints: readonly JointScene[];
  /** Way of the lid end, closed to open, and where a joint is out of its range on it. */
  readonly way: readonly Vec3[];
  readonly wayOut: readonly boolean[];
}

/** Everything the drawn views show at one θ, in base-frame mm. */
export interface Scene {
  readonly posed: ReadonlyMap<string, Vec3>;
  readonly outline: readonly Vec3[];
  readonly outlineClosed: readonly Vec3[];
  readonly outlineOpen: readonly Vec3[];
  readonly hinge: readonly [Vec3, Vec3] | null;
  readonly traces: readonly (readonly Vec3[])[];
  readonly struts: readonly StrutScene[];
  readonly masses: readonly {
    readonly id: string;
    readonly pointId: string;
    readonly at: Vec3;
    readonly kg: number;
    readonly off: boolean;
  }[];
  readonly obstacles: readonly { readonly id: string; readonly lines: readonly (readonly Vec3[])[] }[];
  readonly gripId: string;
  readonly openDeg: number;
  readonly axis: Axis | null;
}

const TRACE_STEPS = 36;

/** The scene of a job at θ; without an outcome (nothing can be computed) everything stands as closed. */
export function buildScene(job: ResolvedJob, outcome: Workings | null, angleDeg: number, caseId: string | null): Scene {
  const axis = outcome?.frame.axis ?? null;
  const openDeg = outcome?.frame.openDeg ?? 0;
  const closed = new Map(job.points.map((p) => [p.id, p.at as Vec3]));
  const onLid = new Set(job.points.filter((p) => p.on === 'lid').map((p) => p.id));
  const place = (id: string, deg: number): Vec3 | undefined => {
    const at = closed.get(id);
    return at && axis && onLid.has(id) ? poseAt(axis, at, toRad(deg)) : at;
  };
  const posed = new Map<string, Vec3>();
  for (const id of closed.keys()) posed.set(id, place(id, angleDeg)!);
  const corners = (deg: number): Vec3[] => job.outline.map((id) => place(id, deg)).filter((p) => p !== undefined);
  const way = (id: string): Vec3[] => {
    const out: Vec3[] = [];
    for (let i = 0; i <= TRACE_STEPS; i++) {
      const at = place(id, (openDeg * i) / TRACE_STEPS);
      if (at) out.push(at);
    }
    return out;
  };

  const a = closed.get(job.hinge.a);
  const b = closed.get(job.hinge.b);
  const off = new Set(job.loadCases.find((c) => c.id === caseId)?.off ?? []);
  const table = outcome?.tables[0];

  return {
    posed,
    outline: corners(angleDeg),
    outlineClosed: corners(0),
    outlineOpen: corners(openDeg),
    hinge: a && b ? [a, b] : null,
    traces: axis ? [...job.outline, job.grip].map(way) : [],
    struts: job.struts.flatMap((strut, k): StrutScene[] => {
      const base = posed.get(strut.base);
      const lid = posed.get(strut.lid);
      if (!base || !lid) return [];
      const { extendedMm, strokeMm, rodMm, tubeMm } = strut.spec;
      const span = sub(lid, base);
      const lengthMm = norm(span);
      const u: Vec3 = lengthMm > 1e-9 ? scale(span, 1 / lengthMm) : [0, 0, 1];
      const joint = (end: 'base' | 'lid'): JointScene => {
        let stem: Vec3 = [0, 1, 0];
        try {
          stem = stemOf(strut.ends[end]);
        } catch {
          // a stem that can't be is told by the findings; the drawing shows the pivot alone
        }
        if (end === 'lid' && axis) stem = rotateVec(stem, axis.opening, toRad(angleDeg));
        const s = Math.abs(stem[0] * u[0] + stem[1] * u[1] + stem[2] * u[2]);
        const deviationDeg = (Math.asin(Math.min(1, s)) * 180) / Math.PI;
        const mount = strut.ends[end].mount;
        let normal: Vec3 | null = mount && norm(mount.normal) > 0 ? unit(mount.normal) : null;
        if (normal && end === 'lid' && axis) normal = rotateVec(normal, axis.opening, toRad(angleDeg));
        return {
          end,
          normal,
          at: end === 'base' ? base : lid,
          stem,
          rangeDeg: strut.ends[end].rangeDeg,
          deviationDeg,
          out: deviationDeg > strut.ends[end].rangeDeg + 1e-9,
        };
      };
      const row = table?.struts[k];
      const path = axis ? way(strut.lid) : [];
      const wayOut = path.map((_, i) => {
        if (!row || !table) return false;
        const j = Math.min(table.angleDeg.length - 1, Math.round((i / TRACE_STEPS) * (table.angleDeg.length - 1)));
        return (
          Math.abs(90 - row.baseJointDeg[j]!) > strut.ends.base.rangeDeg ||
          Math.abs(90 - row.lidJointDeg[j]!) > strut.ends.lid.rangeDeg
        );
      });
      const middle = a && b ? scale(add(a, b), 0.5) : null;
      const along = axis?.along ?? (a && b && norm(sub(b, a)) > 0 ? unit(sub(b, a)) : null);
      return [
        {
          id: strut.id,
          base,
          lid,
          twin:
            strut.quantity === 2 && middle && along
              ? { base: mirrorPoint(base, middle, along), lid: mirrorPoint(lid, middle, along) }
              : null,
          lengthMm,
          compressedMm: extendedMm - strokeMm,
          extendedMm,
          strokeMm,
          inside: lengthMm <= extendedMm + 1e-6 && lengthMm >= extendedMm - strokeMm - 1e-6,
          rodMm,
          tubeMm,
          joints: [joint('base'), joint('lid')],
          way: path,
          wayOut,
        },
      ];
    }),
    masses: job.masses.flatMap((m) => {
      const at = posed.get(m.at);
      return at ? [{ id: m.id, pointId: m.at, at, kg: m.kg, off: off.has(m.id) }] : [];
    }),
    obstacles: job.obstacles.map((o) => {
      const { lines, middle } = obstacleLines(o);
      const pose = (p: Vec3): Vec3 => (o.on === 'lid' && axis ? poseAt(axis, p, toRad(angleDeg)) : p);
      posed.set(OBSTACLE_HANDLE + o.id, pose(middle));
      return { id: o.id, lines: lines.map((line) => line.map(pose)) };
    }),
    gripId: job.grip,
    openDeg,
    axis,
  };
}
