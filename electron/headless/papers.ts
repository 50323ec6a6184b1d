// Draws a job's papers into a folder.
import { mkdir, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import { drawingFont } from '../../core/drawing';
import { attempt, describeIssue, fail, type LidwrightError } from '../../core/error';
import type { ResolvedJob } from '../../core/job';
import {
  type FileOptions,
  type Paper,
  boundPapers,
  boxedLetters,
  paperFile,
  WORKED_OUT_KINDS,
  paperFiles,
  papersOf,
  zippedPapers,
} from '../../core/papers';
import { type Workings, workingsOf } from '../../core/workings';
import { version } from '../../package.json';
import { localDay } from '../../renderer/host/day';
import { asLidwrightError } from '../errors';
import { writeWhole } from '../files';
import type { Io } from './io';
import { jobNamed } from './job';
import type { PapersCommand as Command } from './options';
import { plain } from './table';
import { errorWords } from './words';

/** The day on the papers: SOURCE_DATE_EPOCH (seconds, as reproducible builds use it) where it is set, else today. */
export function paperDate(env: Io['env'], nowMs: number): string {
  const epoch = env['SOURCE_DATE_EPOCH'];
  if (epoch === undefined || epoch === '') return localDay(new Date(nowMs));
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

const papersAsked = (job: ResolvedJob, outcome: Workings | null, date: string, asked: Command): Paper[] =>
  papersOf(job, outcome, {
    date,
    program: `Lidwright ${version}`,
    ...(asked.paper ? { paper: asked.paper } : {}),
    ...(asked.projection ? { projection: asked.projection } : {}),
  }).filter((paper) => asked.only === null || asked.only.includes(paper.kind));

/** What follows from the job, or why it can't be worked out: papers of its brackets and struts need none of it. */
function computed(w: Workings, { only }: Command): { outcome: Workings | null; why: LidwrightError | null } {
  if (only !== null && !only.some((kind) => WORKED_OUT_KINDS.includes(kind))) return { outcome: null, why: null };
  const { value, error } = attempt(() => w.computed());
  return { outcome: value, why: error };
}

/**
 * Makes all files first and writes then. What can't be drawn is told on stderr, with exit code 1; the other papers are
 * written. Throws a LidwrightError where nothing can be.
 */
export async function papers(command: Command, io: Io): Promise<number> {
  const date = command.date ?? paperDate(io.env, io.nowMs);
  const found = workingsOf(await jobNamed(command.job, io));
  const { job } = found;
  const { outcome, why } = computed(found, command);
  const asked = papersAsked(job, outcome, date, command);
  if (asked.length === 0 && why) throw why;
  if (asked.length === 0)
    fail(
      `There is nothing to draw: the job has nothing for ${command.only?.join(', ') ?? 'any paper'}.`,
      command.only?.includes('bracket') ? ['brackets'] : [],
      'Leave out --only, or add to the job what the paper is about.',
    );
  const options = { date, font: await fontBytes() };
  const { files, leftOut } = command.together
    ? await inOne(job, asked, options)
    : command.zip
      ? await zippedPapers(job, asked, command.formats, options)
      : await paperFiles(asked, command.formats, options);
  const wrong = [...(why ? [why] : []), ...leftOut.map((each) => each.why)];
  if (files.length === 0 && wrong.length > 0) throw wrong[0];
  if (files.length === 0)
    fail('None of these papers is written in that format.', [], 'Papers that are only read have no DXF: add pdf.');

  const folder = path.resolve(io.cwd, command.out);
  try {
    await mkdir(folder, { recursive: true });
  } catch (error) {
    const code = (error as { code?: string }).code;
    if (code === 'EEXIST' || code === 'ENOTDIR')
      fail(`"${command.out}" is a file, not a folder.`, [], 'Give --out another name.');
    throw asLidwrightError(error, command.out);
  }
  for (const { name, content } of files) {
    const how = await writeWhole(path.join(folder, name), content);
    io.out(`${how === 'new' ? 'made' : 'replaced'} ${plain(path.join(command.out, name))}\n`);
  }
  io.out('On a vehicle or vessel, local rules and a licensed person’s judgement come before these drawings.\n');
  for (const issue of boxedLetters(job)) io.err(`${plain(describeIssue(issue))}\n`);
  if (why) io.err(`Left out: what has to be worked out.\n${errorWords(why, command.job)}`);
  for (const { paper, why } of leftOut)
    io.err(`Left out, because it can’t be drawn: ${plain(paper.title)}.\n${errorWords(why, command.job)}`);
  return wrong.length > 0 ? 1 : 0;
}

async function inOne(job: ResolvedJob, asked: readonly Paper[], options: FileOptions) {
  const { bound, leftOut } = boundPapers(job, asked);
  return { files: leftOut.length < asked.length ? [await paperFile(bound, 'pdf', options)] : [], leftOut };
}
