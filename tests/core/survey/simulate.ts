// Simulated surveys of the example jobs: readings of the true geometry with noise at the stated σ.
import { type Job, type JobObservation, type ResolvedJob, resolveJob } from '../../../core/job';
import { layOut, USUAL_SIGMA } from '../../../core/survey';
import { poseAt, openingAxis } from '../../../core/travel';
import { type Vec3, distance, rad, sub, toDeg, toRad } from '../../../core/space';
import { normal, seeded } from '../solve/linkage';
import { type ExampleName, example } from '../examples/example';

export { normal, seeded };
export type Reading = Omit<JobObservation, 'id'>;

export interface Survey {
  /** The job as a person starts it: points up to 25 mm off, readings in, hinge A the origin of it all. */
  readonly job: Job;
  readonly truth: ReadonlyMap<string, Vec3>;
}

/** What the true geometry would read. */
function trueValue(o: Reading, job: ResolvedJob, at: (id: string) => Vec3): number {
  const [p, q] = o.points.map((id) => {
    const point = job.points.find((other) => other.id === id)!;
    return o.atDeg && point.on === 'lid' ? poseAt(openingAxis(job), at(id), toRad(o.atDeg as number)) : at(id);
  }) as [Vec3, Vec3];
  switch (o.kind) {
    case 'tape':
    case 'known-length':
      return distance(p, q);
    case 'height-difference':
      return q[2] - p[2];
    case 'coordinate':
      return p['xyz'.indexOf(o.axis!)]! - ((o.datumMm as number | undefined) ?? 0);
    case 'angle-level': {
      const d = sub(q, p);
      return toDeg(rad(Math.atan2(d[2], Math.hypot(d[0], d[1]))));
    }
    default:
      throw new Error(`no true value of ${o.kind} here`);
  }
}

/** Which readings a careful person takes of a lid: tapes between all that a tape reaches, heights, and a rule from the datum. */
export function plan(job: ResolvedJob): Reading[] {
  const { a, b } = job.hinge;
  const strut = job.struts[0]!;
  const inner = [a, b, strut.base, strut.lid, job.grip];
  const corners = job.outline.slice(0, 4);
  const at = new Map(job.points.map((p) => [p.id, p.at]));
  const readings: Reading[] = [];
  const tape = (p: string, q: string): void => {
    if (distance(at.get(p)!, at.get(q)!) > 80) readings.push({ kind: 'tape', points: [p, q] });
  };
  inner.forEach((p, i) => inner.slice(i + 1).forEach((q) => tape(p, q)));
  for (const c of corners) for (const p of [a, b, job.grip, strut.lid]) tape(p, c);
  corners.forEach((c, i) => tape(c, corners[(i + 1) % corners.length]!));
  for (const p of [b, strut.base, strut.lid, job.grip, ...corners]) {
    readings.push({ kind: 'height-difference', points: [a, p] });
    readings.push({ kind: 'coordinate', points: [p], axis: 'y', datumMm: 37 });
  }
  for (const p of [b, strut.base, job.grip]) readings.push({ kind: 'coordinate', points: [p], axis: 'x' });
  readings.push({ kind: 'angle-level', points: [a, job.grip] });
  return readings;
}

/** One survey; `blunder` adds so much to the reading of that number, in its unit. */
export function simulate(
  name: ExampleName,
  seed: number,
  args: {
    readonly noise?: number;
    readonly blunder?: { readonly reading: number; readonly by: number };
    readonly plan?: Reading[];
  } = {},
): Survey {
  const random = seeded(seed);
  const raw = example(name);
  const job = resolveJob(raw);
  const truth = new Map(job.points.map((p) => [p.id, p.at]));
  const at = (id: string): Vec3 => truth.get(id)!;
  const readings = args.plan ?? plan(job);
  const observations = readings.map((o, i): JobObservation => {
    const usual = USUAL_SIGMA[o.kind];
    const angle = usual.sigmaDeg !== undefined;
    const read =
      trueValue(o, job, at) +
      (args.noise ?? 1) * (usual.sigmaDeg ?? usual.sigmaMm!) * normal(random) +
      (args.blunder?.reading === i ? args.blunder.by : 0);
    return { id: `r${i}`, ...o, ...(angle ? { valueDeg: read } : { valueMm: read }) };
  });
  const { ids, indexOf } = layOut(raw, job);
  const measured = new Set(readings.flatMap((o) => o.points));
  const points = ids.map((id) => {
    const p = raw.points[indexOf(id)]!;
    const off = measured.has(id) && id !== job.hinge.a ? 50 : 0;
    const start = at(id).map((v) => v + off * (random() - 0.5)) as unknown as [number, number, number];
    return { ...p, at: start };
  });
  return {
    truth,
    job: {
      ...raw,
      points,
      observations,
      relations: [{ id: 'datum', kind: 'fixed', points: [job.hinge.a] }],
    },
  };
}
