import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { NO_OTHERS, readJob, writeJobFile } from '../../core/job';
import { fileStems } from '../../core/papers';
import { run } from '../../electron/headless';
import type { Io } from '../../electron/headless/io';
import { readCommand } from '../../electron/headless/options';
import { paperDate } from '../../electron/headless/papers';
import { errorWords } from '../../electron/headless/words';
import { temporaryFolder } from './temporary';
import { DEEP } from '../support/tier';

const ROOT = path.resolve(import.meta.dirname, '../..');
const EXAMPLE = path.join(ROOT, 'tests/fixtures/jobs/workboat-hatch.lidjob');
const example = (): Record<string, unknown> => JSON.parse(readFileSync(EXAMPLE, 'utf8')) as Record<string, unknown>;

/** Runs in this process, with the outside world in hand. */
async function here(argv: string[], more: Partial<Io> = {}): Promise<{ code: number; out: string; err: string }> {
  const said = { out: '', err: '' };
  const io: Io = {
    out: (text) => void (said.out += text),
    err: (text) => void (said.err += text),
    columns: 100,
    cwd: ROOT,
    env: {},
    nowMs: Date.UTC(2026, 4, 17, 12),
    ...more,
  };
  return { code: await run(argv, io), ...said };
}

/** What the example's papers are named by: its title. */
const STEM = fileStems(example() as never, ['x'])[0]!.slice(0, -2);

/** A job file in a folder of its own. */
function jobFile(content: unknown, name = 'a.lidjob'): string {
  const file = path.join(temporaryFolder(), name);
  writeFileSync(file, typeof content === 'string' || Buffer.isBuffer(content) ? content : JSON.stringify(content));
  return file;
}

const LIMITS_NEVER_BROKEN = { handOpenN: 10_000, handCloseN: 10_000, reserveMm: 0, holdOpenNm: 0 };

/** The example with wide joints and limits that nothing breaks. */
function goodJob(): Record<string, unknown> {
  const job = example();
  const struts = (job['struts'] as { ends: Record<string, object> }[]).map((strut) => ({
    ...strut,
    ends: {
      base: { ...strut.ends['base'], rangeDeg: 89 },
      lid: { ...strut.ends['lid'], rangeDeg: 89 },
    },
  }));
  return { ...job, struts, limits: LIMITS_NEVER_BROKEN };
}

describe('reading the command line', () => {
  it('understands what the help names', () => {
    expect(readCommand([])).toEqual({ kind: 'help' });
    expect(readCommand(['--version'])).toEqual({ kind: 'version' });
    expect(readCommand(['check', 'a', '--json'])).toEqual({ kind: 'check', job: 'a', json: true });
    expect(readCommand(['papers', '--out', 'd', 'a', '--paper', 'a3', '--projection=third'])).toEqual({
      kind: 'papers',
      job: 'a',
      out: 'd',
      paper: 'A3',
      projection: 'third',
      only: null,
      formats: null,
      together: false,
      zip: false,
      date: null,
    });
    expect(readCommand(['papers', 'a', '--out', 'd', '--date', '2026-02-28', '--together'])).toMatchObject({
      date: '2026-02-28',
      together: true,
    });
    expect(readCommand(['papers', '--out', 'd', 'a', '--only', 'report, Bracket', '--format=dxf'])).toMatchObject({
      only: ['bracket', 'report'],
      formats: ['dxf'],
    });
  });

  it('refuses the rest in words', async () => {
    for (const argv of [
      ['frob'],
      ['check'],
      ['check', 'a', 'b'],
      ['check', 'a', '--out', 'd'],
      ['papers', 'a'],
      ['papers', 'a', '--out', 'd', '--json'],
      ['papers', 'a', '--out', 'd', '--paper', 'A5'],
      ['papers', 'a', '--out', 'd', '--only', 'poster'],
      ['papers', 'a', '--out', 'd', '--only', ','],
      ['papers', 'a', '--out', 'd', '--date', '2026-02-30'],
      ['papers', 'a', '--out', 'd', '--date', 'today'],
      ['papers', 'a', '--out', 'd', '--together', '--format', 'dxf'],
      ['papers', 'a', '--out', 'd', '--together', '--zip'],
      ['papers', 'a', '--out', 'd', '--format', 'pdf,doc'],
      ['check', 'a', '--only', 'report'],
      ['check', 'a', '--jsn'],
      ['trace', 'a'],
      ['trace'],
      ['cases', 'a'],
      ['trace', 'a', '--out', 'd', '--json'],
      ['trace', 'a', '--out', 'd', '--only', 'report'],
    ]) {
      const { code, out, err } = await here(argv);
      expect([code, out], argv.join(' ')).toEqual([2, '']);
      expect(err).toMatch(/lidwright: .+\n {4}.+\n$/);
    }
  });
});

