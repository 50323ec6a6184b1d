import type { Issue } from '../error';
import type { CheckedJob } from './parts';

/** What a weighing refers to that isn't there, or has twice. */
export function weighingIssues(job: CheckedJob): Issue[] {
  const issues: Issue[] = [];
  const points = new Set(job.points.map((p) => p.id));
  const masses = new Set(job.masses.map((m) => m.id));
  const say = (what: string, where: (string | number)[], advice: string): void =>
    void issues.push({ what, where: ['weighings', ...where], advice });

  for (const way of ['pulls', 'lifted'] as const) {
    const part = job.weighings?.[way];
    if (!part) continue;
    const seen = new Set<string>();
    (part.readings ?? []).forEach(({ id }, i) => {
      if (seen.has(id)) say(`the id "${id}" stands twice in ${way}`, [way, 'readings', i, 'id'], 'Rename one.');
      seen.add(id);
    });
    const noMass = (id: string, what: string, where: (string | number)[]): void => {
      if (!masses.has(id)) say(`${what} "${id}", which is no mass`, [way, ...where], 'Choose another mass item.');
    };
    if (part.of !== undefined) noMass(part.of, 'what was weighed is', ['of']);
    (part.off ?? []).forEach((id, k) => noMass(id, 'off the lid when it was weighed was', ['off', k]));
    (part.readings ?? []).forEach(({ on }, i) =>
      (on ?? []).forEach((id, k) => noMass(id, `on the lid at reading ${i + 1} was`, ['readings', i, 'on', k])),
    );
  }
  (job.weighings?.lifted?.readings ?? []).forEach(({ between }, i) =>
    between.forEach((id, k) => {
      const where = ['lifted', 'readings', i, 'between', k];
      if (!points.has(id))
        say(`weighing ${i + 1} stood at the point "${id}", which is not there`, where, 'Choose another point.');
      else if (k === 1 && id === between[0])
        say(`weighing ${i + 1} stood at the point "${id}" twice`, where, 'Choose a point at each of the two edges.');
    }),
  );
  return issues;
}
