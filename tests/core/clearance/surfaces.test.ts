import { describe, expect, it } from 'vitest';
import { surfaceSeen, surfaceUnder, surfacesOf } from '../../../core/clearance';
import { type Job, assertComputable, resolveJob } from '../../../core/job';
import { azimuthAndTilt, mountFrame, setMountAxis, standOnSurface, stemFromMount } from '../../../core/joint';
import { type Vec3, dot, toRad } from '../../../core/space';
import { lidOfSizes } from '../../../core/start';
import { makeFrame } from '../../../core/travel';
import { expectClose, within } from '../../support/close';

const lid = lidOfSizes({ widthMm: 800, depthMm: 600, layers: [{ name: 'ply', thicknessMm: 20, densityKgM3: 700 }] });
/** A post of 100 × 60 × 300 at the right, and a traced step whose outline turns a corner inwards. */
const job: Job = {
  ...lid,
  zones: [],
  obstacles: [
    { id: 'post', name: 'Post', on: 'base', box: { centre: [-300, -300, -200], sizeMm: [100, 60, 300] } },
    {
      ...{ id: 'step', name: 'Step', on: 'base' },
      traced: { view: 'side', corners: [[0, -400], [200, -400], [200, -300], [100, -300], [100, -200], [0, -200]], depthMm: [100, 300] }, // oxfmt-ignore
    },
  ],
};
const resolved = resolveJob(job);
const surfaces = surfacesOf(resolved, makeFrame(resolved).axis);
const of = (name: string): Vec3[] => surfaces.filter((s) => s.name === name).map((s) => s.normal);

describe('surfaces that a mount can stand on', () => {
  it('a box looks out to six sides, and an outline that turns inwards has its faces the right way round', () => {
    assertComputable(resolved);
    const sorted = (all: readonly Vec3[]): string[] => all.map((n) => n.map((v) => Math.round(v) + 0).join()).sort();
    expect(sorted(of('Post'))).toEqual(['-1,0,0', '0,-1,0', '0,0,-1', '0,0,1', '0,1,0', '1,0,0']);
    expect(sorted(of('Step'))).toEqual(['-1,0,0', '0,-1,0', '0,0,-1', '0,0,1', '0,0,1', '0,1,0', '1,0,0', '1,0,0']);
    expect(of('the inside of the lid')[0]![2]).toBeCloseTo(-1, 9);
  });

  it('a click takes the face that looks at the eye, or the line of one seen from its edge', () => {
    const side: Vec3 = [0, -1, 0];
    const seen = (eye: Vec3, at: Vec3): string | null => {
      const found = surfaceSeen(surfaces, { eye, at, withinMm: 8 });
      return found && `${found.name} ${found.normal.map((v) => Math.round(v) + 0).join()}`;
    };
    expect(seen(side, [-300, 0, -200])).toBe('Post 0,-1,0');
    expect(seen(side, [-300, 0, -53])).toBe('Post 0,0,1');
    expect(seen(side, [-352, 0, -200])).toBe('Post -1,0,0');
    expect(seen([0, 0, 1], [-300, -300, 0])).toBe('the outside of the lid 0,0,1');
    expect(seen(side, [-300, 0, 1])).toBe('the inside of the lid 0,0,-1');
    expect(seen(side, [900, 0, 900])).toBeNull();
  });

  it('a zone is seen from behind too, and under a ball the nearest surface is found', () => {
    const zoned = resolveJob(lid);
    const all = surfacesOf(zoned, makeFrame(zoned).axis);
    const right = all.find((s) => s.zone && s.name === 'Right wall')!;
    expect(
      surfaceSeen(
        all.filter((s) => s.on === 'base'),
        { eye: [0, -1, 0], at: [-300, 0, -200], withinMm: 4 },
      ),
    ).toBe(right);
    expect(surfaceUnder(all, [-300, -370, -200], 'base')).toBe(right);
    expect(surfaceUnder(all, [-300, -370, -200], 'lid')?.name).toBeUndefined();
    expect(surfaceUnder(all, [-300, -300, -30], 'lid')?.normal[2]).toBeCloseTo(-1, 9);
  });
});

describe('a mount', () => {
  const end = (now: Job) => resolveJob(now).struts[0]!.ends.base;
  const stem = (now: Job): Vec3 => {
    const { mount, azimuthDeg, tiltDeg } = end(now);
    return stemFromMount(mount!, toRad(azimuthDeg!), toRad(tiltDeg!));
  };

  it('takes a surface’s normal, and its stem points where it did', () => {
    const before = end(job).stem!;
    for (const normal of [[0, 1, 0], [0, 0, 1], [0.6, 0, 0.8], before] as Vec3[]) {
      const now = standOnSurface(job, { strut: 's1', end: 'base', normal });
      assertComputable(resolveJob(now));
      expectClose(end(now).mount!.normal, normal, within(1e-4, '1'));
      expectClose(stem(now), before, within(2e-4, '1'));
    }
  });

  it('without a surface lies flat under its stem', () => {
    const now = standOnSurface(job, { strut: 's1', end: 'lid' });
    const { mount, tiltDeg } = resolveJob(now).struts[0]!.ends.lid;
    expect([mount!.normal, tiltDeg]).toEqual([[0, 0, -1], 0]);
  });

  it('whose normal is typed along its reference takes another reference, and nothing else goes', () => {
    const start = standOnSurface(job, { strut: 's1', end: 'base', normal: [0, 0, 1], wish: [1, 0, 0] });
    const tilted = setMountAxis(start, { strut: 's1', end: 'base', key: 'normal', component: 0, value: 1 });
    expect(end(tilted).mount!.reference).toEqual([1, 0, 0]);
    const along = setMountAxis(tilted, { strut: 's1', end: 'base', key: 'normal', component: 2, value: 0 });
    assertComputable(resolveJob(along));
    expect(end(along).mount!.normal).toEqual([1, 0, 0]);
    expect(Math.abs(dot(mountFrame(end(along).mount!).e, [1, 0, 0]))).toBeLessThan(1e-9);
    expectClose(stem(along), stem(tilted), within(2e-4, '1'));
    const { azimuthRad } = azimuthAndTilt(end(along).mount!, stem(along));
    expect(Number.isFinite(azimuthRad)).toBe(true);
    // a normal of no length is told by the check, and changes nothing else
    const none = setMountAxis(start, { strut: 's1', end: 'base', key: 'normal', component: 2, value: 0 });
    expect(end(none).mount!.reference).toEqual(end(start).mount!.reference);
  });
});
