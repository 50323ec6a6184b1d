// The page and the headless command write the same papers of the same job: byte for byte, on the same day.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { type Bench, expect, test } from './support/bench';
import { exampleText, inRepo } from './support/paths';

const DAY = '2026-01-02';

/** What `lidwright papers` writes of a job, by name. */
function fromCommand(job: string, ...options: string[]): Map<string, Buffer> {
  const folder = mkdtempSync(join(tmpdir(), 'papers-'));
  try {
    writeFileSync(join(folder, 'job.lidjob'), job);
    const command = ['papers', 'job.lidjob', '--out', 'out', '--date', DAY, ...options];
    execFileSync(process.execPath, [inRepo('scripts', 'lidwright.mjs'), ...command], { cwd: folder, stdio: 'pipe' });
    const out = join(folder, 'out');
    return new Map(readdirSync(out).map((name) => [name, readFileSync(join(out, name))]));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Every file that the Papers panel hands out, by name; every button pressed, on every page of every paper. */
async function fromPage(bench: Bench): Promise<Map<string, Buffer>> {
  const { page } = bench;
  const files = new Map<string, Buffer>();
  const take = async (format: string): Promise<void> => {
    for (const button of await page.getByRole('button', { name: new RegExp(`^Export ${format}`) }).all()) {
      const { name, bytes } = await bench.downloaded(button);
      expect(files.has(name), `${name} twice`).toBe(false);
      files.set(name, bytes);
    }
  };
  const papers = page.locator('select[name="paper"]');
  for (const id of await papers
    .locator('option')
    .evaluateAll((all) => all.map((o) => (o as HTMLOptionElement).value))) {
    await papers.selectOption(id);
    await take('(PDF|CSV)');
    await take('(SVG|DXF|STL|3MF)');
    const next = bench.button('Next page');
    while ((await next.count()) > 0 && (await next.isEnabled())) {
      await next.click();
      await take('(SVG|DXF|STL|3MF)');
    }
  }
  return files;
}

/** The workboat's hatch with its base end leaning: a wedge lies under its bracket. */
function leaning(): string {
  const job = JSON.parse(exampleText('workboat-hatch')) as { title: string; struts: { ends: { base: object } }[] };
  job.title = 'Hatch: with a wedge';
  Object.assign(job.struts[0]!.ends.base, { tiltDeg: 6 });
  return JSON.stringify(job);
}

for (const [name, job] of [
  ['machine-guard', exampleText('machine-guard')],
  ['a job with a wedge', leaning()],
  ['workboat-hatch', exampleText('workboat-hatch')],
  ['trailer-locker', exampleText('trailer-locker')],
] as const)
  test(`page and command write the same papers of ${name} @deep`, async ({ bench }) => {
    await bench.page.clock.setFixedTime(new Date(`${DAY}T12:00:00`));
    await bench.drop('[data-view=side]', { name: 'job.lidjob', bytes: Buffer.from(job) });
    await expect(bench.page.locator('.job-file')).toContainText('job.lidjob');
    await bench.findings();
    await bench.stage('Papers');
    const [page, command] = [await fromPage(bench), fromCommand(job)];
    expect([...page.keys()].sort()).toEqual([...command.keys()].sort());
    for (const [file, bytes] of command) expect(page.get(file)!.equals(bytes), file).toBe(true);
    const endings = new Set([...command.keys()].map((file) => file.split('.').at(-1)));
    expect([...endings].sort()).toEqual(
      /wedge|hatch/.test(name) ? ['3mf', 'csv', 'dxf', 'pdf', 'stl', 'svg'] : ['csv', 'dxf', 'pdf', 'svg'],
    );
    for (const [file, bytes] of fromCommand(job, '--together')) {
      const all = await bench.downloaded(bench.button('All papers in one PDF'));
      expect([all.name, all.bytes.equals(bytes)]).toEqual([file, true]);
    }
    test.info().annotations.push({ type: 'files alike', description: String(command.size) });
    console.log(`${name}: ${command.size} files alike`);
  });
