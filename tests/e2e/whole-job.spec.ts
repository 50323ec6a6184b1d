// The whole job once through with the mouse: example, photo, scale, a dragged strut end, a typed bracket, the papers.
import { readFileSync } from 'node:fs';
import { type Raster, pageSizeMm, rasterOf, textOf, wordsOf } from '../core/papers/readers';
import { type Bench, expect, test } from './support/bench';
import { exampleText, photoFile, placesOf } from './support/paths';
import { pictureMap, pictureToScreen } from './support/picture-map';
import { readSvgSheet } from './support/svg-sheet';

const places = placesOf(exampleText('workboat-hatch'));
const SCALE_PX = [
  [655.6, 883.3],
  [1127, 888.2],
] as const;

/** Horizontal runs of ink, mm, by the pixels of a page. */
function runsMm(raster: Raster, dpi: number, leastMm: number): { y: number; from: number; to: number }[] {
  const runs: { y: number; from: number; to: number }[] = [];
  const mm = (px: number): number => (px / dpi) * 25.4;
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width;) {
      if (!raster.dark(x, y)) {
        x++;
        continue;
      }
      let end = x;
      while (raster.dark(end, y)) end++;
      if (mm(end - x) >= leastMm) runs.push({ y: mm(y), from: mm(x), to: mm(end) });
      x = end;
    }
  return runs;
}

async function layPhotoWithScale(bench: Bench): Promise<void> {
  const { page } = bench;
  await bench.stage('Measure');
  await page.getByLabel('Photo to lay under').setInputFiles(photoFile('locker-side.jpg'));
  await expect(page.getByText('Click one mark on the photo.')).toBeVisible();
  await bench.painted();
  await expect
    .poll(
      () =>
        pictureMap(page, 'side', 1600, 1200).then(
          (m) => m.scale,
          () => 0,
        ),
      { message: 'the photo is drawn' },
    )
    .toBeGreaterThan(0.05);
  const map = await pictureMap(page, 'side', 1600, 1200);
  for (const px of SCALE_PX) await page.mouse.click(...pictureToScreen(map, px));
  const length = page.getByLabel('Length between the marks');
  await expect(length).toBeFocused();
  await page.keyboard.type('500 mm');
  await page.keyboard.press('Enter');
  await expect(length).toHaveCount(0);
}

async function checkPdf(pdf: Buffer, [widthMm, heightMm]: [number, number], words: readonly string[]): Promise<void> {
  const [w, h] = pageSizeMm(pdf);
  expect(Math.abs(w - widthMm), `page width ${w}`).toBeLessThan(0.5);
  expect(Math.abs(h - heightMm), `page height ${h}`).toBeLessThan(0.5);
  const plain = textOf(pdf).replace(/\s+/g, ' ');
  for (const word of words) expect(plain, 'pdftotext').toContain(word);

  // The checking bar is found by its words: the long line that ends just before them.
  const label = wordsOf(pdf).find((a, i, all) => a.text === '100' && all[i + 1]?.text.startsWith('mm'))!;
  const dpi = 300;
  const bar = runsMm(rasterOf(pdf, dpi), dpi, 60).filter(
    (r) => r.to < label.left && label.left - r.to < 6 && Math.abs(r.y - label.bottom) < 4,
  );
  expect(bar.length, 'the bar is on the page').toBeGreaterThan(0);
  for (const run of bar) expect(Math.abs(run.to - run.from - 100), `bar of ${run.to - run.from} mm`).toBeLessThan(0.3);
}