describe('check', () => {
  it('reads a job with its pictures in a ZIP as it reads a plain one, and refuses a torn ZIP with a reason', async () => {
    const inside = `data:image/jpeg;base64,${Buffer.from('picture').toString('base64')}`;
    const photos = (example()['photos'] as object[]).map((photo) => ({ ...photo, source: { inside } }));
    const job = readJob(JSON.stringify({ ...example(), photos }));
    const zip = Buffer.from(writeJobFile({ job, others: NO_OTHERS }));
    expect(zip.subarray(0, 2).toString()).toBe('PK');
    const [packed, plain] = [jobFile(zip), jobFile(job)];
    expect((await here(['check', packed, '--json'])).out).toBe((await here(['check', plain, '--json'])).out);
    zip[zip.length - 200]! ^= 1;
    const torn = await here(['check', jobFile(zip)]);
    expect(torn).toMatchObject({ code: 2, err: expect.stringMatching(/torn or was tampered with/) });
  });

  it('exits 1 when a finding fails and 0 when none does', async () => {
    const failing = jobFile({ ...goodJob(), limits: { ...LIMITS_NEVER_BROKEN, handCloseN: 0.001 } });
    const bad = await here(['check', failing]);
    expect([bad.code, bad.err]).toEqual([1, '']);
    expect(bad.out).toContain('FAILS');
    const good = await here(['check', jobFile(goodJob())]);
    expect([good.code, good.err]).toEqual([0, '']);
    expect(good.out).not.toContain('FAILS');
  });

  it('--json is the result of the file format and nothing else', async () => {
    const { code, out } = await here(['check', EXAMPLE, '--json']);
    const result = JSON.parse(out) as {
      title: string;
      cases: { id: string; travel: { angleDeg: number[]; struts: object[] } }[];
      findings: { state: string }[];
    };
    expect(result.title).toBe(example()['title']);
    expect(result.cases.map(({ id }) => id)).toEqual((example()['loadCases'] as { id: string }[]).map(({ id }) => id));
    const { travel } = result.cases[0]!;
    expect(travel.angleDeg[0]).toBe(0);
    for (const key of ['weightMomentNm', 'handOpeningN', 'handClosingN', 'hingeAN', 'hingeBN', 'hingeAxialN'])
      expect((travel as Record<string, unknown>)[key], key).toHaveLength(travel.angleDeg.length);
    for (const key of [
      'lengthMm',
      'leverArmMm',
      'balanceForceN',
      'extendingN',
      'compressingN',
      'baseJointDeg',
      'lidJointDeg',
    ])
      expect((travel.struts[0] as Record<string, unknown>)[key], key).toHaveLength(travel.angleDeg.length);
    expect(code).toBe(result.findings.some(({ state }) => state === 'fails') ? 1 : 0);
  });

  it('exits 2 on input that can’t be read, with words on stderr and nothing on stdout', async () => {
    const large = jobFile('');
    truncateSync(large, 200 * 1024 * 1024);
    const cases: [string, RegExp][] = [
      ['no-such-file', /"no-such-file" is not there/],
      [ROOT, /is a folder/],
      [jobFile(''), /is empty/],
      [large, /200 MiB long/],
      [jobFile(Buffer.from([0xc3, 0x28])), /not UTF-8/],
      [jobFile('{"format":'), /ends in the middle/],
      [jobFile('[]'), /./],
      [jobFile({ ...example(), masses: [{ id: 'm', name: 'M', kg: 'heavy', at: 'nowhere' }] }), /masses\[0\]\.kg/],
      [
        jobFile({
          ...example(),
          hinge: { ...(example()['hinge'] as object), b: (example()['hinge'] as { a: string }).a },
        }),
        /hinge/,
      ],
    ];
    for (const [name, words] of cases) {
      const { code, out, err } = await here(['check', name, '--json']);
      expect([code, out], name).toEqual([2, '']);
      expect(err).toMatch(words);
      expect(err.trimEnd().split('\n').length, 'what to do is said').toBeGreaterThan(1);
    }
  });

  it('lists every issue with its path', () => {
    const error = Object.assign(new Error('x'), { name: 'Error' });
    expect(errorWords(error, 'a.lidjob')).toMatch(/^a\.lidjob: x\n/);
  });
});

