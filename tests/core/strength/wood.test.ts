// A bracket on wood: which rows there are, one of each by hand, what mends it; the screws of a hinge.
import { describe, expect, it } from 'vitest';
import { type JobBracket, resolveJob } from '../../../core/job';
import { type StrengthModel, checkLines, strengthModel } from '../../../core/strength';
import { isUnchecked } from '../../../core/strength/check';
import { expectClose, within } from '../../support/close';
import { assessed, jobWith, outcomeOf, result } from './scene';

const seat = (name: string, thicknessMm: number, more: object = {}) => ({ thicknessMm, material: { name }, ...more });
const screwed = (d: number, l: number) =>
  ({ by: 'bolts', into: 'wood', screw: { diameterMm: d, lengthMm: l } }) as const;

function modelOf(over: Partial<JobBracket>): StrengthModel {
  const job = resolveJob(jobWith(over));
  return strengthModel(job.brackets[0]!, job.struts[0]!);
}
const lineOf = (model: StrengthModel, id: string) => {
  const line = checkLines(model).find((l) => l.id === id);
  if (!line || isUnchecked(line)) throw new Error(`no number for "${id}": ${line?.why ?? ''}`);
  return line;
};
const idsOf = (over: Partial<JobBracket>): string[] => checkLines(modelOf(over)).map((l) => l.id);

describe('by hand', () => {
  it('two coach screws 8 × 80 in C24 of 75 mm, class 2', () => {
    // Thread 48 mm all in the wood: 0.52·8^−0.5·48^−0.1·350^0.8·8·48 = 5195.8 N; two: 2^0.9/2 = 0.933; ·0.6/1.3 = 2237.5 N.
    const model = modelOf({ attach: screwed(8, 80), seat: seat('C24', 75, { serviceClass: 2 }) });
    const k = 0.52 * 8 ** -0.5 * 48 ** -0.1 * 350 ** 0.8 * 8 * 48;
    const axial = ((k * 0.6) / 1.3) * 2 ** -0.1;
    const line = lineOf(model, 'wood-screw');
    const { tensionN } = model.forcesOf([0, 0, 100]);
    expectClose(line.at([0, 0, 100]).demand, Math.max(...tensionN!) / axial, within(1e-6, '1'));
    // 32 mm of shank, 5 in the plate: 27 < 4·8, so 1.1·5.6 = 6.16 mm counts; 75 mm deep, plate between thin and thick (5/6.16)
    const d = 6.16;
    const fh = (0.082 * (1 - 0.01 * d) * 350) / (1.35 + 0.015 * d);
    const my = 0.3 * 400 * d ** 2.6;
    const roped = (n: number) => n + Math.min(k / 4, n);
    const thin = Math.min(0.4 * fh * 75 * d, roped(1.15 * Math.sqrt(2 * my * fh * d)));
    const thick = Math.min(
      fh * 75 * d,
      roped(fh * 75 * d * (Math.sqrt(2 + (4 * my) / (fh * d * 75 ** 2)) - 1)),
      roped(2.3 * Math.sqrt(my * fh * d)),
    );
    const lateral = ((thin + (2 * (5 / d) - 1) * (thick - thin)) * 0.6) / 1.3;
    // 40 mm apart: the grain may run along the row
    const share = 2 ** -0.1 * (40 / (13 * 8)) ** 0.25;
    const push = line.at([0, 100, 0]);
    const { shearN, tensionN: pulled } = model.forcesOf([0, 100, 0]);
    const by = shearN.map(([x, y], i) => Math.hypot(pulled![i]! / axial, Math.hypot(x, y) / (lateral * share)));
    expectClose(push.demand, Math.max(...by), within(1e-6, '1'));
  });
  it('bolts through 18 mm birch: washers of 3 diameters press on 3·f_c,90', () => {
    const model = modelOf({ seat: seat('birch plywood', 18, { serviceClass: 1 }) });
    const washer = (3 * 5.3 * Math.PI * (24 ** 2 - 9 ** 2)) / 4;
    const punch = 9.5 * Math.PI * 24 * 18;
    expectClose(
      lineOf(model, 'wood-washer').at([0, 0, 1]).capacity,
      (Math.min(washer, punch) * 0.6) / 1.3,
      within(1e-6, 'N'),
    );
    // plywood takes no less along a row; mode a: 0.4·f_h·t·d under a plate of 5 mm on M8 (share 0.25 towards thick)
    expect(lineOf(model, 'wood-lateral').at([1, 0, 0]).capacity).toBeGreaterThan(
      (0.4 * 63.756 * 9.5 * 18 * 0.6) / 1.3 / 2,
    );
    expectClose(lineOf(model, 'seat-bending').at([0, 0, -1]).capacity, (0.6 * 34.1) / 1.2, within(1e-9, 'N/mm²'));
  });
});

