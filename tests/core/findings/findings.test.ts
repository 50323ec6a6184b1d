// Each check in each of its states; values, limits, margins and worst angles against sums made here, texts in words.
import { describe, expect, it } from 'vitest';
import { type Job, resolveJob, setValue, setValues } from '../../../core/job';
import { type Finding, CHECKS, settingsOf, worstFirst } from '../../../core/findings';
import { toRad } from '../../../core/space';
import { expectClose, within } from '../../support/close';
import { exampleFiles, goldenFiles, jobAt } from '../../support/files';
import { type Naive, heightEnergyJ, inner, meanMomentNmm, naive, size, minus, spin } from '../../support/naive';
import { finding, job, outcome } from './support';

const N = within(1e-4, 'N');
const MM = within(1e-6, 'mm');
const NM = within(1e-6, 'N·m');
const DEG = within(1e-6, '°');

/** The plain sums of a job at an angle, in one of its cases. */
function sums(j: Job, deg: number, caseIndex = 0): Naive {
  const o = outcome(j);
  return naive(resolveJob(j), caseIndex, o.frame.axis.opening, toRad(deg));
}
/** Lengths at whole degrees (the end included), for ends and extremes. */
const lengths = (j: Job, openDeg: number, step = 1): [number, number][] =>
  Array.from({ length: Math.round(openDeg / step) + 1 }, (_, i) => [i * step, sums(j, i * step).struts[0]!.lengthMm]);
/** Value, limit and margin hang together. */
function expectMargin(f: Finding): void {
  if (f.value !== null && f.limit !== null && f.margin !== null)
    expectClose(Math.abs(f.margin), Math.abs(f.limit - f.value), within(1e-9, f.unit));
}

describe('closed-reserve and open-reserve', () => {
  const good = job();
  const closedMm = sums(good, 0).struts[0]!.lengthMm;
  const openMm = sums(good, 70).struts[0]!.lengthMm;
  it('hold: stroke left at both ends, worst at shut and at open', () => {
    const o = outcome(good);
    const [closed, open] = [finding(o, 'closed-reserve'), finding(o, 'open-reserve')];
    expectClose([closed.value, open.value], [closedMm - 310, 580 - openMm], MM);
    expectClose([closed.worstDeg, open.worstDeg], [0, 70], DEG);
    expect([closed.state, open.state, closed.limit, open.limit]).toEqual(['holds', 'holds', 5, 5]);
    expect(closed.text).toBe(
      `The strut has ${(closedMm - 310).toFixed(1)} mm of stroke left when closed (wants 5.0 mm).`,
    );
    expect(open.text).toContain(`${(580 - openMm).toFixed(1)} mm left before full extension`);
    [closed, open].forEach(expectMargin);
  });
  it('fail by a hair under the reserve, hold by a hair over it', () => {
    const at = (reserve: number): Finding =>
      finding(outcome(job({}, { extendedMm: openMm + reserve })), 'open-reserve');
    expect(at(4.99).state).toBe('fails');
    expect(at(5.01).state).toBe('holds');
    const closed = (reserve: number): Finding =>
      finding(outcome(job({}, { extendedMm: 580, strokeMm: 580 - closedMm + reserve })), 'closed-reserve');
    expect(closed(4.99).state).toBe('fails');
    expect(closed(5.01).state).toBe('holds');
    expectMargin(at(4.99));
  });
  it('fail: too short a strut says how much further apart the pivots get', () => {
    const f = finding(outcome(job({}, { extendedMm: openMm - 12.34 })), 'open-reserve');
    expect(f.state).toBe('fails');
    expectClose(f.value, -12.34, MM);
    expect(f.text).toContain('12.3 mm further apart than it extends');
  });
  it('the shortest length may lie between: a dead centre inside the travel', () => {
    // base pivot near the circle of the lid pivot: the strut shortens first
    const dip = job(
      { openDeg: 80 },
      { extendedMm: 700, strokeMm: 400 },
      { base: [-250, 395, 560], lid: [-420, 400, 310] },
    );
    const [deg, mm] = lengths(dip, 80, 0.05).reduce((a, b) => (b[1] < a[1] ? b : a));
    expect(deg).toBeGreaterThan(5);
    expect(deg).toBeLessThan(75);
    const f = finding(outcome(dip), 'closed-reserve');
    expectClose(f.worstDeg, deg, within(0.05, '°'));
    expectClose(f.value, mm - 300, within(1e-3, 'mm'));
    expect(f.text).toMatch(/ at \d+(\.\d)?°/);
  });
  it('a strut that is the stop needs no reserve when open', () => {
    const o = outcome(job({ stop: 'strut', openDeg: 100 }, { extendedMm: openMm }));
    const f = finding(o, 'open-reserve');
    expectClose(o.frame.openDeg, 70, DEG);
    expect([f.state, f.limit]).toEqual(['holds', 0]);
    expect(f.text).toMatch(/stops the lid at 70°/);
  });
});

