import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, resolveJob, setValue, setValues } from '../../../core/job';
import { settingsOf } from '../../../core/findings';
import { ballAt, bracketSpecOf } from '../../../core/bracket';
import { bracketLoads } from '../../../core/strength';
import { workings } from '../../../core/workings';
import { expectClose, within, withinEither } from '../../support/close';
import { ANGLE, PARTS, assessed, jobWith, outcomeOf, result } from './scene';
import { runs } from '../../support/tier';

const found = (job: Job, id: string) => outcomeOf(job).findings.filter((f) => f.id === id);
const close = withinEither(1e-6, 1e-9, 'N');

describe('loads', () => {
  it('are the strut’s force along its line, in the bracket’s frame, on the base against the strut', () => {
    const a = assessed(jobWith());
    const first = a.loads!.samples.find((s) => s.angleDeg === 0)!;
    // strut from (−80, 380, 20) to (−330, 385, 290); frame: x along the stem (0, −1, 0), z up, y = z × x = (1, 0, 0)
    const [dx, dy, dz] = [-250, 5, 270];
    const l = Math.hypot(dx, dy, dz);
    expectClose(first.forceN, [(400 * dy) / l, (-400 * dx) / l, (-400 * dz) / l], withinEither(1e-6, 1e-6, 'N'));
    expect(a.loads!.samples.some((s) => s.sense === 'extending')).toBe(true);
    expect(a.loads!.samples.some((s) => s.sense === 'compressing')).toBe(true);
    expect(a.loads!.gaps).toEqual([]);
  });
  it('on the lid they turn with it: at every angle the force lies along the strut as the lid sees it', () => {
    const job = jobWith({ end: 'lid' });
    const strut = job.struts[0]!;
    const lidEnd = { ...strut.ends.base, mount: { normal: [0, 0, -1], reference: [0, -1, 0] } };
    const moved = { ...job, struts: [{ ...strut, ends: { ...strut.ends, lid: lidEnd } }] } as unknown as Job;
    const a = assessed(moved);
    const at60 = a.loads!.samples.find((s) => s.angleDeg === 60)!;
    // opens about −Y… the lid point goes up: turned by 60° about the hinge line y
    const c = Math.cos(Math.PI / 3);
    const s = Math.sin(Math.PI / 3);
    // hinge at x 0, z 300; lid lies towards −x and rises: (x, z) → (x c + z s, −x s + z c) about it
    const p = [-330, -10] as const;
    const l = [p[0] * c + p[1] * s, -p[0] * s + p[1] * c + 300] as const;
    const d = [l[0] + 80, 5, l[1] - 20] as const;
    const n = Math.hypot(...d);
    const u = d.map((v) => v / n);
    // back into the closed lid's axes
    const back = [u[0]! * c - u[2]! * s, u[1]!, u[0]! * s + u[2]! * c];
    // bracket frame: x (0, −1, 0), z (0, 0, −1), y = z × x = (−1, 0, 0)
    expectClose(at60.forceN, [-400 * back[1]!, -400 * back[0]!, -400 * back[2]!], withinEither(1e-6, 1e-6, 'N'));
  });
  it('a strut that stops the lid carries what is left over there, and a hand that opens further', () => {
    const stopped = jobWith({}, {
      stop: 'strut',
      openDeg: 120,
      struts: [{ ...PARTS.struts![0]!, spec: { ...PARTS.struts![0]!.spec, extendedMm: 520, strokeMm: 230 } }],
    } as never);
    const a = assessed(stopped);
    const hand = a.loads!.samples.find((s) => s.sense === 'hand on stop')!;
    const o = outcomeOf({ ...stopped, brackets: [] });
    const last = o.tables[0]!.angleDeg.length - 1;
    const row = o.tables[0]!.struts[0]!;
    const arm = row.leverArmMm[last]!;
    expect(o.frame.stoppedBy).toBe('s0');
    // moments about the hinge: weight + strut·arm + hand·grip = 0
    const need = -(o.tables[0]!.weightMomentNm[last]! * 1000 + 150 * o.frame.gripRadiusMm) / arm;
    const left = o.tables[0]!.openingMomentNm[last]!;
    if (left >= 0) expectClose(hand.pushN, need, withinEither(1e-6, 1e-9, 'N'));
    else expectClose(hand.pushN, 400 - (150 * o.frame.gripRadiusMm) / arm, withinEither(1e-6, 1e-9, 'N'));
  });
  it('a shock factor multiplies every demand', () => {
    const one = assessed(jobWith());
    const two = assessed(jobWith({ shockFactor: 2 }));
    for (const id of ['stud', 'rod-thread', 'upright', 'base-leg', 'fixings', 'bearing', 'seat-bending'] as const)
      expectClose(result(two, id).demand, 2 * result(one, id).demand, withinEither(0, 1e-9, '1'));
  });
  it('do not care how the job lies: all turned about the vertical and moved, the same reserves', () => {
    const turn = (v: readonly number[]): [number, number, number] => {
      const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
      return [c * v[0]! - s * v[1]!, s * v[0]! + c * v[1]!, v[2]!];
    };
    const move = (v: readonly number[]): [number, number, number] => {
      const [x, y, z] = turn(v);
      return [x + 123, y - 45, z + 6];
    };
    const job = jobWith();
    const there = {
      ...job,
      points: job.points.map((p) => ({ ...p, at: move(p.at as unknown as number[]) })),
      struts: job.struts.map((s) => ({
        ...s,
        ends: {
          lid: { ...s.ends.lid, stem: turn(s.ends.lid.stem as unknown as number[]) },
          base: { ...s.ends.base, mount: { normal: [0, 0, 1], reference: turn([0, -1, 0]) } },
        },
      })),
    } as Job;
    const [a, b] = [assessed(job), assessed(there)];
    expect(b.results.map((r) => r.id).sort()).toEqual(a.results.map((r) => r.id).sort());
    for (const r of a.results) expectClose(result(b, r.id).demand, r.demand, withinEither(1e-6, 1e-6, r.unit));
  });
});

