// Ready-made load cases: what they hold, that they add and replace nothing, and that a name says what its case is.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { questionsOf } from '../../../core/findings';
import {
  type Job,
  type JobLoadCase,
  type UsualOptions,
  USUAL_BOAT,
  addUsualCases,
  readJob,
  removableMasses,
  resolution,
  resolveJob,
  setValue,
  usualCases,
  usualChoice,
  writeJob,
} from '../../../core/job';
import { makeFrame, makePlan } from '../../../core/travel';
import { workings } from '../../../core/workings';
import { anyPressedLid } from '../../support/arbitrary';
import { exampleFiles, jobAt } from '../../support/files';
import { runs } from '../../support/tier';

const hatch = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const locker = jobAt('assets/examples/trailer-locker.lidjob');
const withCases = (job: Job, loadCases: readonly JobLoadCase[]): Job => ({ ...job, loadCases: [...loadCases] });
const ids = (job: Job, options?: Partial<UsualOptions>): string[] =>
  usualCases(resolveJob(job), options).map((c) => c.id);
const nameOf = (c: Omit<JobLoadCase, 'id'>, job = hatch): string =>
  resolveJob(withCases(job, [{ id: 'c', ...c }])).loadCases[0]!.name;
const EVERYTHING: Partial<UsualOptions> = { windMs: 10, onVehicle: true, onBoat: { ...USUAL_BOAT, aheadMm: 2000 } };

