import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundsOf, dimensionLabel, joinBoxes, type Sheet } from '../../../core/drawing';
import { type Job, resolveJob } from '../../../core/job';
import { layoutDrawing } from '../../../core/papers';
import { spreadOut } from '../../../core/papers/running';
import { makeFrame } from '../../../core/travel';
import type { Workings } from '../../../core/workings';
import { anyLid, point } from '../../support/arbitrary';
import { outside } from './inside';
import { lidPolygon } from '../../../core/papers/layout-view';
import { collisions } from './overlap';
import { runs } from '../../support/tier';

/** The layout asks for job and frame alone. */
const outcomeOf = (job: Job): Pick<Workings, 'job' | 'frame'> => {
  const resolved = resolveJob(job);
  return { job: resolved, frame: makeFrame(resolved) };
};

const withOutline = (job: Job, corners: readonly (readonly [number, number, number])[]): Job => ({
  ...job,
  points: [
    ...job.points,
    ...corners.map((at, i) => ({ id: `corner${i}`, on: 'lid' as const, at: [...at] as [number, number, number] })),
  ],
  outline: corners.map((_, i) => `corner${i}`),
});

const anyJob = fc
  .tuple(anyLid({ struts: { min: 0, max: 4 } }), fc.array(point(900), { minLength: 3, maxLength: 6 }))
  .map(([job, corners]) => withOutline(job, corners));

const dimensions = (sheet: Sheet) =>
  sheet.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'dimension' ? [m] : [])));

describe('layout drawing', () => {
  it('has no two texts over each other, no text on a line, and nothing outside the frame, for any job', () => {
    fc.assert(
      fc.property(
        anyJob,
        fc.constantFrom('A4' as const, 'A3' as const),
        fc.constantFrom('first' as const, 'third' as const),
        (job, paper, projection) => {
          for (const sheet of layoutDrawing(outcomeOf(job), { date: '2026-11-25', paper, projection })) {
            expect(collisions(sheet)).toEqual([]);
            expect(outside(sheet)).toEqual([]);
          }
        },
      ),
      { numRuns: runs(25) },
    );
  });

  it('sizes the pivots truly: every figure is the coordinate from the datum, sign and all', () => {
    fc.assert(
      fc.property(anyJob, point(300), (job, at) => {
        const outcome = outcomeOf(job);
        const sheets = layoutDrawing(outcome, { date: '2026-11-25', paper: 'A3', datum: { name: 'deck edge', at } });
        const points = new Map(outcome.job.points.map((p) => [p.id, p.at]));
        let seen = 0;
        for (const d of sheets.flatMap(dimensions)) {
          const [, axis, view, id] = /^(x|y)-(side|top|end)-(.+)$/.exec(d.id) ?? [];
          if (id === undefined) continue;
          const k = axis === 'x' ? (view === 'end' ? 1 : 0) : view === 'top' ? 1 : 2;
          const value = Number(dimensionLabel(d).replace('−', '-'));
          // equal values are given once: the figure may be a neighbour's, off by less than what it shows
          expect(Math.abs(value - (points.get(id)![k]! - at[k]!))).toBeLessThan(0.11);
          seen++;
        }
        if (seen <= 3) expect(JSON.stringify(sheets)).toContain('No room here for');
      }),
      { numRuns: runs(25) },
    );
  });

  it('keeps its word with many struts: what has no room is told, and the table has it', () => {
    const [job] = fc.sample(anyLid({ struts: { min: 4, max: 4 } }), { numRuns: 1, seed: 7 });
    const struts = Array.from({ length: 25 }, (_, i) => ({
      ...job!.struts[i % 4]!,
      id: `s${i}`,
      name: `Strut no. ${i + 1}`,
    }));
    const many = withOutline({ ...job!, struts } as Job, [
      [10, 20, 30],
      [-400, 20, 30],
      [-400, 500, 30],
    ]);
    const sheets = layoutDrawing(outcomeOf(many), { date: '2026-11-25', paper: 'A4' });
    for (const sheet of sheets) {
      expect(collisions(sheet)).toEqual([]);
      expect(outside(sheet)).toEqual([]);
    }
    const texts = sheets.flatMap((s) =>
      s.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))),
    );
    for (const s of struts) expect(texts).toContain(s.name);
    expect(texts).toContain(`1/${sheets.length}`);
    expect(texts).toContain(`${sheets.length}/${sheets.length}`);
  });

  it('draws the extreme position in long dashes with two dots (ISO 128-2), and the opening angle as it is', () => {
    const job = fc.sample(anyLid({ struts: { min: 1, max: 1 } }), { numRuns: 1, seed: 3 })[0]!;
    const level: Job = {
      ...job,
      points: job.points.map((p) =>
        p.id === job.hinge.a ? { ...p, at: [0, -300, 100] } : p.id === job.hinge.b ? { ...p, at: [0, 300, 100] } : p,
      ),
      travel: { openDeg: 63.5, stop: 'lid' },
    } as Job;
    const sheets = layoutDrawing(
      outcomeOf(
        withOutline(level, [
          [-5, -310, 105],
          [-700, -310, 105],
          [-700, 310, 105],
          [-5, 310, 105],
        ]),
      ),
      {
        date: '2026-11-25',
      },
    );
    const views = sheets.flatMap((s) => s.parts.filter((p) => p.name.endsWith('-view')));
    expect(views.map((v) => v.name).sort()).toEqual(['end-view', 'side-view', 'top-view']);
    for (const view of views) expect(view.marks.some((m) => 'role' in m && m.role === 'phantom')).toBe(true);
    const angle = sheets.flatMap(dimensions).find((d) => d.id === 'opening-angle');
    if (angle) expect(dimensionLabel(angle)).toBe('63.5°');
    else expect(JSON.stringify(sheets)).toContain('opens 63.5°');
  });

  it('takes the largest scale at which its views find room: at the next larger one they are too wide or too high', () => {
    fc.assert(
      fc.property(anyJob, fc.constantFrom('A4' as const, 'A3' as const), (job, paper) => {
        const sheets = layoutDrawing(outcomeOf(job), { date: '2026-11-25', paper });
        const scales = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
        for (const sheet of sheets) {
          const { realPerPaper } = sheet;
          if (realPerPaper === undefined) continue;
          expect(JSON.stringify(sheet)).toContain('Do not scale');
          const next = scales[scales.indexOf(realPerPaper) - 1];
          if (next === undefined) continue;
          const space = paper === 'A4' ? { w: 180, h: 277 } : { w: 390, h: 277 };
          const views = sheet.parts.filter((p) => p.name.endsWith('-view')).map((p) => p.marks);
          const box = joinBoxes(views.map((marks) => boundsOf(marks.filter((m) => m.kind !== 'text'))));
          const grow = realPerPaper / next;
          const [w, h] = [(box.right - box.left) * grow, (box.top - box.bottom) * grow];
          // what its coordinates, title block and notes take beside the views, as the sheet has it now
          const rest = { w: 49, h: 12 + 35 + 47 + 20 };
          const slack = 16;
          expect(w > space.w - rest.w - slack || h > space.h - rest.h - slack).toBe(true);
        }
      }),
      { numRuns: runs(25) },
    );
  });

  it('says in words why nothing can be drawn', () => {
    const job = fc.sample(anyJob, { numRuns: 1, seed: 2 })[0]!;
    expect(() => layoutDrawing(outcomeOf(job), { date: '2026-11-25', paper: 'A5' as 'A4' })).toThrow(/no paper/);
    const far = (mm: number): Job =>
      ({ ...job, points: job.points.map((p) => (p.id === job.grip ? { ...p, at: [mm, mm, mm] } : p)) }) as Job;
    for (const sheet of layoutDrawing(outcomeOf(far(2e5)), { date: '2026-11-25' })) expect(outside(sheet)).toEqual([]);
    expect(() => layoutDrawing(outcomeOf(far(9.9e5)), { date: '2026-11-25' })).toThrow(/does not fit/);
  });
});

