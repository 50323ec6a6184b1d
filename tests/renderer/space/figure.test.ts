import { readFileSync } from 'node:fs';
import { Matrix4, Quaternion, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { type ResolvedJob, readJob, resolveJob } from '../../../core/job';
import { distance } from '../../../core/space';
import { workings } from '../../../core/workings';
import {
  extentOf,
  figureOf,
  lidNormals,
  pathOf,
  spotAt,
  stemAt,
  strutPose,
  sweepingCorners,
} from '../../../renderer/views/space/figure';
import { handleOf, lidMatrix } from '../../../renderer/views/space/lid-part';
import { describeView, selectedSpots } from '../../../renderer/views/space/words';

const NAMES = ['workboat-hatch', 'trailer-locker', 'machine-guard'] as const;
const load = (name: string): ResolvedJob =>
  resolveJob(readJob(readFileSync(new URL(`../../../assets/examples/${name}.lidjob`, import.meta.url), 'utf8')));

describe.each(NAMES)('the figure of %s', (name) => {
  const job = load(name);
  const outcome = workings(job);
  const figure = figureOf(job, outcome);
  const open = figure.openDeg;

  it('turns lid points as three’s quaternion does, and leaves base points alone', () => {
    const axis = outcome.frame.axis;
    const a = new Vector3(...axis.origin);
    const q = new Quaternion().setFromAxisAngle(new Vector3(...axis.opening), (open / 2) * (Math.PI / 180));
    for (const p of job.points) {
      const wanted = p.on === 'base' ? new Vector3(...p.at) : new Vector3(...p.at).sub(a).applyQuaternion(q).add(a);
      expect(distance(spotAt(figure, figure.spots.get(p.id)!, open / 2), wanted.toArray())).toBeLessThan(1e-9);
    }
  });

  it('moves the lid by a matrix that agrees with its points', () => {
    const matrix = lidMatrix(figure.axis, open, new Matrix4());
    for (const spot of figure.outline) {
      const moved = new Vector3(...spot.closed).applyMatrix4(matrix);
      expect(distance(spotAt(figure, spot, open), moved.toArray())).toBeLessThan(1e-8);
    }
  });

  it('has struts as long as the travel table says, twins too, and joints at the table’s angles', () => {
    const table = outcome.tables[0]!;
    for (const i of [0, 20, table.angleDeg.length - 1]) {
      const angle = table.angleDeg[i]!;
      for (const strut of figure.struts) {
        const row = table.struts.find((s) => s.id === strut.id)!;
        const pose = strutPose(figure, strut, angle);
        expect(pose.lengthMm).toBeCloseTo(row.lengthMm[i]!, 6);
        expect(pose.split.fits).toBe(!Number.isNaN(row.compressionMm[i]!));
        if (pose.split.fits)
          expect(strut.spec.extendedMm - strut.spec.strokeMm + pose.split.exposedMm).toBeCloseTo(pose.lengthMm, 5);
        for (const end of ['base', 'lid'] as const) {
          const stem = new Vector3(...stemAt(strut.ends[end], angle)!);
          const angleDeg = (stem.angleTo(new Vector3(...pose.direction!)) * 180) / Math.PI;
          expect(angleDeg).toBeCloseTo((end === 'base' ? row.baseJointDeg : row.lidJointDeg)[i]!, 5);
        }
      }
    }
  });

  it('traces each moving point on a circle about the hinge axis, from closed to open', () => {
    const axis = figure.axis!;
    const radius = (p: readonly [number, number, number]): number =>
      new Vector3(...p)
        .sub(new Vector3(...axis.origin))
        .cross(new Vector3(...axis.along))
        .length();
    for (const spot of [...sweepingCorners(figure), figure.grip!, ...figure.struts.map((s) => s.lid)]) {
      const path = pathOf(figure, spot, 25);
      expect(path).toHaveLength(25);
      expect(distance(path[0]!, spot.closed)).toBeLessThan(1e-9);
      expect(distance(path[24]!, spotAt(figure, spot, open))).toBe(0);
      for (const p of path) expect(radius(p)).toBeCloseTo(radius(spot.closed), 6);
    }
  });

  it('keeps everything in its extent, and knows which way the lid faces', () => {
    const extent = extentOf(figure);
    expect(extent.length).toBeGreaterThan(job.points.length);
    expect(lidNormals(figure)).toHaveLength(3);
    // two of four corners lie by the hinge
    expect(sweepingCorners(figure)).toHaveLength(2);
  });
});

describe('figures of jobs that can’t be worked out', () => {
  const job = load('workboat-hatch');
  it('draws a job whose hinge points fall together, closed', () => {
    const at = job.points.find((p) => p.id === job.hinge.a)!.at;
    const broken = { ...job, points: job.points.map((p) => (p.id === job.hinge.b ? { ...p, at } : p)) };
    const figure = figureOf(broken, null);
    expect(figure.axis).toBeNull();
    expect(spotAt(figure, figure.grip!, 40)).toEqual(figure.grip!.closed);
    expect(lidMatrix(null, 40).equals(new Matrix4())).toBe(true);
  });
  it('leaves out what refers to nothing, and a stem that can’t be told', () => {
    const strut = job.struts[0]!;
    const end = { fitting: 'ball-stud', rangeDeg: 18, stem: [0, 0, 0] as const };
    const broken = {
      ...job,
      grip: 'nowhere',
      outline: ['c1', 'nowhere', 'c2'],
      struts: [
        { ...strut, id: 'x', lid: 'nowhere' },
        { ...strut, ends: { base: end, lid: end } },
      ],
    } as ResolvedJob;
    const figure = figureOf(broken, null);
    expect([figure.grip, figure.outline.length, figure.struts.length]).toEqual([null, 2, 1]);
    expect(stemAt(figure.struts[0]!.ends.lid, 10)).toBeNull();
  });
  it('has no direction for a strut whose ends fall together', () => {
    const at = job.points.find((p) => p.id === 's1-base')!.at;
    const broken = { ...job, points: job.points.map((p) => (p.id === 's1-lid' ? { ...p, at } : p)) };
    const figure = figureOf(broken, null);
    const pose = strutPose(figure, figure.struts[0]!, 0);
    expect([pose.direction, pose.split.fits]).toEqual([null, false]);
  });
});

describe('twins', () => {
  it('are mirrored about the middle of the hinge', () => {
    const job = load('trailer-locker');
    const figure = figureOf(job, workings(job));
    expect(figure.struts.map((s) => s.twin)).toEqual([false, true]);
    const [own, twin] = figure.struts;
    // the hinge runs along x: x is mirrored about its middle, y and z stay
    const middle = (figure.hinge[0][0] + figure.hinge[1][0]) / 2;
    expect(twin!.base.closed[0]).toBeCloseTo(2 * middle - own!.base.closed[0], 9);
    expect(twin!.base.closed.slice(1)).toEqual(own!.base.closed.slice(1).map((x) => expect.closeTo(x, 9)));
    expect(twin!.ends.base.stemClosed![0]).toBeCloseTo(-own!.ends.base.stemClosed![0], 9);
  });
});

describe('words and marks', () => {
  const job = load('workboat-hatch');
  it('marks both ends of a selected strut, and the point of a selected mass', () => {
    expect(selectedSpots(job, 's1')).toEqual(['s1-base', 's1-lid']);
    expect(selectedSpots(job, 'canister')).toEqual(['cg-canister']);
    expect(selectedSpots(job, 'grip')).toEqual(['grip']);
    expect(selectedSpots(job, null)).toEqual([]);
  });
  it('says what is shown, and that a strut can’t be there', () => {
    const short = { ...job, struts: [{ ...job.struts[0]!, spec: { ...job.struts[0]!.spec, extendedMm: 590 } }] };
    const common = { selected: 'grip', theme: 'light', showTrace: true, ghosts: [] } as const;
    expect(describeView({ ...common, job, outcome: workings(job), angleDeg: 0 })).toMatch(
      /open 0°; selected: Lift handle\.$/,
    );
    expect(describeView({ ...common, job: short, outcome: workings(short), angleDeg: 70 })).toContain('can’t be there');
    expect(describeView({ ...common, job, outcome: null, angleDeg: 0 })).toContain('can’t be worked out');
  });
  it('bends a handle with both feet on the panel', () => {
    const [a, b, c, d] = handleOf([0, 0, 20], [0, 1, 0], [0, 0, 1], 80, 20);
    expect([a, b, c, d]).toEqual([
      [0, -40, 0],
      [0, -40, 20],
      [0, 40, 20],
      [0, 40, 0],
    ]);
  });
});
