import path from 'node:path';
import { type Job, readJobFile, utf8Text } from '../../core/job';
import { jobFileBytes } from '../files';
import type { Io } from './io';
import { plain } from './table';

const bytesNamed = (name: string, io: Io): Promise<Uint8Array> => jobFileBytes(path.resolve(io.cwd, name), name);

/** The job that the command line names, from wherever the command was started. */
export const jobNamed = async (name: string, io: Io): Promise<Job> => (await readNamed(name, io)).job;

/** The same, and what it leaves out; what is not as it stands in the file is said on stderr. */
export async function readNamed(name: string, io: Io): Promise<{ job: Job; filled: readonly string[] }> {
  const { job, notes } = readJobFile(name, await bytesNamed(name, io));
  for (const { kind, text } of notes) if (kind !== 'filled') io.err(`${plain(name)}: ${plain(text)}\n`);
  return { job, filled: notes.filter(({ kind }) => kind === 'filled').map(({ text }) => text) };
}

/** The same of a plain text. */
export const textNamed = async (name: string, io: Io): Promise<string> => utf8Text(name, await bytesNamed(name, io));
