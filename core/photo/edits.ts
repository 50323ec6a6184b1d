import { type Job, type JobPhoto, indexOf, setPhoto } from '../job';

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
