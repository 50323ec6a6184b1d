// A ±20° joint must stay between 70° and 110° to the strut: common practice, no source.
import { describe, expect, it } from 'vitest';
import { angleOverTravel, settingsOf, swingOf } from '../../../core/findings';
import { type Job, resolveJob, setValues } from '../../../core/job';
import { USUAL_BODIES } from '../../../core/strut';
import { fittingOf, overRange, sizedFitting, threadRootMm } from '../../../core/joint';
import { workings } from '../../../core/workings';
import { type V3, lid, planOf } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { dir, inner, outer, plus, times } from '../../support/naive';

/** A lid whose lid-end stem stands on a mount so that it makes 58° with the strut closed and 70° open. */
function strained(): Job {
  const parts = {
    a: [0, 410, 300] as V3,
    b: [6, -390, 302] as V3,
    grip: [-880, 30, 310] as V3,
    masses: [{ kg: 22, at: [-430, 12, 320] as V3 }],
    openDeg: 70,
    struts: [
      {
        base: [-90, 395, 20] as V3,
        lid: [-310, 352, 290] as V3,
        spec: { forceN: 700, extendedMm: 600, strokeMm: 280 },
        rangeDeg: 20,
      },
    ],
  };
  const job = lid(parts);
  const plan = planOf(job);
  const far = angleOverTravel(plan, plan.struts[0]!, 'lid');
  // the strut's directions closed and open in the lid's own axes, then n·u₁ = cos 58°, n·u₂ = cos 70°
  const s = swingOf(plan, plan.struts[0]!, 'lid');
  const [u1, u2] = [dir(s.at(0) as V3), dir(s.at(far.openingDeg.at(-1)!) as V3)];
  const [c, p, q] = [inner(u1, u2), Math.cos((58 * Math.PI) / 180), Math.cos((70 * Math.PI) / 180)];
  const [a, b] = [(p - c * q) / (1 - c * c), (q - c * p) / (1 - c * c)];
  const flat = plus(times(u1, a), times(u2, b));
  const up = dir(outer(u1, u2));
  const n = plus(flat, times(up, Math.sqrt(1 - inner(flat, flat))));
  // on a mount whose surface the stem lies in: azimuth and tilt start at 0
  const normal = dir(outer(n, [0.2, 0.1, 1]));
  const strut = job.struts[0]!;
  const { stem: _stem, ...rest } = strut.ends.lid;
  const lidEnd = { ...rest, mount: { normal, reference: n }, azimuthDeg: 0, tiltDeg: 0 };
  return { ...job, struts: [{ ...strut, ends: { ...strut.ends, lid: lidEnd } }] };
}
describe('58° closed, 70° open', () => {
  const job = strained();
  const findingOf = (j: Job) => workings(resolveJob(j)).findings.find((f) => f.id === 'lid-joint')!;
  it('is out of range closed and on the limit open, and says so', () => {
    const plan = planOf(job);
    const { jointDeg } = angleOverTravel(plan, plan.struts[0]!, 'lid');
    expectClose([jointDeg[0]!, jointDeg.at(-1)!], [58, 70], within(1e-6, '°'));
    const f = findingOf(job);
    expect(f.state).toBe('fails');
    expect(f.text).toMatch(/leaves its range from 0° to \d+(\.\d)?°: 58\.0°, needs 70° or more/);
    expect(f.text).toMatch(/Open it is on the limit: 70\.0°/);
    expectClose([f.value, f.limit, f.margin], [32, 20, -12], within(1e-6, '°'));
  });
  it('names what would break: force, arm, stress at the thread’s root', () => {
    const f = findingOf(job);
    expect(f.advice).toMatch(/N\/mm² at the root of the M8 \(size assumed from the rod\) (rod|tube)-end thread/);
    expect(f.advice).toMatch(/the thread bends, and snaps/);
  });
  it('the turn and wedge it proposes mend both ends', () => {
    const f = findingOf(job);
    const mended = setValues(job, { settings: settingsOf(f.proposal!) });
    const after = findingOf(mended);
    expect(['holds', 'watch']).toContain(after.state);
    const plan = planOf(mended);
    const { jointDeg } = angleOverTravel(plan, plan.struts[0]!, 'lid');
    for (const deg of [jointDeg[0]!, jointDeg.at(-1)!]) {
      expect(deg).toBeGreaterThan(70);
      expect(deg).toBeLessThan(110);
    }
  });
  it('where the azimuth alone can’t, a wedge is proposed with its thick end', () => {
    const tight = {
      ...job,
      struts: [
        { ...job.struts[0]!, ends: { ...job.struts[0]!.ends, lid: { ...job.struts[0]!.ends.lid, rangeDeg: 0 } } },
      ],
    };
    let range = 0;
    // the least range that a free stem reaches and the present tilt does not
    for (range = 0; range < 20; range += 0.25) {
      const j = setValues(tight, { settings: [{ path: ['struts', 0, 'ends', 'lid', 'rangeDeg'], value: range }] });
      const f = findingOf(j);
      if (!f.proposal?.more) continue;
      expect(f.advice).toMatch(/put a wedge of \d+\.\d° under it, thick end toward|lean the stem/);
      const after = findingOf(setValues(j, { settings: settingsOf(f.proposal) }));
      expect(after.value!).toBeLessThan(range + 0.06);
      return;
    }
    throw new Error('the azimuth always did');
  });
});

