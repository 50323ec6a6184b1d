// The smallest gap over the travel against dense looking at random scenes; findings in words.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type EndSizes,
  type StrutSizes,
  obstacleSolid,
  smallestGap,
  spansOf,
  addObstacle,
  moveObstacle,
  removeObstacle,
} from '../../../core/clearance';
import { strutSizes, twinOf } from '../../../core/findings';
import { workings } from '../../../core/workings';
import { type Job, type Obstacle, jobIssues, resolveJob } from '../../../core/job';
import { rad, toRad } from '../../../core/space';
import { turned } from '../../../core/travel';
import { anyLid, point } from '../../support/arbitrary';
import { type V3, lid, planOf } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { deepFreeze } from '../../support/freeze';
import { inner, minus, plus, size, spin, times } from '../../support/naive';
import { refusal } from '../../support/refusal';
import { runs } from '../../support/tier';

const span = (min: number, max: number) => fc.integer({ min: min * 100, max: max * 100 }).map((n) => n / 100);
const end: fc.Arbitrary<EndSizes> = fc.record({
  headRadiusMm: span(5, 15),
  shankRadiusMm: span(3, 9),
  offsetMm: span(15, 45),
});
const sizes: fc.Arbitrary<StrutSizes> = fc.record({
  tubeMm: span(15, 40),
  rodMm: span(5, 14),
  rodAt: fc.constantFrom('base' as const, 'lid' as const),
  base: end,
  lid: end,
});
const obstacle: fc.Arbitrary<Obstacle> = fc.oneof(
  fc.record({
    id: fc.constant('o'),
    on: fc.constantFrom('base' as const, 'lid' as const),
    box: fc.record({
      centre: point(420),
      sizeMm: fc.tuple(span(20, 200), span(20, 200), span(20, 200)),
      rotationDeg: fc.tuple(span(-90, 90), span(-90, 90), span(-90, 90)),
    }),
  }),
  fc.record({
    id: fc.constant('o'),
    on: fc.constantFrom('base' as const, 'lid' as const),
    cylinder: fc
      .tuple(point(700), point(200), span(5, 90))
      .filter(([, d]) => size(d) > 5)
      .map(([from, d, radiusMm]) => ({ from, to: plus(from, d), radiusMm })),
  }),
);

/** Distance of a point to a box or cylinder, by formula. */
function off(o: Obstacle, at: V3): number {
  if (o.cylinder) {
    const { from, to, radiusMm } = o.cylinder;
    const way = minus(to as V3, from as V3);
    const h = inner(minus(at, from as V3), way) / size(way);
    const r = size(minus(minus(at, from as V3), times(way, h / size(way))));
    return Math.hypot(Math.max(0, r - radiusMm), Math.max(0, -h, h - size(way)));
  }
  const { centre, sizeMm, rotationDeg } = o.box!;
  const back = [2, 1, 0].reduce<V3>(
    (w, k) => spin(w, [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0], (-rotationDeg![k]! * Math.PI) / 180),
    minus(at, centre as V3),
  );
  return Math.hypot(...back.map((x, k) => Math.max(0, Math.abs(x) - sizeMm[k]! / 2)));
}

/** Every part of the strut at many angles and many places along it: no answer may be beaten. */
function dense(job: Job, sz: StrutSizes, o: Obstacle, freeMm: number, angles: number): number {
  const plan = planOf(job);
  const strut = plan.struts[0]!;
  const { origin, opening } = plan.axis;
  let least = Infinity;
  for (let a = 0; a <= angles; a++) {
    const turn = toRad((plan.openDeg * a) / angles);
    let base = plus(origin as V3, strut.base as V3);
    let top = plus(origin as V3, turned(strut.lid, turn) as V3);
    if (o.on === 'lid')
      [base, top] = [base, top].map((p) => plus(origin as V3, spin(minus(p, origin as V3), opening as V3, -turn))) as [
        V3,
        V3,
      ];
    const length = size(minus(top, base));
    const u = times(minus(top, base), 1 / length);
    for (const s of spansOf(strut, sz, length))
      for (let i = 0; i <= 60; i++) {
        const at = s.fromMm + ((s.toMm - s.fromMm) * i) / 60;
        if ((o.on === 'base' ? at : length - at) < freeMm) continue;
        least = Math.min(least, off(o, plus(base, times(u, at))) - s.radiusMm);
      }
  }
  return least;
}

