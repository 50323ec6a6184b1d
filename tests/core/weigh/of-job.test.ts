// What a job's own readings give, simulated from lids that are known: the pose is turned here, not by the code under test.
import { describe, expect, it } from 'vitest';
import {
  type Job,
  addMass,
  jobIssues,
  readJob,
  removeMass,
  resolveJob,
  setValue,
  usesOfPoint,
  writeJob,
} from '../../../core/job';
import { STANDARD_GRAVITY, readScale, shownOnScale } from '../../../core/quantity';
import { type Vec3, add, cross, dot, norm, toRad, rotateVec, scale, sub, unit } from '../../../core/space';
import { openingAxis } from '../../../core/travel';
import {
  allItems,
  applyMassProposal,
  closedMoment,
  liftedFound,
  mostSuspect,
  pullsFound,
  addLifted,
  addPulls,
  chooseWeighed,
  removeLifted,
  removePull,
  setLifted,
  setOnWhenWeighed,
  setPull,
} from '../../../core/weigh';
import { expectClose, within } from '../../support/close';
import { jobAt } from '../../support/files';
import { refusal, said } from '../../support/refusal';

const boat = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const guard = jobAt('assets/examples/machine-guard.lidjob');
interface Item {
  readonly kg: number;
  readonly at: Vec3;
}

const itemsOf = (job: Job, change: Record<string, Partial<Item>> = {}): Item[] => {
  const r = resolveJob(job);
  return r.masses.map((m) => ({ kg: m.kg, at: r.points.find((p) => p.id === m.at)!.at, ...change[m.id] }));
};

/** What holds the lid up at its grip, N: weights and pull turned to the angle, moments about the hinge. */
function pullN(job: Job, items: readonly Item[], angleDeg: number, pull: 'square' | 'upright'): number {
  const r = resolveJob(job);
  const { origin, opening } = openingAxis(r);
  const turned = (p: Vec3): Vec3 => rotateVec(sub(p, origin), opening, toRad(angleDeg));
  const weight = items.reduce((s, i) => s + dot(opening, cross(turned(i.at), [0, 0, -i.kg * STANDARD_GRAVITY])), 0);
  const grip = turned(r.points.find((p) => p.id === r.grip)!.at);
  const raising = scale(unit(cross(opening, grip)), r.hinge.opens === 'down' ? -1 : 1);
  const way: Vec3 = pull === 'upright' ? [0, 0, 1] : raising;
  return -weight / dot(opening, cross(grip, way));
}

const withPulls = (
  job: Job,
  items: readonly Item[],
  pull: 'square' | 'upright' = 'square',
  angles = [5, 20, 35, 50, 65],
): Job =>
  addPulls(job, { pulls: angles.map((angleDeg) => ({ angleDeg, forceN: pullN(job, items, angleDeg, pull), pull })) });

const point = (job: Job, id: string): Vec3 => resolveJob(job).points.find((p) => p.id === id)!.at;