describe('which checks there are', () => {
  it('go by what it is fixed with', () => {
    const wood = seat('C24', 60);
    expect(idsOf({ attach: screwed(8, 60), seat: wood })).toEqual(
      expect.arrayContaining(['fixings', 'bearing', 'wood-screw', 'wood-spacing', 'seat-bending']),
    );
    for (const never of ['slip', 'seat-collapse', 'seat-bearing', 'wood-lateral', 'seat-pull-through'])
      expect(idsOf({ attach: screwed(8, 60), seat: wood })).not.toContain(never);
    expect(idsOf({ seat: wood })).toEqual(expect.arrayContaining(['wood-lateral', 'wood-washer', 'seat-pull-through']));
    expect(idsOf({ attach: { by: 'bolts', into: 'insert', insertPullN: 2000 }, seat: wood })).toEqual(
      expect.arrayContaining(['insert', 'wood-lateral']),
    );
  });
  it('say what is lacking in place of a number', () => {
    const why = (over: Partial<JobBracket>, id: string): string | undefined => {
      const line = checkLines(modelOf(over)).find((l) => l.id === id);
      return line && isUnchecked(line) ? line.why : undefined;
    };
    expect(why({ attach: screwed(6, 40), seat: seat('S235', 5) }, 'wood-screw')).toContain('no table of woods');
    expect(why({ attach: { by: 'bolts', into: 'wood' }, seat: undefined as never }, 'wood-screw')).toContain(
      'nothing is said',
    );
    expect(why({ attach: { by: 'bolts', into: 'tapped' }, seat: seat('oak', 40) }, 'thread-strip')).toContain(
      'cut in wood',
    );
    expect(why({ attach: { by: 'bolts', into: 'rivet' } }, 'rivet')).toContain('not given');
    expect(why({ seat: seat('birch ply', 4) }, 'seat-bending')).toContain('4 mm');
    expect(
      why({ seat: seat('birch ply', 4, { material: { name: 'birch ply', yieldMPa: 25 } }) }, 'seat-bending'),
    ).toBeUndefined();
  });
  it('rivets by their maker’s forces, shares added', () => {
    const model = modelOf({ attach: { by: 'bolts', into: 'rivet', insertPullN: 1000, rivetShearN: 500 } });
    const { shearN, tensionN } = model.forcesOf([60, 0, 100]);
    const shares = shearN.map(([x, y], i) => Math.hypot(x, y) / 500 + tensionN![i]! / 1000);
    expectClose(lineOf(model, 'rivet').at([60, 0, 100]).demand, Math.max(...shares), within(1e-12, '1'));
  });
});

it('a pull-out force typed goes before formulas, with the same factors', () => {
  const attach = { ...screwed(5, 20), insertPullN: 1300 };
  const model = modelOf({ attach, seat: seat('birch ply', 18, { serviceClass: 1 }) });
  const asked = lineOf(model, 'wood-screw').at([0, 0, 100]).demand;
  expectClose(asked, Math.max(...model.forcesOf([0, 0, 100]).tensionN!) / (600 * 2 ** -0.1), within(1e-9, '1'));
});

it('short screws in plywood fail; bolts with a backing plate are proposed and were tried', () => {
  const job = jobWith({
    attach: screwed(4, 16),
    seat: seat('birch plywood', 18, { serviceClass: 2 }),
    ballSide: 'inside',
    shockFactor: 4,
  });
  expect(result(assessed(job), 'wood-screw').safetyFactor).toBeLessThan(1);
  const finding = outcomeOf(job).findings.find((f) => f.id === 'bracket-strength-wood-screw')!;
  expect(finding.state).toBe('fails');
  expect(finding.proposal!.label).toMatch(/backing plate|Take screws|two fixings/);
});

describe('screws of a hinge', () => {
  const found = (screws: object) => {
    const job = jobWith();
    const hinge = { ...job.hinge, screws };
    return outcomeOf({ ...job, hinge } as never).findings.find((f) => f.id === 'hinge-screws');
  };
  const usual = { count: 4, diameterMm: 4, lengthMm: 16, material: 'birch plywood', thicknessMm: 18, serviceClass: 1 };
  it('hold what four pulled or pushed ones hold, whichever is less', () => {
    const few = found(usual)!;
    // thread 9.6 mm in birch of 630: 108.25·0.63²·4·9.6/6 = 274.97 N each; four: ·4^0.9
    expectClose(few.limit!, 274.97 * 4 ** 0.9, within(0.5, 'N'));
    expect(few.value).toBeGreaterThan(0);
    expect(found({ ...usual, count: 8 })!.margin).toBeGreaterThan(few.margin!);
  });
  it('in what is no wood are not known; without any nothing is said', () => {
    expect(found({ ...usual, material: 'chipboard' })!.state).toBe('unknown');
    expect(found(undefined as never)).toBeUndefined();
  });
});
