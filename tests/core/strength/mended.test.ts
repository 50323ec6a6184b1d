// One fixing bends a strip, a tilted bracket presses at its edge, thin gussets buckle, a stud's couple is borne by its plate:
// one case of each by hand, and what holds for all of them.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type JobBracket, resolveJob } from '../../../core/job';
import { LidwrightError } from '../../../core/error';
import { type StrengthModel, checkLines, loadedRadiusMm, strengthModel } from '../../../core/strength';
import { isUnchecked, useOf } from '../../../core/strength/check';
import { expectClose, within } from '../../support/close';
import { runs } from '../../support/tier';
import { jobWith } from './scene';

/** The model of the scene's bracket with something else in it; null where it can't be made as drawn. */
function modelOf(over: Partial<JobBracket>): StrengthModel | null {
  const job = resolveJob(jobWith(over));
  try {
    return strengthModel(job.brackets[0]!, job.struts[0]!);
  } catch (error) {
    if (error instanceof LidwrightError) return null;
    throw error;
  }
}

const at = (model: StrengthModel, id: string, force: readonly [number, number, number]) => {
  const line = checkLines(model).find((l) => l.id === id);
  if (!line || isUnchecked(line)) throw new Error(`no number for "${id}"`);
  return line.at(force);
};

describe('by hand', () => {
  const single = { baseHole: { diameterMm: 9, spacingMm: 40, fromEndMm: 35, across: 1 } } as const;
  it('one M8 bends a strip of the base leg, not all of it', () => {
    // Angle 5 mm, inside radius 6: the bend begins 11 mm from the corner. The fixing stands 60 − 35 = 25 mm from it, 14 mm from the
    // bend; washer ⌀ 16: 16 + 2·14 = 44 mm of the 70 bend. Ball at (16, 0, 40), 300 N along x:
    // M = 300·(40 − 2.5) = 11 250 N·mm; W = 44·5²/6 = 183.33 mm³: 61.36; N/A = 300/(5·70) = 0.857; together 62.22 N/mm².
    const model = modelOf(single)!;
    expectClose(at(model, 'base-leg', [300, 0, 0]).demand, 62.2208, within(1e-3, 'MPa'));
    // net of the hole at the fixing: W = (44 − 9)·25/6 = 145.83, A = 61·5: 77.14 + 0.984
    expectClose(at(model, 'base-leg-at-fixings', [300, 0, 0]).demand, 78.1265, within(1e-3, 'MPa'));
    // two at ±20 reach 34 ± … all of the leg's width between them: 2·(16/2 + 27) = 70 from −55 to 55, cut off at the leg
    expectClose(
      at(modelOf({})!, 'base-leg', [300, 0, 0]).demand,
      11250 / (70 * (25 / 6)) + 300 / 350,
      within(1e-3, 'MPa'),
    );
  });
  it('pulled over its heel it presses on a strip as wide as it is thick', () => {
    // 300 N along x at (16, 0, 40) tilts the angle over its heel at x = −11: M_y = 300·40 = 12 000 N·mm; fixings at x = −38, 27 mm off:
    // 444.44 N of tension and of pressure. Strip 5 × 70: r₀ = √(350/π) = 10.555 mm; the washers span 40 × 16 + π·8²: r₀ = 16.364 mm.
    // Sheet 10 mm, free for 200 mm: 6·444.44·(1.3·ln(200/10.555) + 1)/(4π·100) = 10.237 N/mm².
    const found = at(modelOf({})!, 'seat-bending', [300, 0, 0]);
    expectClose(
      found.demand,
      (6 * (12000 / 27) * (1.3 * Math.log(200 / 10.555) + 1)) / (4 * Math.PI * 100),
      within(1e-3, 'MPa'),
    );
    expectClose(found.demand, 10.237, within(2e-3, 'MPa'));
  });
  it('pressed in the middle it presses with all of it; a single fixing lifts by its washer', () => {
    // 400 N down, with 515 N towards −x: its line from the ball at (16, 0, 40) meets the mount in the middle of the footprint, at
    // −35.5, so it presses with all of its 49 × 70 mm: r₀ = √(3430/π) = 33.04 mm
    const down = at(modelOf({})!, 'seat-bending', [-515, 0, -400]);
    expectClose(
      down.demand,
      (6 * 400 * (1.3 * Math.log(200 / Math.sqrt(3430 / Math.PI)) + 1)) / (4 * Math.PI * 100),
      within(1e-9, 'MPa'),
    );
    // straight up over a single fixing: 300 N on the round of its washer, 8 mm
    const one = modelOf({ ...single, ballSide: 'inside' })!;
    const up = at(one, 'seat-bending', [0, 0, 300]);
    expect(up.demand).toBeGreaterThan(
      (6 * 300 * (1.3 * Math.log(200 / loadedRadiusMm(8, 10)) + 1)) / (4 * Math.PI * 100) - 1e-9,
    );
  });
  it('a thin gusset buckles at its free edge', () => {
    // Gusset 2 mm, 60 × 60 from the corner, in an angle of 4 mm (radius 6) 70 wide: b = 3600/84.85 = 42.426 mm,
    // λ̄_p = (42.426/2)·√(235/(0.43·189 801)) = 1.1383, ρ = (1.1383 − 0.188)/1.1383² = 0.7334: 172.3 N/mm².
    const gusset = { thicknessMm: 2, alongMm: 60, upMm: 60, count: 1 } as const;
    const angle = {
      kind: 'gusset-angle',
      thicknessMm: 4,
      insideRadiusMm: 6,
      baseLegMm: 110,
      uprightLegMm: 100,
      studHole: { diameterMm: 10.5, heightMm: 84 },
    } as const;
    const model = modelOf({ ...angle, gusset } as never)!;
    const found = at(model, 'gusset-buckling', [-300, 0, 0]);
    expectClose(found.capacity, 172.35, within(0.1, 'MPa'));
    // Cut across the upright 10 mm up: flange 70 × 4, rib 2 × 54: A = 388 mm², axis (280·2 + 108·31)/388 = 10.072 mm from the face,
    // I = 373.3 + 280·8.072² + 26 244 + 108·20.928² = 92 163 mm⁴; M = 300·(84 − 10) = 22 200 N·mm; edge 58 − 10.072 = 47.928 mm:
    // 11.545 N/mm² along the upright, twice that along the free edge. Across the base: M = 300·82 = 24 600: 12.793, with 300/388: 13.566.
    expectClose(found.demand, 2 * 13.566, within(0.01, 'MPa'));
    // pushed the other way the edge is pulled
    expect(at(model, 'gusset-buckling', [300, 0, 0]).demand).toBe(0);
  });
  it('a stud’s couple bends its plate', () => {
    // 300 N across M10 (flats 16) with the ball 16 mm off a 5 mm plate: 3·4800/(π·8·25) = 22.918 N/mm².
    const found = at(modelOf({})!, 'stud-couple', [0, 300, 0]);
    expectClose([found.demand, found.capacity], [22.9183, 235], within(1e-4, 'MPa'));
    // and bears no more than 1.5·360·10·5/1.25 = 21 600 N at its hole, whatever the edges (EN 1993-1-8 3.6.1(10), from memory)
    expect(
      at(modelOf({ studHole: { diameterMm: 10.5, heightMm: 31 }, topWidthMm: 70 })!, 'stud-bearing', [0, 300, 0])
        .capacity,
    ).toBeLessThanOrEqual(21_600);
  });
});

