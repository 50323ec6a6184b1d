// Windows of length and force against scanning by brute force; empty windows name the demands that fight; arrows are slopes.
import { describe, expect, it } from 'vitest';
import {
  boundWords,
  forceGradient,
  forceWindowOf,
  geometryOf,
  lengthWindow,
  movedPivot,
  needs,
} from '../../../core/choose';
import { type ResolvedJob, resolveJob } from '../../../core/job';
import { scale } from '../../../core/space';
import { workings } from '../../../core/workings';
import { expectClose, within, withinEither } from '../../support/close';
import { exampleFiles, jobAt } from '../../support/files';
import { refusal } from '../../support/refusal';
import { type LidParts, type StrutParts, lid } from '../../support/build';
import { PARTS } from '../findings/support';
import { workOutNeeded } from './brute';

const resolvedExample = (file: string): ResolvedJob => resolveJob(jobAt(file));

/** What fails with another spec, among the demands of a window. */
function failing(
  job: ResolvedJob,
  spec: Partial<ResolvedJob['struts'][number]['spec']>,
  ids: readonly string[],
): string[] {
  const tried = { ...job, struts: job.struts.map((s, i) => (i === 0 ? { ...s, spec: { ...s.spec, ...spec } } : s)) };
  const must = new Set(job.loadCases.filter((c) => c.mustHold).map((c) => c.id));
  return workOutNeeded(tried)
    .findings.filter((f) => ids.includes(f.id) && f.state === 'fails' && (f.everyCase || must.has(f.case)))
    .map((f) => `${f.id} ${f.case}`);
}
const FORCE_IDS = ['hand-opening', 'hand-closing', 'stays-open', 'rod-buckling'];
const LENGTH_IDS = ['closed-reserve', 'open-reserve'];

/** A lid whose one strut always fits: what each test forces is given. */
const one = (
  over: Partial<LidParts> = {},
  spec: StrutParts['spec'] = {},
  strut: Partial<StrutParts> = {},
): ResolvedJob =>
  resolveJob(
    lid({
      ...PARTS,
      struts: [
        {
          ...PARTS.struts[0]!,
          ...strut,
          spec: { ...PARTS.struts[0]!.spec, ratio: 1.35, rodMm: 10, tubeMm: 22, frictionN: 30, ...spec },
        },
      ],
      ...over,
    }),
  );

