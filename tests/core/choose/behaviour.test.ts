// The matrix, bands, assumed numbers, comparison, and what age, loss and springs do.
import { describe, expect, it } from 'vitest';
import { OPENING_SPEED_NOTE, assumedSpread, bands, compareOutcomes, matrix } from '../../../core/choose';
import { worstFirst } from '../../../core/findings';
import {
  type Job,
  type ResolvedJob,
  addSpring,
  removeSpring,
  removeStrut,
  resolveJob,
  usesOfPoint,
  usualCases,
} from '../../../core/job';
import { agedBody, coilPushN, extendingN, gasBody, torsionMomentNm } from '../../../core/strut';
import { dropEnergyJ, largestFall, makeFrame, makePlan, momentsAt, restAngles, sweep } from '../../../core/travel';
import { workings } from '../../../core/workings';
import { expectClose, within, withinEither } from '../../support/close';
import { jobAt } from '../../support/files';
import { refusal, said } from '../../support/refusal';

const hatch = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const locker = jobAt('assets/examples/trailer-locker.lidjob');
const withCases = (job: Job, loadCases: Job['loadCases']): ResolvedJob => resolveJob({ ...job, loadCases });

describe('age and loss', () => {
  it('an aged strut has the share of gauge pressure left; the file’s body and friction stay', () => {
    const { spec } = resolveJob(hatch).struts[0]!;
    const body = gasBody(spec, 'nominal');
    const aged = agedBody(body, 20);
    expect(agedBody(body, 0)).toBe(body);
    expect(aged.fillPerMm).toBe(body.fillPerMm);
    // at 5 mm and 20 °C: middle force F1 + FR/2, of which 80 % stay, less half the friction
    expectClose(extendingN(aged, 5, 20), (900 + 15) * 0.8 - 15, within(1e-9, 'N'));
    const o = workings(withCases(hatch, [{ id: 'new' }, { id: 'old', ageLossPercent: 20 }]));
    const s = o.plans[0]!.struts[0]!.extendedMm - o.tables[0]!.struts[0]!.lengthMm[9]!;
    expectClose(o.tables[1]!.struts[0]!.extendingN[9], extendingN(aged, s, 20), within(1e-9, 'N'));
  });
  it('of a pair one is left, where it is, without its mirror image', () => {
    const job = withCases(locker, [{ id: 'two' }, { id: 'one', lost: ['s1'] }]);
    const single = withCases({ ...locker, struts: [{ ...locker.struts[0]!, quantity: 1 }] } as Job, [{ id: 'one' }]);
    const [lost, plain] = [workings(job).tables[1]!, workings(single).tables[0]!];
    for (const key of ['handOpeningN', 'handClosingN', 'hingeAN', 'hingeBN', 'hingeAxialN'] as const)
      expectClose(lost[key], plain[key], within(1e-9, 'N'));
    expect(lost.struts[0]!.extendingN[3]).toBe(plain.struts[0]!.extendingN[3]);
  });
  it('a single one lost gives nothing and stands in no one’s way: only the weight is left', () => {
    const job = withCases(hatch, [{ id: 'with' }, { id: 'without', lost: ['s1'] }]);
    const o = workings(job);
    const bare = workings(withCases({ ...hatch, struts: [], brackets: [] } as Job, [{ id: 'without' }]));
    expectClose(o.tables[1]!.handOpeningN, bare.tables[0]!.handOpeningN, within(1e-9, 'N'));
    expectClose(o.tables[1]!.hingeBN, bare.tables[0]!.hingeBN, within(1e-9, 'N'));
    expect(o.tables[1]!.struts[0]!.extendingN.every(Number.isNaN)).toBe(true);
    expectClose(restAngles(o.plans[1]!), restAngles(bare.plans[0]!), within(1e-9, '°'));
  });
  it('a lost strut that is not there is refused with its place', () => {
    const bad = withCases(hatch, [{ id: 'x', lost: ['nobody'] }]);
    expect(said(refusal(() => workings(bad).findings)).join()).toContain('loadCases[0].lost[0]');
  });
});

