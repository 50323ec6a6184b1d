import type { ResolvedJob } from '../../../core/job';
import type { Stage } from '../../state/store';
import { OBSTACLE_HANDLE } from './scene-obstacles';

/** A point that can be taken hold of, with what it is in words. */
export interface Handle {
  readonly pointId: string;
  readonly name: string;
  readonly role: 'hinge' | 'corner' | 'grip' | 'strut' | 'mass' | 'obstacle' | 'other';
}

/** What each stage lets a person drag; a stage never changes the scene. */
const GRABBED: Record<Stage, readonly Handle['role'][]> = {
  measure: ['hinge', 'corner', 'grip', 'strut', 'mass', 'obstacle', 'other'],
  weigh: ['mass', 'grip'],
  place: ['hinge', 'corner', 'grip', 'strut', 'mass', 'obstacle', 'other'],
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
  other: 6,
};

/** The handles of a job in a stage; where two lie on one spot the first is taken. */
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
  return [...points, ...obstacles]
    .filter((h) => GRABBED[stage].includes(h.role))
    .sort((a, b) => ORDER[a.role] - ORDER[b.role]);
}

/** The handle under a pointer: the nearest within reach; the selected one wins a near tie, so that it can be dragged off another. */
export function handleAt(
  handles: readonly Handle[],
  pxOf: (pointId: string) => [number, number] | null,
  x: number,
  y: number,
  selected: string | null,
  reachPx = 14,
): Handle | null {
  let best: Handle | null = null;
  let least = Infinity;
  for (const handle of handles) {
    const at = pxOf(handle.pointId);
    if (!at) continue;
    const d = Math.hypot(at[0] - x, at[1] - y);
    if (d > reachPx) continue;
    const weighed = d + ORDER[handle.role] * 0.5 - (handle.pointId === selected ? 6 : 0);
    if (weighed < least) [best, least] = [handle, weighed];
  }
  return best;
}
