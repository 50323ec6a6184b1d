// Random lids with a hidden place for the strut: made from the place outward, so that one surely exists.
import { geometryOf, reachOf, withSpec, entrySpec } from '../../../core/choose';
import { type Draw, seeded } from '../../../core/find/random';
import { judged } from '../../../core/find';
import { bestStem } from '../../../core/findings';
import { type Job, resolveJob } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { type Vec3, add, cross, norm, rotateVec, scale, sub, toRad, unit } from '../../../core/space';
import { forcesOf, genericMetricList } from '../../../core/strut';
import { lengthRange } from '../../../core/travel';
import { workings, workingsOf } from '../../../core/workings';

export interface Planted {
  readonly job: Job;
  /** The hidden place's spare. */
  readonly spare: number;
  readonly quantity: 1 | 2;
}

const LIST = genericMetricList();

/** A rectangle in a plane round a foot that lies somewhere in it. */
function patch(draw: Draw, foot: Vec3, normal: Vec3, along: Vec3): Vec3[] {
  const e = unit(sub(along, scale(normal, along[0] * normal[0] + along[1] * normal[1] + along[2] * normal[2])));
  const f = cross(normal, e);
  const [w, h] = [90 + 160 * draw(), 90 + 160 * draw()];
  const [u, v] = [0.1 + 0.8 * draw(), 0.1 + 0.8 * draw()];
  const at = (a: number, b: number): Vec3 => add(foot, add(scale(e, a), scale(f, b)));
  return [at(-u * w, -v * h), at((1 - u) * w, -v * h), at((1 - u) * w, (1 - v) * h), at(-u * w, (1 - v) * h)];
}

