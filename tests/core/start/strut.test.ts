import { describe, expect, it } from 'vitest';
import { readJob, resolveJob, writeJob } from '../../../core/job';
import { addAnotherStrut } from '../../../core/start';
import { jobAt } from '../../support/files';

describe('another strut', () => {
  const job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
  it('is like the last one, with pivots of its own 20 mm beside', () => {
    const next = resolveJob(readJob(writeJob(addAnotherStrut(job, [0, 0, 0]))));
    const [model, added] = [next.struts.at(-2)!, next.struts.at(-1)!];
    expect(added.spec).toEqual(model.spec);
    expect(added.id).not.toBe(model.id);
    const at = (id: string): readonly number[] => next.points.find((p) => p.id === id)!.at;
    for (const end of ['base', 'lid'] as const) {
      const shift = at(added[end]).map((v, k) => v - at(model[end])[k]!);
      [20, 20, 0].forEach((wanted, k) => expect(shift[k]).toBeCloseTo(wanted, 9));
    }
  });

  it('stands where the view looks, where there is none to be like', () => {
    const next = addAnotherStrut({ ...job, struts: [] }, [10.4, 20, 30]);
    const [base, lid] = next.points.slice(-2);
    expect([base!.at, lid!.at]).toEqual([
      [10, 20, 30],
      [210, 20, 230],
    ]);
    expect(next.struts).toHaveLength(1);
  });
});