describe('pulls in a job', () => {
  const truth = itemsOf(boat, { panel: { kg: 38, at: [-455, 6, 390] } });

  it.each(['square', 'upright'] as const)('find the panel that pulls so, %s, the canister and cradle known', (pull) => {
    const job = chooseWeighed(withPulls(boat, truth, pull), { way: 'pulls', of: 'panel' });
    const known = setValue(setValue(job, { path: ['weighings', 'pulls', 'known'], value: 'mass' }), {
      path: ['weighings', 'pulls', 'kg'],
      value: 38,
    });
    const found = pullsFound(resolveJob(known));
    expect(found.trouble).toEqual([]);
    expectClose(found.proposal!.kg, 38, within(1e-9, 'kg'));
    const o = openingAxis(resolveJob(boat)).opening;
    expectClose(norm(cross(sub(found.proposal!.at, [-455, 6, 390]), o)), 0, within(1e-6, 'mm'));
    for (const r of found.readings) expectClose(r.offN!, 0, within(1e-9, 'N'));
  });

  it('with the arm of the item kept, what is found pulls as read once it is put in', () => {
    const job = chooseWeighed(withPulls(boat, truth), { way: 'pulls', of: 'panel' });
    const { proposal, beside } = pullsFound(resolveJob(job));
    expect(beside!.typed).toBe(false);
    const after = applyMassProposal(job, { proposal: proposal!, massId: 'panel' });
    for (const angle of [0, 30, 70])
      expectClose(
        pullN(after, itemsOf(after), angle, 'square'),
        pullN(boat, truth, angle, 'square'),
        within(0.05, 'N'),
      );
    // and a second time nothing changes any more
    const again = pullsFound(resolveJob(after)).proposal!;
    expectClose(again.kg, proposal!.kg, within(0.01, 'kg'));
  });

  it('holds a lid that opens downwards: a positive reading holds it up', () => {
    const real = itemsOf(guard, { frame: { kg: 21 } });
    const job = chooseWeighed(withPulls(guard, real, 'square', [10, 40, 70]), { way: 'pulls', of: 'frame' });
    expect(job.weighings!.pulls!.readings!.every((r) => (r.forceN as number) > 0)).toBe(true);
    const found = pullsFound(resolveJob(job));
    expectClose(found.proposal!.kg, 21, within(1e-6, 'kg'));
    const up = chooseWeighed(withPulls(guard, real, 'upright', [10, 40, 70]), { way: 'pulls', of: 'frame' });
    expectClose(pullsFound(resolveJob(up)).proposal!.kg, 21, within(1e-6, 'kg'));
  });

  it('an item that was off the lid does not count, and a blunder is named', () => {
    const bare = truth.filter((_, i) => i !== 1);
    let job = chooseWeighed(withPulls(boat, bare), { way: 'pulls', of: 'panel' });
    job = setOnWhenWeighed(job, { way: 'pulls', mass: 'canister', on: false });
    const found = pullsFound(resolveJob(job));
    expectClose(found.proposal!.kg * (-2 - -462), 38 * (-2 - -455), within(60, 'kg·mm'));
    expect(mostSuspect(found.readings)).toBeNull();
    const read = job.weighings!.pulls!.readings![2]!;
    const wrong = setPull(job, { id: read.id, patch: { forceN: (read.forceN as number) + 40 } });
    expect(mostSuspect(pullsFound(resolveJob(wrong)).readings)!.id).toBe(read.id);
    const off = pullsFound(resolveJob(setPull(wrong, { id: read.id, patch: { use: false } })));
    expect(mostSuspect(off.readings)).toBeNull();
    expectClose(off.readings[2]!.offN!, 40, within(1e-6, 'N'));
  });

  it('a lid with no mass items yet: the arm is that of the outline’s middle, and the item is added', () => {
    const bare: Job = { ...boat, masses: [], loadCases: [{ id: 'normal' }] };
    const middle: Vec3 = [-480, 0, 405];
    const job = withPulls(bare, [{ kg: 40, at: middle }]);
    const found = pullsFound(resolveJob(job));
    expect(found.item).toBeNull();
    expectClose(found.proposal!.kg, 40, within(1e-6, 'kg'));
    const after = applyMassProposal(job, { proposal: found.proposal!, name: 'Lid' });
    expect(after.masses.map((m) => [m.name, m.kg])).toEqual([['Lid', 40]]);
    expectClose(closedMoment(resolveJob(after), allItems(resolveJob(after)))!, 40 * 478, within(250, 'kg·mm'));
    expectClose(
      closedMoment(resolveJob(after), allItems(resolveJob(after)))!,
      found.moment!.acrossKgMm,
      within(3, 'kg·mm'),
    );
  });

  it('an item whose place comes from givens is found, and putting it in says why not', () => {
    const locker = jobAt('assets/examples/trailer-locker.lidjob');
    const real = itemsOf(locker, { panel: { kg: 18 } });
    const job = chooseWeighed(withPulls(locker, real), { way: 'pulls', of: 'panel' });
    const { proposal } = pullsFound(resolveJob(job));
    expectClose(proposal!.kg, 18, within(1e-6, 'kg'));
    expect(refusal(() => applyMassProposal(job, { proposal: proposal!, massId: 'panel' })).what).toContain('a given');
  });

  it('says why there is no answer, and never throws', () => {
    const one = addPulls(boat, { pulls: [{ angleDeg: 10, forceN: 200 }] });
    expect(pullsFound(resolveJob(one)).trouble[0]!.what).toContain('one pull alone');
    expect(pullsFound(resolveJob(boat)).moment).toBeNull();
    // straight up at 90° nothing turns the lid; the reading is named as the person knows it
    const upright = addPulls(boat, {
      pulls: [
        { angleDeg: 5, forceN: 250, use: false },
        { angleDeg: 10, forceN: 250 },
        { angleDeg: 89, forceN: 5, pull: 'upright' },
      ],
    });
    const issue = pullsFound(resolveJob(upright)).trouble[0]!;
    expect(issue.what).toContain('at 89° an upright pull');
    expect(issue.where).toEqual(['weighings', 'pulls', 'readings', 2]);
    const fresh = setValue(withPulls(boat, truth), { path: ['weighings', 'pulls', 'known'], value: 'mass' });
    const noMass = pullsFound(resolveJob(fresh));
    expect(noMass.moment).not.toBeNull();
    expect(noMass.beside).toBeNull();
    expect(noMass.proposal).toBeNull();
  });
});

