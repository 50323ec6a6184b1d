import { describe, expect, it } from 'vitest';
import { resolveJob } from '../../../core/job';
import { type Vec3, add, cross, dot, norm, toRad, rotateVec, scale, sub, unit } from '../../../core/space';
import { STANDARD_GRAVITY } from '../../../core/quantity';
import {
  type PullGeometry,
  type PullReading,
  type Weighing,
  applyMassProposal,
  expectedPullN,
  firstMomentFromPulls,
  knownItems,
  massFromWeighings,
  proposalFromLifted,
  proposalFromPulls,
  pullGeometry,
  withoutKnown,
} from '../../../core/weigh';
import { expectClose, within, withinEither } from '../../support/close';
import { jobAt } from '../../support/files';
import { planOf } from '../../support/build';
import { refusal } from '../../support/refusal';
import { CHI95, random, squaredDistance } from '../photo/random';

const g = STANDARD_GRAVITY;
/** Hinge along Y at x = 30, z = 400; the lid lies towards −X and opens upwards. */
const geometry: PullGeometry = {
  originMm: [30, 440, 400],
  opening: [0, 1, 0],
  gripMm: [-870, 35, 425],
  up: [0, 0, 1],
};

describe('published statics', () => {
  // A-level exercise, thestudentroom.co.uk thread 1494093 (read; g = 9.8 there): a 12 kg hatch hinged at one edge, upright force
  // at the middle of the opposite edge: 6 g at any opening.
  const hatch: PullGeometry = { ...geometry, originMm: [0, 0, 0], gripMm: [-700, 0, 0] };
  it.each([0, 17, 44, 71])('a 12 kg hatch is held at its far edge by 6 g, at %i°', (angleDeg) => {
    const n = expectedPullN(hatch, { acrossKgMm: 12 * 350, uprightKgMm: 0 }, { angleDeg, pull: 'upright' });
    expectClose(n, 6 * g, within(1e-9, 'N'));
  });
  it('and two such readings give 12 kg at half the width', () => {
    const moment = firstMomentFromPulls(
      hatch,
      [10, 50].map((angleDeg) => ({ angleDeg, forceN: 6 * g, sigmaN: 1, pull: 'upright' })),
    );
    const found = proposalFromPulls(moment, hatch, { acrossMm: 350, sigmaMm: 0 }, [0, 0, 0]);
    expectClose(found.kg, 12, within(1e-9, 'kg'));
    expectClose(found.at, [-350, 0, 0], within(1e-9, 'mm'));
  });

  // The axle-lift method for the height of a vehicle's centre of gravity, as in ISO 10392 (from memory):
  // h = L·ΔF / (W·tan θ) above the line of the supports.
  it('tilting about the supports gives the height by the axle-lift formula', () => {
    const span = 820;
    const weight = 31 * g;
    const flat = 0.42 * weight;
    const tilt = toRad(28);
    const raised = flat + 14.5;
    const found = massFromWeighings(
      [
        { up: [0, 0, 1], supports: pair([0, 0, 0], flat, [span, 0, 0], weight - flat) },
        { up: [-Math.sin(tilt), 0, Math.cos(tilt)], supports: pair([0, 0, 0], raised, [span, 0, 0], weight - raised) },
      ],
      [0, 33, 0],
    );
    const height = (span * 14.5) / (weight * Math.tan(tilt));
    expectClose(found.kg, 31, within(1e-9, 'kg'));
    // the support at x = 0 stands higher and carries more than lying flat: the weight hangs below the line of the supports
    expectClose(found.atMm, [0.58 * span, 33, -height], within(1e-6, 'mm'));
  });
});

function pair(a: Vec3, fa: number | null, b: Vec3, fb: number | null, sigmaN = 1): Weighing['supports'] {
  return [
    { atMm: a, forceN: fa, sigmaN },
    { atMm: b, forceN: fb, sigmaN },
  ];
}