describe('what a joint past its range does', () => {
  const fitting = fittingOf('angled-ball-13-m8')!;
  it('carries F·e on the thread’s root, by hand', () => {
    const h = overRange({ fitting, excessDeg: 12, forceN: 780, rodMm: 8, lengthMm: 420 });
    // e = 19.3/2, W(M8) = 26.545 mm³, root area 32.841 mm²: the thread table of ISO 724 sizes
    expectClose(h.momentNmm, 780 * 9.65, within(1e-9, 'N·mm'));
    expectClose(h.threadMPa, (780 * 9.65) / 26.545 + 780 / 32.841, within(0.05, 'N/mm²'));
    expectClose(h.studMPa, (780 * 13 + 780 * 9.65) / 26.545, within(0.1, 'N/mm²'));
    // 3EIδ/ℓ with I = π·8⁴/64
    expectClose(h.forcedNmm, (3 * 210_000 * 201.0619298 * ((12 * Math.PI) / 180)) / 420, within(0.1, 'N·mm'));
    expect(h.yields).toBe(true);
    expect(overRange({ fitting, excessDeg: 0.2, forceN: 780, rodMm: 8, lengthMm: 700 }).yields).toBe(false);
  });
  it('grows with force and excess, and an assumed size is said to be one', () => {
    const at = (excessDeg: number, forceN: number) =>
      overRange({ fitting, excessDeg, forceN, rodMm: 8, lengthMm: 500 });
    expect(at(6, 500).forcedThreadMPa).toBeGreaterThan(at(5, 500).forcedThreadMPa);
    expect(at(6, 500).threadMPa).toBeGreaterThan(at(6, 400).threadMPa);
    // one word on what is usual: what is ordered with a rod is what its end is reckoned with
    for (const { rodMm, endThread } of USUAL_BODIES)
      expect(sizedFitting('ball-stud', rodMm).fitting.thread?.name, `rod ${rodMm}`).toBe(endThread);
    expect(sizedFitting('ball-stud', 8)).toMatchObject({ assumed: true, fitting: { thread: { name: 'M8' } } });
    expect(sizedFitting('angled-ball-16-m10', 8)).toMatchObject({
      assumed: false,
      fitting: { thread: { name: 'M10' } },
    });
    expectClose(threadRootMm({ name: 'M8', diameterMm: 8, pitchMm: 1.25 }), 6.466, within(5e-4, 'mm'));
  });
});

describe('forks and axial joints', () => {
  const plain = lid({
    a: [0, 400, 300],
    b: [0, -400, 300],
    grip: [-880, 30, 310],
    masses: [{ kg: 22, at: [-430, 12, 320] }],
    openDeg: 70,
    struts: [
      {
        base: [-90, 395, 20],
        lid: [-310, 395, 290],
        spec: { forceN: 700, extendedMm: 600, strokeMm: 280 },
        rangeDeg: 3,
        baseStem: [0, 1, 0],
        lidStem: [0, 1, 0],
      },
    ],
  });
  const withBase = (patch: object): Job => {
    const s = plain.struts[0]!;
    return { ...plain, struts: [{ ...s, ends: { ...s.ends, base: { ...s.ends.base, ...patch } } }] };
  };
  const found = (j: Job, id: string) => workings(resolveJob(j)).findings.find((f) => f.id === id);
  it('a fork turns freely about its pin and is held only across it', () => {
    expect(found(withBase({ fitting: 'fork' }), 'base-joint')!.state).toBe('holds');
    expect(found(withBase({ fitting: 'fork' }), 'base-joint')!.text).toContain('base fork');
    expect(found(withBase({ fitting: 'fork' }), 'base-swing')).toBeUndefined();
    expect(found(withBase({ fitting: 'fork', stem: [0.2, 1, 0] }), 'base-joint')!.state).toBe('fails');
  });
  it('a fork’s own housing limits its swing where the job says so, from the direction it says', () => {
    const swing = (swingDeg: number, swingMiddle?: V3) =>
      found(withBase({ fitting: 'fork', swingDeg, ...(swingMiddle ? { swingMiddle } : {}) }), 'base-swing')!;
    expect(swing(30).state).toBe('unknown');
    // closed the strut leaves toward (−220, 270): the middle of the swing is straight up, 39.17° away
    const wide = swing(60, [0, 0, 1]);
    expectClose(wide.value, (Math.atan2(220, 270) * 180) / Math.PI, within(1e-6, '°'));
    expect(wide.state).toBe('holds');
    expect(swing(39, [0, 0, 1]).state).toBe('fails');
    expect(swing(40, [0, 0, 1]).state).toBe('watch');
    expect(swing(40, [0, 0, 1]).worstDeg).toBe(0);
  });
  it('an axial joint is held to the strut’s line', () => {
    const along = found(withBase({ fitting: 'axial-ball', rangeDeg: 30, stem: [-220, 0, 270] }), 'base-joint')!;
    const plan = planOf(plain);
    const s = swingOf(plan, plan.struts[0]!, 'base');
    const u0 = dir([-220, 0, 270]);
    const most = Math.max(
      ...Array.from(s.angleDeg, (d) => (Math.acos(Math.min(1, inner(u0, s.at(d) as V3))) * 180) / Math.PI),
    );
    expectClose(along.value, most, within(1e-5, '°'));
    const across = found(withBase({ fitting: 'axial-ball', rangeDeg: 30, stem: [0, 1, 0] }), 'base-joint')!;
    expect(across.state).toBe('fails');
    const mended = found(
      setValues(withBase({ fitting: 'axial-ball', rangeDeg: 30, stem: [0, 1, 0] }), {
        settings: settingsOf(across.proposal!),
      }),
      'base-joint',
    )!;
    expect(['holds', 'watch']).toContain(mended.state);
  });
});
