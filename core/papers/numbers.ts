import type { ResolvedJob } from '../job';
import type { SlimHead } from './slim-header';
import type { DrawingInfo } from './title-block';

/** Letters and digits that nobody takes for one another. */
const SIGNS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';

/** Four signs of a text: FNV-1a, 32 bit, of its UTF-16 units. */
function signsOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return Array.from({ length: 4 }, (_, i) => SIGNS[(hash >>> (5 * i + 3)) & 31]!).join('');
}

/**
 * The number of a job: the one typed for its papers; else made from its title and the names of its parts, so that it stays while sizes change and
 * another job has another.
 */
export function jobNumber(job: ResolvedJob): string {
  const typed = job.papers?.number?.trim() ?? '';
  if (typed !== '') return typed;
  const names = [...job.points, ...job.struts, ...job.brackets].map((each) => `${each.id} ${each.name ?? ''}`);
  const initials = job.title
    .split(/[^\p{L}\p{N}]+/u)
    .map((word) => word.charAt(0))
    .join('')
    .toUpperCase()
    .slice(0, 3);
  return `${initials || 'LID'}-${signsOf([job.title, ...names].join('\n'))}`;
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
