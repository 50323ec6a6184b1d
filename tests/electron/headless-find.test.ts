import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { type PlacesFile, judged } from '../../core/find';
import { readJob } from '../../core/job';
import { METRIC } from '../../core/quantity';
import { workingsOf } from '../../core/workings';
import { run } from '../../electron/headless';
import { readCommand } from '../../electron/headless/options';
import { temporaryFolder } from './temporary';

const PLACES = path.resolve(import.meta.dirname, '../fixtures/places');

async function here(argv: string[]): Promise<{ code: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const io = {
    out: (text: string) => void (said.out += text),
    err: (text: string) => void (said.err += text),
    columns: 100,
    cwd: PLACES,
    env: {},
    nowMs: 0,
  };
  return { code: await run(argv, io), ...said };
}

it('finds places, writes them for other programs, and fits one', async () => {
  const out = path.join(temporaryFolder(), 'new.lidjob');
  const {
    code,
    out: text,
    err,
  } = await here([
    'find',
    'plant-00003.lidjob',
    '--list',
    'plant-00003.csv',
    '--json',
    '--best',
    '2',
    '--apply',
    '2',
    '--out',
    out,
  ]);
  expect([code, err]).toEqual([0, `made ${out}\n`]);
  const file = JSON.parse(text) as PlacesFile;
  expect([file.format, file.version, file.nearest, file.places.length]).toEqual(['lidwright-places', 1, null, 2]);
  expect(file.tried.pairs > 1000 && file.tried.struts > 1000 && file.tried.seconds > 0).toBe(true);
  const place = file.places[1]!;
  expect(Object.keys(place).sort()).toEqual(
    ['base', 'entry', 'greatestForceN', 'greatestHingeN', 'lid', 'liftN', 'openDeg', 'playMm', 'pullN', 'quantity', 'spare', 'spec', 'stems', 'tightest', 'unknown'].sort(), // prettier-ignore
  );
  expect(place.entry).toBe('14/28-220-520');
  const job = readJob(readFileSync(out, 'utf8'));
  const [strut] = job.struts;
  expect(job.points.find((p) => p.id === strut!.base)!.at).toEqual(place.base);
  expect([strut!.quantity, job.travel.openDeg, strut!.spec.forceN]).toEqual([place.quantity, place.openDeg, place.spec!.forceN]); // prettier-ignore
  for (const end of ['base', 'lid'] as const) expect(strut!.ends[end].stem).toBeUndefined();
  const w = workingsOf(job, METRIC);
  const verdict = judged(w, 0);
  expect(verdict.refused).toEqual([]);
  expect(verdict.spare).toBeCloseTo(place.spare, 9);
  w.frame.struts[0]!.baseStem.forEach((v, i) => expect(v).toBeCloseTo(place.stems!.base[i]!, 5));
});

it('says in words that nothing works, what is nearest and what would have to give', async () => {
  const { code, out } = await here(['find', 'none-00003.lidjob', '--list', 'none-00003.csv']);
  expect(code).toBe(1);
  expect(out).toMatch(/no place works/);
  expect(out).toMatch(/A place appears with/);
  expect(out).not.toMatch(/limits\.|8\/18-/);
});

it('refuses what it cannot read, before looking', async () => {
  expect((await here(['find', 'nowhere.lidjob'])).code).toBe(2);
  const zoneless = path.resolve(PLACES, '../../../tests/fixtures/jobs/workboat-hatch.lidjob');
  const job = JSON.parse(readFileSync(zoneless, 'utf8')) as { zones?: unknown };
  if (job.zones === undefined) expect((await here(['find', zoneless])).code).toBe(2);
  for (const wrong of [
    ['--best', '0'],
    ['--apply', '1'],
    ['--out', 'x'],
    ['--apply', 'one', '--out', 'x'],
    ['--paper', 'A3'],
  ])
    expect(() => readCommand(['find', 'a.lidjob', ...wrong]), wrong.join(' ')).toThrow();
  expect(readCommand(['find', 'a.lidjob', '--best', '3'])).toEqual({ kind: 'find', job: 'a.lidjob', list: null, best: 3, json: false, apply: null }); // prettier-ignore
});
