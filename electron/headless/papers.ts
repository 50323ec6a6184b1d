// Draws a job's brackets into a folder.
import { mkdir, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import { drawingFont, type Sheet, writeSvg } from '../../core/drawing';
import { writePdf } from '../../core/drawing/pdf';
import { fail, LidwrightError } from '../../core/error';
import { type Job, readJob, resolveJob } from '../../core/job';
import { bracketSheet } from '../../core/papers';
import { fileNameFor } from '../../renderer/host/names';
import { asLidwrightError } from '../errors';
import { writeWhole } from '../files';
import type { Io } from './io';
import { readJobNamed } from './job';
import type { Command } from './options';
import { plain } from './table';

/** The day on the papers: SOURCE_DATE_EPOCH (seconds, as reproducible builds use it) where it is set, else today, UTC. */
export function paperDate(env: Io['env'], nowMs: number): string {
  const epoch = env['SOURCE_DATE_EPOCH'];
  if (epoch === undefined || epoch === '') return new Date(nowMs).toISOString().slice(0, 10);
  const date = new Date(/^\d{1,12}$/.test(epoch) ? Number(epoch) * 1000 : NaN);
  if (Number.isNaN(date.getTime()) || date.getUTCFullYear() > 9999)
    return fail(
      `SOURCE_DATE_EPOCH is "${epoch}", which is no time.`,
      [],
      'Give whole seconds since 1970, or unset it.',
    );
  return date.toISOString().slice(0, 10);
}

/** The font that the drawings are measured for, from its package. */
async function fontBytes(): Promise<Uint8Array> {
  try {
    const manifest = createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json');
    return new Uint8Array(await readFile(path.join(path.dirname(manifest), drawingFont.file)));
  } catch (error) {
    const issue = asLidwrightError(error, drawingFont.file);
    return fail(`The drawing font is missing: ${issue.what}`, [], 'Run npm ci in the project’s folder.');
  }
}

/** File names for things, none twice: "b1.svg", "b1-2.svg" (also where a file system takes big and small for the same). */
export function distinctNames(names: readonly string[], ending: string): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const stem = fileNameFor(name, '');
    let candidate = `${stem}${ending}`;
    for (let number = 2; taken.has(candidate.toLowerCase()); number++) candidate = `${stem}-${number}${ending}`;
    taken.add(candidate.toLowerCase());
    return candidate;
  });
}

/** A sheet for each bracket of the job. Throws a LidwrightError whose path leads to the bracket. */
export function bracketSheets(
  job: Job,
  date: string,
  asked: Pick<Extract<Command, { kind: 'papers' }>, 'paper' | 'projection'>,
): { id: string; sheet: Sheet }[] {
  const resolved = resolveJob(job);
  if (resolved.brackets.length === 0)
    fail('There is nothing to draw: the job has no bracket.', ['brackets'], 'Add a bracket to the job first.');
  return resolved.brackets.map((bracket, at) => {
    try {
      const sheet = bracketSheet(resolved, bracket, {
        date,
        paper: asked.paper ?? undefined,
        projection: asked.projection ?? undefined,
      });
      return { id: bracket.id, sheet };
    } catch (error) {
      throw error instanceof LidwrightError ? error.within('brackets', at) : error;
    }
  });
}

/** Draws everything first and writes then, so that a bracket that can't be drawn leaves no half set behind. */
export async function papers(command: Extract<Command, { kind: 'papers' }>, io: Io): Promise<number> {
  const date = paperDate(io.env, io.nowMs);
  const job = readJob(await readJobNamed(command.job, io));
  const drawn = bracketSheets(job, date, command);
  const font = await fontBytes();
  const pdf = await writePdf(
    drawn.map(({ sheet }) => sheet),
    { fontBytes: font, date },
  );
  const names = distinctNames(
    drawn.map(({ id }) => `bracket-${id}`),
    '.svg',
  );
  const files: [string, Uint8Array | string][] = [
    ['brackets.pdf', pdf],
    ...drawn.map(({ sheet }, at): [string, string] => [names[at] ?? '', writeSvg(sheet, { fontBytes: font })]),
  ];

  const folder = path.resolve(io.cwd, command.out);
  try {
    await mkdir(folder, { recursive: true });
  } catch (error) {
    const code = (error as { code?: string }).code;
    if (code === 'EEXIST' || code === 'ENOTDIR')
      fail(`"${command.out}" is a file, not a folder.`, [], 'Give --out another name.');
    throw asLidwrightError(error, command.out);
  }
  for (const [name, content] of files) {
    const how = await writeWhole(path.join(folder, name), content);
    io.out(`${how === 'new' ? 'made' : 'replaced'} ${plain(path.join(command.out, name))}\n`);
  }
  io.out('On a vehicle or vessel, local rules and a licensed person’s judgement come before these drawings.\n');
  return 0;
}
