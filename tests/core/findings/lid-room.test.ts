import { describe, expect, it } from 'vitest';
import { type Job, resolveJob } from '../../../core/job';
import { acos, toDeg } from '../../../core/space';
import { METRIC } from '../../../core/quantity';
import { workingsOf } from '../../../core/workings';

/** A lid of 500 × 800, hinged about Y through 0, that opens upward and over. */
const lid = (more: object = {}): Job =>
  ({
    format: 'lidwright-job',
    version: 1,
    title: 'A lid before a wall',
    points: [
      { id: 'a', on: 'base', at: [0, 400, 0] },
      { id: 'b', on: 'base', at: [0, -400, 0] },
      { id: 'grip', on: 'lid', at: [-480, 0, 0] },
      { id: 'cg', on: 'lid', at: [-250, 0, -5] },
      { id: 'c1', on: 'lid', at: [0, 400, 0] },
      { id: 'c2', on: 'lid', at: [-500, 400, 0] },
      { id: 'c3', on: 'lid', at: [-500, -400, 0] },
      { id: 'c4', on: 'lid', at: [0, -400, 0] },
      { id: 'p1', on: 'base', at: [-150, -380, -320] },
      { id: 'p2', on: 'lid', at: [-250, -380, -40] },
    ],
    hinge: { a: 'a', b: 'b', opens: 'up', frictionNm: 0 },
    travel: { openDeg: 110, stop: 'lid' },
    grip: 'grip',
    outline: ['c1', 'c2', 'c3', 'c4'],
    panel: { upMm: 0, downMm: 10 },
    masses: [{ id: 'm', name: 'Box', kg: 10, at: 'cg' }],
    loadCases: [{ id: 'normal' }],
    limits: { handOpenN: 150, handCloseN: 150, reserveMm: 5, holdOpenNm: 2, clearanceMm: 3 },
    obstacles: [{ id: 'wall', name: 'the wall', on: 'base', box: { centre: [110, 0, 300], sizeMm: [20, 900, 600] } }],
    struts: [
      {
        id: 's1',
        base: 'p1',
        lid: 'p2',
        quantity: 1,
        spec: { extendedMm: 500, strokeMm: 200, forceN: 300, ratio: 1.3, rodMm: 8, tubeMm: 18 },
        ends: {
          base: { fitting: 'ball-stud', rangeDeg: 20, stem: [0, 1, 0] },
          lid: { fitting: 'ball-stud', rangeDeg: 20, stem: [0, 1, 0] },
        },
      },
    ],
    ...more,
  }) as unknown as Job;

const found = (job: Job, id: string) => workingsOf(job, METRIC).findings.find((f) => f.id === id);

describe('room for the lid', () => {
  it('stops at the wall where the sum by hand says: 500·cos θ = −100, and −97 with the gap that is wanted', () => {
    const touch = toDeg(acos(-100 / 500));
    const clear = toDeg(acos(-97 / 500));
    const room = found(lid(), 'room-wall')!;
    expect([room.state, room.value! < 0.1]).toEqual(['fails', true]);
    expect(Math.abs(room.worstDeg! - touch)).toBeLessThan(0.02);
    const free = found(lid(), 'free-opening')!;
    expect(free.state).toBe('fails');
    expect(Math.abs(free.value! - clear)).toBeLessThan(0.02);
    expect([free.limit, free.unit]).toEqual([110, '°']);
    expect(free.proposal).toMatchObject({ path: ['travel', 'openDeg'], value: 101 });
  });

  it('holds once it is stopped there, and says by how much', () => {
    const stopped = lid({ travel: { openDeg: 101, stop: 'lid' } });
    expect(found(stopped, 'free-opening')).toMatchObject({ state: 'holds', value: 101 });
    const room = found(stopped, 'room-wall')!;
    expect(room.value).toBeCloseTo(100 + 500 * Math.cos((101 * Math.PI) / 180), 1);
  });

  it('counts a load with a body: a box on the lid meets the wall earlier, and a strut must clear it too', () => {
    const box = { box: { centre: [-300, 0, 60], sizeMm: [100, 200, 120] } };
    const job = lid({ masses: [{ id: 'm', name: 'Box', kg: 10, at: 'cg', body: box }] });
    const room = found(job, 'room-wall')!;
    // its upper corner at (−250, 120): x = −250·cos θ + 120·sin θ comes to 100
    const [r, lead] = [Math.hypot(250, 120), (Math.atan2(120, 250) * 180) / Math.PI];
    expect(Math.abs(room.worstDeg! - (toDeg(acos(-100 / r)) - lead))).toBeLessThan(0.02);
    expect(room.text).toContain('Box');
    expect(found(job, 'clearance-load-m')).toMatchObject({ subject: 's1', unit: 'mm' });
  });

  it('lets the lid rest on what carries it, and says so where it never comes free', () => {
    const seat = { id: 'seat', on: 'base', box: { centre: [-490, 0, -20], sizeMm: [20, 800, 20] } };
    const rests = found(lid({ obstacles: [seat] }), 'room-seat')!;
    expect(rests.state).not.toBe('fails');
    expect(rests.text).toContain('rests');
    const through = { id: 'post', on: 'base', box: { centre: [-20, 0, 0], sizeMm: [60, 60, 400] } };
    expect(found(lid({ obstacles: [through] }), 'room-post')!.text).toContain('stands in');
    // a block that stands 20 mm up through the panel lets go of it as it opens, and yet the lid can't close over it
    const poking = { id: 'block', on: 'base', box: { centre: [-300, 0, 0], sizeMm: [40, 40, 40] } };
    const sunk = found(lid({ obstacles: [poking] }), 'room-block')!;
    expect([sunk.state, sunk.text.includes('stands in')]).toEqual(['fails', true]);
    expect(found(lid({ obstacles: [poking] }), 'free-opening')).toMatchObject({ state: 'fails', value: 0 });
  });

  it('keeps plain data only, so that workings can go to another thread', () => {
    const w = workingsOf(lid(), METRIC);
    expect(w.findings.length).toBeGreaterThan(0);
    expect(() => structuredClone(w)).not.toThrow();
  });

  it('is asked only where the lid has a body and something stands on the base', () => {
    for (const more of [{ panel: undefined }, { obstacles: [] }, { panel: { thicknessMm: 0 } }])
      expect(workingsOf(lid(more), METRIC).findings.some((f) => /^(room-|free-)/.test(f.id))).toBe(false);
    expect(resolveJob(lid()).panel?.downMm).toBe(10);
  });

  it('refuses a body that is none, with what and where', () => {
    const trouble = workingsOf(lid({ masses: [{ id: 'm', kg: 10, at: 'cg', body: {} }] }), METRIC).trouble;
    expect(trouble[0]).toMatchObject({ where: ['masses', 0, 'body'] });
  });
});
