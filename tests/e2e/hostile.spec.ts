// Names, pictures and tables that are made to run something: in a real Chromium, over all stages, nothing runs, nothing is
// asked of anywhere else, and the content policy is never even tried.
import { deflateSync, crc32 } from 'node:zlib';
import { readJob, writeJob } from '../../core/job';
import { type Bench, expect, test, type Stage } from './support/bench';
import { exampleText } from './support/paths';

const RUN = [
  '<img src=x onerror="window.ran=1">',
  '"><script>window.ran=1</script>',
  '<svg onload=window.ran=1><a xlink:href="javascript:window.ran=1">x</a></svg>',
  "');window.ran=1;//",
  '<iframe src="http://127.0.0.1:9/f"></iframe>',
  '<link rel=stylesheet href=http://127.0.0.1:9/c><style>@import url(http://127.0.0.1:9/i)</style>',
  '${window.ran=1}{{constructor.constructor("window.ran=1")()}}',
  ']]><!ENTITY x SYSTEM "http://127.0.0.1:9/e">&x;',
];

/** A PNG of this size whose picture is all of one colour: some kB that want much memory. */
function bomb(side: number): Buffer {
  const chunk = (name: string, body: Buffer): Buffer => {
    const named = Buffer.concat([Buffer.from(name), body]);
    const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(body.length);
    sum.writeUInt32BE(crc32(named));
    return Buffer.concat([length, named, sum]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(side, 0);
  head.writeUInt32BE(side, 4);
  head[8] = 1; // one bit a pixel, grey
  const rows = deflateSync(Buffer.alloc((Math.ceil(side / 8) + 1) * side));
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    ...[chunk('IHDR', head), chunk('IDAT', rows), chunk('IEND', Buffer.alloc(0))],
  ]);
}

/** The example with every name hostile, a bomb and a picture that is none inside. */
function hostileJob(): Buffer {
  let n = 0;
  const hostile = (node: unknown): unknown => {
    if (Array.isArray(node)) return node.map(hostile);
    if (typeof node !== 'object' || node === null) return node;
    const entries = Object.entries(node).map(([key, value]) => [key, hostile(value)]);
    return { ...Object.fromEntries(entries), ...('id' in node ? { name: RUN[n++ % RUN.length] } : {}) };
  };
  const job = hostile(JSON.parse(exampleText('workboat-hatch'))) as Record<string, unknown>;
  const [photo] = job['photos'] as Record<string, unknown>[];
  const inside = (bytes: Buffer, mime: string) => ({ inside: `data:image/${mime};base64,${bytes.toString('base64')}` });
  const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" onload="window.ran=1"><image href="http://127.0.0.1:9/s"/></svg>'); // prettier-ignore
  job['photos'] = [
    { ...photo, id: 'bomb', source: inside(bomb(30_000), 'png') },
    { ...photo, id: 'svg', source: inside(svg, 'jpeg') },
  ];
  job['title'] = RUN[0];
  job['papers'] = { owner: RUN[1], creator: RUN[2], number: RUN[3] };
  return Buffer.from(writeJob(readJob(JSON.stringify(job))));
}

const STAGES: readonly Stage[] = ['Measure', 'Weigh', 'Place', 'Strut', 'Joints', 'Bracket', 'Papers', 'Prove'];
const ran = (bench: Bench): Promise<unknown> => bench.page.evaluate(() => (window as { ran?: unknown }).ran ?? null);

test('hostile names, pictures and tables run nothing and ask nothing of anywhere else, over all stages', async ({
  bench,
  baseURL,
}) => {
  const { page } = bench;
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await bench.drop('body', { name: `${RUN[0]!.replace(/[/\\]/g, '')}.lidjob`, bytes: hostileJob() });
  await expect(page.locator('.job-title')).toContainText('onerror');
  for (const stage of STAGES) {
    await bench.stage(stage);
    await bench.painted();
    expect(await ran(bench), stage).toBeNull();
    if (stage === 'Measure') {
      const item = (id: string) => page.locator(`[data-photo=${id}] [role=alert]`);
      await expect(item('bomb')).toHaveText(/900 megapixels, more than can be opened \(120\): it is 30000 × 30000/);
      await expect(item('svg')).toHaveText(/not a JPEG, PNG or WebP picture/);
    }
    if (stage === 'Strut') {
      const rows = RUN.map((text, i) => `"${text.replace(/"/g, '""')}",${500 + i},200,=1+1,${RUN.length}`);
      const buffer = Buffer.from(
        `name,extended mm,stroke mm,force N,"${RUN[0]!.replace(/"/g, '""')}"\n${rows.join('\n')}\n`,
      );
      await page.getByLabel('Strut list to import').setInputFiles({ name: 'list.csv', mimeType: 'text/csv', buffer });
      await bench.painted();
    }
  }
  await bench.workedOut();
  expect(await ran(bench)).toBeNull();
  const own = new URL(baseURL!).origin;
  const elsewhere = asked.filter((url) => !url.startsWith(`${own}/`) && !/^(data|blob):/.test(url));
  expect(elsewhere).toEqual([]);
});

test('a picture or a table dropped on the page that is a program runs nothing @deep', async ({ bench }) => {
  await bench.stage('Measure');
  const html = Buffer.from('<html><script>window.ran=1;parent.ran=1</script></html>');
  for (const [name, type] of [
    ['a.svg', 'image/svg+xml'],
    ['a.html', 'text/html'],
    ['a.jpg', 'image/jpeg'],
    ['a.lidjob', 'application/json'],
  ] as const)
    await bench.drop('body', { name, type, bytes: html });
  await bench.painted();
  expect(await ran(bench)).toBeNull();
  expect(bench.page.url()).not.toContain('a.html');
});
