// Files of papers: names that never clash, formats, and papers that can't be drawn.
import { describe, expect, it } from 'vitest';
import { LidwrightError } from '../../../core/error';
import { type Paper, boundPapers, fileStems, paperFiles, papersOf, wedgePapers } from '../../../core/papers';
import { resolveJob } from '../../../core/job';
import { hatchWedge } from '../../../core/joint/wedge-examples';
import { jobAt } from '../../support/files';

const exampleJob = () => jobAt('assets/examples/workboat-hatch.lidjob');

const wishes = { date: '2026-01-02', font: new Uint8Array() };

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
    ...papersOf(resolveJob(exampleJob()), null, { ...wishes, program: 'x' })[0]!,
    draw: () => {
      throw new LidwrightError({ what: 'no room', where: [], advice: 'Make room.' });
    },
  };

  it('leave out what can’t be drawn, tell why, and write the others', async () => {
    const [good] = papersOf(resolveJob(exampleJob()), null, { ...wishes, program: 'x' });
    const { files, leftOut } = await paperFiles([bad, good!], ['dxf'], wishes);
    expect(files.map((f) => f.name)).toEqual([`${good!.stem}.dxf`]);
    expect(leftOut.map(({ why }) => why.what)).toEqual(['no room']);
    const one = boundPapers(resolveJob(exampleJob()), [bad, good!]);
    expect(one.bound.draw()).toHaveLength(good!.draw().length);
    expect(one.leftOut).toHaveLength(1);
  });

  it('draw a paper once, however often it is asked for', () => {
    const [paper] = papersOf(resolveJob(exampleJob()), null, { ...wishes, program: 'x' });
    expect(paper!.draw()).toBe(paper!.draw());
  });

  it('hold the solid of a wedge as STL, named as its drawing is', async () => {
    const [drawing, drill] = wedgePapers(resolveJob(exampleJob()), hatchWedge, wishes);
    const { files } = await paperFiles([drawing, drill], ['stl', 'dxf'], wishes);
    expect(files.map((f) => f.name)).toEqual([`${drawing.stem}.dxf`, `${drawing.stem}.stl`, `${drill.stem}.dxf`]);
    const stl = files.find((f) => f.name.endsWith('.stl'))!.content as Uint8Array;
    const count = new DataView(stl.buffer, stl.byteOffset).getUint32(80, true);
    expect(stl.length).toBe(84 + 50 * count);
  });
});
