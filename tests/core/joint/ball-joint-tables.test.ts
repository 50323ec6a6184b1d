import { describe, expect, it } from 'vitest';
import { coarseThread, hardwareOf } from '../../../core/bracket';
import { FITTINGS, fittingOf, overRange, threadRootMm } from '../../../core/joint';
import { ANGLED_BALL_SIZES } from '../../../core/joint/fitting-tables';
import { expectClose, within } from '../../support/close';

// The rows of DIN 71802, 71803 and 71805 from dealers' tables, held against slips of a column; not checked against the standards'
// text. mm, N. Ball, thread, thread length of the stud, centre to shoulder (where tables differ: both), centre to shank end, thread depth, flats, separating force, shank, head
const LISTED: [number, string, number, number, number, number, number, number, number, number, number][] = [
  [8, 'M5', 10, 9, 8.5, 22, 10.5, 7, 30, 8, 12.8],
  [10, 'M6', 12.5, 11, 10.5, 25, 11.5, 8, 40, 10, 14.8],
  [13, 'M8', 16.5, 13, 12, 30, 14, 11, 60, 13, 19.3],
  [16, 'M10', 20, 16, 15, 35, 15.5, 13, 80, 16, 24],
  [19, 'M14×1.5', 28, 20, 19.5, 45, 21.5, 16, 100, 22, 30],
];

describe('angled ball joints, DIN 71802 with stud DIN 71803 and socket DIN 71805', () => {
  it.each(LISTED)('ball %d, %s', (ball, thread, stud, shoulder, less, end, depth, flats, force, shank, head) => {
    const size = ANGLED_BALL_SIZES.find((s) => s.ballMm === ball)!;
    expect(size).toMatchObject({
      studThreadMm: stud,
      shankEndMm: end,
      depthMm: depth,
      flatsMm: flats,
      separatingN: force,
      shankMm: shank,
      headMm: head,
    });
    expect(size.thread.name).toBe(thread);
    expect([...size.shoulderMm]).toEqual([shoulder, less]);
    const id = `angled-ball-${ball}-${thread.toLowerCase()}`;
    for (const [clip, range] of [
      ['', 18],
      ['-clip', 15],
    ] as const) {
      const f = fittingOf(id + clip)!;
      // swing: ±18° without safety clip (forms C, B), ±15° with it (CS, BS)
      expect(f.rangeDeg.value).toBe(range);
      expect(f.nominalDeg).toBe(90);
      // where tables differ the larger arm counts: it bends the stud more
      expect(f.studArmMm!.value).toBe(Math.max(shoulder, less));
      expect([f.offsetMm!.value, f.separatingN!.value, f.ballMm]).toEqual([end, force, ball]);
      for (const s of [f.rangeDeg, f.offsetMm!, f.headRadiusMm!, f.shankRadiusMm!, f.studArmMm!, f.separatingN!]) {
        expect(s.provenance).toBe('from dealers’ tables');
        expect(s.source).toMatch(/DIN 71802/);
      }
    }
  });
  it('the brackets’ table of what goes round a stud has the same heads', () => {
    const heads = { M5: 12.8, M6: 14.8, M8: 19.3, M10: 24, M14: 30, M16: 30 } as const;
    for (const [name, across] of Object.entries(heads))
      expect(hardwareOf(name as keyof typeof heads).jointHeadDiameterMm).toBe(across);
  });
  it('thread roots: the same as the coarse thread table, and M14×1.5 by ISO 724', () => {
    for (const f of FITTINGS) {
      const match = f.thread && /^M(5|6|8|10|12)$/.exec(f.thread.name);
      if (match)
        expectClose(threadRootMm(f.thread!), coarseThread(match[0] as 'M8').rootDiameterMm, within(1e-9, 'mm'));
    }
    // d − 1.226869·P
    expectClose(
      threadRootMm({ name: 'M14×1.5', diameterMm: 14, pitchMm: 1.5 }),
      14 - 1.226869 * 1.5,
      within(1e-5, 'mm'),
    );
  });
  it('bending at the thread root: W = πd₃³/32 of the ISO 724 sizes', () => {
    // M8: W 26.545 mm³, root area 32.841 mm²
    const h = overRange({
      fitting: fittingOf('angled-ball-13-m8')!,
      excessDeg: 1,
      forceN: 500,
      rodMm: 8,
      lengthMm: 500,
    });
    expectClose(h.threadMPa, (500 * 19.3) / 2 / 26.545 + 500 / 32.841, within(0.02, 'N/mm²'));
  });
  it('every number says how well it is known, and from where', () => {
    for (const f of FITTINGS)
      for (const value of Object.values(f))
        if (typeof value === 'object' && value !== null && 'standing' in value) {
          expect(value.source.length).toBeGreaterThan(5);
          expect(Number.isFinite(value.value)).toBe(true);
        }
    expect(new Set(FITTINGS.map((f) => f.id)).size).toBe(FITTINGS.length);
  });
});
