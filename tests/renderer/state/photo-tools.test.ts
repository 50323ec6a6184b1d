import { beforeEach, describe, expect, it } from 'vitest';
import type { Job } from '../../../core/job';
import { finishSquare, takeTool } from '../../../renderer/state/photo-tools';
import { bench, openJob, presentJob } from '../../../renderer/state/store';
import { example } from '../../core/examples/example';

type Marks = NonNullable<NonNullable<Job['photos']>[number]['rectify']>['marks'];
const MARKS: Marks = [
  { px: [300, 900], planeMm: [{ given: 'edge' }, 60] },
  { px: [1100, 880], planeMm: [60, 60] },
  { px: [1090, 420], planeMm: [60, { expression: '60 mm + rise' }] },
  { px: [310, 440], planeMm: [{ given: 'edge' }, 520] },
];

describe('marks that a given places', () => {
  beforeEach(() => {
    const job = example('workboat-hatch');
    openJob(
      {
        ...job,
        givens: [
          { name: 'edge', expression: '-850 mm' },
          { name: 'rise', expression: '460 mm' },
        ],
        photos: job.photos!.map((p, i) => (i === 0 ? { ...p, rectify: { marks: MARKS } } : p)),
      } as Job,
      { name: 'marks', token: null, photosFrom: null, saved: job, draftId: 'marks' },
    );
  });

  it('keep it while another mark is changed', () => {
    const photo = bench.getState().resolved.photos[0]!;
    expect(photo.rectify!.marks[2]!.planeMm).toEqual([60, 520]);
    takeTool({
      kind: 'square',
      photoId: photo.id,
      marks: photo.rectify!.marks.map((m, i) => ({
        ...m,
        planeMm: i === 1 ? [65, 60] : m.planeMm,
        ...(i === 1 ? {} : { held: MARKS[i]!.planeMm }),
      })),
      redo: null,
    });
    finishSquare();
    const now = presentJob().photos![0]!.rectify!.marks;
    expect(now.map((m) => m.planeMm)).toEqual([MARKS[0]!.planeMm, [65, 60], MARKS[2]!.planeMm, MARKS[3]!.planeMm]);
  });
});
