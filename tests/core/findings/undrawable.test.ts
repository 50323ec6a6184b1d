// A bracket whose body can't be drawn: its own gaps are not known and said so, and nothing else is stopped by it.
import { describe, expect, it } from 'vitest';
import { fail, attempt } from '../../../core/error';
import { CHECKS, clearanceMesh } from '../../../core/findings';
import { METRIC } from '../../../core/quantity';
import { passageOf } from '../../../core/travel';
import { workingsOf } from '../../../core/workings';
import { jobAt } from '../../support/files';

const base = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const bracket = base.brackets![0]!;
const w = workingsOf({ ...base, brackets: [bracket, { ...bracket, id: 'whole', name: 'Whole one' }] });
const clearances = CHECKS.find((check) => check.name === 'clearances')!;
const torn = attempt(() => fail('it crosses itself near (1.00, 2.00)', [], 'Shrink a hole.')).error!;

describe('an undrawable bracket', () => {
  const found = (meshes: ReturnType<typeof clearanceMesh>[]) =>
    clearances.run({ job: w.job, passage: passageOf(w.plans[0]!), loads: [], meshes, units: METRIC } as never);
  const whole = clearanceMesh(w.job.brackets[1]!);
  const good = found([clearanceMesh(w.job.brackets[0]!), whole]);
  const bad = found([torn, whole]);

  it('is told as not known, with why and what to do', () => {
    const told = bad.filter((f) => f.id === `clearance-${bracket.id}`);
    expect(told).toHaveLength(1);
    expect(told[0]).toMatchObject({ state: 'unknown', subject: bracket.id, value: null, advice: 'Shrink a hole.' });
    expect(told[0]!.text).toBe(
      'How near struts come to Base bracket is not known, because it crosses itself near (1.00, 2.00).',
    );
  });

  it('leaves every other gap as it was', () => {
    const others = (all: typeof good) =>
      all.filter((f) => !new RegExp(`^clearance-(joint-)?${bracket.id}$`).test(f.id));
    expect(others(bad)).toEqual(others(good));
    expect(others(bad).some((f) => f.id === 'clearance-whole')).toBe(true);
  });
});