describe('the usual load cases', () => {
  it.each(exampleFiles())('%s: a job with them reads, computes and comes back from its file', (file) => {
    const made = addUsualCases(jobAt(file), { options: EVERYTHING });
    expect(readJob(writeJob(made))).toEqual(made);
    expect(new Set(made.loadCases.map((c) => c.id)).size).toBe(made.loadCases.length);
    expect(workings(resolveJob(made)).plans).toHaveLength(made.loadCases.length);
  });
  it('what comes together is one case: cold, weak, aged and on a slope; hot, strong and the load off', () => {
    const cases = usualCases(resolveJob(hatch), { windMs: 10 });
    const slopes = cases.filter((c) => c.pitchDeg !== 0 || c.rollDeg !== 0);
    expect(slopes.map((c) => [c.pitchDeg, c.rollDeg])).toEqual([
      [-5, 0],
      [5, 0],
      [0, 5],
      [0, -5],
    ]);
    for (const c of slopes) expect(c).toMatchObject({ tempC: -20, force: 'low', ageLossPercent: 15 });
    const off = cases.filter((c) => c.off?.length);
    expect(off.length).toBeGreaterThan(0);
    for (const c of off) expect(c).toMatchObject({ tempC: 50, force: 'high' });
    expect(cases.find((c) => c.wind?.towards === 'shut')).toMatchObject({ tempC: -20, force: 'low' });
    expect(cases.find((c) => c.wind?.towards === 'open')).toMatchObject({ tempC: 50, off: ['canister'] });
  });
  it('takes off what the job’s own cases take off, else all but the heaviest; wishes leave kinds out', () => {
    expect(removableMasses(resolveJob(hatch))).toEqual(['canister']);
    const bare = withCases(hatch, [{ id: 'a' }]);
    expect(removableMasses(resolveJob(bare))).toEqual(['canister', 'cradle']);
    expect(ids(bare, { noseDeg: 0, sideDeg: 0, off: [] })).toEqual(['as-used', 'cold', 'hot']);
    expect(ids(bare, { noseDeg: 0, sideDeg: 0, off: [], coldC: null, hotC: null, ageLossPercent: 0 })).toEqual([
      'as-used',
    ]);
    expect(ids(bare)).toContain('all-off');
    const { outline: _none, ...flat } = bare;
    expect(ids(flat as Job, { windMs: 10 }).filter((id) => id.startsWith('wind'))).toEqual([]);
  });
  it('one of a pair lost is told, not demanded; a single strut has no such case', () => {
    expect(usualCases(resolveJob(hatch)).some((c) => c.lost)).toBe(false);
    const lost = usualCases(resolveJob(locker)).find((c) => c.lost)!;
    expect(lost).toMatchObject({ lost: ['s1'], mustHold: false });
    // lost, and the one that is left is old
    const bad = { ...lost, ageLossPercent: 60 };
    const findingsOf = (c: JobLoadCase) =>
      workings(resolveJob(withCases(locker, [{ id: 'x' }, c]))).findings.filter((f) => f.case === lost.id);
    const told = findingsOf(bad);
    expect(told.some((f) => f.state === 'fails')).toBe(false);
    const failed = findingsOf({ ...bad, mustHold: true }).filter((f) => f.state === 'fails');
    expect(failed.length).toBeGreaterThan(0);
    for (const f of failed) {
      const soft = told.find((t) => t.id === f.id)!;
      expect(soft.state).toBe('watch');
      expect(soft.text).toBe(`${f.text} This load case is told, not demanded.`);
    }
  });
  it('a vehicle’s accelerations are told; a boat leans and is pulled back, so that the low side gets more', () => {
    const cases = usualCases(resolveJob(hatch), EVERYTHING);
    expect(cases.filter((c) => c.mustHold === false).map((c) => c.accelG)).toEqual([
      [-0.8, 0, 0],
      [0.5, 0, 0],
      [0, 0.5, 0],
      [0, -0.5, 0],
    ]);
    const frame = makeFrame(resolveJob(withCases(hatch, cases)));
    for (const c of cases.filter((one) => /^(roll|pitch)-/.test(one.id))) {
      const still = makeFrame(resolveJob(withCases(hatch, [{ ...c, accelG: [0, 0, 0] }])));
      const [moving, standing] = [makePlan(frame, c.id).gravity, makePlan(still, c.id).gravity];
      const k = c.rollDeg ? 1 : 0;
      expect(Math.sign(moving[k]!)).toBe(Math.sign(standing[k]!));
      expect(Math.abs(moving[k]!)).toBeGreaterThan(Math.abs(standing[k]!) + 0.1);
    }
    // 5° every 4 s, 2 m ahead of the middle: (2π/4)²·(5π/180)·2 = 0.430646 m/s², 0.0439 g up at the bottom of its swing
    expect(cases.find((c) => c.id === 'pitch-nose-down')!.accelG![2]).toBe(0.0439);
    expect(cases.find((c) => c.id === 'pitch-nose-up')!.accelG![2]).toBe(-0.0439);
  });
  it('every question that a job may leave open is asked with them', () => {
    fc.assert(
      fc.property(anyPressedLid({ struts: { min: 1, max: 2 } }), (job) => {
        const made = resolveJob(addUsualCases(withCases(job, [{ id: 'own' }]), { options: EVERYTHING }));
        expect([...questionsOf(made)].filter(([, is]) => !is)).toEqual([]);
      }),
      { numRuns: runs(200) },
    );
  });
  it('they are added once; nothing that is there changes, and an id that is taken stays with its case', () => {
    fc.assert(
      fc.property(anyPressedLid({ cases: 3 }), fc.boolean(), (drawn, taken) => {
        const job = taken ? setValue(drawn, { path: ['loadCases', 0, 'id'], value: 'cold' }) : drawn;
        const once = addUsualCases(job, { options: EVERYTHING });
        expect(once.loadCases.slice(0, 3)).toEqual(job.loadCases);
        expect(once.loadCases.length).toBeGreaterThan(5);
        expect(new Set(once.loadCases.map((c) => c.id)).size).toBe(once.loadCases.length);
        expect(addUsualCases(once, { options: EVERYTHING })).toBe(once);
        expect(usualChoice(once, EVERYTHING).every((c) => c.there)).toBe(true);
      }),
      { numRuns: runs(100) },
    );
    // other values are another case; another name is not
    const named = withCases(hatch, [{ id: 'frost', name: 'Frost', tempC: -20, force: 'low', ageLossPercent: 15 }]);
    expect(usualChoice(named).find((c) => c.loadCase.id === 'cold')!.there).toBe(true);
    expect(addUsualCases(named).loadCases[0]!.name).toBe('Frost');
    const warmer = setValue(named, { path: ['loadCases', 0, 'tempC'], value: -10 });
    expect(usualChoice(warmer).find((c) => c.loadCase.id === 'cold')!.there).toBe(false);
  });
});

