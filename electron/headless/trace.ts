// A job from a photo and a file of the marks on it.
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { LidwrightError, fail } from '../../core/error';
import { LARGEST_PICTURE_BYTES, readJob, writeJob } from '../../core/job';
import { focalFromPhoto, openableSize, readExif, uprightSize } from '../../core/photo';
import { type Trace, jobFromMarks, readMarks } from '../../core/start';
import { asLidwrightError } from '../errors';
import { writeWhole } from '../files';
import type { Io } from './io';
import { textNamed } from './job';
import type { TraceCommand } from './options';
import { plain } from './table';

async function photoOf(file: string, name: string): Promise<Trace['photo']> {
  try {
    const bytes = new Uint8Array(await readFile(file));
    const size = await openableSize(`"${name}"`, (most) => Promise.resolve(bytes.subarray(0, most)));
    if (bytes.length > LARGEST_PICTURE_BYTES)
      return fail(`"${name}" is too large to travel inside a job.`, [], 'Scale it down first.');
    const notes = readExif(bytes);
    const [widthPx, heightPx] = uprightSize(notes?.orientation ?? null, size.widthPx, size.heightPx);
    return {
      dataUrl: `data:image/${size.format};base64,${Buffer.from(bytes).toString('base64')}`,
      widthPx,
      heightPx,
      name: path
        .basename(name)
        .replace(/\.[^.]+$/, '')
        .slice(0, 100),
      focal: focalFromPhoto(notes, widthPx, heightPx),
    };
  } catch (error) {
    const issue = asLidwrightError(error, name);
    throw new LidwrightError({ what: issue.what, where: ['photo'], advice: issue.advice });
  }
}

/** Writes the job that the marks describe, the photo inside it. Throws a LidwrightError that leads into the marks. */
export async function trace({ job: marksName, out }: TraceCommand, io: Io): Promise<number> {
  const marks = readMarks(await textNamed(marksName, io));
  const folder = path.dirname(path.resolve(io.cwd, marksName));
  const text = writeJob(jobFromMarks(marks, await photoOf(path.resolve(folder, marks.photo), marks.photo)));
  readJob(text); // what is written can be opened
  const how = await writeWhole(path.resolve(io.cwd, out), text);
  io.out(`${how === 'new' ? 'made' : 'replaced'} ${plain(out)}\n`);
  io.out(
    'Width, mass and travel are assumed where the marks give none, and the strut is a first guess: check the job.\n',
  );
  return 0;
}
