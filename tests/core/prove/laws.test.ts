// What holds for every change, reading and cause, whatever the numbers.
import { describe, expect, it } from 'vitest';
import { jobIssues, readJob, removeLoadCase, removeStrut, resolveJob, setValue } from '../../../core/job';
import {
  type Change,
  changedJob,
  fitUpPlan,
  makeProber,
  makeTrial,
  patchPlan,
  proveJob,
  rankCauses,
  rankPairs,
  setAgainst,
  takeIntoJob,
  withRoom,
  addProofReadings,
} from '../../../core/prove';
import { makeFrame, makePlan, sweep, travelAngles } from '../../../core/travel';
import { expectClose, within, withinEither } from '../../support/close';
import { fileText, jobAt } from '../../support/files';
import { refusal } from '../../support/refusal';
import { bedOf, numbers, readLid } from './simulate';

const HATCH = 'tests/fixtures/jobs/workboat-hatch.lidjob';
const hatch = jobAt(HATCH);
const job = resolveJob(hatch);

describe('a change', () => {
  // amounts on the steps that the job is rounded to, so that both ways hold the very same numbers
  const changes: [string, Change][] = [
    ['mass', { massShare: 0.1 }],
    ['one mass', { massKg: { canister: -3.2 } }],
    ['centre', { centreMm: [40, 0] }],
    ['hinge friction', { hingeNm: 3.1 }],
    ['force', { struts: { s1: { forceFactor: 0.9 } } }],
    ['strut friction', { struts: { s1: { frictionN: 24 } } }],
    ['base pivot', { struts: { s1: { baseMm: [8, -5] } } }],
    ['lid pivot', { struts: { s1: { lidMm: [-6, 9] } } }],
    ['length', { struts: { s1: { extendedMm: -7 } } }],
    ['lost', { struts: { s1: { working: 0 } } }],
  ];
  it.each(changes)('%s: patching the plan is planning the changed job', (_, change) => {
    const trial = makeTrial(job);
    const plan = patchPlan(trial.plan({ loadCase: 'normal', tempC: 20, strutsOff: false }), change, trial.directions);
    const afresh = makePlan(makeFrame(changedJob(job, change)), 'normal');
    const angles = travelAngles(70, 5);
    const a = sweep(plan, angles);
    const b = sweep(afresh, angles);
    // places are rounded to 0.1 mm; a job states F2 as a multiple of F1, so there the gas's fill follows the force a little
    expectClose(a.handOpeningN, b.handOpeningN, withinEither(1.2, 2e-3, 'N'), 'opening');
    expectClose(a.handClosingN, b.handClosingN, withinEither(1.2, 2e-3, 'N'), 'closing');
    expectClose(a.struts[0]!.lengthMm, b.struts[0]!.lengthMm, withinEither(0.15, 0, 'mm'), 'length');
  });

  it('is taken into the job as one edit that undoes itself by its absence, and refuses what a given holds', () => {
    const taken = takeIntoJob(hatch, { resolved: job, change: { massShare: 0.1 } });
    expect(resolveJob(taken).masses.map((m) => m.kg)).toEqual([34.65, 30.25, 3.96]);
    const held = setValue(
      setValue(hatch, { path: ['givens'], value: [{ name: 'panelMass', expression: '31.5 kg' }] }),
      {
        path: ['masses', 0, 'kg'],
        value: { given: 'panelMass' },
      },
    );
    const error = refusal(() => takeIntoJob(held, { resolved: resolveJob(held), change: { massShare: 0.1 } }));
    expect(error.message).toContain('held by the given "panelMass"');
    expect(error.where).toEqual(['masses', 0, 'kg']);
  });

  it('a strut that gives nothing sets nothing in the job, and is lost in every load case of the judgement', () => {
    const change: Change = { struts: { s1: { working: 0 } } };
    expect(takeIntoJob(hatch, { resolved: job, change })).toBe(hatch);
    expect(changedJob(job, change).loadCases.every((c) => c.lost.includes('s1'))).toBe(true);
  });
});

describe('room beyond the stroke', () => {
  it('changes nothing inside it and carries the gas law on outside', () => {
    const trial = makeTrial(job);
    const plan = trial.plan({ loadCase: 'normal', tempC: 20, strutsOff: false });
    const angles = travelAngles(70, 3);
    const roomy = sweep({ ...plan, struts: plan.struts.map(withRoom) }, angles);
    expectClose(roomy.handOpeningN, [...sweep(plan, angles).handOpeningN], withinEither(1e-6, 1e-9, 'N'));
    const long: Change = { struts: { s1: { extendedMm: -25 } } };
    const probes = fitUpPlan(job).map((p) => p.probe);
    const strict = makeProber(trial, probes).read(long, true);
    const loose = makeProber(trial, probes).read(long);
    expect(strict.some(Number.isNaN)).toBe(true);
    expect(loose.every(Number.isFinite)).toBe(true);
  });
});

