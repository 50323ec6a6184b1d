import { fail } from '../../core/error';
import { LARGEST_JOB_BYTES } from './interface';

const mib = (bytes: number): string => `${(bytes / 1024 / 1024).toFixed(0)} MiB`;

/** Throws a LidwrightError when a file of this size can't be a job. */
export function checkJobSize(name: string, sizeBytes: number): void {
  if (sizeBytes > LARGEST_JOB_BYTES)
    fail(
      `"${name}" is ${mib(sizeBytes)} long; a job may be ${mib(LARGEST_JOB_BYTES)} at most.`,
      [],
      'Check that it is a job. If its photos make it so large, use smaller ones or keep them beside the job.',
    );
  if (sizeBytes === 0) fail(`"${name}" is empty.`, [], 'Open another file, or the last good copy of this one.');
}

/** The text of a job file; throws a LidwrightError when it is too large, empty, or not UTF-8. */
export function jobText(name: string, bytes: Uint8Array): string {
  checkJobSize(name, bytes.byteLength);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes); // also takes a byte order mark off
  } catch {
    return fail(`"${name}" is no text: it holds bytes that are not UTF-8.`, [], 'Open a .lidjob file.');
  }
}