describe('figures spread along a row', () => {
  it('keep their pitch, their order and the limits, and move no more than they must', () => {
    const places = fc.array(
      fc.integer({ min: 0, max: 1000 }).map((n) => n / 10),
      { minLength: 1, maxLength: 12 },
    );
    fc.assert(
      fc.property(places, (raw) => {
        const wanted = [...raw].sort((a, b) => a - b);
        const out = spreadOut(wanted, 5, 0, 100)!;
        expect(out).toHaveLength(wanted.length);
        out.forEach((v, i) => {
          expect(v).toBeGreaterThanOrEqual(-1e-9);
          expect(v).toBeLessThanOrEqual(100 + 1e-9);
          if (i > 0) expect(v - out[i - 1]!).toBeGreaterThanOrEqual(5 - 1e-9);
        });
        if (wanted.every((w, i) => i === 0 || w - wanted[i - 1]! >= 5))
          out.forEach((v, i) => expect(v).toBeCloseTo(wanted[i]!, 9));
      }),
    );
    expect(spreadOut([1, 2, 3], 60, 0, 100)).toBeNull();
  });
});

it('draws a lid seen from its edge once: dashes drawn there and back close up to a line', () => {
  const thin = lidPolygon(
    [
      [0, 0],
      [40, 10],
      [40.1, 10.02],
      [0.1, 0.03],
    ],
    'phantom',
  );
  expect(thin).toMatchObject([{ kind: 'line', role: 'phantom' }]);
  const wide = lidPolygon(
    [
      [0, 0],
      [40, 10],
      [40, 12],
      [0, 2],
    ],
    'phantom',
  );
  expect(wide).toMatchObject([{ kind: 'path', closed: true }]);
});
