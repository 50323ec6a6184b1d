import type { Relation, ResolvedJob } from '../job';

/** True where turning the lid changes what the relation is about, so that what holds with the lid closed need not look so open. */
export function holdsClosedOnly(r: Relation, job: ResolvedJob): boolean {
  if (r.kind === 'open-length' || r.kind === 'on-circle') return false;
  const strut = job.struts.find((s) => s.id === r.strut);
  const ids = [...(r.points ?? []), ...(strut ? [strut.base, strut.lid] : [])];
  const onLid = ids.map((id) => job.points.find((p) => p.id === id)?.on === 'lid');
  if (!onLid.includes(true)) return false;
  const toTheWorld = ['fixed', 'level-with', 'plumb-with', 'mirrored'].includes(r.kind) || r.view || r.axis;
  return Boolean(toTheWorld) || (r.kind === 'angle' && ids.length === 2) || onLid.includes(false);
}