describe('a lid lifted off', () => {
  /** Scale readings of the whole, from moments about the other edge, the lid itself turned. */
  function stood(job: Job, items: readonly Item[], between: [string, string], tiltDeg: number): Job {
    const r = resolveJob(job);
    const kg = items.reduce((s, i) => s + i.kg, 0);
    const c = scale(
      items.reduce<Vec3>((s, i) => add(s, scale(i.at, i.kg)), [0, 0, 0]),
      1 / kg,
    );
    const { opening } = openingAxis(r);
    const [p, q] = between.map((id) => point(job, id)) as [Vec3, Vec3];
    const grip = sub(point(job, r.grip), point(job, r.hinge.a));
    const across = Math.abs(dot(sub(q, p), opening)) < norm(sub(q, p)) / Math.SQRT2;
    const edge = across ? opening : unit(sub(grip, scale(opening, dot(grip, opening))));
    // the edges lie level, so the sum is plane: u level, away from the first edge, w up
    let u = unit(cross([0, 0, 1], edge));
    if (dot(u, sub(q, p)) < 0) u = scale(u, -1);
    let w = cross(u, edge);
    if (w[2] < 0) w = scale(w, -1);
    const [cos, sin] = [Math.cos(toRad(tiltDeg)), Math.sin(toRad(tiltDeg))];
    const level = (v: Vec3): number => dot(sub(v, p), u) * cos - dot(sub(v, p), w) * sin;
    const share = level(c) / level(q);
    const weight = kg * STANDARD_GRAVITY;
    return addLifted(job, { weighing: { between, tiltDeg, firstN: weight * (1 - share), secondN: weight * share } });
  }
  const truth = itemsOf(boat, { panel: { kg: 36, at: [-470, 20, 399] } });

  it('gives mass, reach and height from two attitudes at two edges; along the hinge it stays as it was', () => {
    let job = stood(boat, truth, ['hingeA', 'grip'], 0);
    job = stood(job, truth, ['hingeA', 'grip'], 30);
    job = chooseWeighed(job, { way: 'lifted', of: 'panel' });
    const found = liftedFound(resolveJob(job));
    expect(found.trouble).toEqual([]);
    expectClose(found.proposal!.kg, 36, within(1e-6, 'kg'));
    const o = openingAxis(resolveJob(boat)).opening;
    const off = sub(found.proposal!.at, [-470, 20, 399]);
    expectClose(norm(sub(off, scale(o, dot(off, o)))), 0, within(1e-6, 'mm'));
    const kept = sub(found.proposal!.at, point(boat, 'cg-panel'));
    expectClose(dot(kept, o), 0, within(1e-6, 'mm'));
    expect(found.proposal!.sigma.atMm[0]).toBeGreaterThan(1);
    const c = found.proposal!.covariance;
    expectClose(
      [1, 2, 3].reduce((s, i) => s + o[i - 1]! * c[i]![2]!, 0),
      0,
      within(1e-9, 'mm²'),
    );
  });

  it('and the place along the hinge from the two side edges too', () => {
    let job = stood(boat, truth, ['hingeA', 'grip'], 0);
    job = stood(job, truth, ['hingeA', 'grip'], 30);
    job = stood(job, truth, ['c1', 'c4'], 0);
    job = chooseWeighed(job, { way: 'lifted', of: 'panel' });
    const found = liftedFound(resolveJob(job));
    expectClose(found.proposal!.kg, 36, within(1e-6, 'kg'));
    expectClose(found.proposal!.at, [-470, 20, 399], within(0.5, 'mm'));
    expect(found.whole!.assumed).toEqual([]);
  });

  it('a block instead of a scale, a reading switched off, and too little to go by', () => {
    let job = stood(boat, truth, ['hingeA', 'grip'], 0);
    job = stood(job, truth, ['hingeA', 'grip'], 30);
    const [first, second] = job.weighings!.lifted!.readings!;
    const blocked = setLifted(job, { id: second!.id, patch: { firstN: undefined } });
    expect('firstN' in blocked.weighings!.lifted!.readings![1]!).toBe(false);
    const found = liftedFound(resolveJob(chooseWeighed(blocked, { way: 'lifted', of: 'panel' })));
    expectClose(found.proposal!.kg, 36, within(1e-6, 'kg'));
    expect(found.readings[1]![0]).toBeNull();
    const off = setLifted(setLifted(job, { id: first!.id, patch: { use: false } }), {
      id: second!.id,
      patch: { firstN: undefined },
    });
    expect(liftedFound(resolveJob(off)).trouble[0]!.what).toContain('can’t give both mass and place');
    const heavy = { ...boat, masses: boat.masses.map((m) => (m.id === 'canister' ? { ...m, kg: 400 } : m)) };
    const less = liftedFound(
      resolveJob(chooseWeighed({ ...heavy, weighings: job.weighings! }, { way: 'lifted', of: 'panel' })),
    );
    expect(less.proposal).toBeNull();
    expect(less.trouble[0]!.what).toContain('the items on it already');
    expect(less.whole!.kg).toBeGreaterThan(60);
  });
});

