// A legal job may hold hundreds of brackets: what it takes is bounded, and whatever is not worked out is said.
import { describe, expect, it } from 'vitest';
import { bracketSpecOf, checkBracket } from '../../../core/bracket';
import { type Finding, clearanceMesh } from '../../../core/findings';
import { type Job, readJob, resolveJob, writeJob } from '../../../core/job';
import { assessBracket } from '../../../core/strength';
import { type Workings, slowAnswers, workingsOf } from '../../../core/workings';
import { jobAt } from '../../support/files';
import { DEEP, processorSeconds, runs } from '../../support/tier';

const base = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
/** Thin ones, so that mends are looked for too; `wider`: no two are alike. */
const many = (count: number, wider: boolean, thicknessMm = 3): Job => {
  const { baseWidthMm, ...bracket } = base.brackets![0]!;
  const brackets = Array.from({ length: count }, (_, i) => ({
    ...bracket,
    ...{ id: `n${i}`, name: `Number ${i}`, thicknessMm, insideRadiusMm: 4 },
    baseWidthMm: wider ? Number(baseWidthMm) + i / 100 : baseWidthMm,
  }));
  return readJob(writeJob({ ...base, brackets }));
};
const of = (w: Workings, id: string): readonly Finding[] =>
  w.findings.filter((f) => f.subject === id || f.id === `clearance-${id}` || f.id === `clearance-joint-${id}`);
/** Enough for both limits. */
const COUNT = runs(499, 160);
const worth = (found: readonly Finding[]) =>
  found.map(({ id, state, value }) => [id.replace(/n\d+/, 'n'), state, value]);

describe('499 brackets', () => {
  it('all alike: each gets the findings that it would get alone, its own name in them, in seconds', () => {
    const from = processorSeconds();
    const w = workingsOf(many(499, false));
    const first = of(w, 'n0');
    expect(processorSeconds() - from).toBeLessThan(10); // 109 s before, the page's own time on top
    expect(first.length).toBeGreaterThan(4);
    for (const id of ['n1', 'n250', 'n498']) {
      const found = of(w, id);
      expect(worth(found)).toEqual(worth(first));
      expect(found.every((f) => f.text.includes(`Number ${id.slice(1)}`))).toBe(true);
      const setting = found.find((f) => f.proposal)!.proposal!;
      expect(setting.path.slice(0, 2)).toEqual(['brackets', Number(id.slice(1))]);
    }
    expect(w.findings.some((f) => f.id === 'clearance-rest')).toBe(false);
    expect(worth(first)).toEqual(worth(of(workingsOf(many(1, false)), 'n0')));
    expect(w.assessment('n7')).toMatchObject({ bracketId: 'n7', name: 'Number 7' });
  });

  it.runIf(DEEP)(
    'no two alike: strength of the first 50 and 300 gaps are worked out, and of every other it is said that it is not known',
    () => {
      const from = processorSeconds();
      const w = workingsOf(many(COUNT, true, 8));
      const found = w.findings;
      expect(processorSeconds() - from).toBeLessThan(20);
      const strength = w.job.brackets.map((b) =>
        found.filter((f) => f.subject === b.id && /^bracket-strength/.test(f.id)),
      );
      expect(strength.every((all) => all.length > 0)).toBe(true);
      expect(strength.filter((all) => all.some((f) => f.state !== 'unknown'))).toHaveLength(50);
      for (const all of strength.slice(50)) {
        expect(all).toHaveLength(1);
        expect(all[0]).toMatchObject({ id: 'bracket-strength', state: 'unknown' });
        expect(all[0]!.text).toMatch(/its strength is not known, because the job has more than 50 different brackets/);
      }
      const gaps = found.filter((f) => f.id.startsWith('clearance-'));
      expect(gaps.filter((f) => f.id !== 'clearance-rest').length).toBeGreaterThan(100);
      const rest = gaps.find((f) => f.id === 'clearance-rest')!;
      expect(rest.state).toBe('unknown');
      expect(rest.text).toMatch(/the first 300 are worked out, the others are not known/);
      // one that is not worked out stays so for the page that a worker answers
      const page = workingsOf(many(COUNT, true, 8));
      page.take(structuredClone(slowAnswers(w)));
      expect(page.knownAssessment(`n${COUNT - 1}`)?.unknown?.why).toMatch(/more than 50 different/);
      expect(page.knownAssessment('n3')?.results.length).toBeGreaterThan(0);
    },
  );

  it('some alike: each shares with its own kind and with no other', () => {
    const job = many(6, true);
    const brackets = job.brackets!.map((b, i) => ({ ...b, baseWidthMm: 80 + (i % 2) * 10 }));
    const w = workingsOf(readJob(writeJob({ ...job, brackets })));
    const resolved = resolveJob({ ...job, brackets });
    for (const bracket of resolved.brackets) {
      expect(w.assessment(bracket.id)).toEqual(assessBracket(resolved, w.plans, w.tables, bracket));
      expect(w.issues(bracket.id)).toEqual(checkBracket(bracketSpecOf(bracket)));
    }
    expect(worth(of(w, 'n0'))).toEqual(worth(of(w, 'n4')));
    expect(worth(of(w, 'n0'))).not.toEqual(worth(of(w, 'n1')));
    expect(clearanceMesh(resolved.brackets[0]!)).toEqual(clearanceMesh(resolved.brackets[2]!));
  });
});