/** Where the weight's line passes, by turning the lid itself: an independent way to the same readings. */
function pullBySum(at: Vec3, kg: number, angleDeg: number, pull: PullReading['pull'], geo = geometry): number {
  const turnedTo = (p: Vec3): Vec3 => rotateVec(sub(p, geo.originMm), geo.opening, toRad(angleDeg));
  const weight = dot(geo.opening, cross(turnedTo(at), scale(geo.up, -kg * g)));
  const grip = turnedTo(geo.gripMm);
  const direction = pull === 'upright' ? geo.up : unit(cross(geo.opening, grip));
  return -weight / dot(geo.opening, cross(grip, direction));
}

describe('pulls at the grip', () => {
  const at: Vec3 = [-395, 12, 470];
  const kg = 41;
  const pulls = (noise: () => number = () => 0, sigmaN = 3): PullReading[] =>
    (
      [
        [4, 'square'],
        [25, 'upright'],
        [48, 'square'],
        [63, 'upright'],
      ] as const
    ).map(([angleDeg, pull]) => ({
      angleDeg,
      pull,
      forceN: pullBySum(at, kg, angleDeg, pull) + noise(),
      sigmaN,
    }));

  it('give the first moment exactly from exact readings, square or upright, base sloping too', () => {
    for (const up of [[0, 0, 1], unit([0.12, -0.07, 1])] as Vec3[]) {
      const geo = { ...geometry, up };
      const moment = firstMomentFromPulls(
        geo,
        pulls().map((p) => ({ ...p, forceN: pullBySum(at, kg, p.angleDeg, p.pull, geo) })),
      );
      const arm = sub(at, geo.originMm);
      expectClose(moment.acrossKgMm, kg * dot(arm, moment.acrossAxis), within(1e-6, 'kg·mm'));
      expectClose(moment.uprightKgMm, kg * dot(arm, moment.uprightAxis), within(1e-6, 'kg·mm'));
      expectClose(moment.residualsN, [0, 0, 0, 0], within(1e-9, 'N'));
    }
  });

  it('agree with the kernel’s weight moment on every example job', () => {
    for (const name of ['workboat-hatch', 'trailer-locker']) {
      const job = jobAt(`assets/examples/${name}.lidjob`);
      const plan = planOf({ ...job, loadCases: [{ id: 'plain' }] });
      const geo = pullGeometry(resolveJob(job));
      const s = plan.firstMoment;
      const total = add(s.fixed, s.even);
      const axes = firstMomentFromPulls(
        geo,
        [0, 40].map((angleDeg) => ({ angleDeg, forceN: 10, sigmaN: 1, pull: 'square' })),
      );
      const moment = { acrossKgMm: dot(total, axes.acrossAxis), uprightKgMm: dot(total, axes.uprightAxis) };
      for (const angleDeg of [0, 21, 55]) {
        const turned = add(
          add(s.fixed, scale(s.even, Math.cos(toRad(angleDeg)))),
          scale(s.odd, Math.sin(toRad(angleDeg))),
        );
        const weight = dot(geo.opening, cross(turned, [0, 0, -g]));
        expectClose(
          expectedPullN(geo, moment, { angleDeg, pull: 'square' }),
          -weight / plan.gripRadiusMm,
          within(1e-9, 'N'),
        );
      }
    }
  });

  it('do not give the mass: twice the mass at half the arm pulls the same', () => {
    const half = add(geometry.originMm, scale(sub(at, geometry.originMm), 0.5));
    for (const p of pulls()) expectClose(pullBySum(half, 2 * kg, p.angleDeg, p.pull), p.forceN, within(1e-9, 'N'));
  });

  it('cover the truth in 92–98 % of 1500 runs: moment; place with the mass known; mass with the arm known', () => {
    const rng = random(77);
    const runs = 1500;
    const arm = sub(at, geometry.originMm);
    let moments = 0;
    let places = 0;
    let masses = 0;
    for (let run = 0; run < runs; run++) {
      const readings = pulls().map((p) => {
        const off = rng.normal(0.8);
        return { ...p, sigmaDeg: 0.8, forceN: pullBySum(at, kg, p.angleDeg + off, p.pull) + rng.normal(3) };
      });
      const moment = firstMomentFromPulls(geometry, readings);
      const error = [
        moment.acrossKgMm - kg * dot(arm, moment.acrossAxis),
        moment.uprightKgMm - kg * dot(arm, moment.uprightAxis),
      ];
      if (squaredDistance(error, moment.covariance) < CHI95[1]) moments++;
      const byMass = proposalFromPulls(moment, geometry, { kg: kg + rng.normal(0.5), sigmaKg: 0.5 }, at);
      const e = sub(byMass.at, at);
      const c = byMass.covariance;
      if (
        squaredDistance(
          [e[0], e[2]],
          [
            [c[1]![1]!, c[1]![3]!],
            [c[3]![1]!, c[3]![3]!],
          ],
        ) < CHI95[1]
      )
        places++;
      const byArm = proposalFromPulls(
        moment,
        geometry,
        { acrossMm: dot(arm, moment.acrossAxis) + rng.normal(4), sigmaMm: 4 },
        at,
      );
      const d = byArm.covariance;
      const off = [byArm.kg - kg, byArm.at[2] - at[2]];
      if (
        squaredDistance(off, [
          [d[0]![0]!, d[0]![3]!],
          [d[3]![0]!, d[3]![3]!],
        ]) < CHI95[1]
      )
        masses++;
    }
    for (const share of [moments, places, masses].map((n) => n / runs)) {
      expect(share).toBeGreaterThan(0.92);
      expect(share).toBeLessThan(0.98);
    }
  });

  it('a misread scale shows in its own w', () => {
    const rng = random(12);
    const readings = [...pulls(() => rng.normal(1), 1), ...pulls(() => rng.normal(1), 1)];
    const wrong = readings.map((p, i) => (i === 2 ? { ...p, forceN: p.forceN + 15 } : p));
    const w = firstMomentFromPulls(geometry, wrong).w.map((v) => Math.abs(v!));
    expect(w.indexOf(Math.max(...w))).toBe(2);
    expect(w[2]).toBeGreaterThan(3.29);
  });

  it('refuse what can’t tell', () => {
    const one = pulls().slice(0, 1);
    expect(refusal(() => firstMomentFromPulls(geometry, one)).what).toMatch(/one pull alone/);
    expect(refusal(() => firstMomentFromPulls(geometry, [...one, { ...one[0]!, angleDeg: 6 }])).what).toMatch(
      /within 2\.0°/,
    );
    expect(refusal(() => firstMomentFromPulls({ ...geometry, opening: [0, 0, 1] }, pulls())).what).toMatch(
      /stands upright/,
    );
    expect(
      refusal(() => firstMomentFromPulls(geometry, [...one, { ...one[0]!, angleDeg: 91, pull: 'upright' }])).what,
    ).toMatch(/no arm/);
    expect(
      refusal(() => firstMomentFromPulls(geometry, [...one, { ...one[0]!, angleDeg: 40, sigmaN: 0 }])).what,
    ).toMatch(/σ/);
    const moment = firstMomentFromPulls(geometry, pulls());
    expect(refusal(() => proposalFromPulls(moment, geometry, { kg: 0, sigmaKg: 1 }, at)).what).toMatch(/0 kg/);
  });
});