describe('strut-fits', () => {
  it('holds inside the stroke', () => {
    const f = finding(outcome(job()), 'strut-fits');
    expect([f.state, f.value, f.worstDeg]).toEqual(['holds', 0, null]);
  });
  it('fails outside it: where, by how much, and the numbers that hang on it are null', () => {
    const short = job({}, { extendedMm: 450, strokeMm: 150 });
    const outside = lengths(short, 70).filter(([, mm]) => mm > 450);
    const o = outcome(short);
    const f = finding(o, 'strut-fits');
    expect(f.state).toBe('fails');
    expectClose(f.value, outside.at(-1)![1] - 450, MM);
    expectClose(f.worstDeg, 70, DEG);
    expect(f.text).toContain(`from ${outside[0]![0]}° to 70°`);
    expect(finding(o, 'stays-open')).toMatchObject({ state: 'unknown', value: null, margin: null });
    // up to there the hand force is known, and it already fails or stays unknown: never "holds"
    expect(['unknown', 'fails']).toContain(finding(o, 'hand-opening').state);
    expect(finding(o, 'hand-opening').text).toContain('where the strut can be');
  });
  it('a strut that can be nowhere leaves everything that needs it unknown, and all texts in words', () => {
    const o = outcome(job({}, { extendedMm: 1500, strokeMm: 100 }));
    for (const id of ['hand-opening', 'hand-closing', 'stays-open', 'rest-range'])
      expect(finding(o, id), id).toMatchObject({ state: 'unknown', value: null });
    expect(finding(o, 'drop-energy').state).toBe('watch');
    expect(finding(o, 'base-joint').value).not.toBeNull();
    for (const f of o.advised) {
      expect(f.text).not.toMatch(/NaN|null|undefined|Infinity/);
      if (f.state !== 'holds') expect(f.advice).not.toBe('');
    }
  });
});

describe('dead-centre', () => {
  it('holds: the least lever arm and where', () => {
    const f = finding(outcome(job()), 'dead-centre');
    const arms = Array.from({ length: 71 }, (_, d) => Math.abs(sums(job(), d).struts[0]!.leverMm));
    const least = Math.min(...arms);
    expect(f.state).toBe('holds');
    expectClose(f.value, least, MM);
    expectClose(f.worstDeg, arms.indexOf(least), DEG);
  });
  it('fails: crosses where the arm changes sign', () => {
    const dip = job(
      { openDeg: 80 },
      { extendedMm: 700, strokeMm: 400 },
      { base: [-250, 395, 560], lid: [-420, 400, 310] },
    );
    const f = finding(outcome(dip), 'dead-centre');
    expect(f.state).toBe('fails');
    const arm = (deg: number): number => sums(dip, deg).struts[0]!.leverMm;
    expect(arm(f.worstDeg! - 0.01) * arm(f.worstDeg! + 0.01)).toBeLessThan(0);
    expect(f.text).toMatch(/dead centre at \d/);
  });
  it('watch: an arm that shrinks under a tenth of its largest', () => {
    // pivots nearly in line with the hinge when shut
    const thin = job({}, { extendedMm: 700, strokeMm: 450 }, { base: [-90, 395, 296], lid: [-410, 400, 298] });
    const o = outcome(thin);
    const arms = Array.from({ length: 71 }, (_, d) => sums(thin, d).struts[0]!.leverMm);
    expect(Math.min(...arms.map(Math.abs)) / Math.max(...arms.map(Math.abs))).toBeLessThan(0.1);
    const crosses = arms.some((v) => v * arms[0]! < 0);
    expect(crosses).toBe(false);
    const f = finding(o, 'dead-centre');
    expect(f.state).toBe('watch');
    expect(f.text).toContain('which is little beside');
  });
  it('fails: a strut through the axis turns nothing', () => {
    const j = job({}, { extendedMm: 700, strokeMm: 400 }, { base: [-90, 395, 20], lid: [1.5, 210, 300.5] });
    const f = finding(outcome(j), 'dead-centre');
    expect(f).toMatchObject({ state: 'fails', value: 0 });
    expect(f.text).toMatch(/straight through the hinge axis|dead centre/);
  });
});