describe('weighings in the file', () => {
  const full = setOnWhenWeighed(
    chooseWeighed(
      addLifted(
        addPulls(boat, {
          pulls: [
            { angleDeg: 5, forceN: 250 },
            { angleDeg: 40, forceN: 180, pull: 'upright', use: false },
          ],
        }),
        {
          weighing: { between: ['hingeA', 'grip'], tiltDeg: 25, firstN: 300 },
        },
      ),
      { way: 'pulls', of: 'panel' },
    ),
    { way: 'pulls', mass: 'canister', on: false },
  );

  it('go out and come in whole, unknown keys too', () => {
    const odd = {
      ...full,
      weighings: { ...full.weighings, by: 'AB', pulls: { ...full.weighings!.pulls, mood: 1 } },
    } as Job;
    expect(readJob(writeJob(odd))).toEqual(odd);
    expect(jobIssues(resolveJob(odd))).toEqual([]);
  });

  it('take givens and expressions, and refuse what is no reading', () => {
    const given = setPull(
      { ...full, givens: [{ name: 'tare', expression: '5 N' }] },
      { id: 'pull1', patch: { forceN: { expression: '250 - tare', unit: 'N' } } },
    );
    expect(resolveJob(given).weighings!.pulls!.readings![0]!.forceN).toBe(245);
    const bad = (patch: object): string[] =>
      said(refusal(() => resolveJob(readJob(writeJob({ ...full, weighings: patch } as Job)))));
    expect(bad({ pulls: { readings: [{ id: 'a', angleDeg: 400, forceN: 1 }] } })[0]).toContain(
      'weighings.pulls.readings[0].angleDeg',
    );
    expect(bad({ pulls: { readings: [{ id: 'a', angleDeg: 1, forceN: 'heavy' }] } })[0]).toContain('needs a force');
    expect(bad({ pulls: { sigmaN: 0 } })[0]).toContain('sigmaN');
    expect(bad({ scale: 'stone' })[0]).toContain('"kg", "N" or "lb"');
    expect(bad({ lifted: { readings: [{ id: 'a', between: ['c1'] }] } })[0]).toContain('between');
  });

  it('name what they refer to that is not there', () => {
    const lost: Job = {
      ...full,
      weighings: {
        pulls: {
          of: 'gone',
          off: ['panel', 'away'],
          readings: [
            { id: 'x', angleDeg: 1, forceN: 2 },
            { id: 'x', angleDeg: 3, forceN: 2 },
          ],
        },
        lifted: {
          readings: [
            { id: 'y', between: ['c1', 'c1'] },
            { id: 'z', between: ['c1', 'nowhere'] },
          ],
        },
      },
    };
    expect(jobIssues(resolveJob(lost)).map((i) => i.where.join('.'))).toEqual([
      'weighings.pulls.readings.1.id',
      'weighings.pulls.of',
      'weighings.pulls.off.1',
      'weighings.lifted.readings.0.between.1',
      'weighings.lifted.readings.1.between.1',
    ]);
  });

  it('edits: ids of their own, removal, and a mass that goes takes its mention along', () => {
    expect(full.weighings!.pulls!.readings!.map((r) => r.id)).toEqual(['pull1', 'pull2']);
    const fewer = addPulls(removePull(full, { id: 'pull1' }), { pulls: [{ angleDeg: 9, forceN: 9 }] });
    expect(fewer.weighings!.pulls!.readings!.map((r) => r.id)).toEqual(['pull2', 'pull1']);
    expect(said(refusal(() => removePull(full, { id: 'no' })))[0]).toContain('there is no reading "no"');
    expect(removeLifted(full, { id: 'weighing1' }).weighings!.lifted!.readings).toEqual([]);
    expect(usesOfPoint(full, 'grip')).toContain('weighing 1 of the lifted lid');
    const gone = removeMass(removeMass(full, { id: 'panel' }), { id: 'canister' });
    expect(gone.weighings!.pulls!.of).toBeUndefined();
    expect(gone.weighings!.pulls!.off).toEqual([]);
    expect(jobIssues(resolveJob(gone))).toEqual([]);
    const typed = setValue(full, { path: ['weighings', 'pulls', 'kg'], value: 30 });
    const chosen = chooseWeighed(typed, { way: 'pulls', of: 'canister' }).weighings!.pulls!;
    expect({ ...chosen, readings: [] }).toEqual({ readings: [], of: 'canister', off: [] });
    // what was weighed counts as on the lid at every reading
    for (const r of chosen.readings!) expect(r.on).toContain('canister');
    expect(addPulls(full, { pulls: [] })).toBe(full);
  });
});

