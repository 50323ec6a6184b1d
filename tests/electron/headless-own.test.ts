import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { run } from '../../electron/headless';
import { temporaryFolder } from './temporary';

async function here(argv: string[]): Promise<{ code: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const io = {
    out: (text: string) => void (said.out += text),
    err: (text: string) => void (said.err += text),
    ...{ columns: 100, cwd: import.meta.dirname, env: {}, nowMs: 0 },
  };
  return { code: await run(argv, io), ...said };
}

it('says whether a lid needs help at all, to people and to programs', async () => {
  const boat = path.resolve(import.meta.dirname, '../../tests/fixtures/jobs/workboat-hatch.lidjob');
  const told = await here(['need', boat, '--for', 'work']);
  expect([told.code, told.err]).toEqual([0, '']);
  expect(told.out).toMatch(
    /A pair of struts would do.*\n\n {2}no {3}nothing: .*\n.*\n.*\n.*\n {2}yes {2}pair: .*\n\nMeasured by EN 1005-3/,
  );
  const json = await here(['need', boat, '--json']);
  expect(JSON.parse(json.out)).toMatchObject({
    mover: 'home',
    answer: 'pair',
    bare: { effort: 'too much', falls: 'shut' },
  });
  expect((await here(['need', boat, '--for', 'giants'])).code).toBe(2);
});

it('says what a strut on the bench is, and writes a list that is read back', async () => {
  const folder = temporaryFolder();
  const file = path.join(folder, 'readings.json');
  const reading = (lengthMm: number, way: string, forceN: number | string) => ({
    lengthMm,
    way,
    forceN,
    plusMinusN: 8,
  });
  const bench = {
    ...{ name: 'Old hatch strut', extendedMm: '500 mm', strokeMm: 200, rodMm: 8, tubeMm: 18, labelN: 500 },
    readings: [
      reading(460, 'in', 450),
      reading(460, 'out', '42.8 kgf'),
      reading(340, 'in', 540),
      reading(340, 'out', 509),
    ],
  };
  writeFileSync(file, JSON.stringify(bench));
  const out = path.join(folder, 'mine.csv');
  const told = await here(['strut', file, '--out', out]);
  expect([told.code, told.err]).toEqual([0, `made ${out}\n`]);
  expect(told.out).toMatch(
    /^Old hatch strut: F1 \d+ ± \d+ N, ratio 1\.\d\d ± 0\.\d\d, friction 3\d ± \d+ N \(95 %\)\nIts label says 500 N/,
  );
  expect(told.out).toContain('Stand beside it');
  const list = await here(['list', out, '--json']);
  const [read] = (JSON.parse(list.out) as { entries: { name: string; frictionN: number; ratio: number }[] }).entries;
  const json = JSON.parse((await here(['strut', file, '--json'])).out) as { entry: object };
  expect(json.entry).toMatchObject({ name: read!.name, frictionN: read!.frictionN, ratio: read!.ratio });
  writeFileSync(file, JSON.stringify({ ...bench, readings: [{ ...bench.readings[0], way: 'up' }], tubeMm: '18 N' }));
  const bad = await here(['strut', file]);
  expect(bad.code).toBe(2);
  expect(bad.err).toMatch(/readings\[0\]\.way[\s\S]*tubeMm|tubeMm[\s\S]*readings\[0\]\.way/);
});