describe('the matrix', () => {
  const o = workings(withCases(locker, usualCases(resolveJob(locker))));
  const m = matrix(o);
  it('holds every finding, in its load case, and the worst of each row', () => {
    expect(m.caseIds).toEqual(o.job.loadCases.map((c) => c.id));
    const held = new Set(m.rows.flatMap((r) => r.cells));
    for (const f of o.findings) expect(held.has(f)).toBe(true);
    for (const row of m.rows) {
      const all = o.findings.filter((f) => f.id === row.id && f.subject === row.subject);
      expect(row.worst.state).toBe(worstFirst(all)[0]!.state);
      if (row.everyCase) expect(row.cells.every((c) => c === row.worst)).toBe(true);
      else row.cells.forEach((cell, i) => expect(cell === null || cell.case === m.caseIds[i]).toBe(true));
    }
  });
});

describe('bands of hand force', () => {
  it('opening lies over closing by friction, weak over strong by tolerance; a case with a stated force has no width', () => {
    const o = workings(resolveJob(hatch));
    const all = bands(o);
    all.forEach((b, c) => {
      const nominal = o.job.loadCases[c]!.force === 'nominal';
      for (let i = 0; i < b.angleDeg.length; i++) {
        expect(b.openingWeakN[i]!).toBeGreaterThan(b.closingWeakN[i]!);
        if (nominal) expect(b.openingWeakN[i]!).toBeGreaterThan(b.openingStrongN[i]!);
        else expect(b.openingWeakN[i]!).toBe(b.openingStrongN[i]!);
        expect(o.tables[c]!.handOpeningN[i]!).toBeLessThanOrEqual(b.openingWeakN[i]! + 1e-9);
        expect(o.tables[c]!.handOpeningN[i]!).toBeGreaterThanOrEqual(b.openingStrongN[i]! - 1e-9);
      }
      // rest runs: friction holds with either strut
      for (const [from, to] of b.restDeg)
        b.angleDeg.forEach((deg, i) => {
          if (deg >= from && deg <= to) {
            expect(Math.min(b.openingWeakN[i]!, b.openingStrongN[i]!)).toBeGreaterThanOrEqual(0);
            expect(Math.max(b.closingWeakN[i]!, b.closingStrongN[i]!)).toBeLessThanOrEqual(0);
          }
        });
    });
    expect(OPENING_SPEED_NOTE).toMatch(/not computed/);
  });
  it('pop-up and fall are where the moments turn, by a dense scan', () => {
    const job = resolveJob(hatch);
    const o = workings(job);
    for (const [c, b] of bands(o).entries()) {
      for (const level of ['low', 'high'] as const) {
        const force = job.loadCases[c]!.force === 'nominal' ? level : job.loadCases[c]!.force;
        const moved = { ...job, loadCases: job.loadCases.map((x) => ({ ...x, force })) };
        const at = momentsAt(makePlan(makeFrame(moved), b.caseId));
        const scan = Array.from({ length: 1401 }, (_, i) => (70 * i) / 1400);
        const lifts = scan.find((deg) => at(deg).opening > 0) ?? null;
        const falls = scan.filter((deg) => at(deg).closing < 0).at(-1) ?? null;
        const got =
          level === 'low'
            ? [b.popUp.lowForceDeg, b.startsToFall.lowForceDeg]
            : [b.popUp.highForceDeg, b.startsToFall.highForceDeg];
        for (const [have, want] of [
          [got[0], lifts],
          [got[1], falls],
        ] as const) {
          if (want === null) expect(have).toBeNull();
          else expectClose(have, want, within(0.051, '°'));
        }
      }
    }
  });
});