describe('length window', () => {
  it.each(exampleFiles())('%s: both ends of the window are where a reserve begins to fail', (file) => {
    const job = resolvedExample(file);
    if (job.travel.stop === 'strut') return; // its own test below
    const g = geometryOf(job);
    for (const strokeMm of [job.struts[0]!.spec.strokeMm, job.struts[0]!.spec.strokeMm + 40]) {
      const w = lengthWindow(g, strokeMm);
      expect(w.empty).toBe(false);
      for (const inside of [w.fromMm + 0.001, (w.fromMm + w.toMm) / 2, w.toMm - 0.001])
        expect(failing(job, { extendedMm: inside, strokeMm }, LENGTH_IDS)).toEqual([]);
      expect(failing(job, { extendedMm: w.fromMm - 0.001, strokeMm }, LENGTH_IDS).join()).toContain('open-reserve');
      expect(failing(job, { extendedMm: w.toMm + 0.001, strokeMm }, LENGTH_IDS).join()).toContain('closed-reserve');
    }
  });
  it('empty: says by how much, names both reserves, gives the least stroke; moving along the arrow opens it', () => {
    const job = one({}, { strokeMm: 150, extendedMm: 560 });
    const n = needs(workings(job));
    expect(n.length.empty).toBe(true);
    const [fight] = n.fights.filter((f) => f.kind === 'length');
    expect([fight!.more.id, fight!.less.id]).toEqual(['open-reserve', 'closed-reserve']);
    expect(fight!.text).toMatch(/no length does both/);
    for (let extendedMm = 450; extendedMm < 700; extendedMm += 5)
      expect(failing(job, { extendedMm, strokeMm: 150 }, LENGTH_IDS)).not.toEqual([]);
    const least = n.strokeNeededMm;
    expectClose(lengthWindow(geometryOf(job), least).widthMm, 0, within(1e-9, 'mm'));
    expectClose(fight!.gap, least - 150, within(1e-9, 'mm'));
    const lidEnd = fight!.cures.find((c) => c.end === 'lid')!;
    const moved = movedPivot(job, 0, 'lid', scale(lidEnd.direction, 2));
    const after = needs(workings(moved)).strokeNeededMm;
    expectClose(least - after, lidEnd.perTenMm / 5, withinEither(0.05, 0.02, 'mm'));
  });
  it('a strut that is the stop: any length in the window opens far enough and shuts', () => {
    const job = resolvedExample('assets/examples/trailer-locker.lidjob');
    const open = workings(job).frame.openDeg;
    const w = lengthWindow(geometryOf(job), job.struts[0]!.spec.strokeMm, open - 1);
    expect(w.from.id).toBe('opening-angle');
    for (const extendedMm of [w.fromMm + 0.01, (w.fromMm + w.toMm) / 2, w.toMm - 0.01]) {
      const tried = { ...job, struts: job.struts.map((s) => ({ ...s, spec: { ...s.spec, extendedMm } })) };
      expect(workings(tried).frame.openDeg).toBeGreaterThan(open - 1);
      expect(failing(job, { extendedMm }, LENGTH_IDS)).toEqual([]);
    }
    const short = {
      ...job,
      struts: job.struts.map((s) => ({ ...s, spec: { ...s.spec, extendedMm: w.fromMm - 0.01 } })),
    };
    expect(workings(short).frame.openDeg).toBeLessThan(open - 1);
  });
});

describe('force window', () => {
  it.each(exampleFiles())('%s: agrees with scanning the nominal force', (file) => {
    // a bracket bounds the force too, and what is assumed of a strut grows with its force: left out here
    const own = resolvedExample(file);
    const stated = own.struts.map((s) => ({ ...s, spec: { ...s.spec, assumed: [] } }));
    const job = { ...own, brackets: [], struts: stated };
    const n = needs(workings(job));
    const { least, most, empty } = n.force;
    expect(n.body.madeToFit).toBe(false);
    const inside = (forceN: number): boolean => failing(job, { forceN }, FORCE_IDS).length === 0;
    const [lo, hi] = [least?.forceN ?? 0, most?.forceN ?? Infinity];
    for (let forceN = 60; forceN <= 1500; forceN += 90)
      expect(inside(forceN), `${forceN} N`).toBe(forceN >= lo && forceN <= hi);
    if (least && Number.isFinite(least.forceN) && least.forceN > 40) {
      expect(failing(job, { forceN: least.forceN - 0.01 }, FORCE_IDS)).toContain(`${least.id} ${least.caseId}`);
      if (!empty) expect(inside(least.forceN + 0.01)).toBe(true);
    }
    if (most && most.forceN > 40 && most.forceN < 5000) {
      expect(failing(job, { forceN: most.forceN + 0.01 }, FORCE_IDS)).toContain(`${most.id} ${most.caseId}`);
      if (!empty) expect(inside(most.forceN - 0.01)).toBe(true);
    }
  });
  it('hangs on age and on a lost twin in cases that must hold', () => {
    const job = resolvedExample('assets/examples/trailer-locker.lidjob');
    const least = (over: object): number =>
      forceWindowOf({
        ...job,
        loadCases: [job.loadCases[0]!, { ...job.loadCases[0]!, id: 'x', name: 'x', ...over }],
      }).least!.forceN;
    const plain = least({});
    expect(least({ lost: [job.struts[0]!.id], mustHold: false })).toBe(plain);
    expect(least({ lost: [job.struts[0]!.id], mustHold: true })).toBeGreaterThan(1.5 * plain);
    // 40 % of the gauge pressure gone asks for 1/0.6 of F1 + FR/2, but for the atmosphere's part and the fill
    expect(least({ ageLossPercent: 40 })).toBeGreaterThan(1.4 * plain);
  });
});