describe('the plan', () => {
  it('predicts what the travel table says, and ± grows with a strut’s tolerance', () => {
    const plan = fitUpPlan(job);
    const at = (n: number) => plan.find((p) => p.probe.what === 'hand-force' && p.angleDeg === n && !p.optional)!;
    const table = sweep(makePlan(makeFrame(job), 'normal'), Float64Array.of(41));
    expectClose(at(41).predicted, table.handOpeningN[0]!, withinEither(1e-9, 1e-12, 'N'));
    const loose = resolveJob(setValue(hatch, { path: ['struts', 0, 'spec', 'toleranceN'], value: [-120, 120] }));
    const wide = fitUpPlan(loose).find((p) => p.key === at(41).key)!;
    expect(wide.plusMinus!).toBeGreaterThan(1.3 * at(41).plusMinus!);
    expect(new Set(plan.map((p) => p.key)).size).toBe(plan.length);
  });

  it('is narrower where a survey knows the pivots better', () => {
    const known = new Map(job.points.map((p) => [p.id, 0.2]));
    const [rough, fine] = [fitUpPlan(job), fitUpPlan(job, { pointMm: known })];
    const i = rough.findIndex((p) => p.probe.what === 'strut-length');
    expect(fine[i]!.plusMinus!).toBeLessThan(rough[i]!.plusMinus!);
  });
});

describe('a proof', () => {
  const bed = bedOf(job, 'all');
  const withReadings = (change: Change) => {
    const { normal } = numbers(7);
    const readings = readLid(bed, change, normal).map(({ what, strut, end, at, angleDeg, way, strutsOff, value }) => ({
      what,
      ...(strut ? { strut } : {}),
      ...(end ? { end } : {}),
      ...(what === 'strut-length' && at !== 'angle' ? { at } : {}),
      ...(what === 'hand-force' || (what === 'strut-length' && at === 'angle') ? { angleDeg } : {}),
      ...(way ? { way } : {}),
      ...(strutsOff ? { strutsOff } : {}),
      [what === 'hand-force'
        ? 'valueN'
        : what === 'lid-mass'
          ? 'valueKg'
          : what === 'opens-to'
            ? 'valueDeg'
            : 'valueMm']: value,
    }));
    return addProofReadings(hatch, { readings });
  };

  it('names a heavy lid, tells it from the rest, and agrees once it is taken in', () => {
    const measured = withReadings({ massShare: 0.15 });
    const resolved = resolveJob(measured);
    const proof = proveJob(resolved);
    expect(proof.state).toBe('off');
    expect(proof.causes[0]!.id).toBe('mass');
    expect(proof.apart).toBe(true);
    expect(proof.causes[0]!.text).toMatch(/^The lid is about (8|9|10)\.\d kg heavier than entered\.$/);
    const taken = resolveJob(takeIntoJob(measured, { resolved, change: proof.causes[0]!.change }));
    expect(proveJob(taken).state).toBe('agrees');
  });

  it('stops for a strut that gives nothing, and for a lid not measured yet', () => {
    const dead = proveJob(resolveJob(withReadings({ struts: { s1: { working: 0 } } })));
    expect(dead.causes[0]!.id).toBe('lost:s1');
    expect(dead.causes[0]!.takes).toBe(false);
    expect(dead.safety.go).toBe('stop');
    const none = proveJob(job);
    expect(none.state).toBe('none');
    expect(none.safety.go).toBe('stop');
    expect(none.safety.reasons[0]).toContain('the prop stays in');
  });

  it('says what is to be watched where all else holds, is measured and agrees', () => {
    const measured = withReadings({});
    // the example's base joint leaves its range and its hot case is stiff: mended here
    let mended = setValue(measured, { path: ['struts', 0, 'ends', 'base', 'azimuthDeg'], value: -17.6 });
    mended = setValue(mended, { path: ['limits', 'handCloseN'], value: 260 });
    mended = setValue(mended, { path: ['dismissed'], value: [{ finding: 'asked', reason: 'a test' }] });
    const proof = proveJob(resolveJob(mended));
    expect(proof.state).toBe('agrees');
    expect(proof.missing).toEqual([]);
    expect(proof.safety.go).toBe('care');
    expect(proof.safety.reasons.join(' ')).toMatch(/throws itself open with 116 J/);
    expect(proveJob(resolveJob(measured)).safety.go).toBe('stop');
  });

  it('finds which reading tells two causes apart, and that reading does', () => {
    const short = bedOf(job, 'needed');
    const { normal } = numbers(3);
    const change: Change = { massShare: 0.15 };
    const readings = readLid(short, change, normal);
    const before = rankCauses(short.trial, readings);
    expect(before.apart).toBe(false);
    const sure = rankCauses(bed.trial, readLid(bed, change, normal));
    expect(sure.causes[0]!.cause.id).toBe('mass');
    expect(sure.apart).toBe(true);
  });

  it('two things wrong at once are not put down to one', () => {
    const many: Change = { massShare: 0.2, hingeNm: 14, struts: { s1: { baseMm: [25, 0], lidMm: [0, 25] } } };
    const proof = proveJob(resolveJob(withReadings(many)));
    expect(proof.causes[0]!.explains).toBe(false);
    expect(proof.safety.go).toBe('stop');
    expect(proof.safety.reasons.join(' ')).toContain('No single cause explains');
    expect(proof.safety.reasons.join(' ')).toContain('nor do two together');
  });

  it('two at once are found as a pair, said as two, and taken in as one edit', () => {
    const both: Change = { massShare: 0.2, hingeNm: 14 };
    const measured = withReadings(both);
    const proof = proveJob(resolveJob(measured));
    const [first] = proof.causes;
    expect(first!.id).toBe('mass+hinge-friction');
    expect(first!.explains).toBe(true);
    expect(first!.text).toMatch(
      /^Two things at once: The lid is about 1\d\.\d kg heavier than entered\. Hinges or seals rub/,
    );
    const taken = takeIntoJob(measured, { resolved: resolveJob(measured), change: first!.change });
    expect(proveJob(resolveJob(taken)).state).toBe('agrees');
  });

  it('where a pair fits as well as one, they are not told apart', () => {
    // the hand while opening, and nothing else that would tell mass from centre, from force, or from two of them
    const short = bedOf(job, 'needed');
    const readings = readLid(
      short,
      { massShare: 0.12, struts: { s1: { forceFactor: 0.95 } } },
      numbers(5).normal,
    ).filter((r) => r.what === 'hand-force' && r.way === 'opening');
    const against = setAgainst(short.trial, readings);
    const singles = rankCauses(short.trial, readings, {}, against);
    const all = rankPairs(against, singles);
    expect(all.causes.some((c) => c.cause.both)).toBe(true);
    expect(all.apart).toBe(false);
    expectClose(
      all.causes.reduce((sum, c) => sum + c.share, 0),
      1,
      within(1e-9, '1'),
    );
    // two have room for all that one of them can say
    const size = ({ chiSquare, values, cause }: (typeof all.causes)[number]): number =>
      chiSquare + values.reduce((sum, v, k) => sum + (v / cause.widths[k]!) ** 2, 0);
    for (const pair of all.causes.filter((c) => c.cause.both))
      for (const { id } of pair.cause.both!)
        expect(size(pair)).toBeLessThanOrEqual(size(all.causes.find((c) => c.cause.id === id)!) + 1e-2);
  });
});