describe('papers', () => {
  it('makes the folder, draws every paper in every format it has, and says what it replaced', async () => {
    const cwd = temporaryFolder();
    copyFileSync(EXAMPLE, path.join(cwd, 'hatch.lidjob'));
    const first = await here(['papers', 'hatch.lidjob', '--out', 'deep/sheets'], { cwd });
    expect([first.code, first.err]).toEqual([0, '']);
    expect(first.out).toMatch(/^made deep\/sheets\/\S+-bracket-b1\.pdf$/m);
    const made = readdirSync(path.join(cwd, 'deep/sheets')).sort();
    for (const stem of ['bracket-b1', 'cutting-b1', 'template-b1', 'template-b1-behind'])
      for (const ending of ['pdf', 'svg', 'dxf']) expect(made).toContain(`${STEM}-${stem}.${ending}`);
    for (const name of ['purchase-s1.pdf', 'layout.pdf', 'layout-1.dxf', 'layout-2.svg', 'report.pdf', 'report-1.svg'])
      expect(made).toContain(`${STEM}-${name}`);
    expect(made).toContain(`${STEM}-checklist.pdf`);
    expect(made.filter((name) => /(report|checklist|purchase).*dxf$/.test(name))).toEqual([]);
    expect(readFileSync(path.join(cwd, `deep/sheets/${STEM}-bracket-b1.pdf`), 'latin1')).toMatch(/^%PDF-/);
    expect(readFileSync(path.join(cwd, `deep/sheets/${STEM}-bracket-b1.svg`), 'utf8')).toContain('17');
    expect(readFileSync(path.join(cwd, `deep/sheets/${STEM}-cutting-b1.dxf`), 'latin1')).toContain('AC1015');
    const again = await here(
      ['papers', 'hatch.lidjob', '--out', 'deep/sheets', '--paper', 'A3', '--projection', 'third', '--only', 'bracket'],
      { cwd },
    );
    expect(again.out).toMatch(/^replaced deep\/sheets\/\S+-bracket-b1\.pdf$/m);
    expect(again.out).not.toContain('report');
    expect(readdirSync(path.join(cwd, 'deep/sheets')).sort()).toEqual(made);
  });

  it('draws every paper of a job with an emoji in its names, and says where it stands', async () => {
    const job = goodJob();
    const file = jobFile({ ...job, title: 'Hatch 🚤' });
    const cwd = path.dirname(file);
    const { code, out, err } = await here(['papers', 'a.lidjob', '--out', 'o', '--format', 'pdf'], { cwd });
    expect(code).toBe(0);
    expect(out.match(/^made /gm)!.length).toBeGreaterThan(5);
    expect(err).toBe('title: the drawing font has not got “🚤”: papers show a box there. Write it in other letters.\n');
  });

  it('makes only the papers and formats asked for', async () => {
    const cwd = temporaryFolder();
    await here(['papers', EXAMPLE, '--out', 'o', '--only', 'template,cutting', '--format', 'dxf'], { cwd });
    expect(readdirSync(path.join(cwd, 'o')).sort()).toEqual([
      `${STEM}-cutting-b1.dxf`,
      `${STEM}-template-b1-behind.dxf`,
      `${STEM}-template-b1.dxf`,
    ]);
    expect(await here(['papers', EXAMPLE, '--out', 'p', '--only', 'report', '--format', 'dxf'], { cwd })).toMatchObject(
      {
        code: 2,
        out: '',
        err: expect.stringMatching(/no DXF/),
      },
    );
  });

  it('is the size that was asked for (read by pdfinfo)', async () => {
    const cwd = temporaryFolder();
    for (const [paper, widthMm, heightMm] of [
      ['A4', 210, 297],
      ['A3', 420, 297],
    ] as const) {
      await here(['papers', EXAMPLE, '--out', paper, '--paper', paper, '--only', 'bracket,layout'], { cwd });
      for (const name of ['bracket-b1.pdf', 'layout.pdf']) {
        const info = execFileSync('pdfinfo', [path.join(cwd, paper, `${STEM}-${name}`)], { encoding: 'utf8' });
        const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(info)!.map(Number);
        expect(Math.abs((width! / 72) * 25.4 - widthMm)).toBeLessThan(0.5);
        expect(Math.abs((height! / 72) * 25.4 - heightMm)).toBeLessThan(0.5);
      }
    }
  });

  it.runIf(DEEP)('gives the same bytes for the same day', async () => {
    const cwd = temporaryFolder();
    const env = { SOURCE_DATE_EPOCH: '1767225600' };
    await here(['papers', EXAMPLE, '--out', 'a'], { cwd, env });
    await here(['papers', EXAMPLE, '--out', 'b'], { cwd, env, nowMs: 0 });
    for (const name of readdirSync(path.join(cwd, 'a')))
      expect(readFileSync(path.join(cwd, 'a', name)).equals(readFileSync(path.join(cwd, 'b', name))), name).toBe(true);
  });

  it('writes the others when one bracket can’t be drawn, says which and why, and exits 1', async () => {
    const cwd = temporaryFolder();
    const [bracket] = example()['brackets'] as object[];
    const job = jobFile({ ...example(), brackets: [bracket, { ...bracket, id: 'b2', name: 'Odd', thicknessMm: 500 }] });
    const { code, err } = await here(['papers', job, '--out', 'o'], { cwd });
    expect(code).toBe(1);
    expect(err).toContain('Left out, because it can’t be drawn: Drawing: Odd.');
    expect(err).toContain('brackets[1]');
    const made = readdirSync(path.join(cwd, 'o'));
    expect(made).toContain(`${STEM}-bracket-b1.dxf`);
    expect(made).toContain(`${STEM}-report.pdf`);
    expect(made.filter((name) => name.includes('bracket-b2'))).toEqual([]);
    const none = await here(['papers', job, '--out', 'p', '--only', 'bracket', '--together'], { cwd });
    expect([none.code, none.out.match(/^made .*$/gm)]).toEqual([1, [`made p/${STEM}-papers.pdf`]]);
  });

  it('draws what needs no working-out of a job that can’t be worked out, and says why the rest is left out', async () => {
    const cwd = temporaryFolder();
    const hinge = example()['hinge'] as { a: string };
    const job = jobFile({ ...example(), hinge: { ...hinge, b: hinge.a } });
    const { code, err } = await here(['papers', job, '--out', 'o'], { cwd });
    expect(code).toBe(1);
    expect(err).toMatch(/Left out: what has to be worked out\.\n.*hinge/);
    expect(readdirSync(path.join(cwd, 'o'))).toContain(`${STEM}-cutting-b1.dxf`);
    expect(await here(['papers', job, '--out', 'p', '--only', 'cutting'], { cwd })).toMatchObject({ code: 0, err: '' });
    expect(await here(['papers', job, '--out', 'q', '--only', 'report'], { cwd })).toMatchObject({ code: 2, out: '' });
  });

  it('refuses to draw brackets of a job without any, and an --out that is a file', async () => {
    expect(
      await here(['papers', jobFile({ ...example(), brackets: [] }), '--out', 'o', '--only', 'bracket']),
    ).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringMatching(/nothing to draw/),
    });
    const file = jobFile('x');
    expect(await here(['papers', EXAMPLE, '--out', file])).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringMatching(/not a folder/),
    });
  });

  it('takes its date from SOURCE_DATE_EPOCH or the clock', () => {
    expect(paperDate({}, new Date(2026, 4, 17, 23).getTime())).toBe('2026-05-17');
    expect(paperDate({ SOURCE_DATE_EPOCH: '0' }, 1e12)).toBe('1970-01-01');
    for (const bad of ['tomorrow', '-1', '1e3', '999999999999'])
      expect(() => paperDate({ SOURCE_DATE_EPOCH: bad }, 0), bad).toThrow(/no time/);
  });
});