describe('checks by hand', () => {
  // With the force F = (Fx, Fy, Fz) of one angle at the ball (16, 0, 40): everything below worked out apart from the code.
  const a = assessed(jobWith());
  it('stud: bending at the root of M10, arm 16', () => {
    const r = result(a, 'stud');
    const [x, y, z] = r.governing.forceN;
    const across = Math.hypot(y, z);
    const d = 8.16;
    const sigma = (32 * across * 16) / (Math.PI * d ** 3) + (4 * Math.abs(x)) / (Math.PI * d * d);
    const tau = (4 * across) / (Math.PI * d * d);
    expectClose(r.demand, Math.sqrt(sigma ** 2 + 3 * tau ** 2), withinEither(0, 1e-3, 'MPa'));
    expect(r.capacity).toBe(640);
  });
  it('upright at the bend: 11 mm over the mount, 5 × 70', () => {
    const r = result(a, 'upright');
    const [x, y, z] = r.governing.forceN;
    // arm from the section's middle (−2.5, 0, 11) to the ball: (18.5, 0, 29)
    const weak = 29 * x - 18.5 * z;
    const strong = -29 * y;
    const torsion = 18.5 * y;
    const sigma = Math.abs(z) / 350 + (6 * Math.abs(weak)) / (70 * 25) + (6 * Math.abs(strong)) / (5 * 4900);
    const tau = Math.hypot(x, y) / 350 + (Math.abs(torsion) * (3 + (1.8 * 5) / 70)) / (70 * 25);
    expectClose(r.demand, Math.sqrt(sigma ** 2 + 3 * tau ** 2), withinEither(0, 1e-9, 'MPa'));
    expectClose(r.safetyFactor, 235 / r.demand, withinEither(0, 1e-12, '1'));
  });
  it('fixings: shear of each from force and moment about their middle', () => {
    const r = result(a, 'bearing');
    const [x, y] = r.governing.forceN;
    // holes at (−38, ±20); M about their middle = (16 + 38)·Fy; Σr² = 800
    const m = 54 * y;
    const shear = [20, -20].map((at) => [x / 2 - (m * at) / 800, y / 2] as const);
    const most = Math.max(...shear.map(([vx]) => Math.abs(vx)), Math.abs(y / 2));
    expectClose(r.demand, most, withinEither(1e-6, 1e-9, 'N'));
  });
  it('every result says formula, both sources, its case and its angle', () => {
    expect(a.results.length).toBeGreaterThan(10);
    for (const r of a.results) {
      expect(r.formula.length).toBeGreaterThan(5);
      expect(r.source.length).toBeGreaterThan(5);
      expect(r.capacitySource.length).toBeGreaterThan(5);
      expect(r.governing.caseId).toBe('case0');
      expect(Number.isFinite(r.governing.angleDeg)).toBe(true);
      expect(Number.isNaN(r.safetyFactor)).toBe(false);
    }
    expect(a.results.map((r) => r.safetyFactor)).toEqual(
      [...a.results.map((r) => r.safetyFactor)].sort((p, q) => p - q),
    );
    expect(a.cautions.join(' ')).toMatch(/no approval.*local rules/s);
  });
  it('the governing angle is the worst of all: no other force asks for more', () => {
    const { governing, samples } = a.loads!;
    expect(governing.length).toBeLessThanOrEqual(samples.length);
    const most = Math.max(...samples.map((s) => Math.hypot(s.forceN[1], s.forceN[2])));
    const [, y, z] = result(a, 'stud').governing.forceN;
    expect(Math.hypot(y, z)).toBeGreaterThan(0.97 * most);
  });
});