describe('what a load case is called', () => {
  it.each([
    [{}, 'As used, 20 °C'],
    [{ tempC: 12 }, 'As used, 12 °C'],
    [{ tempC: -20 }, 'Cold, −20 °C'],
    [{ tempC: -5, force: 'low' }, 'Cold, −5 °C, weak strut'],
    [{ tempC: 50, force: 'high', off: ['canister'] }, 'Hot, 50 °C, Life-raft canister off, strong strut'],
    // the hatch's grip is behind its hinge: from there +X is at the back and +Y on the left
    [{ pitchDeg: 5, rollDeg: -3 }, 'Back down 5°, left side down 3°, 20 °C'],
    [{ pitchDeg: -5, rollDeg: 3 }, 'Front down 5°, right side down 3°, 20 °C'],
    [{ rollDeg: 10, accelG: [0, 0.03, 0.04] }, 'Right side down 10°, swaying 0.05 g, 20 °C'],
    [{ accelG: [-0.8, 0, 0] }, 'Braking 0.8 g, 20 °C'],
    [{ accelG: [0, -0.5, 0.1] }, 'Turning right 0.5 g, up 0.1 g, 20 °C'],
    [{ wind: { ms: 10, towards: 'open' } }, 'Wind 10 m/s that opens it, 20 °C'],
    [{ wind: { ms: 8.5, towards: [1, 0, 0] } }, 'Wind 8.5 m/s, 20 °C'],
    [{ ageLossPercent: 15 }, '15 % lost with age, 20 °C'],
    [{ lost: ['s1'] }, 'One strut lost, 20 °C'],
    [{ name: 'Winter', tempC: -20 }, 'Winter'],
  ] as [Omit<JobLoadCase, 'id'>, string][])('%j is "%s"', (c, name) => {
    expect(nameOf(c)).toBe(name);
  });
  it('sides are seen from the grip, on whichever side of the hinge that is', () => {
    const seen = (x: number, y: number): string[] => {
      const at = (id: string): [number, number, number] =>
        id === hatch.grip
          ? [x, y, 400]
          : id === hatch.hinge.a
            ? [y ? 300 : 0, y ? 0 : 300, 400]
            : [y ? -300 : 0, y ? 0 : -300, 400];
      const turned = { ...hatch, points: hatch.points.map((p) => ({ ...p, at: at(p.id) })) } as Job;
      return [nameOf({ pitchDeg: 5 }, turned), nameOf({ rollDeg: 5 }, turned)].map((n) => n.split(' down')[0]!);
    };
    expect(seen(-900, 0)).toEqual(['Back', 'Right side']);
    expect(seen(900, 0)).toEqual(['Front', 'Left side']);
    expect(seen(0, -900)).toEqual(['Right side', 'Front']);
    expect(seen(0, 900)).toEqual(['Left side', 'Back']);
  });
  it('it follows the values and the names of what is off, until somebody names it', () => {
    const job = withCases(hatch, [{ id: 'c', tempC: -20, off: ['canister'] }]);
    expect(nameOf(job.loadCases[0]!)).toBe('Cold, −20 °C, Life-raft canister off');
    const warmer = setValue(job, { path: ['loadCases', 0, 'tempC'], value: -5 });
    expect(resolveJob(warmer).loadCases[0]!.name).toBe('Cold, −5 °C, Life-raft canister off');
    const k = job.masses.findIndex((m) => m.id === 'canister');
    const renamed = setValue(warmer, { path: ['masses', k, 'name'], value: 'raft' });
    expect(resolveJob(renamed).loadCases[0]!.name).toBe('Cold, −5 °C, raft off');
    const own = setValue(renamed, { path: ['loadCases', 0, 'name'], value: 'Mine' });
    expect(resolveJob(setValue(own, { path: ['loadCases', 0, 'tempC'], value: 40 })).loadCases[0]!.name).toBe('Mine');
  });
  it('a case that loses its wind is not taken for the one before', () => {
    const windy = withCases(hatch, [{ id: 'c', wind: { ms: 10, towards: 'open' }, name: 'Mine' }]);
    const before = resolution(windy);
    const after = resolution(withCases(windy, [{ id: 'c', name: 'Mine' }]), before).job.loadCases[0]!;
    expect(after.wind).toBeUndefined();
  });
  it('cases with different values have different names, and none is empty', () => {
    const job = withCases(hatch, usualCases(resolveJob(hatch), EVERYTHING));
    const names = resolveJob(job).loadCases.map((c) => c.name);
    expect(new Set(names).size).toBe(names.length);
  });
});