describe('hand-opening and hand-closing', () => {
  /** Largest lift and pull over whole degrees, by the plain sums. */
  function hands(j: Job): { open: [number, number]; close: [number, number] } {
    let [open, close]: [number, number][] = [
      [-Infinity, 0],
      [-Infinity, 0],
    ];
    for (let d = 0; d <= 70; d++) {
      const n = sums(j, d);
      const arm = minus(n.grip, n.a);
      const r = size(minus(arm, n.opening.map((v) => v * inner(arm, n.opening)) as never));
      if (-n.openingNmm! / r > open![0]) open = [-n.openingNmm! / r, d];
      if (n.closingNmm! / r > close![0]) close = [n.closingNmm! / r, d];
    }
    return { open: open!, close: close! };
  }
  it('values and worst angles are those of the plain sums', () => {
    const j = job();
    const want = hands(j);
    const [open, close] = [finding(outcome(j), 'hand-opening'), finding(outcome(j), 'hand-closing')];
    expectClose([open.value, open.worstDeg], want.open, N);
    expectClose([close.value, close.worstDeg], want.close, N);
    [open, close].forEach(expectMargin);
  });
  it('holds, watch and fails lie about the limit: 90 % and 100 % of it', () => {
    const { open } = hands(job({}, { forceN: 300 }));
    const at = (limit: number): Finding =>
      finding(
        outcome(job({ limits: { handOpenN: limit, handCloseN: 200, reserveMm: 5, holdOpenNm: 5 } }, { forceN: 300 })),
        'hand-opening',
      );
    expect(at(open[0] / 0.9 + 0.01).state).toBe('holds');
    expect(at(open[0] / 0.9 - 0.01).state).toBe('watch');
    expect(at(open[0] + 0.01).state).toBe('watch');
    expect(at(open[0] - 0.01).state).toBe('fails');
    expect(at(open[0] - 0.01).text).toContain(`${open[0].toFixed(0)} N to lift open at ${open[1]}°`);
  });
  it('closing fails for a strut that is too strong', () => {
    const strong = job({}, { forceN: 2200 });
    const f = finding(outcome(strong), 'hand-closing');
    expect(f.state).toBe('fails');
    expectClose(f.value, hands(strong).close[0], N);
    expect(finding(outcome(strong), 'hand-opening').text).toMatch(/opens by itself/);
  });
  it('speaks in the units shown, keeps file units in its values', () => {
    const j = job({}, { forceN: 300 });
    const [n, lbf] = [outcome(j), outcome(j, { length: 'in', force: 'lbf', temperature: 'degF' })].map((o) =>
      finding(o, 'hand-opening'),
    );
    expect(lbf!.value).toBe(n!.value);
    expect(lbf!.text).toContain('lbf');
    expect(finding(outcome(j, { length: 'in', force: 'lbf', temperature: 'degF' }), 'closed-reserve').text).toContain(
      ' in ',
    );
  });
});

