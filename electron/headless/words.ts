import { formatPath } from '../../core/error';
import { asLidwrightError } from '../errors';
import { plain } from './table';

/** Every issue as its place in the file, what is wrong there, and what to do. */
export function errorWords(error: unknown, about: string): string {
  const { issues } = asLidwrightError(error);
  const lines = issues.flatMap(({ what, where, advice }) => {
    const path = formatPath(where);
    const subject = what.includes(`"${about}"`) ? '' : `${plain(about)}: `;
    const words = `${subject}${path === '' ? '' : `${plain(path)}: `}${plain(what)}`;
    return advice === '' ? [words] : [words, `    ${plain(advice)}`];
  });
  return `${lines.join('\n')}\n`;
}