describe('new', () => {
  const BOX = ['new', '--width', '1100', '--depth', '480', '--thickness', '18 mm', '--kg', '9.5', '--cold', '-5'];

  it('makes a job that check reads, says how it stands, and takes numbers below zero', async () => {
    const cwd = temporaryFolder();
    const made = await here([...BOX, '--title', 'Box in the van', '--out', 'box.lidjob'], { cwd });
    expect(made).toMatchObject({ code: 0, err: '' });
    expect(made.out).toMatch(/made box\.lidjob[\s\S]*Box in the van: .*hold/);
    const job = readJob(readFileSync(path.join(cwd, 'box.lidjob'), 'utf8'));
    expect(job.loadCases.filter((c) => c.tempC === -5).length).toBeGreaterThan(0);
    expect((await here(['check', 'box.lidjob'], { cwd })).code).toBe(0);
  });

  it('refuses what it can’t take, and writes nothing', async () => {
    const cwd = temporaryFolder();
    const refused = async (...more: string[]) => {
      const { code, err } = await here([...BOX, '--out', 'box.lidjob', ...more], { cwd });
      expect(code).toBe(2);
      return err;
    };
    expect(await refused('--open', '500')).toContain('opening angle');
    expect(await refused('--material', 'cheese')).toContain('Birch plywood');
    expect(await refused('--json')).toContain('--json does not belong');
    expect(await refused('extra')).toContain('extra');
    expect(await refused('--open', 'wide')).toContain('--open');
    expect((await here(BOX, { cwd })).err).toContain('--out');
    expect(readdirSync(cwd)).toEqual([]);
  });
});

