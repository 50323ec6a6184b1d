// A place sheet and a try-on batten as they come out of a printer: pages turned into pictures by poppler, laid together by their join marks, measured.
import { describe, expect, it } from 'vitest';
import type { Point, Sheet } from '../../../core/drawing';
import { writePdf } from '../../../core/drawing/pdf';
import { type Bracket, resolveJob, type ResolvedJob } from '../../../core/job';
import { placeSheets } from '../../../core/papers';
import { battenSheets } from '../../../core/papers/batten';
import { makeFrame } from '../../../core/travel';
import { jobAt } from '../../support/files';
import { DEEP } from '../../support/tier';
import { fontBytes } from '../drawing/font';
import { haveTool, type Raster, rasterOf } from './readers';

const DPI = 300;
const MM = DPI / 25.4;
const date = '2026-11-29';
const example = resolveJob(jobAt('tests/fixtures/jobs/workboat-hatch.lidjob'));

interface Page {
  readonly picture: Raster;
  readonly sheet: Sheet;
}

const printed = async (sheets: readonly Sheet[]): Promise<Page[]> =>
  Promise.all(
    sheets.map(async (sheet) => ({ sheet, picture: rasterOf(await writePdf([sheet], { fontBytes, date }), DPI) })),
  );

/** Where the arms of a cross lie in the picture, mm from the lower left: the darkest row and column within 2 mm of where it should be. */
function crossAt({ picture, sheet }: Page, [x, y]: Point, armMm: number): Point {
  const [cx, cy] = [Math.round(x * MM), Math.round((sheet.heightMm - y) * MM)];
  const [reach, arm] = [Math.round(2 * MM), Math.round(armMm * MM)];
  const middle = (dark: (off: number, along: number) => boolean): number => {
    const counts = Array.from({ length: 2 * reach + 1 }, (_, i) => {
      let count = 0;
      for (let k = -arm; k <= arm; k++) if (dark(i - reach, k)) count++;
      return count;
    });
    const most = Math.max(...counts);
    const best = counts.flatMap((c, i) => (c > 0.8 * most ? [i - reach] : []));
    return best.reduce((p, q) => p + q, 0) / best.length;
  };
  const dx = middle((off, k) => picture.dark(cx + off, cy + k));
  const dy = middle((off, k) => picture.dark(cx + k, cy + off));
  return [(cx + dx + 0.5) / MM, sheet.heightMm - (cy + dy + 0.5) / MM];
}

const template = (sheet: Sheet) => sheet.parts.find((p) => p.name === 'template')!.marks;
/** Join marks of a page by letter: the middle of each cross as it is drawn, to look for it in the picture. */
const joinMarks = (sheet: Sheet): Map<string, Point> =>
  new Map(
    template(sheet).flatMap((m) =>
      m.kind === 'text' && /^[A-Z]$/.test(m.text) && m.sizeMm === 2.5
        ? [[m.text, [m.at[0] - 2.8, m.at[1] - 2.1] as Point] as const]
        : [],
    ),
  );

/** Shifts that lay every page over the first, from the join marks as they are printed. */
function laidTogether(pages: readonly Page[]): Map<number, Point> {
  const at = new Map<number, Point>([[0, [0, 0]]]);
  for (let round = 0; round < pages.length; round++)
    pages.forEach((page, i) => {
      if (at.has(i)) return;
      for (const [j, move] of at) {
        const [mine, theirs] = [joinMarks(page.sheet), joinMarks(pages[j]!.sheet)];
        const letter = [...mine.keys()].find((name) => theirs.has(name));
        if (letter === undefined) continue;
        const [p, q] = [crossAt(page, mine.get(letter)!, 4), crossAt(pages[j]!, theirs.get(letter)!, 4)];
        at.set(i, [move[0] + q[0] - p[0], move[1] + q[1] - p[1]]);
        return;
      }
    });
  expect(at.size).toBe(pages.length);
  return at;
}

describe.skipIf(!DEEP || !haveTool('pdftoppm'))('papers at 1:1, printed', () => {
  it('a place sheet measures over its page joins what its labels say, within 0.3 mm', async () => {
    const wide: Bracket = {
      ...example.brackets[0]!,
      baseWidthMm: 260,
      baseHole: { diameterMm: 11, spacingMm: 220, fromEndMm: 18 },
    };
    const job: ResolvedJob = { ...example, brackets: [wide] };
    const sheets = placeSheets({ job, frame: makeFrame(job) }, job.struts[0]!, { date, paper: 'A4' }).filter((s) =>
      s.parts.some((p) => p.name === 'template'),
    );
    expect(sheets.length).toBeGreaterThan(1);
    const pages = await printed(sheets);
    const at = laidTogether(pages);
    const foot = sheets[0]!.parts
      .find((p) => p.name === 'foot')!
      .marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))
      .join(' ');
    const labels = [...foot.matchAll(/(\d): ⌀[\d.]+, x (−?[\d.]+), y (−?[\d.]+)/g)].map(
      (m) => m.slice(2, 4).map((v) => Number(v.replace('−', '-'))) as [number, number],
    );
    expect(labels).toHaveLength(2);
    // each hole's cross wherever it is whole
    const seen = pages.flatMap((page, i) =>
      template(page.sheet).flatMap((m) => {
        if (m.kind !== 'circle' || Math.abs(m.radiusMm - 5.5) > 1e-6) return [];
        const [x, y] = crossAt(page, m.centre, 4);
        return [[x + at.get(i)![0], y + at.get(i)![1]] as Point];
      }),
    );
    const apart = Math.max(...seen.flatMap((p) => seen.map((q) => Math.hypot(p[0] - q[0], p[1] - q[1]))));
    const said = Math.hypot(labels[0]![0] - labels[1]![0], labels[0]![1] - labels[1]![1]);
    expect(Math.abs(apart - said)).toBeLessThan(0.3);
    expect(Math.abs(said - 220)).toBeLessThan(0.05);
  });

  it('a try-on batten measures from its hole to its marks what they say, within 0.3 mm', async () => {
    const sheets = battenSheets({ job: example, frame: makeFrame(example) }, example.struts[0]!, { date, paper: 'A4' });
    const pages = await printed(sheets);
    const at = laidTogether(pages);
    const hole = pages.flatMap((page, i) =>
      template(page.sheet).flatMap((m) =>
        m.kind === 'circle' && m.radiusMm === 1.5 ? [crossAt(page, m.centre, 4)[1] + at.get(i)![1]] : [],
      ),
    )[0]!;
    for (const words of ['closed', 'open']) {
      const found = pages.flatMap((page, i) =>
        template(page.sheet).flatMap((m) => {
          if (m.kind !== 'text' || !m.text.startsWith(words)) return [];
          const said = Number(/([\d.]+)$/.exec(m.text)![1]);
          // the mark's line runs across the lath, left of its words
          const line = template(page.sheet).find(
            (l) =>
              l.kind === 'line' && l.role === 'visible' && l.from[1] === l.to[1] && Math.abs(l.from[1] - m.at[1]) < 8,
          );
          if (line?.kind !== 'line') return [];
          const middle: Point = [(line.from[0] + line.to[0]) / 2, line.from[1]];
          return [[said, crossAt(page, middle, 8)[1] + at.get(i)![1] - hole] as const];
        }),
      );
      expect(found.length).toBeGreaterThan(0);
      for (const [said, measured] of found) expect(Math.abs(measured - said)).toBeLessThan(0.3);
    }
  });
});