describe('smallest gap over the travel', () => {
  it('is never over what dense looking finds, and no further under it than that can miss, on random scenes', () => {
    const SCENES = runs(100, 40);
    let touching = 0;
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 1 } }),
        sizes,
        obstacle,
        fc.constantFrom(0, 0, 40),
        (job, sz, o, freeMm) => {
          const plan = planOf(job);
          const found = smallestGap(plan, plan.struts[0]!, sz, obstacleSolid(o), { on: o.on, freeMm })!;
          const seen = dense(job, sz, o, freeMm, 160);
          if (found.gapMm < 0) touching++;
          expect(found.gapMm).toBeLessThanOrEqual(seen + found.withinMm + 1e-6);
          expect(found.withinMm).toBeLessThan(0.06 + 0.021 * Math.abs(found.gapMm));
          // dense looking steps over up to half an angle step and half a place step
          const arm = Math.max(size(plan.struts[0]!.lid.even as V3), size(plan.struts[0]!.base as V3));
          const step = (arm * ((plan.openDeg / 160) * Math.PI)) / 360 + 12;
          expect(found.gapMm).toBeGreaterThan(seen - step);
        },
      ),
      { seed: 20261125, numRuns: SCENES },
    );
    expect(touching).toBeGreaterThan(0.02 * SCENES);
  });
  it('says between which points, at which angle: looked at again there, the gap is that', () => {
    fc.assert(
      fc.property(anyLid({ struts: { min: 1, max: 1 } }), sizes, obstacle, (job, sz, o) => {
        const plan = planOf(job);
        const found = smallestGap(plan, plan.struts[0]!, sz, obstacleSolid(o), { on: o.on })!;
        const radius = spansOf(plan.struts[0]!, sz, 300).find((s) => s.part === found.part)!.radiusMm;
        expectClose(size(minus(found.onStrut as V3, found.onSolid as V3)) - radius, found.gapMm, within(1e-6, 'mm'));
        expect(found.atDeg).toBeGreaterThanOrEqual(0);
        expect(found.atDeg).toBeLessThanOrEqual(plan.openDeg);
        const turn = toRad(found.atDeg);
        const own =
          o.on === 'base'
            ? (found.onSolid as V3)
            : plus(
                plan.axis.origin as V3,
                spin(minus(found.onSolid as V3, plan.axis.origin as V3), plan.axis.opening as V3, -turn),
              );
        expectClose(off(o, own), 0, within(1e-6, 'mm'));
        const [a, b] = [
          plus(plan.axis.origin as V3, plan.struts[0]!.base as V3),
          plus(plan.axis.origin as V3, turned(plan.struts[0]!.lid, turn) as V3),
        ];
        expectClose(
          size(minus(found.onStrut as V3, a)) + size(minus(found.onStrut as V3, b)),
          size(minus(a, b)),
          within(1e-6, 'mm'),
        );
      }),
      { seed: 20261125, numRuns: runs(100) },
    );
  });
  it('tube and rod share what the joints leave, whichever way round the strut hangs', () => {
    const strut = { extendedMm: 500, strokeMm: 200 };
    const joint = { headRadiusMm: 9, shankRadiusMm: 6, offsetMm: 30 };
    const at = (rodAt: 'base' | 'lid', length: number) =>
      spansOf(strut, { tubeMm: 20, rodMm: 8, rodAt, base: joint, lid: joint }, length);
    for (const rodAt of ['base', 'lid'] as const)
      for (const length of [300, 400, 500]) {
        const spans = at(rodAt, length);
        const tube = spans.find((s) => s.part === 'tube')!;
        // 300 compressed less two shanks of 30, less two round ends set in by 5
        expectClose(tube.toMm - tube.fromMm, 230, within(1e-9, 'mm'));
        expectClose(rodAt === 'lid' ? tube.fromMm : length - tube.toMm, 35, within(1e-9, 'mm'));
        expect(spans.every((s) => s.fromMm >= 0 && s.toMm <= length && s.toMm >= s.fromMm)).toBe(true);
      }
  });
  it('a mirrored twin is the mirror image at every angle', () => {
    fc.assert(
      fc.property(
        anyLid({ struts: { min: 1, max: 1 } }),
        fc.double({ min: 0, max: 2, noNaN: true }).map(rad),
        (job, turn) => {
          const plan = planOf(job);
          const strut = plan.struts[0]!;
          const twin = twinOf(plan, strut);
          const { along, spanMm } = plan.axis;
          for (const [p, q] of [
            [strut.base, twin.base],
            [turned(strut.lid, turn), turned(twin.lid, turn)],
          ] as [V3, V3][]) {
            expectClose(inner(p, along as V3) + inner(q, along as V3), spanMm, within(1e-6, 'mm'));
            const d = minus(p, q);
            expectClose(size(minus(d, times(along as V3, inner(d, along as V3)))), 0, within(1e-6, 'mm'));
          }
        },
      ),
      { seed: 20261125, numRuns: runs(500) },
    );
  });
});

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
      spec: { forceN: 700, extendedMm: 600, strokeMm: 280, tubeMm: 22, rodMm: 10 },
    },
  ],
});
const named: Job = {
  ...plain,
  struts: [
    {
      ...plain.struts[0]!,
      ends: {
        base: { ...plain.struts[0]!.ends.base, fitting: 'angled-ball-13-m8' },
        lid: { ...plain.struts[0]!.ends.lid, fitting: 'angled-ball-13-m8' },
      },
    },
  ],
};
const wall = (y: number): Job['obstacles'] => [
  { id: 'wall', name: 'Bulkhead', on: 'base', box: { centre: [-200, y, 150], sizeMm: [900, 10, 900] } },
];
const findingsOf = (j: Job) => workings(resolveJob(j)).findings.filter((f) => f.id.startsWith('clearance'));

