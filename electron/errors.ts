// Every failure in main becomes the same three fields that core's errors have.
import { z } from 'zod';
import { LidwrightError, type Issue } from '../core/error';

const SYSTEM: Record<string, readonly [what: string, advice: string]> = {
  ENOENT: ['is not there', 'It may have been moved, renamed or deleted: look where it lies now.'],
  EACCES: ['may not be used by this account', 'Choose another place, or change the permissions.'],
  EPERM: ['may not be changed by this account', 'Choose another place, or change the permissions.'],
  EROFS: ['lies on a disk that can only be read', 'Choose another place.'],
  ENOSPC: ['does not fit: the disk is full', 'Free some space, or choose another disk.'],
  EDQUOT: ['does not fit: your share of the disk is used up', 'Free some space, or choose another disk.'],
  EISDIR: ['is a folder', 'Name a file.'],
  ENOTDIR: ['goes through something that is no folder', 'Check the path.'],
  ENAMETOOLONG: ['has too long a name', 'Choose a shorter one.'],
  ELOOP: ['is a link that leads back to itself', 'Name the file itself.'],
  EMFILE: ['could not be opened: too many files are open', 'Close some programs and try again.'],
  EBUSY: ['is in use by another program', 'Close it there and try again.'],
  EXDEV: ['could not be put in place on that disk', 'Choose another place.'],
  EIO: ['could not be read or written: the disk reports an error', 'Save to another disk, and check this one.'],
};

interface SystemError extends Error {
  code: string;
  path?: string;
}

const isSystemError = (error: unknown): error is SystemError =>
  error instanceof Error && typeof (error as Partial<SystemError>).code === 'string';

/** The error in words; `subject` is the file's name when the system's error is about one. */
export function issueOf(error: unknown, subject?: string): Issue {
  if (error instanceof LidwrightError) return { what: error.what, where: error.where, advice: error.advice };
  if (error instanceof z.ZodError) {
    const [first] = error.issues;
    const where = (first?.path ?? []).map((part) => (typeof part === 'symbol' ? String(part) : part));
    return {
      what: `The page sent something that does not belong here (${first?.message ?? 'unknown'}).`,
      where,
      advice: 'This is a fault in Lidwright: save your work as a new file and start it again.',
    };
  }
  if (isSystemError(error)) {
    const name = subject ?? error.path ?? 'The file';
    const [what, advice] = SYSTEM[error.code] ?? [`gave an error (${error.code})`, 'Try another place.'];
    return { what: `"${name}" ${what}.`, where: [], advice };
  }
  return {
    what: error instanceof Error ? error.message : String(error),
    where: [],
    advice: 'This is a fault in Lidwright: save your work as a new file and start it again.',
  };
}

/** The same as an error to throw. */
export function asLidwrightError(error: unknown, subject?: string): LidwrightError {
  if (error instanceof LidwrightError) return error;
  const wrapped = new LidwrightError(issueOf(error, subject));
  wrapped.cause = error;
  return wrapped;
}