describe('a single fixing', () => {
  // 60 mm base leg, 5 mm sheet, ball 16 off the face: inside it hangs 21 mm behind the outer face, over a fixing 39 mm from the free end
  const single = {
    baseHole: { diameterMm: 9, spacingMm: 40, fromEndMm: 39, across: 1 },
    insideRadiusMm: 5,
    attach: { ...ANGLE.attach!, preloadN: 9000 },
  } as const;
  it('with the ball outside it spins; with the ball moved to the inside face it does not', () => {
    const outside = jobWith(single);
    const [f] = found(outside, 'bracket-strength-spin');
    expect(f).toMatchObject({ state: 'fails', subject: 'b1', unit: '×' });
    expect(f!.text).toMatch(/spin about its single fixing has a reserve of 0\.\d\d \(\d+ of \d+ N·mm\)/);
    expect(f!.advice).toMatch(/^Move the ball to the inside face: that brings it to /);
    expect(found(jobWith({ ...single, ballSide: 'inside' }), 'bracket-strength-spin')).toEqual([]);
    // and by its own proposal
    const mended = setValues(outside, { settings: settingsOf(f!.proposal!) });
    expect(mended.brackets![0]!.ballSide).toBe('inside');
    expect(found(mended, 'bracket-strength-spin')).toEqual([]);
  });
  it('the torque is the sideways force times its distance from the fixing', () => {
    const r = result(assessed(jobWith(single)), 'spin');
    const [, y] = r.governing.forceN;
    // the fixing at x = 39 − 60 = −21, the ball at 16
    expectClose(r.demand, Math.abs(37 * y), withinEither(1e-6, 1e-9, 'N·mm'));
    const ball = ballAt(bracketSpecOf(resolveJob(jobWith({ ...single, ballSide: 'inside' })).brackets[0]!));
    expectClose(ball[0], -21, within(1e-9, 'mm'));
  });
});

