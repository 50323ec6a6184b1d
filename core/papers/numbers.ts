import { type ResolvedJob, numberFrom } from '../job';
import type { SlimHead } from './slim-header';
import type { DrawingInfo } from './title-block';

/**
 * The number of a job: the one given when it was begun, or typed; else made from its title and the names of its parts, so that
 * it stays while sizes change.
 */
export function jobNumber(job: ResolvedJob): string {
  const typed = job.papers?.number?.trim() ?? '';
  if (typed !== '') return typed;
  const names = [...job.points, ...job.struts, ...job.brackets].map((each) => `${each.id} ${each.name ?? ''}`);
  return numberFrom(job.title, [job.title, ...names].join('\n'));
}

/** The number of one of a job's papers: the job's, then what tells it from the job's others. */
export const drawingNumber = (job: ResolvedJob, tail: string): string => `${jobNumber(job)}-${tail}`;

/** The same for a header that has no field for the revision. */
export const revisedNumber = (job: ResolvedJob, tail: string): string =>
  `${drawingNumber(job, tail)}${job.papers?.revision ? ` rev. ${job.papers.revision}` : ''}`;

/** What a job's papers call it: its title, or what it is. */
export const jobTitle = (job: ResolvedJob): string => (job.title === '' ? 'Lid and strut' : job.title);

/** The head of one of a job's papers without a title block, of this date (as it is printed). */
export const slimHeadOf = (job: ResolvedJob, tail: string, documentType: string, date: string): SlimHead => ({
  ...{ title: jobTitle(job), documentType, number: revisedNumber(job, tail), date },
  creator: job.papers?.creator ?? '',
});

/** What the title block of one of a job's drawings says of the job, of this date (as it is printed). */
export function drawingInfo(job: ResolvedJob, tail: string, date: string): DrawingInfo {
  const { creator = '', approver = '', owner = '', revision } = job.papers ?? {};
  const who = { creator, approver, owner, ...(revision === undefined ? {} : { revision }) };
  return { title: jobTitle(job).slice(0, 100), number: drawingNumber(job, tail), ...who, date };
}
