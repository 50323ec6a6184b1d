// Draws a job's papers into a folder.
import { mkdir, readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import { drawingFont, type Sheet, writeDxf, writeSvg } from '../../core/drawing';
import { writePdf } from '../../core/drawing/pdf';
import { fail } from '../../core/error';
import { workOut } from '../../core/findings';
import { type Job, readJob, resolveJob } from '../../core/job';
import { type Paper, PAPER_FORMATS, papersOf } from '../../core/papers';
import { version } from '../../package.json';
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

type Asked = Pick<Extract<Command, { kind: 'papers' }>, 'paper' | 'projection' | 'only'>;

/** The papers asked for, drawn. Throws a LidwrightError whose path leads into the job, and where there is nothing to draw. */
export function drawnPapers(job: Job, date: string, asked: Asked): { paper: Paper; sheets: Sheet[] }[] {
  const resolved = resolveJob(job);
  const papers = papersOf(resolved, workOut(resolved), {
    date,
    program: `Lidwright ${version}`,
    ...(asked.paper ? { paper: asked.paper } : {}),
    ...(asked.projection ? { projection: asked.projection } : {}),
  }).filter((paper) => asked.only === null || asked.only.includes(paper.kind));
  if (papers.length === 0)
    fail(
      `There is nothing to draw: the job has nothing for ${asked.only?.join(', ') ?? 'any paper'}.`,
      asked.only?.includes('bracket') ? ['brackets'] : [],
      'Leave out --only, or add to the job what the paper is about.',
    );
  return papers.map((paper) => ({ paper, sheets: paper.draw() }));
}

/** Every file of the drawn papers: one PDF a paper, one SVG and one DXF a sheet, numbered where a paper has several. */
async function filesOf(
  drawn: readonly { paper: Paper; sheets: Sheet[] }[],
  formats: Extract<Command, { kind: 'papers' }>['formats'],
  date: string,
): Promise<[string, Uint8Array | string][]> {
  const font = await fontBytes();
  const files: [string, Uint8Array | string][] = [];
  for (const format of PAPER_FORMATS.filter((each) => formats === null || formats.includes(each))) {
    const wanted = drawn
      .filter(({ paper }) => paper.formats.includes(format))
      .flatMap(({ paper, sheets }) =>
        format === 'pdf'
          ? [{ stem: paper.id, sheets }]
          : sheets.map((sheet, i) => ({
              stem: sheets.length > 1 ? `${paper.id}-${i + 1}` : paper.id,
              sheets: [sheet],
            })),
      );
    const names = distinctNames(
      wanted.map(({ stem }) => stem),
      `.${format}`,
    );
    for (const [at, { sheets }] of wanted.entries()) {
      const sheet = sheets[0]!;
      const content =
        format === 'pdf'
          ? await writePdf(sheets, { fontBytes: font, date })
          : format === 'dxf'
            ? writeDxf(sheet)
            : writeSvg(sheet, { fontBytes: font });
      files.push([names[at] ?? `${at}.${format}`, content]);
    }
  }
  return files;
}

/** Draws everything first and writes then, so that a paper that can't be drawn leaves no half set behind. */
export async function papers(command: Extract<Command, { kind: 'papers' }>, io: Io): Promise<number> {
  const date = paperDate(io.env, io.nowMs);
  const job = readJob(await readJobNamed(command.job, io));
  const files = await filesOf(drawnPapers(job, date, command), command.formats, date);
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
  for (const [name, content] of files) {
    const how = await writeWhole(path.join(folder, name), content);
    io.out(`${how === 'new' ? 'made' : 'replaced'} ${plain(path.join(command.out, name))}\n`);
  }
  io.out('On a vehicle or vessel, local rules and a licensed person’s judgement come before these drawings.\n');
  return 0;
}
