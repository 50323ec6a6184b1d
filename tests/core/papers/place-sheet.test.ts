// The place sheet, read back: where its printed numbers put the ball, the holes and the stud, against the job's own geometry.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ballAt, bracketSpecOf, placedHoles } from '../../../core/bracket';
import type { Sheet } from '../../../core/drawing';
import { type EndName, readJob, type ResolvedJob, resolveJob } from '../../../core/job';
import { stemFromMount } from '../../../core/joint';
import { placeSheets } from '../../../core/papers';
import {
  add,
  cross,
  dot,
  mirrorPoint,
  norm,
  perpendicularTo,
  rotateVec,
  scale,
  sub,
  toRad,
  unit,
  type Vec3,
} from '../../../core/space';
import { rad } from '../../../core/space';
import { makeFrame } from '../../../core/travel';
import { runs } from '../../support/tier';
import { collisions } from './overlap';

const text = readFileSync(join(import.meta.dirname, '../../../tests/fixtures/jobs/workboat-hatch.lidjob'), 'utf8');
const example = resolveJob(readJob(text));
const options = { date: '2026-11-29' };

const texts = (sheet: Sheet): string[] =>
  sheet.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : [])));
/** Wrapped lines of a page's foot as one text. */
const footOf = (sheet: Sheet): string =>
  sheet.parts
    .find((p) => p.name === 'foot')!
    .marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))
    .join(' ');
const num = (t: string): number => Number(t.replace('−', '-'));

/** The pages at 1:1 of one end. */
const pagesOf = (sheets: readonly Sheet[], end: EndName): Sheet[] =>
  sheets.filter(
    (s) => s.title.includes(end === 'lid' ? 'Lid end' : 'Base end') && s.parts.some((p) => p.name === 'template'),
  );

interface Stand {
  readonly end: EndName;
  readonly normal: Vec3;
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
  readonly across: number;
}

const jobWith = ({ end, normal, azimuthDeg, tiltDeg, across }: Stand, quantity: 1 | 2): ResolvedJob => {
  const strut = example.struts[0]!;
  const { stem: _, ...bare } = strut.ends[end];
  const reference: Vec3 = Math.abs(normal[1]) > 0.8 * norm(normal) ? [1, 0, 0] : [0, -1, 0];
  const bracket = example.brackets[0]!;
  return {
    ...example,
    struts: [
      {
        ...strut,
        quantity,
        ends: { ...strut.ends, [end]: { ...bare, mount: { normal, reference }, azimuthDeg, tiltDeg } },
      },
    ],
    brackets: [{ ...bracket, end, studHole: { ...bracket.studHole, acrossMm: across } }],
  };
};

const coordinate = fc.integer({ min: -100, max: 100 }).map((n) => n / 100);
const stands: fc.Arbitrary<Stand> = fc
  .record({
    end: fc.constantFrom<EndName>('base', 'lid'),
    normal: fc.tuple(coordinate, coordinate, coordinate).filter((v) => norm(v) > 0.2),
    azimuthDeg: fc.integer({ min: -180, max: 180 }),
    tiltDeg: fc.constantFrom(0, 0, 6, 14, -9),
    across: fc.constantFrom(0, 3),
  })
  .map((r) => ({ ...r, normal: r.normal as unknown as Vec3 }));