describe('cases', () => {
  const WISHES = ['--cold=-15', '--hot=none', '--slope=3', '--wind=12', '--vehicle', '--boat=10,6,5,4,1000,-500'];
  it('adds what the job has none like, says which, and leaves the rest as it was', async () => {
    const cwd = temporaryFolder();
    const { code, out, err } = await here(['cases', EXAMPLE, '--out', 'b.lidjob', ...WISHES], { cwd });
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('made b.lidjob');
    expect(out).toContain('there already: As used, 20 °C');
    expect(out).toContain('added: Cold, −15 °C, weak strut, 15 % lost with age');
    const made = readJob(readFileSync(path.join(cwd, 'b.lidjob'), 'utf8'));
    const was = example() as { loadCases: unknown[] };
    expect(made.loadCases.slice(0, was.loadCases.length)).toEqual(was.loadCases);
    expect(out.match(/^added/gm)).toHaveLength(made.loadCases.length - was.loadCases.length);
    expect(made.loadCases.some((c) => c.tempC === 50)).toBe(false);
    const again = await here(['cases', 'b.lidjob', '--out', 'b.lidjob', ...WISHES], { cwd });
    expect(again.out).toContain('replaced b.lidjob');
    expect(again.out).not.toMatch(/^added/m);
  });
  it.each([
    [['--cold=mild'], 'no number'],
    [['--slope=-3'], 'under 0'],
    [['--boat=1,2,3'], 'six numbers'],
    [['--boat=10,0,5,4,1,1'], 'seconds over 0'],
    [['--off=nobody'], 'nobody'],
    [['--json'], 'does not belong'],
  ])('refuses %j in words', async (options, words) => {
    const cwd = temporaryFolder();
    const { code, err } = await here(['cases', EXAMPLE, '--out', 'b.lidjob', ...options], { cwd });
    expect(code).toBe(2);
    expect(err).toContain(words);
    expect(readdirSync(cwd)).toEqual([]);
  });
});