describe('a forced-empty window names the right fight', () => {
  const cold = { id: 'cold', name: 'Cold', tempC: -25, force: 'low' } as const;
  const hot = { id: 'hot', name: 'Hot, unloaded', tempC: 60, force: 'high' } as const;
  const fightOf = (job: ResolvedJob): string[] => {
    const n = needs(workings(job));
    expect(n.force.empty).toBe(true);
    const fight = n.fights.find((f) => f.kind === 'force')!;
    expect(fight.text).toMatch(/^\S.*[.]$/);
    // no force does, by brute force
    for (let forceN = 80; forceN <= 4000; forceN += 245)
      expect(failing(job, { forceN, ...n.body }, FORCE_IDS), `${forceN}`).not.toEqual([]);
    return [fight.more.id, String(fight.more.caseId), fight.less.id, String(fight.less.caseId)];
  };
  const spec = { toleranceN: [-20, 20] as [number, number] };
  it('holding open in the cold against shutting when hot and bare', () => {
    const job = one(
      {
        masses: [
          { kg: 22, at: [-430, 12, 320] },
          { kg: 25, at: [-500, 12, 360] },
        ],
        cases: [cold, { ...hot, off: ['mass1'] }],
        limits: { handOpenN: 5000, handCloseN: 60, reserveMm: 5, holdOpenNm: 20 },
      },
      spec,
    );
    expect(fightOf(job)).toEqual(['stays-open', 'cold', 'hand-closing', 'hot']);
  });
  it('lifting in the cold against shutting when hot and bare; the arrow closes the gap', () => {
    const job = one(
      {
        masses: [
          { kg: 22, at: [-430, 12, 320] },
          { kg: 30, at: [-500, 12, 360] },
        ],
        cases: [cold, { ...hot, off: ['mass1'] }],
        limits: { handOpenN: 40, handCloseN: 60, reserveMm: 5, holdOpenNm: 0 },
      },
      spec,
    );
    expect(fightOf(job)).toEqual(['hand-opening', 'cold', 'hand-closing', 'hot']);
    const n = needs(workings(job));
    const fight = n.fights.find((f) => f.kind === 'force')!;
    for (const cure of fight.cures) {
      expectClose(Math.hypot(...cure.direction), 1, within(1e-9, '1'));
      expect(cure.perTenMm).toBeGreaterThan(0);
    }
  });
  it('holding open against the rod buckling', () => {
    const job = one(
      {
        masses: [{ kg: 60, at: [-430, 12, 320] }],
        limits: { handOpenN: 5000, handCloseN: 5000, reserveMm: 5, holdOpenNm: 20 },
      },
      { ...spec, rodMm: 4, tubeMm: 10 },
    );
    expect(fightOf(job)).toEqual(['stays-open', 'case0', 'rod-buckling', 'case0']);
  });
  it('one demand that no force meets: the strut works the wrong way there', () => {
    // hinge above, lid pivot behind it: the strut shortens as the lid opens, so it can never hold open
    const job = one(
      { limits: { handOpenN: 5000, handCloseN: 5000, reserveMm: 5, holdOpenNm: 20 } },
      { extendedMm: 620, strokeMm: 300, ...spec },
      { base: [260, 395, 60], lid: [-200, 400, 420] },
    );
    const arms = geometryOf(job).armMm;
    if (arms[arms.length - 1]! > 0) throw new Error('the geometry of this test is not what it says');
    const [more] = fightOf(job);
    expect(more).toBe('stays-open');
  });
});

