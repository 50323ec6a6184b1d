import type { ResolvedJob } from './types';

/** A part of a resolved job by its name: what a result can say that it is made from. */
export type JobPart = keyof ResolvedJob;

/** Some parts of a job and nothing else: what holds it can't read, or keep alive, the rest. */
export const partsOf = <K extends JobPart>(job: Pick<ResolvedJob, K>, parts: readonly K[]): Pick<ResolvedJob, K> =>
  Object.fromEntries(parts.map((part) => [part, job[part]])) as Pick<ResolvedJob, K>;

/** What `jobIssues` looks at. */
export const CHECKED_PARTS = [
  'points',
  'hinge',
  'grip',
  'outline',
  'masses',
  'struts',
  'springs',
  'loadCases',
  'seal',
  'latch',
  'photos',
  'brackets',
  'obstacles',
  'zones',
  'find',
  'observations',
  'relations',
  'weighings',
  'proof',
] as const satisfies readonly JobPart[];
export type CheckedJob = Pick<ResolvedJob, (typeof CHECKED_PARTS)[number]>;