describe('trace', () => {
  const PHOTO = path.join(ROOT, 'tests/fixtures/photos/locker-side.jpg');
  const MARKS = {
    photo: 'side.jpg',
    scale: { from: [655.6, 883.3], to: [1127, 888.2], lengthMm: '50 cm' },
    marks: {
      hinge: [491, 474.4],
      edge: [1188.7, 481.8],
      grip: [1200.4, 500.1],
      base: [545.9, 721.9],
      lid: [737, 493.7],
      mass: [840, 485.4],
    },
    widthMm: '3 ft',
    kg: 30,
  };
  const traced = async (marks: unknown) => {
    const cwd = temporaryFolder();
    copyFileSync(PHOTO, path.join(cwd, 'side.jpg'));
    writeFileSync(path.join(cwd, 'marks.json'), typeof marks === 'string' ? marks : JSON.stringify(marks));
    return { cwd, ...(await here(['trace', 'marks.json', '--out', 'lid.lidjob'], { cwd })) };
  };

  it('makes a whole job with the photo inside, as the sums by hand have it; check and papers take it', async () => {
    const { cwd, code, err } = await traced({ ...MARKS, level: { from: [491, 474.4], to: [1188.7, 481.8] } });
    expect([code, err]).toEqual([0, '']);
    const job = JSON.parse(readFileSync(path.join(cwd, 'lid.lidjob'), 'utf8')) as {
      points: { id: string; at: number[] }[];
      masses: { kg: number }[];
      photos: { source: { inside: string }; widthPx: number; heightPx: number; rotationDeg: number }[];
    };
    // 500 mm over |(471.4, 4.9)| px; hinge and edge are level by the marks, so the edge lies at their distance
    const edgeMm = (Math.hypot(1188.7 - 491, 481.8 - 474.4) * 500) / Math.hypot(471.4, 4.9);
    const edge = job.points.find((p) => p.id === 'c2')!.at;
    expect(edge[0]).toBeCloseTo(edgeMm, 1);
    expect(edge.slice(1)).toEqual([457.2, 0]);
    expect(job.masses[0]!.kg).toBe(30);
    const [photo] = job.photos;
    expect([photo!.widthPx, photo!.heightPx]).toEqual([1600, 1200]);
    expect(Buffer.from(photo!.source.inside.split(',')[1]!, 'base64').equals(readFileSync(PHOTO))).toBe(true);
    expect((await here(['check', 'lid.lidjob'], { cwd })).err).toBe('');
    expect((await here(['papers', 'lid.lidjob', '--out', 'o', '--format', 'dxf'], { cwd })).code).toBe(0);
  });

  it('exits 2 on marks that can’t be, with what, where and what to do', async () => {
    const { mass: _, ...few } = MARKS.marks;
    for (const [marks, words] of [
      [{ ...MARKS, photo: 'none.jpg' }, /photo: "none.jpg" is not there/],
      [{ ...MARKS, photo: 'marks.json' }, /photo: .*no.*picture|not a JPEG/],
      [{ ...MARKS, marks: few }, /marks\.mass: needs two pixel numbers/],
      [{ ...MARKS, marks: { ...MARKS.marks, grip: [5000, 3] } }, /marks\.grip: \[5000, 3\] is off the photo/],
      [{ ...MARKS, scale: { ...MARKS.scale, to: MARKS.scale.from } }, /scale\.to: both marks are on one pixel/],
      [{ ...MARKS, scale: { ...MARKS.scale, lengthMm: '50 kg' } }, /scale\.lengthMm: .*is not a length/],
      [{ ...MARKS, scale: { ...MARKS.scale, lengthMm: 0 } }, /scale\.lengthMm: must be over 0/],
      [{ ...MARKS, wide: 3 }, /wide/],
      ['{"photo":', /ends in the middle/],
    ] as const) {
      const { code, out, err, cwd } = await traced(marks);
      expect([code, out], String(words)).toEqual([2, '']);
      expect(err).toMatch(words);
      expect(err.trimEnd().split('\n').length, err).toBeGreaterThan(1);
      expect(readdirSync(cwd).sort()).toEqual(['marks.json', 'side.jpg']);
    }
  });
});