test('from the example to the papers and back', async ({ bench }) => {
  const { page } = bench;
  const baseline = await bench.saveAs();
  await expect(bench.undo).toHaveAttribute('title', /Take photos into the job/);
  const start = JSON.parse(baseline) as { points: unknown; brackets: { thicknessMm: number }[] };
  expect(start.points).toEqual((JSON.parse(exampleText('workboat-hatch')) as typeof start).points);

  await layPhotoWithScale(bench);

  // The lid strut end, dragged until the joint and the hand force hold.
  await bench.stage('Place');
  expect((await bench.failing()).sort()).toEqual(['base-joint', 'hand-closing']);
  await expect(page.locator('.tally')).toContainText('2 fail');
  const sheet = await bench.sheet('side', places);
  const from = await bench.pointPx('side', 's1-lid');
  await page.mouse.move(...from);
  await page.mouse.down();
  const open = 'li[data-finding]:is([data-state=fails], [data-finding=base-joint]:not([data-state=holds]))';
  let mm = 0;
  do {
    mm += 4;
    await page.mouse.move(from[0] + mm * sheet.pxPerMm, from[1] - (mm / 3) * sheet.pxPerMm);
    await bench.painted();
  } while (mm < 60 && (await page.locator(open).count()) > 0);
  await page.mouse.up();
  expect(await bench.failing()).toEqual([]);
  const mended = await bench.findings();
  expect(mended.filter((f) => f.id === 'base-joint').map((f) => f.state)).toEqual(['holds']);
  expect(mended.filter((f) => f.id === 'hand-closing').map((f) => f.state)).not.toContain('fails');
  await expect(page.locator('.stage-fails')).toHaveCount(0);

  // The bracket's thickness, typed as a fraction of an inch.
  await bench.stage('Bracket');
  await bench.type('brackets.0.thicknessMm', '1/8 in');
  await expect(bench.field('brackets.0.thicknessMm')).toHaveValue('3.175');

  // The papers.
  await bench.stage('Papers');
  await bench.type('papers.owner', 'Quay Workshop');
  await bench.type('papers.creator', 'M. Fitter');
  await bench.type('papers.approver', 'J. Master');
  await bench.type('papers.number', 'LW-0042');
  const svg = readSvgSheet((await bench.downloaded(bench.button('Export SVG').first())).bytes.toString('utf8'));
  const pdf = await bench.downloaded(bench.button('Export PDF').first());
  expect(pdf.name).toMatch(/\.pdf$/);

  const fields = [
    ...['Quay Workshop', 'M. Fitter', 'J. Master', 'LW-0042', 'Base bracket', 'Steel S235JR', 'ISO 2768-m'],
    ...['Bracket drawing', svg.scaleText],
    ...['Legal owner', 'Drawing number', 'Date of issue', 'Title', 'Created by', 'Approved by', 'Material', 'Mass'],
    ...['Scale', new Date().getFullYear().toString(), '1/1'],
  ];
  await checkPdf(pdf.bytes, [210, 297], [...fields, ...svg.dimensions.map((d) => d.label)]);

  // Drawn geometry against the figures: what stands between each pair of arrows is what the figure says.
  const saved = JSON.parse(await bench.saveAs()) as { brackets: Record<string, unknown>[] };
  const spec = saved.brackets[0] as Record<string, number>;
  expect(spec['thicknessMm']).toBeCloseTo(3.175, 12);
  let measured = 0;
  for (const d of svg.dimensions) {
    if (d.spanMm === null) continue;
    // figures are rounded to what they show; SVG coordinates to 1e-4 mm
    const tolerance = 0.5 * 10 ** -d.decimals + 2e-4 / svg.scale;
    expect(Math.abs(d.spanMm / svg.scale - d.value), `"${d.label}" is drawn ${d.spanMm / svg.scale} mm`).toBeLessThan(
      tolerance,
    );
    measured++;
  }
  expect(measured, 'linear dimensions on the sheet').toBeGreaterThanOrEqual(8);
  const figures = svg.dimensions.map((d) => d.value);
  for (const key of ['baseLegMm', 'uprightLegMm', 'baseWidthMm', 'topWidthMm', 'insideRadiusMm', 'topCornerRadiusMm'])
    expect(figures, key).toContain(spec[key]);
  const thickness = svg.dimensions.find((d) => d.label.startsWith('t='));
  expect(thickness?.value).toBe(3.18);
  expect(thickness!.spanMm! / svg.scale, 'the new thickness is what is drawn').toBeCloseTo(3.175, 3);
  // Round features: as many and as large as the callouts say.
  const drawn = (radii: readonly number[], mm: number): number =>
    radii.filter((r) => Math.abs(r / svg.scale - mm) < 2e-4 / svg.scale).length;
  const holes = saved.brackets[0] as Record<'studHole' | 'baseHole', { diameterMm: number }>;
  expect(drawn(svg.circleRadii, holes.studHole.diameterMm / 2), 'stud hole').toBeGreaterThanOrEqual(1);
  expect(drawn(svg.circleRadii, holes.baseHole.diameterMm / 2), 'two base holes').toBeGreaterThanOrEqual(2);
  expect(drawn(svg.arcRadii, spec['insideRadiusMm']!), 'inside of the bend').toBeGreaterThanOrEqual(1);
  expect(drawn(svg.arcRadii, spec['insideRadiusMm']! + 3.175), 'outside of the bend').toBeGreaterThanOrEqual(1);
  expect(drawn(svg.arcRadii, spec['topCornerRadiusMm']!), 'top corners').toBeGreaterThanOrEqual(2);

  // A3 as well.
  await page.locator('select[name="papers.paper"]').selectOption('A3');
  const a3 = await bench.downloaded(bench.button('Export PDF').first());
  await checkPdf(
    a3.bytes,
    [420, 297],
    fields.filter((f) => f !== svg.scaleText),
  );

  // Undo everything, the taking in of photos too: the job as it was, byte for byte.
  expect(await bench.undoAll()).toBeGreaterThanOrEqual(10);
  const after = await bench.saveAs();
  expect(after.length).toBe(baseline.length);
  expect(after === baseline, 'byte for byte').toBe(true);
});

test('the traced photo travels in the job with its scale, in photo pixels', { tag: '@deep' }, async ({ bench }) => {
  await layPhotoWithScale(bench);
  const saved = JSON.parse(await bench.saveAs()) as {
    photos: { id: string; scale?: { from: number[]; to: number[]; lengthMm: number }; source: { inside?: string } }[];
  };
  const photo = saved.photos.at(-1)!;
  expect(photo.scale!.lengthMm).toBe(500);
  for (const [i, end] of [photo.scale!.from, photo.scale!.to].entries())
    for (const k of [0, 1]) expect(Math.abs(end[k]! - SCALE_PX[i]![k]!)).toBeLessThan(3.5); // a click lies on a whole pixel of the screen, some 6 of the photo
  const bytes = Buffer.from(photo.source.inside!.split(',')[1]!, 'base64');
  expect(bytes.subarray(0, 2).toString('hex')).toBe('ffd8');
  expect(bytes.length).toBeLessThan(readFileSync(photoFile('locker-side.jpg')).length * 2);
});
