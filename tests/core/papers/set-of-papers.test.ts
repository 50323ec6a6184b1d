// The whole set as one ZIP, and the numbers that tell papers apart.
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { resolveJob, type ResolvedJob } from '../../../core/job';
import { paperFiles, papersOf, zippedPapers } from '../../../core/papers';
import { indexSheets } from '../../../core/papers/index-sheet';
import { drawingNumber, jobNumber } from '../../../core/papers/numbers';
import { lidOfSizes } from '../../../core/start';
import { workings } from '../../../core/workings';
import { jobAt } from '../../support/files';
import { fontBytes } from '../drawing/font';
import { collisions } from './overlap';

const EXAMPLES = ['workboat-hatch', 'machine-guard', 'trailer-locker'];
const jobs = EXAMPLES.map((name) => resolveJob(jobAt(`assets/examples/${name}.lidjob`)));
const options = { date: '2026-11-29', font: fontBytes, program: 'Lidwright test' };

/** Every number that stands in a field for it on the sheets of a job. */
const numbersOf = (job: ResolvedJob): string[] =>
  papersOf(job, null, options)
    .filter((p) => p.kind !== 'cutting')
    .flatMap((paper) => paper.draw().map((sheet) => sheet.title.split(' ')[0]!));

describe('numbers of papers', () => {
  it('begin with the job’s own, differ between jobs, and stay while its sizes change', () => {
    expect(new Set(jobs.map(jobNumber)).size).toBe(3);
    for (const job of jobs) {
      for (const number of numbersOf(job)) expect(number.startsWith(`${jobNumber(job)}-`)).toBe(true);
      const moved: ResolvedJob = {
        ...job,
        points: job.points.map((p) => ({ ...p, at: [p.at[0] + 5, p.at[1], p.at[2]] })),
      };
      expect(jobNumber(moved)).toBe(jobNumber(job));
    }
    const typed: ResolvedJob = { ...jobs[0]!, papers: { number: 'WS-14', revision: 'B' } };
    expect(drawingNumber(typed, 'L')).toBe('WS-14-L');
    const shopping = papersOf(typed, null, options).find((p) => p.kind === 'shopping')!;
    expect(shopping.draw()[0]!.title).toContain('WS-14-S rev. B');
  });
});

it('a job begun from sizes gets a number that other sizes do not, and keeps it', () => {
  const begun = (widthMm: number): ResolvedJob =>
    resolveJob(lidOfSizes({ widthMm, depthMm: 500, layers: [{ name: 'Steel', thicknessMm: 3, densityKgM3: 7850 }] }));
  const [one, other] = [begun(900), begun(901)];
  expect(one.title).toBe(other.title);
  expect(jobNumber(one)).not.toBe(jobNumber(other));
  expect(jobNumber(begun(900))).toBe(jobNumber(one));
  expect(jobNumber({ ...one, title: 'Renamed', brackets: [] })).toBe(jobNumber(one));
});

describe('the set as a ZIP', () => {
  it('holds every file that is written one by one, byte for byte, and an index that names them', async () => {
    const job = jobs[0]!;
    const papers = papersOf(job, null, options);
    const { files, leftOut } = await zippedPapers(job, papers, ['dxf', 'csv'], options);
    expect(leftOut).toEqual([]);
    expect(files).toHaveLength(1);
    const inside = unzipSync(files[0]!.content as Uint8Array);
    const single = await paperFiles(papers, ['dxf', 'csv'], options);
    const index = Object.keys(inside)[0]!;
    expect(index).toMatch(/0-index\.pdf$/);
    expect(Object.keys(inside).slice(1).sort()).toEqual(single.files.map((f) => f.name).sort());
    for (const { name, content } of single.files)
      expect(new TextDecoder().decode(inside[name])).toBe(
        typeof content === 'string' ? content : new TextDecoder().decode(content),
      );
    const again = await zippedPapers(job, papers, ['dxf', 'csv'], options);
    expect(
      Buffer.from(again.files[0]!.content as Uint8Array).equals(Buffer.from(files[0]!.content as Uint8Array)),
    ).toBe(true);
  });

  it('has an index on which nothing lies on anything, and which says what was left out and why', () => {
    const job = jobs[0]!;
    const entries = papersOf(job, workings(job), options).map((p) => ({
      title: p.title,
      pages: 2,
      files: [`${p.stem}.pdf`, `${p.stem}-1.dxf`],
    }));
    const sheets = indexSheets(job, entries, [{ title: 'Layout drawing', why: 'a point lies far off.' }], options);
    for (const sheet of sheets) expect(collisions(sheet)).toEqual([]);
    const texts = sheets
      .flatMap((s) => s.parts.flatMap((p) => p.marks.flatMap((m) => (m.kind === 'text' ? [m.text] : []))))
      .join(' ');
    for (const { title } of entries) expect(texts.replace(/\s/g, '')).toContain(title.replace(/\s/g, ''));
    expect(texts).toContain('a point lies far off.');
  });
});