describe('stays-open', () => {
  const at = (forceN: number, frictionN = 0, limit = 5): Finding =>
    finding(
      outcome(
        job({ limits: { handOpenN: 150, handCloseN: 200, reserveMm: 5, holdOpenNm: limit } }, { forceN, frictionN }),
      ),
      'stays-open',
    );
  it('value is the moment left at fully open with no friction counted, neither the hinge’s nor the strut’s', () => {
    for (const frictionN of [0, 40]) {
      const j = job({}, { forceN: 700, frictionN });
      expectClose(at(700, frictionN).value, meanMomentNmm(resolveJob(j), sums(j, 70))! / 1000, NM);
    }
    const f = at(700);
    expectClose(f.worstDeg, 70, DEG);
    expectMargin(f);
  });
  it('fails when it falls shut, and says by how much', () => {
    const f = at(200);
    expect(f.state).toBe('fails');
    expect(f.value).toBeLessThan(0);
    expect(f.text).toMatch(/falls shut from fully open, .* short/);
  });
  it('friction that is assumed does not count at all, not even for the gas behind it', () => {
    const assumed = setValue(job({}, { forceN: 700, frictionN: 40 }), {
      path: ['struts', 0, 'spec', 'assumed'],
      value: ['frictionN'],
    });
    expectClose(finding(outcome(assumed), 'stays-open').value, at(700, 0).value, NM);
    expect(at(700, 40).value! - at(700, 0).value!).toBeGreaterThan(1);
  });
  it('fails when only friction keeps it there, and says so; holds without its help', () => {
    const n = sums(job({}, { forceN: 700 }), 70);
    const plainNm = n.weightNmm / 1000 + (700 * n.struts[0]!.leverMm) / 1000;
    // limit between the moment without and the moment with the hinge's 1.5 N·m
    const state = (limit: number): string => at(700, 0, limit).state;
    expect(plainNm).toBeGreaterThan(3);
    expect(state(plainNm + 0.1)).toBe('fails');
    expect(state(plainNm - 0.1)).toBe('holds');
    expect(at(700, 0, plainNm + 1.49).text).toContain('Friction holds it there, but it is not counted');
    expect(at(700, 0, plainNm + 1.51).text).not.toContain('Friction holds it');
  });
  it('each load case has its own', () => {
    const o = outcome(job({ cases: [{}, { pitchDeg: 12, force: 'low', tempC: -10 }] }));
    expect(finding(o, 'stays-open', 'case0').value).not.toBe(finding(o, 'stays-open', 'case1').value);
    const n = naive(
      resolveJob(job({ cases: [{}, { pitchDeg: 12, force: 'low', tempC: -10 }] })),
      1,
      o.frame.axis.opening,
      toRad(70),
    );
    const mean = (n.openingNmm! + n.closingNmm!) / 2000;
    expectClose(finding(o, 'stays-open', 'case1').value, mean, NM);
  });
});