describe('place sheet', () => {
  it('puts holes, ball and stud where the job has them, for both hands, by its printed numbers', () => {
    let read = 0;
    fc.assert(
      fc.property(stands, fc.boolean(), (stand, twin) => {
        const job = jobWith(stand, twin ? 2 : 1);
        const frame = makeFrame(job);
        const strut = job.struts[0]!;
        const sheets = placeSheets({ job, frame }, strut, options);
        for (const sheet of sheets) expect(collisions(sheet)).toEqual([]);
        const pages = pagesOf(sheets, stand.end);
        expect(pages).toHaveLength(twin ? 2 : 1);
        pages.forEach((page, hand) => {
          read++;
          const foot = footOf(page);
          // the page's axes, from the words and the job alone
          const m0 = unit(stand.normal);
          const middle = scale(add(frame.points.get(job.hinge.a)!, frame.points.get(job.hinge.b)!), 0.5);
          const turn = (v: Vec3): Vec3 => (hand === 1 ? mirrorPoint(v, [0, 0, 0], frame.axis.along) : v);
          const place = (p: Vec3): Vec3 => (hand === 1 ? mirrorPoint(p, middle, frame.axis.along) : p);
          const m = turn(m0);
          const ball = place(frame.points.get(strut[stand.end])!);
          const height = Number(/stands ([\d.]+) over the surface/.exec(foot)![1]);
          const cross3 = sub(ball, scale(m, height));
          const up0: Vec3 = /upright line is up/.test(foot)
            ? stand.end === 'lid'
              ? turn(rotateVec([0, 0, 1], frame.axis.opening, rad(-toRad(frame.openDeg))))
              : turn([0, 0, 1])
            : ((): Vec3 => {
                const arm = sub(cross3, frame.axis.origin);
                return scale(perpendicularTo(arm, frame.axis.along), -1);
              })();
          const v = unit(perpendicularTo(up0, m));
          const u = cross(v, m);
          const onSurface = (x: number, y: number): Vec3 => add(cross3, add(scale(u, x), scale(v, y)));
          // the stud's direction: printed turn off the upright line, leaning by the tilt
          const said = /points ([\d.]+)° off the upright line’s upper end, turned (counter-)?clockwise/.exec(foot);
          const deg = said ? Number(said[1]) * (said[2] ? -1 : 1) : 0;
          const way = add(scale(u, Math.sin(toRad(deg))), scale(v, Math.cos(toRad(deg))));
          const flat = turn(
            stemFromMount(
              { normal: stand.normal, reference: job.struts[0]!.ends[stand.end].mount!.reference },
              toRad(stand.azimuthDeg),
              rad(0),
            ),
          );
          expect(norm(sub(way, flat)) * 100).toBeLessThan(0.1);
          // where the bracket then stands: its stud leans by the tilt, its ball is the job's
          const tilt = toRad(stand.tiltDeg);
          const spec = bracketSpecOf(job.brackets[0]!);
          const x = add(scale(flat, Math.cos(tilt)), scale(m, Math.sin(tilt)));
          const z = add(scale(m, Math.cos(tilt)), scale(flat, -Math.sin(tilt)));
          const y = scale(cross(z, x), hand === 1 ? -1 : 1);
          const out = ([a, b, c]: Vec3): Vec3 => add(scale(x, a), add(scale(y, b), scale(z, c)));
          const origin = sub(ball, out(ballAt(spec)));
          const holes = placedHoles(spec).filter((h) => h.role === 'fixing');
          const printed = [...foot.matchAll(/\d+: ⌀[\d.]+, x (−?[\d.]+), y (−?[\d.]+)/g)].map((k) =>
            onSurface(num(k[1]!), num(k[2]!)),
          );
          expect(printed).toHaveLength(holes.length);
          for (const hole of holes) {
            const at = add(origin, out(hole.centreMm));
            // along the screw until it meets the surface
            const reach = dot(sub(cross3, at), m) / dot(z, m);
            const wanted = add(at, scale(z, reach));
            // sizes are printed to 0.01, the height to 0.1: a screw that leans carries that aside
            expect(Math.min(...printed.map((p) => norm(sub(p, wanted))))).toBeLessThan(
              0.05 + 0.05 * Math.tan(Math.abs(tilt)),
            );
          }
        });
      }),
      { numRuns: runs(200) },
    );
    expect(read).toBeGreaterThan(0);
  });

  it('gives the tape’s readings: square to a named edge, along it, and straight from its ends', () => {
    const job: ResolvedJob = {
      ...jobWith({ end: 'lid', normal: [0, -1, 0], azimuthDeg: 0, tiltDeg: 0, across: 0 }, 1),
      papers: { edges: [{ name: 'Starboard side', from: 'c3', to: 'c4' }] },
    };
    const frame = makeFrame(job);
    const [table] = placeSheets({ job, frame }, job.struts[0]!, options);
    const all = texts(table!);
    const at = (id: string): Vec3 => frame.points.get(id)!;
    // the cross: under the ball by its height over the lid's side
    const height = ballAt(bracketSpecOf(job.brackets[0]!))[2];
    const foot = sub(at('s1-lid'), scale([0, -1, 0] as Vec3, height));
    const d = unit(sub(at('c4'), at('c3')));
    const along = dot(sub(foot, at('c3')), d);
    const square = norm(sub(sub(foot, at('c3')), scale(d, along)));
    expect(all).toContain('Starboard side');
    expect(all).toContain(String(Number(square.toFixed(1))));
    expect(all.join(' ')).toContain(`${Number(along.toFixed(1))} from “Lid corner, aft starboard” towards`);
    expect(all).toContain(String(Number(norm(sub(foot, at('c4'))).toFixed(1))));
  });

  it('draws a near edge at 1:1, as far from the cross as its label says', () => {
    const job: ResolvedJob = {
      ...jobWith({ end: 'lid', normal: [0, 0, -1], azimuthDeg: 20, tiltDeg: 0, across: 0 }, 1),
      points: example.points.map((p) =>
        /^c[34]$/.test(p.id)
          ? { ...p, at: [p.at[0], p.at[1], example.points.find((q) => q.id === 's1-lid')!.at[2] + 40] as Vec3 }
          : p,
      ),
      papers: { edges: [{ name: 'Starboard side', from: 'c3', to: 'c4' }] },
    };
    const frame = makeFrame(job);
    const pages = pagesOf(placeSheets({ job, frame }, job.struts[0]!, options), 'lid');
    // taken apart by the page's window: its figure, and two arrows as far apart
    const marks = pages[0]!.parts.find((p) => p.name === 'template')!.marks;
    const figures = marks.flatMap((k) =>
      k.kind === 'text' && /^\d+(\.\d)?$/.test(k.text) && k.sizeMm === 3.5 ? [Number(k.text)] : [],
    );
    const tips = marks.flatMap((k) => (k.kind === 'area' ? [k.points[0]!] : []));
    const apart = tips.flatMap((p, i) => tips.slice(0, i).map((q) => Math.hypot(p[0] - q[0], p[1] - q[1])));
    // the lid's edge lies 24 mm from the ball, square to it in the surface
    expect(figures).toContain(24);
    expect(apart.some((a) => Math.abs(a - 24) < 0.05)).toBe(true);
  });

  it('refuses an edge between points that are gone, and says so where a surface is not known', () => {
    const gone: ResolvedJob = { ...example, papers: { edges: [{ name: 'Rear wall', from: 'c1', to: 'nowhere' }] } };
    expect(() => placeSheets({ job: gone, frame: makeFrame(gone) }, gone.struts[0]!, options)).toThrow(
      /Rear wall.*nowhere/,
    );
    const all = placeSheets({ job: example, frame: makeFrame(example) }, example.struts[0]!, options);
    expect(all.flatMap(texts).join(' ')).toMatch(/does not say which way this end’s surface faces/);
  });
});
