// From the Papers stage to the files, each read by a parser from outside and compared with the job's own bracket.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { polylineArea, readDxf } from '../core/drawing/dxf-read';
import { haveTool, inFolder, textOf } from '../core/papers/readers';
import { type Bench, expect, test } from './support/bench';

interface JobBracket {
  thicknessMm: number;
  insideRadiusMm: number;
  baseLegMm: number;
  uprightLegMm: number;
  baseWidthMm: number;
  topWidthMm: number;
  baseCornerRadiusMm: number;
  topCornerRadiusMm: number;
  baseHole: { diameterMm: number; spacingMm: number; fromEndMm: number };
  studHole: { diameterMm: number; heightMm: number };
}

const choose = (bench: Bench, paper: string) => bench.page.locator('select[name="paper"]').selectOption(paper);

const distance = (p: readonly [number, number], q: readonly [number, number]): number =>
  Math.hypot(p[0] - q[0], p[1] - q[1]);

/** The longest level line of the first page of a PDF, mm, as poppler draws it. */
function levelLinesMm(pdf: Buffer): number[] {
  return inFolder((folder) => {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    execFileSync('pdftocairo', [
      '-svg',
      '-noshrink',
      '-nocenter',
      '-f',
      '1',
      '-l',
      '1',
      join(folder, 'a.pdf'),
      join(folder, 'a.svg'),
    ]);
    const svg = readFileSync(join(folder, 'a.svg'), 'utf8');
    return [...svg.matchAll(/d="M ([\d.]+) ([\d.]+) L ([\d.]+) ([\d.]+) " transform="matrix\(([\d.]+),/g)].flatMap(
      (m) => {
        const [x1, y1, x2, y2, k] = m.slice(1).map(Number) as [number, number, number, number, number];
        return Math.abs(y1 - y2) < 1e-6 ? [(Math.abs(x2 - x1) * k * 25.4) / 72] : [];
      },
    );
  });
}

test('cutting file, drill template and drawings of the bracket, from the panel to the parser', async ({ bench }) => {
  await bench.stage('Papers');
  await bench.type('papers.number', 'LW-0042');
  const job = JSON.parse(await bench.saveAs()) as { brackets: JobBracket[] };
  const b = job.brackets[0]!;

  // The blank as the workshop would work it out by hand: DIN 6935.
  const [t, r] = [b.thicknessMm, b.insideRadiusMm];
  const k = r / t > 5 ? 1 : 0.65 + 0.5 * Math.log10(r / t);
  const blankMm = b.baseLegMm + b.uprightLegMm - 2 * (r + t) + (Math.PI / 2) * (r + (k * t) / 2);

  await choose(bench, 'cutting-b1');
  const cutFile = await bench.downloaded(bench.button('Export DXF'));
  expect(cutFile.name).toBe('LW-0042-cutting-b1.dxf');
  const cut = readDxf(cutFile.bytes.toString('utf8'));
  expect(cut.header['$INSUNITS']).toBe(4);
  const outlines = cut.polylines.filter((p) => p.layer === 'CUT');
  expect(outlines).toHaveLength(1);
  expect(outlines[0]!.closed).toBe(true);
  const ys = outlines[0]!.vertices.map((v) => v.at[1]);
  const xs = outlines[0]!.vertices.map((v) => v.at[0]);
  expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(blankMm, 4);
  expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(b.baseWidthMm, 4);
  // area: base rectangle to the end of the bend, tapered upright, less what the four corners lose
  const upright = b.uprightLegMm - r - t;
  const turn = Math.PI / 2 - Math.atan2((b.baseWidthMm - b.topWidthMm) / 2, upright);
  const lost = (radius: number, angle: number): number => radius * radius * (Math.tan(angle / 2) - angle / 2);
  const area =
    b.baseWidthMm * (blankMm - upright) +
    ((b.baseWidthMm + b.topWidthMm) / 2) * upright -
    2 * lost(b.baseCornerRadiusMm, Math.PI / 2) -
    2 * lost(b.topCornerRadiusMm, turn);
  expect(Math.abs(polylineArea(outlines[0]!.vertices))).toBeCloseTo(area, 2);
  const holes = cut.circles.filter((c) => c.layer === 'CUT').map((c) => 2 * c.radius);
  // the stud's hole is too near the bend: its centre is marked, and it is drilled after bending
  for (const d of holes) expect(d).toBeCloseTo(b.baseHole.diameterMm, 6);
  expect(holes).toHaveLength(2);
  expect(cut.lines.filter((l) => l.layer === 'NOTE')).toHaveLength(2);
  expect(cut.texts.map((x) => x.text).join(' ')).toMatch(/Drill\s+after\s+bending/);
  expect(cut.lines.filter((l) => l.layer === 'BEND')).toHaveLength(1);
  expect(cut.texts.map((x) => x.text).join(' ')).toContain(`t = ${t} mm`);

  // The template: holes as far apart as the bracket's, from the drawing and from the paper itself.
  await choose(bench, 'template-b1');
  const templateFile = await bench.downloaded(bench.button('Export DXF'));
  expect(templateFile.name).toBe('LW-0042-template-b1.dxf');
  const template = readDxf(templateFile.bytes.toString('utf8'));
  const drilled = template.circles.filter((c) => Math.abs(2 * c.radius - b.baseHole.diameterMm) < 1e-6);
  expect(drilled).toHaveLength(2);
  expect(distance(drilled[0]!.centre, drilled[1]!.centre)).toBeCloseTo(b.baseHole.spacingMm, 5);
  const leg = template.polylines.find((p) => p.closed && p.layer === 'EDGES' && p.vertices.some((v) => v.bulge !== 0))!;
  const legX = leg.vertices.map((v) => v.at[0]);
  const legY = leg.vertices.map((v) => v.at[1]);
  const legSides = [Math.max(...legX) - Math.min(...legX), Math.max(...legY) - Math.min(...legY)].sort((p, q) => p - q);
  const wanted = [b.baseLegMm, b.baseWidthMm].sort((p, q) => p - q);
  legSides.forEach((side, i) => expect(side).toBeCloseTo(wanted[i]!, 5));
  const paper = await bench.downloaded(bench.button('Export PDF'));
  expect(paper.name).toBe('LW-0042-template-b1.pdf');
  if (haveTool('pdftocairo')) {
    const bars = levelLinesMm(paper.bytes).filter((mm) => Math.abs(mm - 100) < 0.02);
    expect(bars.length, 'checking bar of 100 mm').toBeGreaterThan(0);
  }
  if (haveTool('pdftotext')) {
    const text = textOf(paper.bytes).replace(/\s+/g, ' ');
    expect(text).toContain('measure this after printing');
    expect(text).toContain(`⌀${b.baseHole.diameterMm}`);
  }

  // The bracket's own drawing in all three.
  await choose(bench, 'bracket-b1');
  const drawing = readDxf((await bench.downloaded(bench.button('Export DXF'))).bytes.toString('utf8'));
  expect(drawing.texts.map((x) => x.text)).toContain(`${b.baseWidthMm}`);
  expect(drawing.texts.some((x) => x.text.includes('⌀'))).toBe(true);
  expect((await bench.downloaded(bench.button('Export SVG'))).name).toBe('LW-0042-bracket-b1.svg');
});

test('layout, report and checklist: pages are leafed through and written @deep', async ({ bench }) => {
  const { page } = bench;
  await bench.stage('Papers');
  await choose(bench, 'layout');
  await expect(page.getByText(/Page 1 of \d/)).toBeVisible();
  const layout = readDxf((await bench.downloaded(bench.button('Export DXF of page 1'))).bytes.toString('utf8'));
  expect(layout.texts.some((x) => /^S1 closed [\d.]+$/.test(x.text))).toBe(true);
  expect(layout.layers).toContain('OTHER-POSE');
  await page.getByRole('button', { name: 'Next page' }).click();
  await expect(page.getByText(/Page 2 of \d/)).toBeVisible();
  expect((await bench.downloaded(bench.button('Export SVG of page 2'))).name).toMatch(/layout-2\.svg$/);

  await choose(bench, 'report');
  const report = await bench.downloaded(bench.button('Export PDF'));
  expect(report.name).toMatch(/report\.pdf$/);
  if (haveTool('pdftotext')) {
    const text = textOf(report.bytes).replace(/\s+/g, ' ');
    for (const words of ['Findings', 'Load cases', 'Cautions', 'N·m', '°', '1/']) expect(text).toContain(words);
  }
  await choose(bench, 'checklist');
  const checklist = await bench.downloaded(bench.button('Export PDF'));
  expect(checklist.name).toMatch(/checklist\.pdf$/);
  const all = await bench.downloaded(bench.button('All papers in one PDF'));
  expect(all.name).toMatch(/papers\.pdf$/);
  expect(all.bytes.length).toBeGreaterThan(checklist.bytes.length);
});