describe('base-joint and lid-joint', () => {
  const mounted = (azimuthDeg: number, rangeDeg = 18, normal = [0.1, 0.02, 1]): Job =>
    setValue(job(), {
      path: ['struts', 0, 'ends', 'base'],
      value: { fitting: 'ball-stud', rangeDeg, mount: { normal, reference: [0, 1, 0.05] }, azimuthDeg, tiltDeg: 0 },
    });
  it('worst angle and deviation are those of acos(n·u) over the travel, stem turned with the lid', () => {
    const stem = [0.3, 1, -0.2] as const;
    const j = job({}, {}, { baseStem: stem, lidStem: stem });
    const o = outcome(j);
    const unit = stem.map((v) => v / size(stem)) as unknown as typeof stem;
    for (const end of ['base', 'lid'] as const) {
      let [worst, at] = [-1, 0];
      for (let d = 0; d <= 70; d++) {
        const n = sums(j, d);
        const turned = end === 'base' ? unit : spin(unit, n.opening, toRad(d));
        const off = Math.abs(90 - (Math.acos(inner(turned, n.struts[0]!.u)) * 180) / Math.PI);
        if (off > worst + 1e-9) [worst, at] = [off, d];
      }
      const f = finding(o, `${end}-joint`);
      expectClose(f.value, worst, within(1e-6, '°'));
      expectClose(f.worstDeg, at, DEG);
      expect(f.limit).toBe(18);
      expect(f.state).toBe(worst > 18 ? 'fails' : worst > 16 ? 'watch' : 'holds');
      expectMargin(f);
    }
  });
  it('holds, watch and fails lie about the range', () => {
    const worst = finding(outcome(job({}, {}, { baseStem: [0.3, 1, -0.2] })), 'base-joint').value!;
    const at = (rangeDeg: number): string =>
      finding(outcome(job({}, {}, { baseStem: [0.3, 1, -0.2], rangeDeg })), 'base-joint').state;
    expect(at(worst + 2.01)).toBe('holds');
    expect(at(worst + 1.99)).toBe('watch');
    expect(at(worst - 0.01)).toBe('fails');
  });
  it('a broken joint on a mount proposes an azimuth, and applying it makes the finding hold', () => {
    const best = Number(finding(outcome(mounted(95)), 'base-joint').proposal!.value);
    for (const off of [45, -40, 90, 120, -60]) {
      const azimuth = best + off;
      const broken = mounted(azimuth);
      const f = finding(outcome(broken), 'base-joint');
      expect(f.state, String(azimuth)).toBe('fails');
      expect(f.text).toMatch(/leaves its range from \d+° to \d+°/);
      expect(f.proposal!.path).toEqual(['struts', 0, 'ends', 'base', 'azimuthDeg']);
      expect(f.advice).toContain('Turn the mount to');
      const mended = finding(outcome(setValue(broken, f.proposal!)), 'base-joint');
      expect(['holds', 'watch']).toContain(mended.state);
      expect(mended.proposal).toBeUndefined();
      expect(mended.value!).toBeLessThanOrEqual(18);
    }
  });
  it('where no azimuth holds it says so and proposes turn and wedge, which mend it together', () => {
    const broken = mounted(20, 1, [1, 0.1, 0.02]);
    const f = finding(outcome(broken), 'base-joint');
    expect(f.state).toBe('fails');
    expect(f.advice).toMatch(/No azimuth at this tilt holds/);
    expect(settingsOf(f.proposal!).map((s) => s.path.at(-1))).toEqual(['azimuthDeg', 'tiltDeg']);
    const mended = finding(outcome(setValues(broken, { settings: settingsOf(f.proposal!) })), 'base-joint');
    expect(mended.value!).toBeLessThanOrEqual(1);
  });
  it('a bare stem gets the rounded best stem proposed, all three components', () => {
    const broken = job({}, {}, { baseStem: [1, 0.1, 0.2] });
    const f = finding(outcome(broken), 'base-joint');
    expect(f.state).toBe('fails');
    expect(settingsOf(f.proposal!).map((s) => s.path.at(-1))).toEqual([0, 1, 2]);
    expect(f.advice).not.toBe('');
    const mended = finding(outcome(setValues(broken, { settings: settingsOf(f.proposal!) })), 'base-joint');
    expect(['holds', 'watch']).toContain(mended.state);
  });
  it('the needed angle in the text is on the side it strays to', () => {
    const over = finding(outcome(job({}, {}, { baseStem: [1, 0.1, 0.2] })), 'base-joint').text;
    const under = finding(outcome(job({}, {}, { baseStem: [-1, -0.1, -0.2] })), 'base-joint').text;
    expect([over, under].filter((t) => t.includes('needs 72° or more'))).toHaveLength(1);
    expect([over, under].filter((t) => t.includes('needs 108° or less'))).toHaveLength(1);
  });
});