describe('a lid lifted off', () => {
  const at: Vec3 = [-395, 12, 452];
  const kg = 36.5;
  const front: Vec3 = [-900, 0, 402];
  const back: Vec3 = [-40, 0, 405];
  const portside: Vec3 = [-400, 460, 405];
  const starboard: Vec3 = [-420, -450, 405];

  /** Readings by moments about each support's own foot, the lid turned into its attitude. */
  const weigh = (p: Vec3, q: Vec3, up: Vec3): [number, number] => {
    const u = unit(up);
    const e = unit(cross(u, sub(p, q)));
    const about = (foot: Vec3, other: Vec3): number => {
      const weight = dot(e, cross(sub(at, foot), scale(u, -kg * g)));
      return -weight / dot(e, cross(sub(other, foot), u));
    };
    return [about(q, p), about(p, q)];
  };
  const tilted = (deg: number, about: Vec3): Vec3 => rotateVec([0, 0, 1], unit(about), toRad(deg));
  const weighing = (p: Vec3, q: Vec3, up: Vec3, n: () => number = () => 0, sigmaN = 2): Weighing => {
    const [a, b] = weigh(p, q, up);
    return { up, supports: pair(p, a + n(), q, b + n(), sigmaN) };
  };

  it('two edges in two attitudes: mass, place across and height; the third direction is taken as assumed and named', () => {
    const found = massFromWeighings(
      [weighing(front, back, [0, 0, 1]), weighing(front, back, tilted(35, [0, 1, 0]))],
      [0, 25, 0],
    );
    expectClose(found.kg, kg, within(1e-9, 'kg'));
    expectClose(found.atMm, [at[0], 25, at[2]], within(1e-6, 'mm'));
    expect(found.assumed).toHaveLength(1);
    expectClose(Math.abs(found.assumed[0]![1]), 1, within(1e-9, '1'));
    expectClose(found.sigmaMm[1], 0, within(1e-9, 'mm'));
    expect(proposalFromLifted(found).text).toMatch(/One direction was not measured/);
  });

  it('the other two edges as well: the whole place', () => {
    const found = massFromWeighings(
      [
        weighing(front, back, [0, 0, 1]),
        weighing(front, back, tilted(35, [0, 1, 0])),
        weighing(portside, starboard, [0, 0, 1]),
      ],
      [0, 0, 0],
    );
    expectClose(found.atMm, at, within(1e-6, 'mm'));
    expect(found.assumed).toHaveLength(0);
  });

  it('one scale and a block: three readings are enough, two are not', () => {
    const flat = weighing(front, back, [0, 0, 1]);
    const up = weighing(front, back, tilted(35, [0, 1, 0]));
    const onlyFront = (w: Weighing): Weighing => ({
      ...w,
      supports: [w.supports[0], { ...w.supports[1], forceN: null }],
    });
    const three = massFromWeighings([flat, onlyFront(up)], at);
    expectClose(three.atMm, at, within(1e-6, 'mm'));
    expect(three.spare).toBe(0);
    expect(refusal(() => massFromWeighings([onlyFront(flat), onlyFront(up)], at)).what).toMatch(
      /2 scale readings can’t/,
    );
  });

  it('flat only: mass and place across, height as assumed', () => {
    const found = massFromWeighings([weighing(front, back, [0, 0, 1])], [0, 7, 430]);
    expectClose(found.kg, kg, within(1e-9, 'kg'));
    expectClose([found.atMm[0], found.atMm[1], found.atMm[2]], [at[0], 7, 430], within(0.2, 'mm'));
    expect(found.assumed).toHaveLength(2);
  });

  it('covers the truth in 92–98 % of 1500 runs: scales, tilt and places of the supports all scattering', () => {
    const rng = random(31);
    const runs = 1500;
    let inside = 0;
    const tilt = 40;
    for (let run = 0; run < runs; run++) {
      const one = (deg: number, p: Vec3, q: Vec3, about: Vec3): Weighing => {
        const along = unit(sub(p, q));
        const [a, b] = weigh(
          add(p, scale(along, rng.normal(3))),
          add(q, scale(along, rng.normal(3))),
          tilted(deg + rng.normal(0.5), about),
        );
        return {
          up: tilted(deg, about),
          supports: pair(p, a + rng.normal(2), q, b + rng.normal(2), 2),
          sigmaTiltDeg: 0.5,
          sigmaAtMm: 3,
        };
      };
      const found = massFromWeighings(
        [one(0, front, back, [0, 1, 0]), one(tilt, front, back, [0, 1, 0]), one(0, portside, starboard, [1, 0, 0])],
        [0, 0, 400],
      );
      const e = [found.kg - kg, ...sub(found.atMm, at)];
      if (squaredDistance(e, found.covariance) < CHI95[3]) inside++;
    }
    expect(inside / runs).toBeGreaterThan(0.92);
    expect(inside / runs).toBeLessThan(0.98);
  });

  it('refuses supports above one another, a σ of 0, and readings of the wrong sign', () => {
    expect(refusal(() => massFromWeighings([weighing(front, back, [1, 0, 0.003])], at)).what).toMatch(
      /above the other/,
    );
    const zero = weighing(front, back, [0, 0, 1], () => 0, 0);
    expect(refusal(() => massFromWeighings([zero], at)).what).toMatch(/σ is not over 0/);
    const minus: Weighing = { up: [0, 0, 1], supports: pair(front, -100, back, -120) };
    expect(refusal(() => massFromWeighings([minus], at)).what).toMatch(/mass of -22/);
  });
});