/** One draw; null where nothing came of it. */
function once(draw: Draw): Planted | null {
  const between = (low: number, high: number): number => low + (high - low) * draw();
  const origin: Vec3 = [between(-800, 800), between(-800, 800), between(-400, 400)];
  // the hinge lies nearly level, any way round
  const heading = toRad(between(0, 360));
  const axis = unit(rotateVec(rotateVec([0, 1, 0], [1, 0, 0], toRad(between(-6, 6))), [0, 0, 1], heading));
  const span = between(300, 900);
  const depth = between(450, 1100);
  const out = unit(cross(axis, [0, 0, 1]));
  const up = unit(cross(out, axis));
  const place = (along: number, far: number, high: number): Vec3 =>
    add(origin, add(scale(axis, along), add(scale(out, far), scale(up, high))));
  const openDeg = Math.round(between(45, 100));
  const quantity = draw() < 0.5 ? 1 : 2;
  const kg = between(8, 45);
  const side = draw() < 0.5 ? -1 : 1;
  const lidBall = place(span / 2 + side * between(0.15, 0.45) * span, depth * between(0.2, 0.6), -between(30, 60));
  const baseBall = place(span / 2 + side * between(0.15, 0.45) * span, depth * between(-0.05, 0.7), -between(150, 480));
  const list = LIST;
  const raw = {
    format: 'lidwright-job',
    version: 1,
    title: 'Planted lid',
    points: [
      { id: 'a', on: 'base', at: origin },
      { id: 'b', on: 'base', at: place(span, 0, 0) },
      { id: 'grip', on: 'lid', at: place(span / 2, depth * between(0.85, 1), 0) },
      { id: 'cg', on: 'lid', at: place(span * between(0.4, 0.6), depth * between(0.4, 0.6), between(-10, 30)) },
      { id: 'p1', on: 'base', at: baseBall },
      { id: 'p2', on: 'lid', at: lidBall },
    ],
    hinge: { a: 'a', b: 'b', opens: 'up', frictionNm: draw() < 0.5 ? 0 : between(0, 2) },
    travel: { openDeg, stop: 'lid' },
    grip: 'grip',
    masses: [{ id: 'm', kg, at: 'cg' }],
    loadCases: [
      { id: 'normal', off: [] },
      { id: 'cold', off: [], tempC: Math.round(between(-20, 5)), force: 'low' },
      { id: 'hot', off: [], tempC: Math.round(between(30, 50)), force: 'high' },
    ],
    struts: [
      {
        id: 's1',
        base: 'p1',
        lid: 'p2',
        quantity,
        spec: { extendedMm: 500, strokeMm: 200, forceN: 400, ratio: 1.3, rodMm: 8, tubeMm: 18 },
        ends: {
          base: { fitting: 'ball-stud', rangeDeg: 18, stem: axis },
          lid: { fitting: 'ball-stud', rangeDeg: 18, stem: axis },
        },
      },
    ],
    limits: { handOpenN: 1e4, handCloseN: 1e4, reserveMm: 8, holdOpenNm: 1 },
  } as unknown as Job;
  const job = resolveJob(raw);
  const g = geometryOf(job);
  const range = lengthRange(g.law, openDeg);
  const fitting = list.filter((e) => {
    const reach = reachOf(g, e.extendedMm, e.strokeMm);
    return reach.outsideMm === 0 && Math.min(reach.closedReserveMm, reach.openReserveMm) >= 8.5;
  });
  const entry = fitting[Math.floor(draw() * fitting.length)];
  if (!entry || range.longestMm < range.shortestMm + 30) return null;
  const stems = ((): { base: Vec3; lid: Vec3 } => {
    const w = workings(withSpec(job, 0, entrySpec(entry, entry.forceMinN)), METRIC);
    const [plan] = w.plans;
    const of = (end: 'base' | 'lid'): Vec3 => bestStem(plan!, plan!.struts[0]!, end, 'ball-stud').stem;
    return { base: of('base'), lid: of('lid') };
  })();
  for (const forceN of forcesOf(entry)) {
    const there = {
      ...raw,
      struts: [
        {
          ...raw.struts[0]!,
          spec: entrySpec(entry, forceN),
          ends: {
            base: { fitting: 'ball-stud', rangeDeg: 18, stem: stems.base },
            lid: { fitting: 'ball-stud', rangeDeg: 18, stem: stems.lid },
          },
        },
      ],
    } as unknown as Job;
    const loose = judged(workingsOf(there, METRIC), 0);
    if (loose.refused.length > 0) continue;
    const hold = Math.min(...loose.workings.findings.filter((f) => f.id === 'stays-open').map((f) => f.value!));
    const [lift, pull] = [Math.max(loose.liftN!, 8), Math.max(loose.pullN!, 8)];
    if (lift > 250 || pull > 250) continue;
    const limits = {
      handOpenN: Math.ceil(lift * between(1.03, 1.5)),
      handCloseN: Math.ceil(pull * between(1.03, 1.5)),
      reserveMm: 8,
      holdOpenNm: Math.max(0.5, Math.floor(hold * between(0.4, 0.95) * 10) / 10),
    };
    const hidden = judged(workingsOf({ ...there, limits }, METRIC), 0);
    if (hidden.refused.length > 0) continue;
    const wall = draw() < 0.6;
    const baseFaces = wall ? scale(axis, -side) : out;
    const lidFaces = draw() < 0.6 ? scale(up, -1) : scale(axis, -side);
    const [baseOff, lidOff] = [between(12, 40), between(12, 35)];
    const zone = (id: string, on: 'base' | 'lid', ball: Vec3, faces: Vec3, off: number): object => ({
      ...{ id, on, faces, offMm: [Math.max(0, off - between(2, 12)), off + between(2, 12)] },
      corners: patch(draw, sub(ball, scale(faces, off)), faces, Math.abs(faces[2]) > 0.7 ? axis : up),
    });
    // the job's own strut stands somewhere bad
    const bad = raw.points.map((p) =>
      p.id === 'p1'
        ? { ...p, at: add(baseBall, scale(out, 400)) }
        : p.id === 'p2'
          ? { ...p, at: add(lidBall, scale(up, -150)) }
          : p,
    );
    const planted = {
      ...raw,
      points: bad,
      limits,
      zones: [zone('z1', 'base', baseBall, baseFaces, baseOff), zone('z2', 'lid', lidBall, lidFaces, lidOff)],
      find: { list: 'generic', quantity: draw() < 0.3 ? 'either' : quantity === 2 ? 'pair' : 'one' },
    } as unknown as Job;
    return norm(sub(baseBall, lidBall)) > 50 ? { job: planted, spare: hidden.spare, quantity } : null;
  }
  return null;
}

/** The planted job of a seed. */
export function plant(seed: number): Planted {
  const draw = seeded(seed);
  for (let go = 0; go < 2000; go++) {
    const planted = once(draw);
    if (planted) return planted;
  }
  throw new Error(`nothing grew from seed ${seed}`);
}
