import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { blanks, type BracketSpec } from '../../../core/bracket';
import { boundsOf, joinBoxes, movePart, type Part, type Sheet, writeDxf, writeSvg } from '../../../core/drawing';
import { writePdf } from '../../../core/drawing/pdf';
import { BRACKET_KINDS, readJob, resolveJob } from '../../../core/job';
import { bracketDrawing, cuttingSheet, papersOf } from '../../../core/papers';
import { sampleDrawings } from '../../../core/papers/examples';
import { sampleBrackets } from '../../../core/bracket/examples';
import { workings } from '../../../core/workings';
import { makeableOf } from '../bracket/samples';
import { type P, readDxf } from '../drawing/dxf-read';
import { fontBytes } from '../drawing/font';
import { disagreement, haveReaders, nearness, pathPoints, textless } from './agreement';
import { svgAsPdf } from './readers';
import { runs } from '../../support/tier';

const here = import.meta.dirname;
function exampleSheets(name: string): [string, Sheet][] {
  const job = resolveJob(readJob(readFileSync(join(here, `../../../assets/examples/${name}.lidjob`), 'utf8')));
  const papers = papersOf(job, workings(job), { date: '2026-11-25', program: 'Lidwright test' });
  return papers.flatMap((paper) =>
    paper.draw().map((sheet, i): [string, Sheet] => [`${paper.id} page ${i + 1}`, sheet]),
  );
}

const info = { title: 'B', number: 'N', creator: 'C', approver: 'D', owner: 'O', date: '2026-11-25' };
const kinds: [string, Sheet][] = sampleBrackets.map((spec) => [
  `drawing of a ${spec.kind}`,
  bracketDrawing(spec, info, { paper: 'A3', projection: 'first' }),
]);

const sheets: [string, Sheet][] = [
  ...kinds,
  ...Object.entries(sampleDrawings).map(([name, draw]): [string, Sheet] => [name, draw()]),
  ...exampleSheets('workboat-hatch'),
];
/** As drawn on paper: a drawing's own file holds it at true size, which `shop-numbers.test.ts` looks at. */
const onPaper = (sheet: Sheet): string => writeDxf({ ...sheet, realPerPaper: 1 });

/** Rows of that many blanks on one large sheet. */
const IN_A_ROW = 12;
const CASES = runs(500, 8);

describe('one sheet, three writers', () => {
  it.skipIf(!haveReaders).each(sheets)('PDF and DXF agree in every coordinate: %s', async (_, sheet) => {
    const pdf = await writePdf([sheet], { fontBytes, date: '2026-11-25' });
    expect(disagreement(sheet, pathPoints(pdf), readDxf(onPaper(sheet)))).toEqual([]);
  });

  it.skipIf(!haveReaders).each(sheets)('SVG and DXF agree in every coordinate: %s', (_, full) => {
    const sheet = textless(full);
    expect(disagreement(sheet, pathPoints(svgAsPdf(writeSvg(sheet))), readDxf(onPaper(sheet)))).toEqual([]);
  });

  it.each(sheets)('texts are the same texts at the same places in SVG and DXF: %s', (_, sheet) => {
    const unescape = (s: string): string =>
      s
        .replace(/&lt;/g, '<')
        .replace(/&gt;/g, '>')
        .replace(/&quot;/g, '"')
        .replace(/&amp;/g, '&');
    const svg = [
      ...writeSvg(sheet).matchAll(
        /<text x="([\d.-]+)" y="([\d.-]+)" font-size="[\d.]+"(?: text-anchor="(\w+)")?(?: transform="rotate\(([\d.-]+)[^"]*)?[^>]*>(.*?)<\/text>/g,
      ),
    ].map(([, x, y, anchor, turn, text]) =>
      [
        unescape(text!),
        Number(x).toFixed(3),
        (sheet.heightMm - Number(y)).toFixed(3),
        anchor ?? 'start',
        -Number(turn ?? 0) + 0,
      ].join('\t'),
    );
    const dxf = readDxf(onPaper(sheet)).texts.map((t) =>
      [t.text, t.at[0].toFixed(3), t.at[1].toFixed(3), ['start', 'middle', 'end'][t.align], t.rotationDeg + 0].join(
        '\t',
      ),
    );
    const close = (list: string[]): string[] => list.map((s) => s.replace(/(\.\d\d)\d/g, '$1')).sort();
    expect(svg.length).toBeGreaterThan(2);
    expect(dxf.length).toBe(svg.length);
    // rounding to 0.01 may fall either way: compared as texts, then as places
    expect(close(dxf).map((s) => s.split('\t')[0])).toEqual(close(svg).map((s) => s.split('\t')[0]));
    const places = nearness(svg.map((s): P => [Number(s.split('\t')[1]), Number(s.split('\t')[2])]));
    for (const s of dxf) expect(places([Number(s.split('\t')[1]), Number(s.split('\t')[2])]), s).toBe(true);
  });
});

/** The cut shapes of many brackets beside and over one another on one sheet, without words. */
function together(specs: readonly BracketSpec[]): Sheet {
  const parts: Part[] = [];
  let [x, y, rowTop, width] = [10, 10, 10, 0];
  specs.forEach((spec, i) => {
    const own = textless(cuttingSheet('', blanks(spec), { material: spec.material.name, quantity: 1, hand: '' })).parts;
    const box = joinBoxes(own.filter((p) => p.marks.length > 0).map((p) => boundsOf(p.marks)));
    parts.push(...own.map((p) => movePart(p, x - box.left, y - box.bottom)));
    x += box.right - box.left + 10;
    width = Math.max(width, x);
    rowTop = Math.max(rowTop, y + box.top - box.bottom);
    if ((i + 1) % IN_A_ROW === 0) [x, y] = [10, rowTop + 10];
  });
  return { title: 'Many', widthMm: width, heightMm: rowTop + 10, parts };
}

describe.each(BRACKET_KINDS)(`${CASES} random blanks of a %s`, (kind) => {
  it.skipIf(!haveReaders)('are the same in SVG, PDF and DXF', async () => {
    const specs = fc.sample(makeableOf(kind), { seed: 20261125, numRuns: CASES });
    for (let i = 0; i < CASES; i += 100) {
      const sheet = together(specs.slice(i, i + 100));
      const dxf = readDxf(onPaper(sheet));
      expect(dxf.polylines.length).toBeGreaterThanOrEqual(Math.min(100, CASES));
      const pdf = await writePdf([sheet], { fontBytes, date: '2026-11-25' });
      expect(disagreement(sheet, pathPoints(pdf), dxf)).toEqual([]);
      expect(disagreement(sheet, pathPoints(svgAsPdf(writeSvg(sheet))), dxf)).toEqual([]);
    }
  });
});
