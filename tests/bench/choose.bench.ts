// 5,000 list entries × 10 load cases × full travel: the ranking against trying them one by one.
import { describe, expect, it } from 'vitest';
import { rank, rankSteps } from '../../core/choose';
import { CHECKS, lidRooms, roomQuestion } from '../../core/findings';
import { type Job, resolveJob, usualCases } from '../../core/job';
import { METRIC } from '../../core/quantity';
import { type StrutListEntry, forcesOf, specOf } from '../../core/strut';
import { letGo, makeFrame, makePlan, sweep, travelAngles } from '../../core/travel';
import { workings } from '../../core/workings';
import { jobAt } from '../support/files';

/** Seeded, so that every run tries the same list. */
function listOf(count: number): StrutListEntry[] {
  let state = 20261125;
  const random = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return Array.from({ length: count }, (_, i) => {
    const strokeMm = 230 + 120 * random();
    const low = 300 + 500 * random();
    return {
      name: `${i}`,
      strokeMm,
      extendedMm: 560 + 110 * random(),
      rodMm: random() < 0.3 ? 8 : 10,
      tubeMm: 22,
      forceMinN: low,
      forceMaxN: low + 400,
      forceStepN: 100,
    };
  });
}

const NEEDED = ['strutFits', 'strokeReserve', 'handForce', 'staysOpen', 'rodBuckling'];

describe('5,000 entries × 10 load cases × full travel', () => {
  const hatch = jobAt('assets/examples/workboat-hatch.lidjob');
  const cases = usualCases(resolveJob(hatch), { off: ['canister', 'cradle'] }).slice(0, 10);
  const job = resolveJob({ ...hatch, loadCases: cases } as Job);
  const list = listOf(5000);
  const withSpec = (entry: StrutListEntry, forceN: number) => ({
    ...job,
    struts: [{ ...job.struts[0]!, spec: specOf(entry, forceN) }],
  });
  /** Milliseconds a candidate, the best of three goes. */
  const each = (count: number, run: (entry: StrutListEntry, forceN: number) => void): number => {
    let best = Infinity;
    for (let go = 0; go < 3; go++) {
      const start = performance.now();
      for (let i = 0; i < count; i++) run(list[i * 7]!, forcesOf(list[i * 7]!)[i % 5]!);
      best = Math.min(best, (performance.now() - start) / count);
    }
    return best;
  };

  it('is ranked whole, and much faster than one by one', () => {
    expect(cases).toHaveLength(10);
    rank(job, list.slice(0, 300), { sieve: true });
    let tookMs = Infinity;
    let tried = 0;
    let accepted = 0;
    let longest = 0;
    for (let go = 0; go < 3; go++) {
      const start = performance.now();
      let last = start;
      const steps = rankSteps(job, list, { sieve: true });
      for (let step = steps.next(); ; step = steps.next()) {
        const now = performance.now();
        longest = Math.max(longest, now - last);
        last = now;
        if (!step.done) continue;
        [tried, accepted] = [step.value.tried, step.value.ranked.length];
        break;
      }
      tookMs = Math.min(tookMs, performance.now() - start);
    }
    const perCandidate = tookMs / tried;
    // with everything else of the job that can fail, for those that pass the sieve
    const start = performance.now();
    const { does } = rank(job, list)!;
    const allMs = performance.now() - start;
    const angles = job.travel.openDeg + 1;
    let sink = 0;
    const kernel = each(60, (entry, forceN) => {
      const tried1 = withSpec(entry, forceN);
      const frame = makeFrame(tried1);
      const plans = tried1.loadCases.map((c) => makePlan(frame, c.id));
      const at = travelAngles(frame.openDeg);
      const tables = plans.map((plan) => sweep(plan, at));
      const context = {
        job: tried1,
        frame,
        plans,
        tables,
        letGos: plans.map(letGo),
        units: METRIC,
        passage: plans[0]!,
        loads: [],
        rooms: lidRooms(roomQuestion(job, [], plans[0]!), []),
        issues: [],
        meshes: [],
        assessments: [],
        strange: [],
      };
      sink += CHECKS.filter((c) => NEEDED.includes(c.name)).flatMap((c) => c.run(context)).length;
    });
    const whole = each(8, (entry, forceN) => {
      sink += workings(withSpec(entry, forceN)).findings.length;
    });
    console.log(
      `choose: ${tried} candidates (${accepted} accepted) × ${cases.length} cases × ${angles} angles in ${tookMs.toFixed(0)} ms, ` +
        `${(perCandidate * 1000).toFixed(1)} µs each; longest stretch between two yields ${longest.toFixed(1)} ms; ` +
        `${does} of them do it by all that can fail, ${allMs.toFixed(0)} ms with that. ` +
        `One by one with the checks that choose: ${kernel.toFixed(2)} ms, ${(kernel / perCandidate).toFixed(0)} times. ` +
        `One by one with every check: ${whole.toFixed(1)} ms, ${(whole / perCandidate).toFixed(0)} times. (sink ${sink})`,
    );
    expect(tried).toBeGreaterThanOrEqual(25_000);
    expect(kernel / perCandidate).toBeGreaterThan(10);
  });
});
