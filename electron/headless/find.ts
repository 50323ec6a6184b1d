// Places for the strut on the command line.
import path from 'node:path';
import { fail } from '../../core/error';
import { answer, answerLines, applyPlace, placesFile } from '../../core/find';
import { assertComputable, readJob, resolveJob, writeJob } from '../../core/job';
import { writeWhole } from '../files';
import type { Io } from './io';
import { jobNamed } from './job';
import { listNamed } from './list';
import type { FindCommand } from './options';
import { plain, wrap } from './table';

/** Prints the places that were found, writes the job with one of them if asked, and gives the exit code: 1 where none works. */
export async function find({ job: jobName, list: listName, best, json, apply }: FindCommand, io: Io): Promise<number> {
  const raw = await jobNamed(jobName, io);
  const named = listName === null ? null : await listNamed(listName, io);
  for (const { line, heading, what } of named?.errors ?? [])
    io.err(
      `${plain(listName!)}: line ${line}${heading === '' ? '' : `, ${plain(heading)}`}: ${plain(what)}; left out\n`,
    );
  if (named && named.entries.length === 0)
    fail(`"${listName}" has no strut that can be read.`, [], 'Name another list.');
  const began = performance.now();
  const found = answer(raw, { ...(named ? { list: named.entries } : {}), ...(best === null ? {} : { most: best }) })!;
  const seconds = Number(((performance.now() - began) / 1000).toFixed(3));
  if (json) io.out(`${JSON.stringify(placesFile(found, seconds))}\n`);
  else
    for (const line of answerLines(resolveJob(raw), found)) {
      const indent = /^ *(?:- )?/.exec(line)![0].length;
      const lines = wrap(plain(line.slice(indent)), io.columns - indent);
      io.out(lines.map((text, i) => `${i === 0 ? line.slice(0, indent) : ' '.repeat(indent)}${text}\n`).join(''));
    }
  if (found.places.length === 0) return 1;
  if (apply) {
    const place = found.places[apply.number - 1];
    if (!place)
      return fail(
        `there is no place ${apply.number}; ${found.places.length === 1 ? 'one was' : `${found.places.length} were`} found.`,
        [],
        'Take a number of the list.',
      );
    const made = applyPlace(raw, { strutIndex: 0, place });
    assertComputable(resolveJob(made));
    const text = writeJob(made);
    readJob(text); // what is written can be opened
    const how = await writeWhole(path.resolve(io.cwd, apply.out), text);
    io.err(`${how === 'new' ? 'made' : 'replaced'} ${plain(apply.out)}\n`);
  }
  return 0;
}