describe('what is not known is said', () => {
  it('a strut outside its stroke: no number, but where and what to do', () => {
    const short = jobWith(
      {},
      { struts: [{ ...PARTS.struts![0]!, spec: { ...PARTS.struts![0]!.spec, extendedMm: 480 } }] },
    );
    const a = assessed(short);
    expect(a.results).toEqual([]);
    expect(a.unknown!.why).toMatch(/outside its stroke from \d+° to 70°/);
    const [f] = found(short, 'bracket-strength');
    expect(f).toMatchObject({ state: 'unknown', value: null });
    expect(f!.advice).toBe('Mend the strut’s lengths first.');
  });
  it('an end without a mount', () => {
    const job = setValue(jobWith(), {
      path: ['struts', 0, 'ends', 'base'],
      value: { fitting: 'ball-stud', rangeDeg: 18, stem: [0, -1, 0] },
    });
    expect(assessed(job).unknown!.why).toMatch(/stands on no mount/);
  });
  it('a material and a property class in no table ask for what is lacking', () => {
    const a = assessed(
      jobWith({
        material: { name: 'mild steel', densityKgM3: 7850 },
        attach: { ...ANGLE.attach!, propertyClass: 'good ones' },
        seat: { thicknessMm: 3, material: { name: 'plywood' } },
      }),
    );
    expect(a.unchecked.map((u) => u.id)).toEqual(['upright', 'fixings', 'seat-bending']);
    expect(a.unchecked[0]!.advice).toMatch(/yield strength and its tensile strength/);
    const typed = assessed(
      jobWith({ material: { name: 'mild steel', densityKgM3: 7850, yieldMPa: 200, ultimateMPa: 340 } }),
    );
    expect(typed.unchecked).toEqual([]);
    expect(result(typed, 'upright').capacity).toBe(200);
  });
  it('nothing said of the mount, an insert without its maker’s force', () => {
    const bare = { ...ANGLE };
    delete (bare as { seat?: unknown }).seat;
    const job = { ...jobWith(), brackets: [{ ...bare, attach: { ...ANGLE.attach!, into: 'insert' } }] } as Job;
    expect(assessed(job).unchecked.map((u) => u.id)).toEqual(['insert', 'seat-bending']);
    const known = setValue(job, { path: ['brackets', 0, 'attach', 'insertPullN'], value: 5000 });
    expect(result(assessed(known), 'insert').capacity).toBe(5000);
  });
  it('what is taken is said: class, preload, friction, shock', () => {
    const plain = { ...ANGLE };
    for (const key of ['shockFactor', 'stud', 'attach'] as const) delete (plain as Record<string, unknown>)[key];
    const { assumptions } = assessed({ ...jobWith(), brackets: [plain] } as Job);
    for (const word of ['1.5 for shocks', 'class 5.6', 'class 8.8', '60 %', '0.15'])
      expect(assumptions.join(' ')).toContain(word);
    expect(assessed(jobWith()).assumptions).toEqual([]);
  });
});

