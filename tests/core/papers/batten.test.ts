// The try-on batten, read back: its pages laid together by their join marks, hole to marks measured, against the job's own geometry.
import { describe, expect, it } from 'vitest';
import type { Point, Sheet } from '../../../core/drawing';
import { resolveJob, type ResolvedJob } from '../../../core/job';
import { battenSheets } from '../../../core/papers/batten';
import { makeFrame } from '../../../core/travel';
import { jobAt } from '../../support/files';
import { sample } from '../../support/tier';
import { outside } from './inside';
import { collisions } from './overlap';

const EXAMPLES = ['workboat-hatch', 'machine-guard', 'trailer-locker'] as const;
const options = { date: '2026-11-29' };
type V = readonly [number, number, number];
const sub = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Length of the strut at an opening angle: Rodrigues' turn about the hinge, the lid's far side going the way it opens. */
function lengthAt(job: ResolvedJob, deg: number): number {
  const at = (id: string): V => job.points.find((p) => p.id === id)!.at;
  const [a, b] = [at(job.hinge.a), at(job.hinge.b)];
  const strut = job.struts[0]!;
  const turned = (p: V, angle: number): V => {
    const long = Math.hypot(...sub(b, a));
    const k = sub(b, a).map((v) => v / long) as unknown as V;
    const r = sub(p, a);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const cross: V = [k[1] * r[2] - k[2] * r[1], k[2] * r[0] - k[0] * r[2], k[0] * r[1] - k[1] * r[0]];
    return [0, 1, 2].map((i) => a[i]! + r[i]! * c + cross[i]! * s + k[i]! * dot(k, r) * (1 - c)) as unknown as V;
  };
  const rad = (deg * Math.PI) / 180;
  const up = turned(at(job.grip), 0.01)[2] > at(job.grip)[2] ? 1 : -1;
  const way = job.hinge.opens === 'down' ? -up : up;
  return Math.hypot(...sub(turned(at(strut.lid), way * rad), at(strut.base)));
}

/** Where each page lies on the first: by the join marks' letters that both carry. */
function joined(sheets: readonly Sheet[]): Point[] {
  const letters = sheets.map(
    (s) =>
      new Map(
        s.parts
          .find((p) => p.name === 'template')!
          .marks.flatMap((m) => (m.kind === 'text' && /^[A-Z]+$/.test(m.text) ? [[m.text, m.at] as const] : [])),
      ),
  );
  const at: Point[] = [[0, 0]];
  for (let i = 1; i < sheets.length; i++) {
    const shared = [...letters[i]!].filter(([name]) => letters[i - 1]!.has(name));
    expect(shared.length).toBeGreaterThanOrEqual(2);
    const moves = shared.map(([name, p]): Point => {
      const q = letters[i - 1]!.get(name)!;
      return [at[i - 1]![0] + q[0] - p[0], at[i - 1]![1] + q[1] - p[1]];
    });
    // all marks of one seam say the same
    for (const m of moves) expect(Math.hypot(m[0] - moves[0]![0], m[1] - moves[0]![1])).toBeLessThan(1e-6);
    at.push(moves[0]!);
  }
  return at;
}

describe.each(EXAMPLES)('try-on batten of %s', (name) => {
  const job = resolveJob(jobAt(`assets/examples/${name}.lidjob`));
  const frame = makeFrame(job);
  it.each(sample(['A4', 'A3'] as const))(
    'is as long from its hole to each mark as the strut is there, over its page joins: %s',
    (paper) => {
      const sheets = battenSheets({ job, frame }, job.struts[0]!, { ...options, paper });
      const at = joined(sheets);
      const place = (i: number, p: Point): Point => [p[0] + at[i]![0], p[1] + at[i]![1]];
      const marks = sheets.flatMap((s, i) => s.parts.find((p) => p.name === 'template')!.marks.map((m) => ({ m, i })));
      const hole = marks.flatMap(({ m, i }) => (m.kind === 'circle' && m.radiusMm === 1.5 ? [place(i, m.centre)] : []));
      expect(hole.length).toBeGreaterThan(0);
      // level lines across the lath
      const across = marks.flatMap(({ m, i }) =>
        m.kind === 'line' && Math.abs(m.from[1] - m.to[1]) < 1e-9 && Math.abs(m.to[0] - m.from[0]) > 19
          ? [place(i, m.from)[1] - hole[0]![1]]
          : [],
      );
      const texts = marks.flatMap(({ m }) => (m.kind === 'text' ? [m.text] : []));
      const open = frame.openDeg;
      for (const [words, deg] of [
        ['closed', 0],
        ['half open', open / 2],
        ['open', open],
      ] as const) {
        const wanted = lengthAt(job, deg);
        expect(Math.min(...across.map((y) => Math.abs(y - wanted)))).toBeLessThan(0.05);
        const label = texts.find((t) => t.startsWith(words))!;
        expect(Math.abs(Number(/([\d.]+)$/.exec(label)![1]) - wanted)).toBeLessThan(0.051);
      }
      const { extendedMm, strokeMm } = job.struts[0]!.spec;
      const reserve = job.limits.reserveMm;
      const ends = [extendedMm - strokeMm + reserve, extendedMm - (job.travel.stop === 'strut' ? 0 : reserve)];
      for (const end of ends) expect(Math.min(...across.map((y) => Math.abs(y - end)))).toBeLessThan(0.05);
      for (const sheet of sheets) {
        expect(collisions(sheet)).toEqual([]);
        expect(outside(sheet)).toEqual([]);
      }
    },
  );
});

it('says where the strut does not follow, and refuses one whose reserves leave no play', () => {
  const job = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));
  const strut = job.struts[0]!;
  const shorter = { ...strut, spec: { ...strut.spec, extendedMm: 600 } };
  const words = (s: typeof strut): string => JSON.stringify(battenSheets({ job, frame: makeFrame(job) }, s, options));
  expect(words(shorter)).toMatch(/open, 70° lies outside the band/);
  expect(() => words({ ...strut, spec: { ...strut.spec, strokeMm: 2 } })).toThrow(
    /leaves nothing between its reserves/,
  );
});
