import { addObservation, removeObservation, setObservation } from './survey-edits';
import { indexOf, setPhoto } from './edits';
import type { Job, JobObservation, JobPhoto } from './types';

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

/** Says whether the place of a marked point counts as known when the photo's camera is found. */
export function knowOnPhoto(job: Job, args: { photo: string; point: string; known: boolean }): Job {
  const photo = job.photos![indexOf(job, 'photos', args.photo)]!;
  const others = (photo.camera?.known ?? []).filter((id) => id !== args.point);
  if (!args.known && others.length === (photo.camera?.known ?? []).length) return job;
  return setCamera(job, { photo: args.photo, patch: { known: args.known ? [...others, args.point] : others } });
}

/** Changes what is said of a photo's camera; undefined takes a key away. */
export function setCamera(job: Job, args: { photo: string; patch: Partial<NonNullable<JobPhoto['camera']>> }): Job {
  const photo = job.photos![indexOf(job, 'photos', args.photo)]!;
  const next = { known: [], ...photo.camera, ...args.patch };
  for (const key of Object.keys(next) as (keyof typeof next)[]) if (next[key] === undefined) delete next[key];
  return setPhoto(job, { id: args.photo, patch: { camera: next } });
}

/** Marks are kept to a hundredth of a pixel. */
const round = (v: number): number => Math.round(v * 100) / 100;
