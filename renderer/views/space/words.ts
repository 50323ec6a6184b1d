import type { ResolvedJob } from '../../../core/job';
import type { View3DState } from './types';

/** Ids of the points that stand for what is selected: a point itself, a mass's point, both ends of a strut. */
export function selectedSpots(job: ResolvedJob, selected: string | null): string[] {
  if (selected === null) return [];
  const strut = job.struts.find((s) => s.id === selected);
  if (strut) return [strut.base, strut.lid];
  const mass = job.masses.find((m) => m.id === selected);
  return [mass?.at ?? selected];
}

/** The view in words, for those who don't see it. */
export function describeView({ job, outcome, angleDeg, selected }: View3DState): string {
  const parts = [`3D view of ${job.title}, lid open ${angleDeg.toFixed(0)}°`];
  if (!outcome) parts.push('the job can’t be worked out yet');
  const table = outcome?.tables[0];
  if (table) {
    let row = 0;
    table.angleDeg.forEach((a, i) => {
      if (Math.abs(a - angleDeg) < Math.abs(table.angleDeg[row]! - angleDeg)) row = i;
    });
    table.struts.forEach((s, i) => {
      const name = job.struts[i]?.name ?? (table.struts.length > 1 ? `strut ${i + 1}` : 'the strut');
      if (Number.isNaN(s.compressionMm[row]!)) parts.push(`${name} can’t be there at this angle`);
    });
  }
  const name =
    job.points.find((p) => p.id === selected)?.name ??
    job.masses.find((m) => m.id === selected)?.name ??
    job.struts.find((s) => s.id === selected)?.name;
  if (name) parts.push(`selected: ${name}`);
  return `${parts.join('; ')}.`;
}