describe('springs beside the struts', () => {
  const spring = {
    id: 'coil',
    kind: 'compression',
    base: 's1-base',
    lid: 's1-lid',
    rateNPerMm: 1.2,
    lengthMm: 560,
    preloadN: 15,
    mostDeflectionMm: 250,
  } as const;
  const torsion = {
    id: 'tor',
    kind: 'torsion',
    turns: 'open',
    rateNmPerDeg: 0.8,
    preloadNm: 40,
    mostNm: 60,
    quantity: 2,
  } as const;
  const sprung = resolveJob({ ...hatch, springs: [spring, torsion] } as unknown as Job);
  const plain = resolveJob(hatch);
  const [a, b] = [workings(sprung), workings(plain)];
  it('moments: the coil at the strut’s lever arm, the torsion spring as it is, on both sides alike', () => {
    b.tables.forEach((bare, c) => {
      const table = a.tables[c]!;
      for (let i = 0; i < bare.angleDeg.length; i += 7) {
        const row = bare.struts[0]!;
        const coil = (coilPushN({ ...spring }, row.lengthMm[i]!) * row.leverArmMm[i]!) / 1000;
        const turn = 2 * torsionMomentNm({ ...torsion }, bare.angleDeg[i]!);
        expectClose(table.springMomentNm[i], coil + turn, within(1e-9, 'N·m'));
        expectClose(table.openingMomentNm[i]! - bare.openingMomentNm[i]!, coil + turn, within(1e-9, 'N·m'));
        expectClose(table.closingMomentNm[i]! - bare.closingMomentNm[i]!, coil + turn, within(1e-9, 'N·m'));
      }
    });
  });
  it('hinges: forces and moments on the lid still balance; a torsion spring loads them through the hand only', () => {
    const only = resolveJob({ ...hatch, springs: [torsion] } as unknown as Job);
    const t = workings(only).tables[0]!;
    const bare = b.tables[0]!;
    for (let i = 0; i < t.angleDeg.length; i += 9) {
      const hand = t.handOpeningN[i]! - bare.handOpeningN[i]!;
      const change = [0, 1, 2].map(
        (k) => t.hingeAN[3 * i + k]! + t.hingeBN[3 * i + k]! - bare.hingeAN[3 * i + k]! - bare.hingeBN[3 * i + k]!,
      );
      // the hinges take up just what the hand gives less
      expectClose(Math.hypot(...(change as [number, number, number])), Math.abs(hand), withinEither(1e-6, 1e-3, 'N'));
    }
  });
  it('an extension spring like a negative compression spring; a pair doubles and loses its axial share', () => {
    const at = (over: object) => {
      const job = resolveJob({ ...hatch, springs: [{ ...spring, ...over }] } as unknown as Job);
      const frame = makeFrame(job);
      return sweep(makePlan(frame, 'normal'), new Float64Array([0, 30]));
    };
    const one = at({});
    const two = at({ quantity: 2 });
    expectClose(
      two.springMomentNm,
      one.springMomentNm.map((v) => 2 * v),
      within(1e-9, 'N·m'),
    );
    const pull = at({ kind: 'extension', lengthMm: 300 });
    expect(pull.springs[0]!.pushN.every((v) => v < 0)).toBe(true);
    expect(pull.springMomentNm.every((v) => v < 0)).toBe(true);
  });
  it('rest angles are roots of the moment with springs; the energy of the fall counts what they store', () => {
    for (const plan of a.plans) {
      const at = momentsAt(plan);
      for (const deg of restAngles(plan)) {
        // where a caged spring comes to act the moment jumps: the lid rests against it, with a sign on either side
        const mean = (d: number): number => (at(d).opening + at(d).closing) / 2;
        if (mean(deg - 1e-6) * mean(deg + 1e-6) > 0) expectClose(mean(deg), 0, within(1e-4, 'N·m'));
      }
      const bare = b.plans.find((p) => p.caseId === plan.caseId)!;
      expectClose(dropEnergyJ(plan), dropEnergyJ(bare), within(1e-9, 'J'));
      // without the strut: ∫ of weight and spring moment over the fall, by the trapezium rule
      const fall = largestFall(plan);
      const lone = sweep(
        { ...plan, struts: [], frictionNmm: 0 },
        Float64Array.from({ length: 2001 }, (_, i) => fall.toDeg + ((fall.fromDeg - fall.toDeg) * i) / 2000),
      );
      let joule = 0;
      for (let i = 1; i < 2001; i++)
        joule -=
          (((lone.openingMomentNm[i]! + lone.openingMomentNm[i - 1]!) / 2) *
            ((lone.angleDeg[i]! - lone.angleDeg[i - 1]!) * Math.PI)) /
          180;
      expectClose(fall.energyJ, joule, withinEither(1e-3, 1e-3, 'J'));
    }
  });
  it('a spring that is asked too much, is slack, or misses a number is told', () => {
    const find = (over: object) =>
      workings(resolveJob({ ...hatch, springs: [{ ...spring, ...over }] } as unknown as Job)).findings.find(
        (f) => f.id === 'spring-travel',
      )!;
    expect(find({}).state).toBe('holds');
    expect(find({ mostDeflectionMm: 100 }).state).toBe('fails');
    expect(find({ mostDeflectionMm: undefined }).state).toBe('watch');
    expect(find({ lengthMm: 200 }).text).toMatch(/slack over the whole travel/);
    const bad = (over: object) =>
      said(
        refusal(() => workings(resolveJob({ ...hatch, springs: [{ ...spring, ...over }] } as unknown as Job)).findings),
      ).join();
    expect(bad({ rateNPerMm: undefined })).toContain('springs[0].rateNPerMm');
    expect(bad({ base: 'grip' })).toContain('springs[0].base');
    expect(bad({ kind: 'torsion' })).toContain('springs[0].rateNmPerDeg');
  });
});

