import path from 'node:path';
import { type Job, readJobFile, utf8Text } from '../../core/job';
import { jobFileBytes } from '../files';
import type { Io } from './io';

const bytesNamed = (name: string, io: Io): Promise<Uint8Array> => jobFileBytes(path.resolve(io.cwd, name), name);

/** The job that the command line names, from wherever the command was started. */
export const jobNamed = async (name: string, io: Io): Promise<Job> => readJobFile(name, await bytesNamed(name, io)).job;

/** The same of a plain text. */
export const textNamed = async (name: string, io: Io): Promise<string> => utf8Text(name, await bytesNamed(name, io));
