// A strut may push a lid open or hold it back: what is advised follows its lever arm, not the check's name.
import { describe, expect, it } from 'vitest';
import { type Job, setValue } from '../../../core/job';
import { workingsOf } from '../../../core/workings';
import { jobAt } from '../../support/files';

const force = (job: Job, by: number): Job =>
  (job.struts ?? []).reduce(
    (next, strut, i) =>
      setValue(next, { path: ['struts', i, 'spec', 'forceN'], value: (strut.spec.forceN as number) * by }),
    job,
  );
const worst = (job: Job, id: string) =>
  workingsOf(job)
    .findings.filter((f) => f.id === id && f.state === 'fails')
    .sort((a, b) => a.margin! - b.margin!)[0];
const at = (job: Job, id: string, loadCase: string) =>
  workingsOf(job).findings.find((f) => f.id === id && f.case === loadCase)!;

describe('advice about a strut’s force', () => {
  it.each([
    // opens downward: weight opens it, the strut holds it back, so too weak a strut makes it heavy to shut
    ['machine-guard', 0.2, 'hand-closing', 'stronger'],
    ['machine-guard', 4, 'hand-opening', 'weaker'],
    // opens upward: the strut pushes it open
    ['workboat-hatch', 0.2, 'hand-opening', 'stronger'],
    ['workboat-hatch', 2, 'hand-closing', 'weaker'],
  ] as const)('%s with %s times its force fails %s and wants a %s strut', (name, by, id, wanted) => {
    const strict = setValue(jobAt(`assets/examples/${name}.lidjob`), { path: ['limits', 'handCloseN'], value: 50 });
    const job = force(strict, by);
    const failing = worst(job, id)!;
    expect(failing.advice).toContain(`a ${wanted} strut`);
    // and that does move the value the right way
    const moved = at(force(job, wanted === 'stronger' ? 1.05 : 0.95), id, failing.case);
    expect(moved.margin!).toBeGreaterThan(failing.margin!);
  });
});
