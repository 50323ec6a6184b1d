// Files of papers: names that never clash, formats, and papers that can't be drawn.
import { describe, expect, it } from 'vitest';
import { LidwrightError, describeIssue, fail } from '../../../core/error';
import {
  type Paper,
  boundPapers,
  boxedLetters,
  fileStems,
  paperFiles,
  papersOf,
  wedgePapers,
} from '../../../core/papers';
import { resolveJob } from '../../../core/job';
import { hatchWedge } from '../../../core/joint/wedge-examples';
import { jobAt } from '../../support/files';

const exampleJob = () => jobAt('tests/fixtures/jobs/workboat-hatch.lidjob');

const options = { date: '2026-01-02', font: new Uint8Array() };

describe('names of files', () => {
  const job = { title: 'Engine hatch: port / aft' };
  it('begin with the drawing number, else the title', () => {
    expect(fileStems(job, ['report'])).toEqual(['Engine-hatch-port-aft-report']);
    expect(fileStems({ ...job, papers: { number: 'LW-0042' } }, ['report'])).toEqual(['LW-0042-report']);
    expect(fileStems({ title: '../..' }, ['report'])).toEqual(['Lid-report']);
  });
  it('are never alike, in big and small letters either, nor with a page’s number behind', () => {
    expect(fileStems({ title: 'A' }, ['b1', 'B1', 'b1-2', '../b1', 'c-2', 'c'])).toEqual([
      'A-b1',
      'A-B1-no2',
      'A-b1-2-no2',
      'A-b1-no3',
      'A-c-2',
      'A-c-no2',
    ]);
  });
});

describe('files of papers', () => {
  const bad: Paper = {
    ...papersOf(resolveJob(exampleJob()), null, { ...options, program: 'x' })[0]!,
    draw: () => {
      throw new LidwrightError({ what: 'no room', where: [], advice: 'Make room.' });
    },
  };

  it('leave out what can’t be drawn, tell why, and write the others', async () => {
    const [good] = papersOf(resolveJob(exampleJob()), null, { ...options, program: 'x' });
    const { files, leftOut } = await paperFiles([bad, good!], ['dxf'], options);
    expect(files.map((f) => f.name)).toEqual([`${good!.stem}.dxf`]);
    expect(leftOut.map(({ why }) => why.what)).toEqual(['no room']);
    const one = boundPapers(resolveJob(exampleJob()), [bad, good!]);
    expect(one.bound.draw()).toHaveLength(good!.draw().length);
    expect(one.leftOut).toHaveLength(1);
  });

  it('are told apart from what goes wrong in another: a fault of the program, a file that can’t be written, a hole in a sheet', async () => {
    const [drawing] = papersOf(resolveJob(exampleJob()), null, { ...options, program: 'x' });
    const good: Paper = { ...drawing!, formats: ['dxf'] };
    const sheet = good.draw()[0]!;
    const part = { name: 'view', marks: [{ ...sheet.parts[0]!.marks[0]!, from: [NaN, 1] }] } as never;
    const broken = (id: string, more: Partial<Paper>): Paper => ({ ...good, id, stem: id, ...more });
    const all = [
      broken('fault', { draw: () => (undefined as never as Paper[])[0]!.draw() }),
      broken('hole', { draw: () => [{ ...sheet, parts: [part] }] }),
      broken('solid', { formats: ['dxf', 'stl'], solid: () => fail('it crosses itself', [], 'Shrink a hole.') }),
      good,
    ];
    const { files, leftOut } = await paperFiles(all, ['dxf', 'stl'], options);
    expect(files.map((f) => f.name)).toEqual(['solid.dxf', `${good.stem}.dxf`]);
    expect(leftOut.map(({ paper, why }) => `${paper.id}: ${why.what}`)).toEqual([
      expect.stringMatching(/^fault: drawing it went wrong \(TypeError.*a fault of the program$/),
      'hole: a measure in its part "view" could not be worked out',
      'solid: it crosses itself',
    ]);
    expect(boundPapers(resolveJob(exampleJob()), all).leftOut.map(({ paper }) => paper.id)).toEqual(['fault', 'hole']);
  });

  it('tell which letters the font has not got, and in which field', () => {
    const { title: _, ...job } = exampleJob();
    const named = resolveJob({
      ...job,
      title: 'Hatch 🚤🚤 漢',
      brackets: [{ ...job.brackets![0]!, name: 'Крышка 🪝\u0007' }],
    });
    expect(boxedLetters(named).map(describeIssue).sort()).toEqual([
      'brackets[0].name: the drawing font has not got “🪝”, U+0007: papers show a box there. Write it in other letters.',
      'title: the drawing font has not got “🚤”, “漢”: papers show a box there. Write it in other letters.',
    ]);
    expect(boxedLetters(resolveJob(exampleJob()))).toEqual([]);
  });

  it('draw a paper once, however often it is asked for', () => {
    const [paper] = papersOf(resolveJob(exampleJob()), null, { ...options, program: 'x' });
    expect(paper!.draw()).toBe(paper!.draw());
  });

  it('hold the solid of a wedge as STL, named as its drawing is', async () => {
    const [drawing, drill] = wedgePapers(resolveJob(exampleJob()), hatchWedge, options);
    const { files } = await paperFiles([drawing, drill], ['stl', 'dxf'], options);
    expect(files.map((f) => f.name)).toEqual([`${drawing.stem}.dxf`, `${drawing.stem}.stl`, `${drill.stem}.dxf`]);
    const stl = files.find((f) => f.name.endsWith('.stl'))!.content as Uint8Array;
    const count = new DataView(stl.buffer, stl.byteOffset).getUint32(80, true);
    expect(stl.length).toBe(84 + 50 * count);
  });
});