describe('rest-range and drop-energy', () => {
  it('rest range: the whole degrees where friction holds, and the balance angle', () => {
    const middle = sums(job(), 40);
    const forceN = -middle.weightNmm / middle.struts[0]!.leverMm;
    const j = job({ frictionNm: 1 }, { forceN, frictionN: 5 });
    const o = outcome(j);
    const still = Array.from({ length: 71 }, (_, d) => d).filter((d) => {
      const n = sums(j, d);
      return n.openingNmm! <= 0 && n.closingNmm! >= 0;
    });
    expect(still.length).toBeGreaterThan(0);
    const f = finding(o, 'rest-range');
    expect(f.text).toContain(still.length === 1 ? `at ${still[0]}°` : `from ${still[0]}°`);
    expect(f.text).toContain(`${still.at(-1)}°`);
    if (f.value !== null) {
      const n = sums(j, f.value);
      expectClose((n.openingNmm! + n.closingNmm!) / 2000, 0, within(1e-5, 'N·m'));
    }
  });
  it('rest range: nowhere', () => {
    const f = finding(outcome(job({ frictionNm: 0 }, { forceN: 3000 })), 'rest-range');
    expect(f.text).toMatch(/comes to rest nowhere/);
    expect(f.value).toBeNull();
  });
  it('drop energy: the height energy between open and shut, and what a hand would hold', () => {
    const j = job();
    const f = finding(outcome(j), 'drop-energy');
    expect(f.state).toBe('watch');
    expectClose(f.value, heightEnergyJ(sums(j, 70)) - heightEnergyJ(sums(j, 0)), within(1e-6, 'J'));
    expectClose(f.worstDeg, 70, DEG);
    expect(f.text).toContain('from 70° to 0°');
    expect(f.advice).toMatch(/prop/);
  });
  it('drop energy: a lid that weighs next to nothing is harmless', () => {
    const f = finding(outcome(job({ masses: [{ kg: 0.1, at: [-30, 5, 305] }] })), 'drop-energy');
    expect(f.state).toBe('holds');
    expect(f.text).toMatch(/hardly moves/);
  });
});

describe('the list as a whole', () => {
  it.each([...exampleFiles(), ...goldenFiles()])('%s: every check speaks, in words, with finite numbers', (file) => {
    const j = jobAt(file);
    const o = outcome(j);
    const ids = new Set(o.findings.map((f) => f.id));
    for (const id of [
      'strut-fits',
      'closed-reserve',
      'open-reserve',
      'dead-centre',
      'base-joint',
      'lid-joint',
      'hand-opening',
      'hand-closing',
      'stays-open',
      'rest-range',
      'drop-energy',
    ])
      expect(ids).toContain(id);
    expect(CHECKS.length).toBeGreaterThanOrEqual(8);
    for (const f of o.advised) {
      expect(f.text).toMatch(/^\S.*[.]$/s);
      expect(f.advice).not.toMatch(/NaN|undefined|null|Infinity/);
      expect(f.text).not.toMatch(/NaN|undefined|null|Infinity/);
      for (const v of [f.value, f.limit, f.margin, f.worstDeg]) expect(v === null || Number.isFinite(v)).toBe(true);
      if (f.state === 'fails') expect(f.advice).not.toBe('');
      if (f.margin !== null && f.state === 'fails') expect(f.margin).toBeLessThanOrEqual(1e-6);
      expectMargin(f);
    }
  });
  it('worst first: fails, not known, watch, holds, the order of the checks within', () => {
    const list = outcome(job({}, { extendedMm: 450, strokeMm: 150 })).findings;
    const sorted = worstFirst(list);
    const rank = { fails: 0, unknown: 1, watch: 2, holds: 3 };
    expect(sorted).toHaveLength(list.length);
    for (let i = 1; i < sorted.length; i++) {
      const [a, b] = [sorted[i - 1]!, sorted[i]!];
      expect(rank[a.state]).toBeLessThanOrEqual(rank[b.state]);
      if (a.state === b.state) expect(list.indexOf(a)).toBeLessThan(list.indexOf(b));
    }
  });
});