describe('clearance findings', () => {
  it('a wall beside the strut: the tube’s gap by hand, held against the limit', () => {
    // the strut swings in the plane y = 395; the wall's face at y − 5 off it; the tube is 11 thick about its line
    for (const [y, state] of [
      [430, 'holds'],
      [414.5, 'watch'],
      [413, 'fails'],
      [405, 'fails'],
    ] as const) {
      const [f] = findingsOf({ ...named, obstacles: wall(y) });
      expect([f!.id, f!.subject, f!.state]).toEqual(['clearance-wall', 's0', state]);
      expectClose(f!.value, y - 5 - 395 - 11, within(1e-6, 'mm'));
      expect([f!.limit, f!.unit]).toEqual([3, 'mm']);
    }
    const [hit] = findingsOf({ ...named, obstacles: wall(405) });
    expect(hit!.text).toMatch(/tube, runs into Bulkhead: 6\.0 mm or more deep/);
    const [own] = findingsOf({ ...named, obstacles: wall(413), limits: { clearanceMm: 1.5 } });
    expect([own!.state, own!.limit]).toEqual(['watch', 1.5]);
  });
  it('a pair’s twin is looked at as well', () => {
    const twin: Job = { ...named, struts: [{ ...named.struts[0]!, quantity: 2 }], obstacles: wall(-413) };
    expect(findingsOf(twin)[0]!.text).toContain('(its twin)');
    expect(findingsOf({ ...named, obstacles: wall(-413) })[0]!.state).toBe('holds');
  });
  it('the lid’s own panel: cut through where the strut passes its plane, let be round the pivot', () => {
    const corners: [string, V3][] = [
      ['c1', [-20, 450, 280]],
      ['c2', [-900, 450, 280]],
      ['c3', [-900, -450, 280]],
      ['c4', [-20, -450, 280]],
    ];
    const flat: Job = {
      ...named,
      travel: { openDeg: 20, stop: 'lid' },
      points: [...named.points, ...corners.map(([id, at]) => ({ id, on: 'lid' as const, at }))],
      outline: corners.map(([id]) => id),
    };
    const panel = (j: Job) => findingsOf(j).find((f) => f.id === 'clearance-panel')!;
    // the pivot lies 10 over the panel, the strut comes from below: it goes through, but only within 60 mm of the pivot
    expect(panel({ ...flat, panel: { freeMm: 0 } }).state).toBe('fails');
    expect(panel(flat).state).toBe('holds');
    const thick = panel({ ...flat, panel: { thicknessMm: 30, freeMm: 60 } });
    expectClose(panel({ ...flat, panel: { thicknessMm: 0, freeMm: 60 } }).value! - thick.value!, 15, within(0.6, 'mm'));
  });
  it('a joint whose size nobody named can warn, not condemn', () => {
    const block: Job['obstacles'] = [
      { id: 'b', on: 'base', box: { centre: [-90, 395 + 12, 20], sizeMm: [10, 8, 10] } },
    ];
    const [assumed] = findingsOf({ ...plain, obstacles: block });
    const [sure] = findingsOf({ ...named, obstacles: block });
    expect([assumed!.state, sure!.state]).toEqual(['watch', 'fails']);
    expect(assumed!.advice).toContain('size is assumed');
    // the ball joint's head is 19.3 thick; the block's face 8 off its middle
    expectClose(sure!.value, 8 - 9.65, within(1e-6, 'mm'));
  });
  it('strut sizes: rod at the lower end where the job says nothing', () => {
    expect(strutSizes(planOf(plain), 0).rodAt).toBe('base');
    expect(strutSizes(planOf({ ...plain, struts: [{ ...plain.struts[0]!, rodAt: 'lid' }] }), 0).rodAt).toBe('lid');
  });
});