describe('the command itself, in a process of its own', () => {
  const SCRIPT = path.join(ROOT, 'scripts/lidwright.mjs');
  const start = (args: string[], cwd: string) =>
    spawnSync(process.execPath, [SCRIPT, ...args], { cwd, encoding: 'utf8', maxBuffer: 64e6 });

  beforeAll(() => void start(['--version'], ROOT), 120_000); // builds it once

  it('works from any folder, with the exit codes and streams as promised', () => {
    const cwd = temporaryFolder();
    mkdirSync(path.join(cwd, 'jobs'));
    writeFileSync(path.join(cwd, 'jobs/good.lidjob'), JSON.stringify(goodJob()));
    const good = start(['check', 'jobs/good.lidjob', '--json'], cwd);
    expect([good.status, good.stderr]).toEqual([0, '']);
    expect(() => JSON.parse(good.stdout) as unknown).not.toThrow();
    const bad = start(['check', 'jobs/none.lidjob'], cwd);
    expect([bad.status, bad.stdout]).toEqual([2, '']);
    expect(bad.stderr).toContain('is not there');
    const version = start(['--version'], cwd);
    expect(version.stdout.trim()).toBe(
      (JSON.parse(readFileSync(path.join(ROOT, 'package.json'), 'utf8')) as { version: string }).version,
    );
  });

  it.runIf(DEEP)('prints the same through the bundle as from its sources', async () => {
    const bundled = start(['check', EXAMPLE, '--json'], temporaryFolder());
    expect(bundled.stdout).toBe((await here(['check', EXAMPLE, '--json'])).out);
  });

  it('bears a reader that goes away early', async () => {
    const child = spawn(process.execPath, [SCRIPT, 'check', EXAMPLE, '--json'], { stdio: ['ignore', 'pipe', 'pipe'] });
    let err = '';
    child.stderr.on('data', (chunk) => (err += String(chunk)));
    child.stdout.once('data', () => child.stdout.destroy());
    const code = await new Promise((resolve) => child.on('exit', resolve));
    expect(err).toBe('');
    expect([0, 1]).toContain(code);
  });
});

describe('strut lists', () => {
  const listFile = (bytes: string | Buffer): string => jobFile(Buffer.from(bytes as string), 'struts.csv');
  it('are read as in the page: letters, columns, and faults by their lines', async () => {
    const good = await here(['list', path.join(ROOT, 'tests/fixtures/lists/good.csv')]);
    expect(good).toMatchObject({ code: 0, err: '' });
    expect(good.out).toMatch(/Extended length: Extended length \(mm\)\n[^]*8 struts read\n$/);
    const bad = await here(['list', path.join(ROOT, 'tests/fixtures/lists/broken.csv'), '--json']);
    const read = JSON.parse(bad.out) as { entries: unknown[]; errors: { line: number }[]; separator: string };
    expect(bad.code).toBe(1);
    expect(read.entries).toHaveLength(4);
    expect(read.errors.map(({ line }) => line)).toEqual([3, 5, 6, 8]);
    const latin1 = Buffer.from(
      'Name;Länge (mm);Hub (mm);Stange Ø;Rohr Ø;Kraft (N)\nTür;500,5;200;8;18;400\n',
      'latin1',
    );
    const western = JSON.parse((await here(['list', listFile(latin1), '--json'])).out) as { encoding: string; entries: { name: string; extendedMm: number }[] }; // prettier-ignore
    expect(western.encoding).toBe('Windows-1252');
    expect(western.entries).toMatchObject([{ name: 'Tür', extendedMm: 500.5 }]);
  });
  it('too large, empty, folders and files that are not there are refused in words', async () => {
    const large = listFile('a');
    truncateSync(large, 200e6);
    for (const [name, words] of [
      [large, 'over 20 MB'],
      [listFile(''), 'is empty'],
      [ROOT, 'is a folder'],
      ['nowhere.csv', 'is not there'],
      [listFile('a;b\n1;2\n'), 'no column is'],
      [listFile('a;b\n'.repeat(60_000)), 'more than 50,001 lines'],
    ] as const) {
      const { code, out, err } = await here(['list', name]);
      expect({ code, out }).toEqual({ code: 2, out: '' });
      expect(err).toContain(words);
    }
    expect(() => readCommand(['list', 'a.csv', '--out', 'b'])).toThrow(/--out does not belong/);
  });
});
