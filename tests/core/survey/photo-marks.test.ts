// Marks on photos in the same adjustment as tape readings. Cameras are those of the rendered photos, or stand nearer.
import { Matrix, inverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { type Job, type JobPhoto, movePoint, resolveJob, setPhoto } from '../../../core/job';
import { type Camera, type Plane2, lookingCamera, projectPoint } from '../../../core/photo';
import { type Vec3, distance, toRad } from '../../../core/space';
import {
  adjustSurvey,
  applySurvey,
  datumOf,
  ellipsoidFactor,
  setObservation,
  useObservation,
} from '../../../core/survey';
import { openingAxis, poseAt } from '../../../core/travel';
import { expectClose, within } from '../../support/close';
import { runs } from '../../support/tier';
import { example } from '../examples/example';
import { truth } from '../photo/truth';
import { normal, seeded } from './simulate';

const KNOWN = ['hingeA', 'hingeB', 'c1', 'c2', 'c3', 'c4', 'grip'];
const SOUGHT = ['s1-base', 's1-lid'];
const base = example('workboat-hatch');
const resolved = resolveJob(base);
const trueAt = (id: string): Vec3 => resolved.points.find((p) => p.id === id)!.at;

interface Shot {
  readonly id: string;
  readonly camera: Camera;
  readonly size: Plane2;
  readonly extra?: Partial<JobPhoto>;
  readonly atDeg?: number;
}

/** The two rendered photos. */
const RENDERED: readonly Shot[] = [
  { id: 'side', camera: truth('workboat-side').camera, size: [1600, 1200] },
  { id: 'top', camera: truth('workboat-top').camera, size: [1600, 1200] },
];
/** Two phone photos of the strut's corner of the hatch, 1.5 m off, 60° apart. */
const NEAR: readonly Shot[] = [-30, 30].map((deg, i) => {
  const target: Vec3 = [-300, -300, 300];
  const [s, c] = [Math.sin(toRad(deg)), Math.cos(toRad(deg))];
  const eyeMm: Vec3 = [target[0] + 1300 * s, target[1] - 1300 * c, target[2] + 750];
  return {
    id: `near${i}`,
    camera: lookingCamera({ eyeMm, targetMm: target, up: [0, 0, 1], focalPx: 3000, widthPx: 4000, heightPx: 3000 }),
    size: [4000, 3000],
  };
});

/** A job with marks on photos; the sought points start 40 mm off. Noise in px from a seed; a slip adds to one mark. */
function marked(
  shots: readonly Shot[],
  args: { seed?: number; noisePx?: number; slip?: { id: string; by: Plane2 }; known?: readonly string[] } = {},
): Job {
  const random = seeded(args.seed ?? 1);
  const noise = args.noisePx ?? 0;
  const known = args.known ?? KNOWN;
  const axis = openingAxis(resolved);
  let job: Job = {
    ...base,
    photos: shots.map((s) => ({
      id: s.id,
      view: 'side' as const,
      source: { beside: 'p.jpg' },
      widthPx: s.size[0],
      heightPx: s.size[1],
      anchorPx: [0, 0],
      anchorMm: [0, 0],
      camera: { known: [...known], ...(s.atDeg === undefined ? {} : { atDeg: s.atDeg }) },
      ...s.extra,
    })),
    observations: shots.flatMap((s) =>
      [...KNOWN, ...SOUGHT].map((id) => {
        const lid = resolved.points.find((p) => p.id === id)!.on === 'lid';
        const at = lid && s.atDeg !== undefined ? poseAt(axis, trueAt(id), toRad(s.atDeg)) : trueAt(id);
        const px = projectPoint(s.camera, at);
        const name = `${s.id}-${id}`;
        const by = args.slip?.id === name ? args.slip.by : [0, 0];
        return {
          id: name,
          kind: 'photo-mark' as const,
          points: [id],
          photo: s.id,
          px: [px[0] + noise * normal(random) + by[0]!, px[1] + noise * normal(random) + by[1]!] as [number, number],
        };
      }),
    ),
  };
  for (const id of SOUGHT) {
    const at = trueAt(id);
    job = movePoint(job, { id, at: [at[0] + 40, at[1] - 30, at[2] + 20] });
  }
  return job;
}

const foundAt = (job: Job, id: string) => adjustSurvey(job).points.find((p) => p.id === id)!;

describe('points from two photos', () => {
  it('exact marks give exact points, poses and focal lengths; known points stay', () => {
    const result = adjustSurvey(marked(RENDERED));
    expect(result.reason).toBe('converged');
    for (const id of SOUGHT)
      expect(distance(result.points.find((p) => p.id === id)!.at, trueAt(id)), id).toBeLessThan(1e-3);
    for (const id of KNOWN) expect(result.points.find((p) => p.id === id)!.movedMm).toBe(0);
    result.cameras.forEach((c, i) => {
      expect(c.problem).toBeNull();
      expect(distance(c.camera!.eyeMm, RENDERED[i]!.camera.eyeMm)).toBeLessThan(0.05);
      expectClose(c.camera!.focalPx, RENDERED[i]!.camera.focalPx, within(0.05, 'px'));
    });
  });

  it('lie within 3 mm at 1.5 m with marks of 1 px, the focal length unknown', () => {
    const off: number[] = [];
    for (let seed = 1; seed <= 60; seed++) {
      const result = adjustSurvey(marked(NEAR, { seed, noisePx: 1 }));
      for (const id of SOUGHT) off.push(distance(result.points.find((p) => p.id === id)!.at, trueAt(id)));
    }
    off.sort((a, b) => a - b);
    console.log(
      `two photos at 1.5 m: median ${off[60]!.toFixed(2)} mm, worst of ${off.length} ${off.at(-1)!.toFixed(2)} mm`,
    );
    expect(off.at(-1)!).toBeLessThan(3);
  });

  it('the marks of the rendered photos themselves give the strut’s pivots', () => {
    const job = marked(RENDERED);
    const shown = new Map<string, Plane2>(
      RENDERED.flatMap((s) => truth(`workboat-${s.id}`).points.map((p) => [`${s.id}-${p.id}`, p.px] as const)),
    );
    const drawn = (job.observations ?? []).reduce(
      (next, o) => setObservation(next, { id: o.id, patch: { px: [...shown.get(o.id)!] } }),
      job,
    );
    for (const id of SOUGHT) expect(distance(foundAt(drawn, id).at, trueAt(id)), id).toBeLessThan(0.1);
  });

  it('a photo of the open lid gives the closed place of a lid point', () => {
    const shots = NEAR.map((s) => ({ ...s, atDeg: 35 }));
    for (const id of SOUGHT) expect(distance(foundAt(marked(shots), id).at, trueAt(id)), id).toBeLessThan(0.01);
  });

  it('a known focal length is held, or drawn to with its σ, or left aside when asked', () => {
    const focal = (sigmaPx: number | undefined, solveFocal: boolean) => {
      let job = marked(RENDERED, { noisePx: 1, seed: 3 });
      for (const s of RENDERED)
        job = setPhoto(job, {
          id: s.id,
          patch: {
            focal: { px: s.camera.focalPx + 200, from: 'typed', ...(sigmaPx === undefined ? {} : { sigmaPx }) },
            camera: { known: KNOWN, solveFocal },
          },
        });
      return adjustSurvey(job).cameras[0]!;
    };
    expect(focal(undefined, false).camera!.focalPx).toBe(RENDERED[0]!.camera.focalPx + 200);
    expect(focal(undefined, false).sigmaFocalPx).toBe(0);
    const drawn = focal(30, false);
    const free = focal(30, true);
    expect(drawn.sigmaFocalPx!).toBeLessThan(30);
    expect(free.sigmaFocalPx!).toBeGreaterThan(drawn.sigmaFocalPx!);
    expect(Math.abs(free.camera!.focalPx - RENDERED[0]!.camera.focalPx)).toBeLessThan(4 * free.sigmaFocalPx!);
  });

  it('one radial term is solved when asked', () => {
    const bent = NEAR.map((s) => ({
      ...s,
      camera: { ...s.camera, k1: -0.08 },
      extra: { camera: { known: KNOWN, radial: true } },
    }));
    const result = adjustSurvey(marked(bent));
    for (const c of result.cameras) expectClose(c.camera!.k1, -0.08, within(1e-6, 'k1'));
    expect(distance(result.points.find((p) => p.id === 's1-base')!.at, trueAt('s1-base'))).toBeLessThan(1e-3);
  });
});

describe('marks and tapes together', () => {
  const TAPES = (
    [
      ['hingeB', 's1-base'],
      ['hingeA', 's1-base'],
      ['c4', 's1-lid'],
      ['c3', 's1-lid'],
      ['s1-base', 's1-lid'],
    ] as const
  ).map((points, i) => ({ id: `tape${i}`, kind: 'tape' as const, points: [...points] }));
  /** Marks of 1 px and tapes of 1 mm. */
  function mixed(seed: number, slip?: { id: string; by: Plane2 }): Job {
    const job = marked(RENDERED, { seed, noisePx: 1, ...(slip ? { slip } : {}) });
    const random = seeded(seed + 7000);
    const tapes = TAPES.map((t) => ({
      ...t,
      valueMm: distance(trueAt(t.points[0]!), trueAt(t.points[1]!)) + normal(random),
    }));
    return { ...job, observations: [...job.observations!, ...tapes] };
  }

  it('mixed surveys: the true point lies inside its 95 % ellipsoid 92 to 98 % of the time', () => {
    const RUNS = runs(200, 50);
    let inside = 0;
    let all = 0;
    let scatter = 0;
    const limit = ellipsoidFactor(0.95) ** 2;
    for (let seed = 1; seed <= RUNS; seed++) {
      const result = adjustSurvey(mixed(seed));
      expect(result.reason, `seed ${seed}`).toBe('converged');
      scatter += result.s0! ** 2 / RUNS;
      for (const id of SOUGHT) {
        const p = result.points.find((q) => q.id === id)!;
        const off = Matrix.columnVector(p.at.map((v, k) => v - trueAt(id)[k]!));
        const square = off
          .transpose()
          .mmul(inverse(new Matrix(p.covariance!.map((row) => [...row]))))
          .mmul(off)
          .get(0, 0);
        all++;
        if (square <= limit) inside++;
      }
    }
    console.log(
      `mixed surveys: ${((100 * inside) / all).toFixed(1)} % of ${all} points inside, s₀² ${scatter.toFixed(3)}`,
    );
    expect(inside / all).toBeGreaterThan(0.92);
    expect(inside / all).toBeLessThan(0.98);
    expectClose(scatter, 1, within(0.06, 's₀²'));
  });

  it('tapes and marks sharpen one another', () => {
    const both = foundAt(mixed(5), 's1-base').sigmaMm;
    const marksOnly = foundAt(
      TAPES.reduce((job, t) => useObservation(job, { id: t.id, use: false }), mixed(5)),
      's1-base',
    ).sigmaMm;
    for (const k of [0, 1, 2] as const) expect(both[k]!).toBeLessThan(marksOnly[k]!);
  });

  it('a blundered mark is named in at least 9 of 10 cases that can be detected', () => {
    const MARKS = runs(72, 24);
    let detectable = 0;
    let named = 0;
    const ids = RENDERED.flatMap((s) => [...KNOWN, ...SOUGHT].map((p) => `${s.id}-${p}`));
    for (let seed = 1; seed <= MARKS; seed++) {
      const id = ids[seed % ids.length]!;
      const result = adjustSurvey(mixed(seed + 300, { id, by: seed % 2 === 0 ? [12, 0] : [0, -12] }));
      const row = result.readings.find((r) => r.id === id)!;
      if (row.detectable === null || row.detectable > 12) continue;
      detectable++;
      if (result.worst?.id === id) named++;
    }
    console.log(`blundered marks: ${named} of ${detectable} named first`);
    expect(detectable).toBeGreaterThan(MARKS / 2);
    expect(named / detectable).toBeGreaterThan(0.9);
  });

  it('names it in words', () => {
    const { worst } = adjustSurvey(mixed(8, { id: 'side-s1-base', by: [25, 0] }));
    expect(worst?.text).toMatch(/^The mark of .+ on photo side lies \d+ px off against the rest\./);
  });
});

describe('the datum', () => {
  it('known points hold the survey; marks alone hold nothing', () => {
    expect(datumOf(marked(RENDERED)).free).toBe(0);
    const job = marked(RENDERED, { known: [] });
    const tape = { id: 't', kind: 'tape' as const, points: ['hingeA', 'hingeB'], valueMm: 910 };
    const tied = [...KNOWN, ...SOUGHT].map((id, i) => ({
      id: `h${i}`,
      kind: 'tape' as const,
      points: [id, id === 'grip' ? 'c1' : 'grip'],
      valueMm: distance(trueAt(id), trueAt(id === 'grip' ? 'c1' : 'grip')),
    }));
    expect(datumOf({ ...job, observations: [...job.observations!, tape, ...tied] }).free).toBe(6);
  });
});

describe('photos that can’t be used', () => {
  it('five known points are too few for a camera: its marks are left out with a word, and the rest goes on', () => {
    let job = marked(RENDERED, { known: KNOWN });
    job = { ...job, observations: job.observations!.filter((o) => !['top-c1', 'top-c2'].includes(o.id)) };
    const result = adjustSurvey(job);
    expect(result.cameras.map((c) => [c.photo, c.problem !== null])).toEqual([
      ['side', false],
      ['top', true],
    ]);
    expect(result.cameras[1]!.problem).toContain('needs six');
    expect(result.readings.every((r) => r.id.startsWith('side-'))).toBe(true);
    // one photo alone leaves a point its line of sight
    const lower = result.points.find((p) => p.id === 's1-base')!;
    expect(lower.canMove).toHaveLength(1);
    expect(applySurvey(job, { result })).toBe(job);
  });

  it('says so when no photo can be used at all', () => {
    const job = marked(RENDERED.slice(0, 1), { known: [] });
    const result = adjustSurvey(job);
    expect(result.reason).toBe('nothing-to-adjust');
    expect(result.problem).toContain('marks on side are not used');
  });
});
