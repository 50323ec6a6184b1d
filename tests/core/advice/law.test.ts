// Advice is computed: applied, each change moves its finding's value the right way, and what else it breaks is said beside it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Advice, Offer } from '../../../core/advice';
import { demandOf } from '../../../core/demands';
import { type Finding, settingsOf } from '../../../core/findings';
import { type Job, resolveJob, setValues } from '../../../core/job';
import { type Workings, adviceInSteps, workings } from '../../../core/workings';
import { jobAt } from '../../support/files';
import { runs } from '../../support/tier';
import { KINDS, anyFailing, kindsOf } from './jobs';

/** Findings by id and thing, and by load case where each has its own: told apart here once more, not as the advice does. */
const CASES = new Set(['hand-opening', 'hand-closing', 'stays-open', 'rod-buckling']);
const keyOf = (f: Pick<Finding, 'id' | 'subject' | 'case'>): string =>
  [f.id, f.subject, CASES.has(f.id) ? f.case : ''].join(' ');
/** More of these is better, of all others less. */
const MORE =
  /^(closed-reserve|open-reserve|stays-open|rod-buckling|strut-exists|dead-centre|clearance-|bracket-strength)/;
const gain = (id: string, before: number, after: number): number => (MORE.test(id) ? after - before : before - after);

/** All that is found of a job worked out from scratch, brackets by their reserves. */
function foundOf(job: Job): Map<string, Finding> {
  const w = workings(resolveJob(job));
  const strengths = w.job.brackets.flatMap(({ id }) =>
    w.assessment(id).results.map(
      (r) =>
        ({
          ...{ id: `bracket-strength-${r.id}`, subject: id, case: '', value: r.safetyFactor, limit: 1 },
          state: r.safetyFactor < 1 && r.gravity === 'fails' ? 'fails' : 'holds',
        }) as Finding,
    ),
  );
  return new Map([...w.unadvised, ...strengths].map((f) => [keyOf(f), f]));
}

const apply = (job: Job, offer: Offer): Job => setValues(job, { settings: offer.settings });

function lawsOf(job: Job, before: Map<string, Finding>, { findings }: Advice, offer: Offer): void {
  const after = foundOf(apply(job, offer));
  for (const f of findings) {
    const then = after.get(keyOf(f));
    const why = `${f.text}\n${offer.label}`;
    // only a strut that is no stop any more is not pulled
    if (!then) expect([f.id, offer.clears], why).toEqual(['socket-pull', true]);
    else {
      expect(gain(f.id, f.value!, then.value!), why).toBeGreaterThan(0);
      if (offer.clears) expect(then.state, why).not.toBe('fails');
    }
  }
  const said = new Set(offer.breaks.map((b) => `${b.id} ${b.subject}`));
  for (const [key, f] of after) {
    const old = before.get(key);
    const newly = f.state === 'fails' && old?.state !== 'fails';
    const worse =
      f.state === 'fails' &&
      old?.state === 'fails' &&
      demandOf(f.id) !== undefined &&
      f.value !== null &&
      old.value !== null &&
      gain(f.id, old.value, f.value) < -1e-4 * Math.max(1, Math.abs(old.value));
    if (newly || worse) expect(said, `${offer.label} breaks ${key}: ${f.text}`).toContain(`${f.id} ${f.subject}`);
  }
}

/** Everything that the advice of a job says, held against the job changed accordingly; what was seen. */
function heldAgainst(job: Job): { readonly w: Workings; readonly advised: number; readonly offered: number } {
  const w = workings(resolveJob(job));
  const steps = adviceInSteps(w);
  let step = steps.next();
  while (!step.done) step = steps.next();
  const all = step.value;
  const before = foundOf(job);
  for (const advice of all) for (const offer of advice.offers) lawsOf(job, before, advice, offer);
  // what one click applies is the first of them, and all are said
  for (const advice of all)
    for (const f of advice.findings) {
      const shown = w.advised.find((g) => keyOf(g) === keyOf(f))!;
      expect(shown.advice).not.toBe('');
      const [first] = advice.offers;
      expect(shown.proposal ? settingsOf(shown.proposal) : []).toEqual(
        (first?.settings ?? []).map(({ path, value }) => ({ path, value })),
      );
      if (first) expect(shown.advice).toContain('Tried: ');
    }
  const failing = w.findings.filter((f) => f.state === 'fails' && f.value !== null);
  for (const f of failing)
    expect(
      all.some((a) => a.findings.some((g) => keyOf(g) === keyOf(f))),
      f.text,
    ).toBe(true);
  return { w, advised: all.length, offered: all.filter((a) => a.offers.length > 0).length };
}

describe('advice', () => {
  it('moves the value the right way in every random job, and says what else breaks', () => {
    const seen = new Map<string, number>();
    let [jobs, advised, offered] = [0, 0, 0];
    fc.assert(
      fc.property(anyFailing, (job) => {
        const found = heldAgainst(job);
        jobs++;
        advised += found.advised;
        offered += found.offered;
        for (const kind of new Set(kindsOf(found.w))) seen.set(kind, (seen.get(kind) ?? 0) + 1);
      }),
      { numRuns: runs(1000, 15), ...(runs(1, 0) === 0 ? { seed: 20261129 } : {}) },
    );
    const counts = KINDS.map((kind) => `${kind} ${seen.get(kind) ?? 0}`).join(', ');
    console.log(`advice: ${jobs} jobs, ${advised} findings advised, ${offered} with a change that helps; ${counts}`);
    for (const kind of KINDS) expect(seen.get(kind) ?? 0, counts).toBeGreaterThanOrEqual(Math.ceil(jobs / 60));
    expect(offered / advised).toBeGreaterThan(0.8);
  });

  it.each(['workboat-hatch', 'machine-guard', 'trailer-locker'])('%s, its brackets and clearances with it', (name) => {
    const { advised, offered } = heldAgainst(jobAt(`assets/examples/${name}.lidjob`));
    expect(offered).toBe(advised);
  });

  it('is the same every time', () => {
    const job = resolveJob(jobAt('assets/examples/trailer-locker.lidjob'));
    expect(workings(job).advised).toEqual(workings(structuredClone(job)).advised);
  });
});
