import { type Job, type JobObservation, indexOf } from '../job';
import { knowOnPhoto } from '../photo';
import { addObservation, removeObservation, setObservation } from './edits';

/** Marks are kept to a hundredth of a pixel. */
const round = (v: number): number => Math.round(v * 100) / 100;

/** Marks on a photo, in the order they were made. */
export const marksOn = (job: Job, photoId: string): readonly JobObservation[] =>
  (job.observations ?? []).filter((o) => o.kind === 'photo-mark' && o.photo === photoId);

/** Marks a point on a photo at a pixel; a mark of that point on that photo is moved. Whether it is known is kept. */
export function markOnPhoto(job: Job, args: { photo: string; point: string; px: readonly [number, number] }): Job {
  indexOf(job, 'photos', args.photo);
  indexOf(job, 'points', args.point);
  const px: [number, number] = [round(args.px[0]), round(args.px[1])];
  const there = marksOn(job, args.photo).find((o) => o.points[0] === args.point);
  if (there) return setObservation(job, { id: there.id, patch: { px } });
  return addObservation(job, {
    observation: { kind: 'photo-mark', points: [args.point], photo: args.photo, px },
  });
}

/** Takes a point's mark off a photo, and its place among the known points of that photo. */
export function unmarkOnPhoto(job: Job, args: { photo: string; point: string }): Job {
  const there = marksOn(job, args.photo).find((o) => o.points[0] === args.point);
  const next = there ? removeObservation(job, { id: there.id }) : job;
  return knowOnPhoto(next, { ...args, known: false });
}