describe('laws', () => {
  const mm = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
  const newton = mm(-2000, 2000);
  const any = fc.record({
    kind: fc.constantFrom('bent-angle', 'gusset-angle', 'flat-tab', 'channel', 'wedge-plate'),
    t: mm(1.5, 10),
    more: mm(0.1, 3),
    takes: mm(13.5, 24),
    leg: mm(50, 150),
    up: mm(50, 140),
    width: mm(35, 120),
    top: mm(25, 120),
    hole: fc.constantFrom(5.5, 6.6, 9, 11),
    across: fc.integer({ min: 1, max: 2 }),
    rows: fc.integer({ min: 1, max: 2 }),
    rib: mm(1, 6),
    by: fc.constantFrom('bolts', 'bolts', 'weld'),
    side: fc.constantFrom('outside', 'inside'),
    washer: mm(0.1, 20),
    force: fc.tuple(newton, newton, newton),
  });
  type Any = typeof any extends fc.Arbitrary<infer V> ? V : never;
  const bracketOf = (v: Any, t: number) => {
    const pinned = v.kind === 'channel';
    return modelOf({
      kind: v.kind,
      thicknessMm: t,
      // the bend's outside stays where it is, and with it everything that stands on the bracket and its gusset's ends
      insideRadiusMm: v.takes - t,
      baseLegMm: v.leg,
      uprightLegMm: v.up,
      baseWidthMm: v.width,
      topWidthMm: Math.min(v.top, v.width),
      baseCornerRadiusMm: 0,
      topCornerRadiusMm: 0,
      baseHole: {
        ...{ diameterMm: v.hole, spacingMm: v.width / 3.5, fromEndMm: pinned ? v.leg * 0.45 : 16 },
        ...{ across: v.across, rows: pinned ? 1 : v.rows, rowSpacingMm: 3 * v.hole },
      },
      studHole: { diameterMm: 10.5, heightMm: v.up * 0.6, fromEndMm: 18 },
      gapMm: v.leg - 2 * t,
      gusset: {
        thicknessMm: v.rib,
        alongMm: v.leg * 0.45 + 10 - t,
        upMm: v.up * 0.4 + 10 - t,
        count: 1,
        weldThroatMm: 2,
      },
      wedge: { tiltDeg: 7, directionDeg: 40 },
      ballSide: v.side,
      attach: { by: v.by, weldThroatMm: 2, preloadN: 8000 },
      seat: { thicknessMm: 4, material: { name: 'S235' } },
    } as never);
  };
  const SIGNS = [-1, 1].flatMap((x) => [-1, 1].flatMap((y) => [-1, 1].map((z) => [x, y, z] as const)));
  /** What each check uses at most, whichever way the force's parts point: a moment that happens to cancel proves nothing. */
  const usesOf = (model: StrengthModel, [x, y, z]: Any['force']): Map<string, number> =>
    new Map(
      checkLines(model).flatMap((l) =>
        isUnchecked(l)
          ? []
          : [[l.id, Math.max(...SIGNS.map(([a, b, c]) => useOf(l.at([a * x, b * y, c * z]))))] as const],
      ),
    );
  /** No check of `after` uses more than it does of `before`. */
  const noneWorse = (before: StrengthModel, after: StrengthModel, force: Any['force'], but: readonly string[] = []) => {
    const then = usesOf(after, force);
    for (const [id, use] of usesOf(before, force))
      if (!but.includes(id)) expect(then.get(id) ?? 0, id).toBeLessThanOrEqual(use * (1 + 1e-9) + 1e-12);
  };
  const made = new Map<string, number>();
  it('a thicker plate never lowers a reserve', () => {
    fc.assert(
      fc.property(any, (v) => {
        const [before, after] = [bracketOf(v, v.t), bracketOf(v, v.t + v.more)];
        if (!before || !after) return;
        made.set(v.kind, (made.get(v.kind) ?? 0) + 1);
        // the same force at the same ball, wherever a thicker plate would have put it
        // a stiffer leg leans more on its rib, whose own sheet stays as it was: its welds may take a little more
        noneWorse(before, { ...after, ballMm: before.ballMm, forcesOf: before.forcesOf }, v.force, ['gusset-weld']);
      }),
      { numRuns: runs(20_000, 300) },
    );
    expect([...made.keys()].length, JSON.stringify([...made])).toBe(5);
  });
  it('a wider washer never lowers a reserve', () => {
    fc.assert(
      fc.property(any, (v) => {
        const before = bracketOf(v, v.t);
        if (!before?.bolts) return;
        noneWorse(
          before,
          { ...before, bolts: { ...before.bolts, washerMm: before.bolts.washerMm + v.washer } },
          v.force,
        );
      }),
      { numRuns: runs(20_000, 300) },
    );
  });
});