describe('assumed numbers', () => {
  const job = {
    ...hatch,
    struts: [{ ...hatch.struts[0]!, spec: { ...hatch.struts[0]!.spec, assumed: ['ratio', 'toleranceN'] } }],
  } as Job;
  it('are told, and their usual range is tried at both ends', () => {
    const o = workings(resolveJob(job));
    expect(o.findings.find((f) => f.id === 'assumed-values')!.text).toMatch(/force ratio, tolerance are assumed/);
    const spread = assumedSpread(o);
    expect(spread.map((s) => s.key)).toEqual(['ratio', 'toleranceN']);
    const [ratio] = spread;
    expect(ratio!.ends.map((e) => e.value)).toEqual([1.25, 1.5]);
    for (const e of ratio!.ends) {
      const tried = workings(
        resolveJob({
          ...job,
          struts: [{ ...job.struts[0]!, spec: { ...job.struts[0]!.spec, ratio: e.value } }],
        } as Job),
      );
      const pulls = tried.findings.filter((f) => f.id === 'hand-closing').map((f) => f.value!);
      expectClose(e.answers.pullN, Math.max(...pulls), within(1e-9, 'N'));
    }
    expect(ratio!.ends[0]!.answers.pullN!).toBeLessThan(ratio!.ends[1]!.answers.pullN!);
    expect(assumedSpread(workings(resolveJob(hatch)))).toEqual([]);
  });
});

describe('comparison', () => {
  it('short table and the findings that differ, whichever way round', () => {
    const stronger = {
      ...hatch,
      struts: [{ ...hatch.struts[0]!, spec: { ...hatch.struts[0]!.spec, forceN: 1000 } }],
    } as Job;
    const [a, b] = [workings(resolveJob(hatch)), workings(resolveJob(stronger))];
    const c = compareOutcomes([
      { name: 'as it is', outcome: a },
      { name: 'stronger', outcome: b },
    ]);
    expect(c.names).toEqual(['as it is', 'stronger']);
    const row = (label: string) => c.rows.find((r) => r.label === label)!;
    expect(row('Strut, nominal force').values).toEqual([900, 1000]);
    expect(row('Greatest pull to shut').best).toBe(0);
    expect(row('Greatest pull to lift').best).toBe(1);
    for (const d of c.differences) expect(new Set(d.states).size).toBeGreaterThan(1);
    const changed = b.findings.filter((f) =>
      a.findings.some((g) => g.id === f.id && g.case === f.case && g.subject === f.subject && g.state !== f.state),
    );
    expect(changed.length).toBeGreaterThan(0);
    for (const f of changed.filter((x) => !['one-sided', 'rod-down'].includes(x.id)))
      expect(c.differences.some((d) => d.id === f.id && (d.case === null || d.case === f.case))).toBe(true);
    expect(
      compareOutcomes([
        { name: 'x', outcome: a },
        { name: 'y', outcome: a },
      ]).differences,
    ).toEqual([]);
  });
});

describe('springs by named edits', () => {
  it('are added with an id of their own, keep their points from being removed, and go with them', () => {
    const one = addSpring(hatch, {
      spring: { kind: 'compression', base: 's1-base', lid: 's1-lid', rateNPerMm: 1, lengthMm: 500 },
    });
    expect(one.springs!.map((s) => s.id)).toEqual(['spring']);
    const two = addSpring(one, { spring: { kind: 'torsion', turns: 'open', rateNmPerDeg: 1 } });
    expect(two.springs!.map((s) => s.id)).toEqual(['spring', 'spring2']);
    expect(usesOfPoint(one, 's1-base').join()).toContain('spring "spring"');
    expect(removeSpring(two, { id: 'spring' }).points).toEqual(hatch.points);
    const bare = removeStrut(one, { id: 's1' });
    expect(bare.points.some((p) => p.id === 's1-base')).toBe(true);
    expect(removeSpring(bare, { id: 'spring' }).points.some((p) => p.id === 's1-base')).toBe(false);
    expect(refusal(() => removeSpring(hatch, { id: 'none' })).what).toContain('none');
  });
});
