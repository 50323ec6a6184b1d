import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { type StudyFile, answer, applyPlace, judged } from '../../core/find';
import { type Job, type JobZone, resolveJob, writeJob } from '../../core/job';
import { METRIC } from '../../core/quantity';
import type { Vec3 } from '../../core/space';
import { workingsOf } from '../../core/workings';
import { run } from '../../electron/headless';
import { jobAt } from '../support/files';
import { seeded } from '../../core/find/random';
import { temporaryFolder } from './temporary';

async function here(argv: string[]): Promise<{ code: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const io = {
    out: (text: string) => void (said.out += text),
    err: (text: string) => void (said.err += text),
    columns: 100,
    cwd: process.cwd(),
    env: {},
    nowMs: 0,
  };
  return { code: await run(argv, io), ...said };
}

const boat = jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');
const corners = (list: readonly Vec3[], on: 'base' | 'lid', faces: Vec3, offMm: [number, number]): JobZone =>
  ({ id: `${on}-zone`, on, corners: list, faces, offMm }) as unknown as JobZone;
/** The workboat with zones beside its coaming and under its lid. */
const zoned = {
  ...boat,
  brackets: [],
  zones: [
    corners(
      [
        [-850, -490, 60],
        [-60, -490, 60],
        [-60, -490, 330],
        [-850, -490, 330],
      ],
      'base',
      [0, -1, 0],
      [20, 80],
    ),
    corners(
      [
        [-850, -510, 385],
        [-60, -510, 385],
        [-60, -300, 385],
        [-850, -300, 385],
      ],
      'lid',
      [0, 0, -1],
      [10, 40],
    ),
  ],
  find: { quantity: 'one' },
} as unknown as Job;

it('finds a place for the workboat that beats the shipped one, and says how exact it must be', async () => {
  const { places } = answer(zoned, { effort: 0.4 })!;
  const shipped = judged(workingsOf(boat, METRIC), 0);
  expect(shipped.refused.length).toBeGreaterThan(0);
  expect(places.length).toBeGreaterThan(0);
  const [place] = places;
  expect(place!.spare).toBeGreaterThan(Math.max(0, shipped.spare));
  const fitted = applyPlace(zoned, { strutIndex: 0, place: place! });
  expect(judged(workingsOf(fitted, METRIC), 0).refused).toEqual([]);
  const file = path.join(temporaryFolder(), 'fitted.lidjob');
  writeFileSync(file, writeJob(fitted));
  const { out, err } = await here(['study', file, '--json', '--variants', '4000']);
  expect(err).toBe('');
  const study = JSON.parse(out) as StudyFile;
  expect([study.format, study.version, study.variants]).toEqual(['lidwright-study', 1, 4000]);
  // both at once is the hardest, and is what the place was offered with
  const { bothMm, baseMm, lidMm } = study.play!;
  expect(Math.abs(bothMm - place!.playMm)).toBeLessThan(0.25);
  expect(bothMm).toBeLessThanOrEqual(Math.min(baseMm, lidMm));
  // inside the play nothing fails, by the full findings
  const draw = seeded(3);
  const way = (): Vec3 => {
    const v = [draw() - 0.5, draw() - 0.5, draw() - 0.5];
    return v.map((c) => (c / Math.hypot(...v)) * bothMm * 0.99) as unknown as Vec3;
  };
  const [strut] = resolveJob(fitted).struts;
  for (let i = 0; i < 25; i++) {
    const off = { [strut!.base]: way(), [strut!.lid]: way() };
    const points = fitted.points.map((p) => (off[p.id] ? { ...p, at: (p.at as unknown as number[]).map((c, k) => c + off[p.id]![k]!) } : p)); // prettier-ignore
    expect(judged(workingsOf({ ...fitted, points } as Job, METRIC), 0).refused).toEqual([]);
  }
  const words = await here(['study', file, '--variants', '2000']);
  expect(words.out).toContain('Both balls may be off their marks');
  expect(words.out).not.toMatch(/NaN|undefined/);
});

it('says of a job that fails as it is that this comes first, and refuses a number that is none', async () => {
  const { code, out } = await here(['study', 'tests/fixtures/jobs/workboat-hatch.lidjob', '--variants', '1000']);
  expect([code, out.startsWith('Something fails already')]).toEqual([1, true]);
  for (const text of ['10', 'many', '1.5e3.2']) {
    const { code: bad, err } = await here(['study', 'tests/fixtures/jobs/workboat-hatch.lidjob', '--variants', text]);
    expect(bad).toBe(2);
    expect(err).toContain('--variants');
  }
});