describe('needs', () => {
  it('lengths, stroke, balance force and temperatures are those of the travel tables', () => {
    const job = resolvedExample('tests/fixtures/jobs/workboat-hatch.lidjob');
    const o = workings(job);
    const n = needs(o);
    const row = o.tables[0]!.struts[0]!;
    expectClose([n.closedMm, n.openMm], [row.lengthMm[0]!, row.lengthMm.at(-1)!], within(1e-9, 'mm'));
    expectClose(n.strokeNeededMm, n.longestMm - n.shortestMm + 10, within(1e-9, 'mm'));
    n.balance.forEach((b, c) => {
      const rows = o.tables[c]!.struts[0]!.balanceForceN;
      expectClose(b.closedN, rows[0]!, withinEither(1e-6, 1e-9, 'N'));
      expectClose(b.openN, rows.at(-1)!, withinEither(1e-6, 1e-9, 'N'));
      expectClose(b.greatestN, Math.max(...rows), withinEither(1e-6, 1e-9, 'N'));
    });
    expectClose(n.greatest!.forceN, Math.max(...n.balance.map((b) => b.greatestN!)), within(0, 'N'));
    expect(n.temperatureC).toEqual({ low: -5, high: 38 });
    expect(boundWords(n.force.least!)).toContain('(');
  });
  it('says so when the strut pushes along the lid, with the angle', () => {
    const flat = one({}, {}, { base: [-20, 395, 280], lid: [-480, 400, 300] });
    const n = needs(workings(flat));
    expect(n.pushing.along).toBe(true);
    expect(n.pushing.text).toMatch(/pushes along the lid instead of turning it: it stands only \d+°/);
    const good = needs(workings(one({ openDeg: 40 })));
    expect(good.pushing.along).toBe(false);
    // by hand: h = share·r for a strut square to the hinge, at the worst angle
    const table = workings(one({ openDeg: 40 })).tables[0]!.struts[0]!;
    const i = table.leverArmMm.reduce((best, v, k, all) => (v < all[best]! ? k : best), 0);
    expect(good.pushing.atDeg).toBe(i);
  });
  it('a strut that does not fit is judged with lengths made to fit, and it is said', () => {
    const n = needs(workings(one({}, { extendedMm: 900, strokeMm: 100 })));
    expect(n.body.madeToFit).toBe(true);
    expect(n.force.least).not.toBeNull();
  });
});

describe('force gradient', () => {
  const job = resolvedExample('tests/fixtures/jobs/workboat-hatch.lidjob');
  const gradient = forceGradient(workings(job));
  const leastAfter = (end: 'base' | 'lid', by: number): number => {
    const pull = gradient[end];
    const moved = movedPivot(job, 0, end, scale(pull.direction, by));
    const longest = (j: ResolvedJob): number => Math.max(...geometryOf(j).lengthMm);
    const shift = longest(moved) - longest(job);
    const spec = { ...job.struts[0]!.spec, extendedMm: job.struts[0]!.spec.extendedMm + shift };
    return forceWindowOf({ ...moved, struts: [{ ...moved.struts[0]!, spec }] }).least!.forceN;
  };
  it.each(['base', 'lid'] as const)(
    '%s: a unit direction, and a move along it lowers the least force as said',
    (end) => {
      const pull = gradient[end];
      expect(gradient.of).toBe('least-force');
      expectClose(Math.hypot(...pull.direction), 1, within(1e-9, '1'));
      const before = forceWindowOf(job).least!.forceN;
      expectClose(before - leastAfter(end, 0.5), pull.perTenMm / 20, withinEither(0.02, 0.1, 'N'));
      expect(leastAfter(end, -0.5)).toBeGreaterThan(before);
    },
  );
  it('refuses a job without a strut', () => {
    const bare = { ...job, struts: [] } as unknown as ResolvedJob;
    expect(refusal(() => geometryOf(bare)).what).toContain('no strut');
  });
});
