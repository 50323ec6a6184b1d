// Findings of the strut itself: buckling, which way the rod points, one-sided push.
import { describe, expect, it } from 'vitest';
import { BUCKLING_FACTOR, compressingN, eulerN, gasBody, roundInertiaMm4 } from '../../../core/strut';
import { resolveJob } from '../../../core/job';
import { expectClose, within, withinEither } from '../../support/close';
import { PARTS, finding, job, outcome } from './support';

describe('rod-buckling', () => {
  const at = (rodMm: number, tubeMm: number) =>
    outcome(job({}, { rodMm, tubeMm, ratio: 1.3, frictionN: 30, forceN: 800, extendedMm: 560, strokeMm: 260 }));
  it('holds by the plain rule: Euler, pinned, rod over the whole extended length, largest compressing force', () => {
    const o = at(14, 28);
    const f = finding(o, 'rod-buckling');
    expect(f.state).toBe('holds');
    const { spec } = resolveJob(job({}, { rodMm: 14, tubeMm: 28, ratio: 1.3, frictionN: 30, forceN: 800 })).struts[0]!;
    const shortest = Math.min(...o.tables[0]!.struts[0]!.lengthMm);
    const load = compressingN(gasBody({ ...spec, extendedMm: 560, strokeMm: 260 }, 'nominal'), 560 - shortest, 20);
    const plain = eulerN(roundInertiaMm4(14), 560) / load;
    expect(f.text).toContain(`${plain.toFixed(1)} times`);
    expect(f.value!).toBeGreaterThan(plain);
  });
  it('watch where only the stepped column holds it, fails where that does not', () => {
    expect(finding(at(8, 22), 'rod-buckling').state).toBe('watch');
    const thin = finding(at(5, 12), 'rod-buckling');
    expect(thin.state).toBe('fails');
    expect(thin.value!).toBeLessThan(BUCKLING_FACTOR);
    expect(thin.advice).not.toBe('');
  });
});

describe('rod-down', () => {
  it('by hand: the angle of the strut over level, closed and open, in the worst slope', () => {
    const atLid = (j: ReturnType<typeof job>) => ({ ...j, struts: [{ ...j.struts[0]!, rodAt: 'lid' as const }] });
    const o = outcome(atLid(job({ cases: [{}, { pitchDeg: 8 }] }, {}, {})));
    const f = o.findings.find((x) => x.id === 'rod-down')!;
    // rod at the lid: closed the lid end is 270 over the base end, 220 beside it
    const plain = (Math.asin(270 / Math.hypot(220, 5, 270)) * 180) / Math.PI;
    const least = outcome(atLid(job())).findings.find((x) => x.id === 'rod-down')!;
    expect(least.state).toBe('watch');
    expect(least.value!).toBeLessThanOrEqual(-plain + 1e-9);
    expect(least.text).toContain(`closed the rod points up by ${plain.toFixed(1)}°`);
    expect(f.value!).toBeLessThanOrEqual(least.value!);
    expect(least.advice).toMatch(/Turn the strut round, rod to the base/);
  });
  it('holds once the rod hangs from the tube, as the advice says', () => {
    const j = job();
    const turned = { ...j, struts: [{ ...j.struts[0]!, rodAt: 'base' as const }] };
    const f = outcome(turned).findings.find((x) => x.id === 'rod-down')!;
    expect(f.state).toBe('holds');
    expect(f.text).toContain('oil stays on its seal');
  });
});

describe('one-sided', () => {
  it('by hand: strut force across the hinge times its distance from the middle of the hinge', () => {
    const o = outcome(job());
    const f = finding(o, 'one-sided');
    expect(f.state).toBe('watch');
    const i = o.tables[0]!.angleDeg.indexOf(f.worstDeg!);
    const [a, b] = [
      [0, 410, 300],
      [6, -390, 302],
    ] as const;
    const span = Math.hypot(...(a.map((v, k) => b[k]! - v) as [number, number, number]));
    const along = a.map((v, k) => (b[k]! - v) / span);
    const lidAt = [-310, 400, 290];
    // along the hinge a lid point keeps its place
    const offset = Math.abs(lidAt.reduce((s, v, k) => s + (v - a[k]!) * along[k]!, 0) - span / 2);
    const base = [-90, 395, 20];
    const axial = lidAt.reduce((s, v, k) => s + (v - base[k]!) * along[k]!, 0);
    const length = o.tables[0]!.struts[0]!.lengthMm[i]!;
    const across = Math.sqrt(length * length - axial * axial) / length;
    expectClose(
      f.value,
      (o.tables[0]!.struts[0]!.compressingN[i]! * across * offset) / 1000,
      withinEither(1e-6, 1e-6, 'N·m'),
    );
    const sizes = (v: Float64Array) => Math.hypot(v[3 * i]!, v[3 * i + 1]!, v[3 * i + 2]!);
    const differ = Math.abs(sizes(o.tables[0]!.hingeAN) - sizes(o.tables[0]!.hingeBN));
    expect(f.text).toContain(`${differ.toFixed(0)} N more`);
  });
  it('a pair balances; with one of it lost it does not', () => {
    const pair = outcome(job({}, {}, { quantity: 2 }));
    expect(finding(pair, 'one-sided').state).toBe('holds');
    expectClose(finding(pair, 'one-sided').value, 0, within(1e-9, 'N·m'));
    const lost = outcome(job({ cases: [{}, { lost: ['s0'] }] }, {}, { quantity: 2 }));
    expect(finding(lost, 'one-sided', 'case1').state).toBe('watch');
  });
  it('is not known where a strut is out of its stroke, and never held to be even for that', () => {
    const far = outcome(job({}, { extendedMm: 1900, strokeMm: 100 }));
    expect(finding(far, 'one-sided')).toMatchObject({ state: 'unknown', value: null });
    expect(finding(far, 'one-sided').text).toMatch(/is not known: one is out of its stroke/);
    for (const { text } of far.findings) expect(text).not.toMatch(/NaN/);
  });
  it('with another strut out of its stroke says the twist, and no share of the hinges', () => {
    const strut = PARTS.struts[0]!;
    const out: typeof strut = { ...strut, quantity: 2, spec: { ...strut.spec, extendedMm: 1900, strokeMm: 100 } };
    const f = finding(outcome(job({ struts: [strut, out] })), 'one-sided');
    expect(f.state).toBe('watch');
    expect(f.text).toMatch(/twist the lid with [\d.]+ N·m at [\d.]+°\.$/);
  });
});