describe('a weighing as a mass item', () => {
  const job = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
  const resolved = resolveJob(job);
  const all = knownItems(resolved, null);
  const kg = all.reduce((s, i) => s + i.kg, 0);
  const at = scale(
    all.reduce<Vec3>((s, i) => add(s, scale(i.atMm, i.kg)), [0, 0, 0]),
    1 / kg,
  );
  const whole = {
    kg,
    at,
    sigma: { kg: 0.4, atMm: [5, 0, 8] as Vec3 },
    covariance: [
      [0.16, 0, 0, 0],
      [0, 25, 0, 0],
      [0, 0, 0, 0],
      [0, 0, 0, 64],
    ],
    assumed: [],
    text: '',
  };

  it('less the known items leaves the one that was asked for, with more scatter in its place', () => {
    const wanted = resolved.masses[0]!;
    const left = withoutKnown(whole, knownItems(resolved, wanted.id));
    expectClose(left.kg, wanted.kg, within(1e-9, 'kg'));
    expectClose(left.at, resolved.points.find((p) => p.id === wanted.at)!.at, within(1e-6, 'mm'));
    expect(norm(left.sigma.atMm)).toBeGreaterThan(norm(whole.sigma.atMm));
    expect(refusal(() => withoutKnown({ ...whole, kg: 3 }, all)).what).toMatch(/items on it already/);
  });

  it('corrects a mass and its point, or adds one; the job given stays as it was', () => {
    const before = JSON.stringify(job);
    const wanted = job.masses[0]!;
    const proposal = { ...whole, kg: 27.4321, at: [-455.04, 3.02, 391.96] as Vec3 };
    const corrected = resolveJob(applyMassProposal(job, { proposal, massId: wanted.id }));
    expectClose(corrected.masses[0]!.kg, 27.432, within(1e-12, 'kg'));
    expectClose(corrected.points.find((p) => p.id === corrected.masses[0]!.at)!.at, [-455, 3, 392], within(1e-9, 'mm'));
    const added = resolveJob(applyMassProposal(job, { proposal, name: 'Ladder' }));
    expect(added.masses).toHaveLength(job.masses.length + 1);
    expect(added.masses.at(-1)!.name).toBe('Ladder');
    expect(JSON.stringify(job)).toBe(before);
    expect(refusal(() => applyMassProposal(job, { proposal, massId: 'nobody' })).what).toMatch(/nobody/);
  });

  it('gives the mass a point of its own where others use its point too', () => {
    const shared = { ...job, masses: [job.masses[0]!, { ...job.masses[1]!, at: job.masses[0]!.at }] };
    const done = applyMassProposal(shared, { proposal: { ...whole, at: [-100, 1, 2] }, massId: job.masses[0]!.id });
    expect(done.masses[0]!.at).not.toBe(job.masses[0]!.at);
    expect(done.masses[1]!.at).toBe(job.masses[0]!.at);
    expect(done.points.find((p) => p.id === job.masses[0]!.at)).toEqual(
      job.points.find((p) => p.id === job.masses[0]!.at),
    );
  });

  it('refuses to overwrite a number that a given holds', () => {
    const held = { ...job, masses: job.masses.map((m, i) => (i === 0 ? { ...m, kg: { expression: '20 + 8' } } : m)) };
    expect(refusal(() => applyMassProposal(held, { proposal: whole, massId: job.masses[0]!.id })).what).toMatch(
      /given or an expression/,
    );
  });
});

it('a pull of a kilogram scale is its kilograms times g', () => {
  // common practice: luggage and bathroom scales show force over standard gravity
  expectClose(
    expectedPullN(
      { ...geometry, originMm: [0, 0, 0], gripMm: [-1000, 0, 0] },
      { acrossKgMm: 12500, uprightKgMm: 0 },
      { angleDeg: 0, pull: 'square' },
    ) / g,
    12.5,
    withinEither(1e-12, 0, 'kgf'),
  );
});