describe('what a scale reads', () => {
  it.each([
    ['12.5', 'kg', 122.583125],
    ['12,5', 'kg', 122.583125],
    ['12.5 kg', 'N', 122.583125],
    ['120 N', 'kg', 120],
    ['10', 'lb', 44.482216152605],
    ['10 lb', 'kg', 44.482216152605],
    ['12.5 - 0.3', 'kg', 119.64113],
    ['3 kgf', 'lb', 29.41995],
  ] as const)('%s on a scale in %s is %d N', (text, unit, n) =>
    expectClose(readScale(text, unit), n, within(1e-9, 'N')),
  );
  it('refuses what is neither a force nor a mass', () => {
    expect(refusal(() => readScale('12 mm', 'kg')).advice).toContain('12.4');
    expect(refusal(() => readScale('', 'kg')).what).not.toBe('');
    expect(refusal(() => readScale('heavy', 'kg')).what).toContain('heavy');
  });
  it('shows a force as the scale does', () => {
    expect(shownOnScale(122.583125, 'kg')).toBe('12.5');
    expect(shownOnScale(980.665, 'kg')).toBe('100');
    expect(shownOnScale(-0.000001, 'kg')).toBe('0');
  });
});

describe('what was on the lid at each reading', () => {
  const truth = itemsOf(boat, { panel: { kg: 38, at: [-455, 6, 390] } });
  const measured = chooseWeighed(withPulls(boat, truth), { way: 'pulls', of: 'panel' });
  const found = (job: Job) => pullsFound(resolveJob(job));

  it('adding a mass later changes nothing that was measured', () => {
    const before = found(measured).proposal!;
    const after = found(addMass(measured, { name: 'Table', kg: 9, at: [-700, 0, 450] }));
    expect(after.proposal).toEqual(before);
    expect(after.trouble).toEqual([]);
  });

  it('a file that does not say it gets it written down when it is read, and the same answer', () => {
    const silent = setValue(measured, {
      path: ['weighings', 'pulls', 'readings'],
      value: measured.weighings!.pulls!.readings!.map(({ on: _on, ...r }) => r),
    });
    const read = readJob(writeJob(silent));
    expect(read.weighings!.pulls!.readings![0]!.on).toEqual(['panel', 'canister', 'cradle']);
    expect(found(read).proposal).toEqual(found(measured).proposal);
    expect(readJob(writeJob(read))).toEqual(read);
    const off = setValue(silent, { path: ['weighings', 'pulls', 'off'], value: ['canister'] });
    expect(readJob(writeJob(off)).weighings!.pulls!.readings![2]!.on).toEqual(['panel', 'cradle']);
  });

  it('readings with the canister on and off together find the panel as if all had been alike', () => {
    const bare = truth.filter((_, i) => resolveJob(boat).masses[i]!.id !== 'canister');
    const mixed = [5, 20, 35, 50, 65].reduce<Job>((job, angleDeg, i) => {
      const light = i % 2 === 1;
      const forceN = pullN(boat, light ? bare : truth, angleDeg, 'square');
      const on = light ? ['panel', 'cradle'] : ['panel', 'canister', 'cradle'];
      return addPulls(job, { pulls: [{ angleDeg, forceN, on }] });
    }, boat);
    const job = chooseWeighed(mixed, { way: 'pulls', of: 'panel' });
    const [one, other] = [found(job), found(measured)];
    expectClose(one.proposal!.kg, other.proposal!.kg, within(1e-9, 'kg'));
    for (const r of one.readings) expectClose(r.offN!, 0, within(1e-9, 'N'));
  });

  it('says which reading was taken without what is to be found, and which weighings are not alike', () => {
    const without = setOnWhenWeighed(measured, { way: 'pulls', mass: 'panel', on: false, reading: 'pull2' });
    expect(found(without).trouble[0]!.what).toContain('was not on the lid at reading 2');
    const lifted = ['a', 'b'].reduce<Job>(
      (job, _, i) =>
        addLifted(job, { weighing: { between: ['c1', 'c2'], firstN: 200, secondN: 250, on: i ? ['panel'] : ['panel', 'cradle'] } }), // prettier-ignore
      boat,
    );
    expect(liftedFound(resolveJob(lifted)).trouble[0]!.what).toContain('other things on the lid');
  });

  it('takes the hinge’s friction out of pulls that were read on one way only', () => {
    const frictionNm = resolveJob(boat).hinge.frictionNm;
    expect(frictionNm).toBeGreaterThan(0);
    const { origin, opening } = openingAxis(resolveJob(boat));
    const grip = sub(point(boat, 'grip'), origin);
    const arm = norm(sub(grip, scale(opening, dot(grip, opening))));
    for (const [way, sign] of [
      ['lifting', 1],
      ['lowering', -1],
    ] as const) {
      const rubbed = [5, 20, 35, 50, 65].map((angleDeg) => ({
        ...{ angleDeg, while: way },
        forceN: pullN(boat, truth, angleDeg, 'square') + (sign * frictionNm * 1000) / arm,
      }));
      const job = chooseWeighed(addPulls(boat, { pulls: rubbed }), { way: 'pulls', of: 'panel' });
      expectClose(found(job).proposal!.kg, found(measured).proposal!.kg, within(1e-9, 'kg'));
    }
  });
});
