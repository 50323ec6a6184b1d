import type { Job } from './types';

/** Letters and digits that nobody takes for one another. */
const SIGNS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ';

/** Four signs of a text: FNV-1a, 32 bit, of its UTF-16 units. */
function signsOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return Array.from({ length: 4 }, (_, i) => SIGNS[(hash >>> (5 * i + 3)) & 31]!).join('');
}

/** A job number: the initials of a title, and four signs of what tells the job from others. */
export function numberFrom(title: string, telling: string): string {
  const initials = title
    .split(/[^\p{L}\p{N}]+/u)
    .map((word) => word.charAt(0))
    .join('')
    .toUpperCase()
    .slice(0, 3);
  return `${initials || 'LID'}-${signsOf(telling)}`;
}

/** A job as it is begun, with a number made from all of its sizes that it keeps from then on. */
export function numbered(job: Job): Job {
  const { photos: _large, ...rest } = job;
  return { ...job, papers: { ...job.papers, number: numberFrom(job.title, JSON.stringify(rest)) } };
}
