import path from 'node:path';
import { readJobFile } from '../files';
import type { Io } from './io';

/** The text of the job that the command line names, from wherever the command was started. */
export const readJobNamed = (name: string, io: Io): Promise<string> => readJobFile(path.resolve(io.cwd, name), name);