describe('the job’s proof section', () => {
  it('is optional, survives reading, and is checked', () => {
    expect(hatch.proof).toBeUndefined();
    const raw = JSON.parse(fileText(HATCH)) as Record<string, unknown>;
    const read = (proof: unknown) => readJob(JSON.stringify({ ...raw, proof }));
    const bad = resolveJob(
      read({
        loadCase: 'nowhere',
        readings: [
          { id: 'a', what: 'strut-length', valueMm: 400 },
          { id: 'a', what: 'hand-force', angleDeg: 20, valueN: 5 },
          { id: 'c', what: 'joint-angle', strut: 's9', at: 'closed', valueDeg: 90 },
          { id: 'd', what: 'lid-mass' },
          { id: 'e', what: 'opens-to', valueDeg: 70, loadCase: 'gone' },
        ],
      }),
    );
    const said = jobIssues(bad).map((i) => i.what);
    for (const part of [
      'load case "nowhere", which is not there',
      'names no strut',
      'at which angle',
      'stands twice in the proof',
      'which way the lid moved',
      'strut "s9", which is not there',
      'names no end',
      'has no value',
      'load case "gone"',
    ])
      expect(
        said.some((s) => s.includes(part)),
        part,
      ).toBe(true);
    expect(() => read({ readings: [{ id: 'a', what: 'weather' }] })).toThrow('a kind of measurement');
    expect(() => resolveJob(read({ readings: [{ id: 'a', what: 'opens-to', valueDeg: 400 }] }))).toThrow(
      'out of bounds',
    );
  });

  it('goes with its strut, and is left out with its load case', () => {
    const measured = addProofReadings(setValue(hatch, { path: ['proof', 'loadCase'], value: 'cold' }), {
      readings: [
        { what: 'free-length', strut: 's1', valueMm: 620 },
        { what: 'lid-mass', valueKg: 60 },
        { what: 'lid-mass', valueKg: 35, loadCase: 'canister-off' },
      ],
    });
    const gone = removeStrut(measured, { id: 's1' });
    expect(gone.proof!.readings!.map((r) => r.what)).toEqual(['lid-mass', 'lid-mass']);
    const next = removeLoadCase(measured, { id: 'cold' });
    expect(next.proof!.loadCase).toBeUndefined();
    expect(next.proof!.readings!.map((r) => r.use)).toEqual([false, false, undefined]);
    expect(jobIssues(resolveJob(next))).toEqual([]);
  });
});