describe('obstacles in a job', () => {
  it('what is no solid is refused, with its path', () => {
    const said = (o: object) =>
      jobIssues(resolveJob({ ...plain, obstacles: [{ id: 'x', on: 'base', ...o }] } as Job)).map((i) =>
        i.where.join('.'),
      );
    const traced = (corners: number[][], depthMm = [0, 5]) => ({ traced: { view: 'side', corners, depthMm } });
    expect(said({})).toEqual(['obstacles.0']);
    expect(said({ cylinder: { from: [1, 2, 3], to: [1, 2, 3], radiusMm: 4 } })).toEqual(['obstacles.0.cylinder.to']);
    expect(
      said({
        cylinder: { from: [1, 2, 3], to: [1, 2, 9], radiusMm: 4 },
        box: { centre: [0, 0, 0], sizeMm: [1, 2, 3] },
      }),
    ).toEqual(['obstacles.0']);
    expect(
      said(
        traced([
          [0, 0],
          [5, 0],
        ]),
      ),
    ).toEqual(['obstacles.0.traced.corners']);
    expect(
      said(
        traced([
          [0, 0],
          [9, 7],
          [9, 0],
          [0, 7],
        ]),
      ),
    ).toEqual(['obstacles.0.traced.corners.2']);
    expect(
      said(
        traced([
          [0, 0],
          [9, 0],
          [9, 0],
          [0, 7],
        ]),
      ),
    ).toEqual(['obstacles.0.traced.corners.1']);
    expect(
      said(
        traced(
          [
            [0, 0],
            [9, 0],
            [0, 7],
          ],
          [4, 4],
        ),
      ),
    ).toEqual(['obstacles.0.traced.depthMm']);
    expect(
      said(
        traced([
          [0, 0],
          [9, 0],
          [4, 3],
          [0, 7],
        ]),
      ),
    ).toEqual([]);
  });
  it('are added, moved and removed, each a new job', () => {
    const start = deepFreeze(plain);
    const one = addObstacle(start, {
      obstacle: {
        name: 'Pipe',
        on: 'base',
        cylinder: { from: [1, 2, 3], to: [4, { expression: '5 + 1' }, 6], radiusMm: 7 },
      },
    });
    const [pipe] = deepFreeze(one).obstacles!;
    expect(pipe!.id).toBe('obstacle');
    const moved = moveObstacle(one, { id: 'obstacle', by: [10, 20, 30] }).obstacles![0]!.cylinder!;
    expect(moved.from).toEqual([11, 22, 33]);
    expect(moved.to).toEqual([14, { expression: '5 + 1' }, 36]);
    expect(removeObstacle(one, { id: 'obstacle' }).obstacles).toEqual([]);
    const trace = addObstacle(start, {
      obstacle: {
        on: 'lid',
        traced: {
          view: 'front',
          corners: [
            [0, 0],
            [9, 0],
            [0, 7],
          ],
          depthMm: [1, 2],
        },
      },
    });
    expect(moveObstacle(trace, { id: 'obstacle', by: [100, 20, 3] }).obstacles![0]!.traced).toEqual({
      view: 'front',
      corners: [
        [20, 3],
        [29, 3],
        [20, 10],
      ],
      depthMm: [101, 102],
    });
    expect(refusal(() => removeObstacle(start, { id: 'no' })).where).toEqual(['obstacles']);
    expect(refusal(() => moveObstacle(one, { id: 'obstacle', by: [NaN, 0, 0] })).where).toEqual(['obstacles', 0]);
  });
});