describe('all kinds', () => {
  const kinds = {
    'flat-tab': {
      kind: 'flat-tab',
      baseLegMm: 110,
      topWidthMm: 60,
      thicknessMm: 8,
      studHole: { diameterMm: 10.5, fromEndMm: 20 },
    },
    'gusset-angle': {
      kind: 'gusset-angle',
      uprightLegMm: 75,
      studHole: { diameterMm: 10.5, heightMm: 60 },
      gusset: { thicknessMm: 4, alongMm: 25, upMm: 30, count: 1 },
    },
    channel: { kind: 'channel', gapMm: 40, topWidthMm: 70, baseHole: { diameterMm: 9, spacingMm: 40, fromEndMm: 25 } },
    'wedge-plate': {
      kind: 'wedge-plate',
      thicknessMm: 10,
      baseLegMm: 90,
      topWidthMm: 70,
      wedge: { tiltDeg: 8 },
      studHole: { diameterMm: 10.5, fromEndMm: 30 },
    },
    welded: { attach: { by: 'weld', weldThroatMm: 3 } },
    tapped: { attach: { ...ANGLE.attach!, into: 'tapped', engagementMm: 8 } },
    spread: {
      seat: { thicknessMm: 3, material: { name: 'S235' }, spreader: { thicknessMm: 5, widthMm: 200, lengthMm: 200 } },
    },
  } as const;
  const expected: Record<keyof typeof kinds, readonly string[]> = {
    'flat-tab': ['stud', 'plate-at-fixings', 'fixings', 'bearing', 'stud-bearing'],
    'gusset-angle': ['upright', 'upright-above-gusset', 'base-leg', 'gusset-weld', 'fixings'],
    channel: ['pin', 'upright', 'base-leg', 'fixings', 'seat-bearing'],
    'wedge-plate': ['stud', 'stud-thread', 'fixings', 'plate-at-fixings'],
    welded: ['weld', 'weld-simple', 'upright', 'seat-bending'],
    tapped: ['thread-strip', 'fixings', 'slip'],
    spread: ['seat-bending', 'seat-collapse', 'seat-pull-through'],
  };
  it.each(Object.keys(kinds) as (keyof typeof kinds)[])('%s has its checks, with numbers', (kind) => {
    const a = assessed(jobWith(kinds[kind] as never));
    expect(a.unknown).toBeNull();
    for (const id of expected[kind]) {
      const r = result(a, id as never);
      expect(r.safetyFactor).toBeGreaterThan(0);
      expect(Number.isNaN(r.demand)).toBe(false);
    }
    if (kind === 'welded') expect(a.results.some((r) => r.id === 'fixings' || r.id === 'slip')).toBe(false);
  });
  it('a gusset helps at the bend, a spreader helps the sheet, a thicker sheet helps everything of it', () => {
    const taller = { uprightLegMm: 75, studHole: { diameterMm: 10.5, heightMm: 60 } };
    const plain = assessed(jobWith(taller));
    const gusset = assessed(jobWith(kinds['gusset-angle'] as never));
    expect(result(gusset, 'upright').demand).toBeLessThan(result(plain, 'upright').demand);
    const thin = assessed(jobWith({ seat: { thicknessMm: 3, material: { name: 'S235' } } }));
    const spread = assessed(jobWith(kinds.spread as never));
    expect(result(spread, 'seat-bending').safetyFactor).toBeGreaterThan(result(thin, 'seat-bending').safetyFactor);
    const thick = assessed(jobWith({ thicknessMm: 6 }));
    for (const id of ['upright', 'base-leg', 'base-leg-at-fixings', 'bearing', 'tear-out'] as const)
      expect(result(thick, id).safetyFactor).toBeGreaterThan(result(assessed(jobWith()), id).safetyFactor);
  });
});

describe('findings', () => {
  it('a strong bracket holds, with the least reserve and the cautions', () => {
    const strong = jobWith({
      thicknessMm: 8,
      insideRadiusMm: 10,
      baseLegMm: 70,
      stud: { thread: 'M10', propertyClass: '10.9' },
    });
    const all = outcomeOf(strong).findings.filter((f) => f.id.startsWith('bracket-strength'));
    expect(all.map((f) => [f.id, f.state])).toEqual([['bracket-strength', 'holds']]);
    expect(all[0]!.value!).toBeGreaterThanOrEqual(1.5);
    expect(all[0]!.advice).toMatch(/no approval/);
  });
  it('what a finding proposes mends it: applied, its reserve is as promised and nothing else breaks', () => {
    let tried = 0;
    for (const over of [
      { thicknessMm: 2, insideRadiusMm: 3 },
      { stud: { thread: 'M8', propertyClass: '4.6' }, studHole: { diameterMm: 8.4, heightMm: 40 }, shockFactor: 2.5 },
      { attach: { ...ANGLE.attach!, preloadN: 1500 } },
      { seat: { thicknessMm: 2, material: { name: 'S235' } } },
      { attach: { by: 'weld', weldThroatMm: 0.1, weldEdges: 'ends' } },
    ] as const) {
      const job = jobWith(over as never);
      const before = outcomeOf(job);
      for (const f of before.findings.filter((x) => x.id.startsWith('bracket-strength-') && x.proposal)) {
        const after = workings(resolveJob(setValues(job, { settings: settingsOf(f.proposal!) })));
        const still = after.findings.find((x) => x.id === f.id);
        expect(still?.state ?? 'holds', `${f.text} ${f.advice}`).not.toBe('fails');
        expect(still?.value ?? Infinity).toBeGreaterThan(f.value!);
        const broke = after.findings.filter(
          (x) =>
            x.id.startsWith('bracket') &&
            x.state === 'fails' &&
            !before.findings.some((y) => y.id === x.id && y.state === 'fails'),
        );
        expect(broke.map((x) => x.text)).toEqual([]);
        tried++;
      }
    }
    expect(tried).toBeGreaterThan(4);
  });
  it('loads of a job without brackets change nothing', () => {
    expect(outcomeOf({ ...jobWith(), brackets: [] }).findings.filter((f) => f.id.startsWith('bracket'))).toEqual([]);
  });
  it('quantity two is one bracket a strut: the same force each', () => {
    const pair = jobWith({}, { struts: [{ ...PARTS.struts![0]!, quantity: 2 }] });
    expectClose(assessed(pair).loads!.largest!.pushN, assessed(jobWith()).loads!.largest!.pushN, close);
    const resolved = resolveJob(jobWith());
    const { plans, tables } = workings(resolveJob({ ...jobWith(), brackets: [] }));
    const spec = bracketSpecOf(resolved.brackets[0]!);
    expect(bracketLoads(plans, tables, { ...resolved.brackets[0]!, strut: 'nobody' }, spec, 1)).toBeNull();
  });
});

