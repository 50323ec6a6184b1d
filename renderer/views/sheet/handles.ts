import type { ResolvedJob } from '../../../core/job';
import { cos, rad, sin } from '../../../core/space';
import type { Stage } from '../../state/store';
import { OBSTACLE_HANDLE, ZONE_HANDLE } from './scene';

/** A point that can be taken hold of, with what it is in words. */
export interface Handle {
  readonly pointId: string;
  readonly name: string;
  readonly role: 'hinge' | 'corner' | 'grip' | 'strut' | 'mass' | 'obstacle' | 'zone' | 'other';
}

/** What each stage lets a person drag; a stage never changes the scene. */
const GRABBED: Record<Stage, readonly Handle['role'][]> = {
  measure: ['hinge', 'corner', 'grip', 'strut', 'mass', 'obstacle', 'other'],
  weigh: ['mass', 'grip'],
  place: ['hinge', 'corner', 'grip', 'strut', 'mass', 'obstacle', 'zone', 'other'],
  strut: ['strut'],
  joints: ['strut', 'obstacle'],
  bracket: ['strut'],
  papers: [],
  prove: [],
};

const ORDER: Record<Handle['role'], number> = {
  strut: 0,
  grip: 1,
  mass: 2,
  hinge: 3,
  corner: 4,
  obstacle: 5,
  zone: 6,
  other: 7,
};

/** The handles of a job in a stage; where two count as near the first is taken. */
export function handlesOf(job: ResolvedJob, stage: Stage): Handle[] {
  const role = (id: string): Handle['role'] => {
    if (job.struts.some((s) => s.base === id || s.lid === id)) return 'strut';
    if (job.grip === id) return 'grip';
    if (job.masses.some((m) => m.at === id)) return 'mass';
    if (job.hinge.a === id || job.hinge.b === id) return 'hinge';
    return job.outline.includes(id) ? 'corner' : 'other';
  };
  const points = job.points.map((p): Handle => ({ pointId: p.id, name: p.name ?? p.id, role: role(p.id) }));
  const obstacles = job.obstacles.map((o): Handle => ({
    pointId: OBSTACLE_HANDLE + o.id,
    name: o.name ?? o.id,
    role: 'obstacle',
  }));
  const zones = job.zones.flatMap((z, i) =>
    z.corners.map((_, k): Handle => ({
      pointId: `${ZONE_HANDLE}${z.id}/${k}`,
      name: `corner ${k + 1} of ${z.name ?? `zone ${i + 1}`}`,
      role: 'zone',
    })),
  );
  return [...points, ...obstacles, ...zones]
    .filter((h) => GRABBED[stage].includes(h.role))
    .sort((a, b) => ORDER[a.role] - ORDER[b.role]);
}

/** A handle reaches this far, px. */
export const REACH_PX = 14;
/** The chosen handle counts as this much nearer, px, so that it can be dragged off another. */
const CHOSEN_PX = 6;

/** Most that one handle counts as nearer than another: chosen, and first against last in order. */
const MOST_LEAD_PX = CHOSEN_PX + 3;

/** A handle as the pointer meets it: where it is in a view, px, and how much nearer than it is it counts as. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly lead: number;
}

export const leadOf = (handle: Handle, chosen: string | null): number =>
  (handle.pointId === chosen ? CHOSEN_PX : 0) - ORDER[handle.role] * 0.5;

/**
 * How far a handle reaches in a direction (rad, from x towards y), px: REACH_PX, and less where another handle's room begins,
 * so that each place belongs to the handle that counts as nearest. Where two count alike they share a hyperbola: from
 * |p| − lead = |p − other| − otherLead. A handle that another always outdoes has no reach.
 */
export function reachPx(own: Spot, others: readonly Spot[], angle: number): number {
  const [ex, ey] = [cos(rad(angle)), sin(rad(angle))];
  let reach = REACH_PX;
  for (const other of others) {
    const [dx, dy] = [other.x - own.x, other.y - own.y];
    const apart = Math.hypot(dx, dy);
    const behind = other.lead - own.lead;
    if (behind > 0 && behind >= apart) return 0;
    if (-behind >= apart || apart > 2 * REACH_PX + MOST_LEAD_PX) continue;
    const along = dx * ex + dy * ey;
    if (along + behind <= 0) continue;
    const meets = (apart * apart - behind * behind) / (2 * (along + behind));
    // what the other's disc doesn't reach stays ours, however near it counts
    const half = REACH_PX ** 2 - (dx * ey - dy * ex) ** 2;
    const enters = half > 0 ? along - Math.sqrt(half) : Infinity;
    reach = Math.min(reach, Math.max(meets, enters));
  }
  return reach;
}