describe('any bracket', () => {
  const size = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
  const any = fc.record({
    kind: fc.constantFrom('flat-tab', 'bent-angle', 'gusset-angle', 'channel', 'wedge-plate'),
    t: size(1.5, 12),
    r: size(2, 14),
    leg: size(40, 140),
    up: size(40, 140),
    width: size(30, 120),
    top: size(20, 120),
    hole: fc.constantFrom(5.5, 6.6, 9, 11),
    stud: fc.constantFrom(6.6, 8.4, 10.5),
    across: fc.integer({ min: 1, max: 3 }),
    rows: fc.integer({ min: 1, max: 2 }),
    slot: fc.constantFrom(0, 0, 8),
    by: fc.constantFrom('bolts', 'weld', 'both'),
    into: fc.constantFrom('through', 'tapped', 'insert'),
    side: fc.constantFrom('outside', 'inside'),
    shock: size(1, 4),
  });
  it('has numbers or says why not; a larger shock never helps; nothing is NaN', () => {
    let made = 0;
    fc.assert(
      fc.property(any, (v) => {
        const bracket = {
          kind: v.kind,
          thicknessMm: v.t,
          insideRadiusMm: v.r,
          baseLegMm: v.leg,
          uprightLegMm: v.up,
          baseWidthMm: v.width,
          topWidthMm: Math.min(v.top, v.width),
          baseCornerRadiusMm: 0,
          topCornerRadiusMm: 0,
          baseHole: {
            diameterMm: v.hole,
            spacingMm: v.width / 3.5,
            fromEndMm: 16,
            across: v.across,
            rows: v.rows,
            rowSpacingMm: 3 * v.hole,
            slotMm: v.slot,
            slotDeg: 90,
          },
          studHole: { diameterMm: v.stud, heightMm: v.up * 0.6, fromEndMm: 18 },
          gapMm: 50,
          gusset: { thicknessMm: v.t, alongMm: v.leg * 0.4, upMm: v.up * 0.3, count: 2 },
          wedge: { tiltDeg: 7, directionDeg: 40 },
          ballSide: v.side,
          attach: { by: v.by, into: v.into, insertPullN: 4000 },
          shockFactor: 1,
        };
        const one = assessed(jobWith(bracket as never));
        if (one.unknown) {
          expect(one.results).toEqual([]);
          expect(one.unknown.advice).not.toBe('');
          return;
        }
        made++;
        const more = assessed(jobWith({ ...bracket, shockFactor: v.shock } as never));
        for (const r of one.results) {
          expect(Number.isNaN(r.demand) || Number.isNaN(r.capacity) || Number.isNaN(r.safetyFactor), r.id).toBe(false);
          expect(r.demand).toBeGreaterThanOrEqual(0);
          expect(result(more, r.id).safetyFactor, r.id).toBeLessThanOrEqual(r.safetyFactor * (1 + 1e-9));
        }
      }),
      { numRuns: runs(1500) },
    );
    expect(made).toBeGreaterThan(3);
  });
});
