// A job as the bytes of its file: plain JSON, or with pictures inside a ZIP of job.json and the pictures.
import { fail } from '../error';
import { type ReadingNote, readingNotes } from './notes';
import { jobFromDocument, parseJson, writeJob } from './read';
import { LONGEST_PICTURE_TEXT } from './schema';
import type { Job, JobPhoto } from './types';
import { type Members, isZip, readZip, writeZip } from './zip';

export type { Members } from './zip';

/** The largest job file that is read or written, bytes; a ZIP may not unpack to more either. */
export const LARGEST_JOB_BYTES = 64 * 1024 * 1024;
/** What all pictures inside a job may take, bytes: room is left for the rest of it. */
export const LARGEST_PICTURES_BYTES = 60 * 1024 * 1024;
/** The largest single picture, bytes: more than this its text in a plain job could not hold. */
export const LARGEST_PICTURE_BYTES = Math.floor(((LONGEST_PICTURE_TEXT - 30) / 4) * 3);
const MOST_MEMBERS = 1000;
const JOB = 'job.json';

export interface JobFile {
  readonly job: Job;
  /** What else lay in its ZIP: kept, and written back with it. */
  readonly others: Members;
}

/** A job file that was read, and what is to be said of it. */
export interface ReadFile extends JobFile {
  readonly notes: readonly ReadingNote[];
}

export const NO_OTHERS: Members = new Map();

/** A size for a person: "3.4 MB". */
export const sizeWords = (bytes: number): string =>
  bytes < 1e6 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;

const mib = (bytes: number): string => `${Math.round((bytes / 1024 / 1024) * 10) / 10} MiB`;

/** Throws a LidwrightError when a file of this size can't be a job: to be asked before it is read. */
export function checkJobSize(name: string, sizeBytes: number): void {
  if (sizeBytes > LARGEST_JOB_BYTES)
    fail(
      `"${name}" is ${mib(sizeBytes)} long; a job may be ${mib(LARGEST_JOB_BYTES)} at most.`,
      [],
      'Check that it is a job. If its photos make it so large, use smaller ones or keep them beside the job.',
    );
  if (sizeBytes === 0) fail(`"${name}" is empty.`, [], 'Open another file, or the last good copy of this one.');
}

/** The text of a file, without a byte order mark. Throws a LidwrightError that says where it is not UTF-8. */
export function utf8Text(name: string, bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const { line, byte } = firstBroken(bytes);
    return fail(
      `"${name}" is no text: line ${line} holds bytes that are not UTF-8 (at byte ${byte}).`,
      [],
      'Open a .lidjob file. If a text program wrote it, save it there as UTF-8.',
    );
  }
}

/** Line (from 1) and byte (from 0) of the first piece that is not UTF-8; a line's end is never part of a longer letter. */
function firstBroken(bytes: Uint8Array): { line: number; byte: number } {
  const lenient = new TextDecoder('utf-8', { ignoreBOM: true });
  const strict = new TextDecoder('utf-8', { fatal: true });
  for (let line = 1, from = 0; ; line++) {
    const found = bytes.indexOf(0x0a, from);
    const piece = bytes.subarray(from, found < 0 ? bytes.length : found);
    try {
      strict.decode(piece);
    } catch {
      const text = lenient.decode(piece);
      return { line, byte: from + new TextEncoder().encode(text.slice(0, text.indexOf('\uFFFD'))).length };
    }
    if (found < 0) return { line, byte: bytes.length };
    from = found + 1;
  }
}

const MIMES: Readonly<Record<string, string>> = { jpg: 'jpeg', jpeg: 'jpeg', png: 'png', webp: 'webp' };
const ENDINGS: Readonly<Record<string, string>> = { jpeg: 'jpg', png: 'png', webp: 'webp' };

/** A picture's bytes as a data: address; `name` tells its kind. Null for a name of no kind that a job may hold. */
export function pictureText(name: string, bytes: Uint8Array): string | null {
  const mime = MIMES[/\.([a-z]+)$/i.exec(name)?.[1]?.toLowerCase() ?? ''];
  if (mime === undefined) return null;
  let binary = '';
  // spread, the arguments take six times as long
  for (let i = 0; i < bytes.length; i += 32768)
    binary += String.fromCharCode.apply(null, bytes.subarray(i, i + 32768) as unknown as number[]);
  return `data:image/${mime};base64,${btoa(binary)}`;
}

export interface Picture {
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** File ending: jpg, png or webp. */
  readonly ending: string;
}

/** The bytes of a picture inside a job; null where its text is not exactly what these bytes would be written as. */
export function pictureOf(inside: string): Picture | null {
  const [, mime = '', body = ''] = /^data:image\/(jpeg|png|webp);base64,(.*)$/s.exec(inside) ?? [];
  const ending = ENDINGS[mime];
  if (ending === undefined) return null;
  try {
    const binary = atob(body);
    if (btoa(binary) !== body) return null;
    const bytes = new Uint8Array(binary.length);
    for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i); // Uint8Array.from takes ten times as long
    return { bytes, ending };
  } catch {
    return null;
  }
}

/** Bytes that the pictures inside a job take. */
export const picturesBytes = (job: Job): number =>
  (job.photos ?? []).reduce(
    (sum, { source }) => sum + ('inside' in source ? Math.floor((source.inside.length * 3) / 4) : 0),
    0,
  );

/** Throws a LidwrightError when a picture of this size has no room in the job any more: to be asked before it is taken in. */
export function checkPictureRoom(job: Job, name: string, sizeBytes: number): void {
  const taken = picturesBytes(job);
  if (sizeBytes > LARGEST_PICTURE_BYTES)
    fail(
      `"${name}" is ${sizeWords(sizeBytes)} long; a picture inside a job may be ${sizeWords(LARGEST_PICTURE_BYTES)} at most`,
      [],
      'Scale it down first.',
    );
  if (taken + sizeBytes > LARGEST_PICTURES_BYTES)
    fail(
      `"${name}" is ${sizeWords(sizeBytes)} long, and of ${sizeWords(LARGEST_PICTURES_BYTES)} for pictures ${sizeWords(taken)} are taken`,
      [],
      'Remove another photo first, or keep this one beside the job.',
    );
}

function withSources(job: Job, sourceOf: (photo: JobPhoto) => object | null): Job {
  if (!job.photos) return job;
  const photos = job.photos.map((photo) => {
    const source = sourceOf(photo);
    return source ? { ...photo, source: source as JobPhoto['source'] } : photo;
  });
  return photos.some((photo, i) => photo !== job.photos![i]) ? { ...job, photos } : job;
}

/** A job whose pictures lie elsewhere, under the names that `nameOf` gives them; null: that one stays inside. */
export const picturesOut = (job: Job, nameOf: (photo: JobPhoto, inside: string) => string | null): Job =>
  withSources(job, ({ source, ...photo }) => {
    if (!('inside' in source) || 'beside' in source) return null;
    const { inside, ...more } = source;
    const name = nameOf({ source, ...photo }, inside);
    return name === null ? null : { ...more, beside: name };
  });

/** The same job with its pictures inside again; those that `textOf` does not know stay beside. */
export const picturesIn = (job: Job, textOf: (name: string) => string | null): Job =>
  withSources(job, ({ source }) => {
    if (!('beside' in source)) return null;
    const { beside, ...more } = source;
    const inside = textOf(beside);
    return inside === null ? null : { ...more, inside };
  });

function readText(text: string): Pick<ReadFile, 'job' | 'notes'> {
  const document = parseJson(text);
  const job = jobFromDocument(document);
  return { job, notes: readingNotes(text, document, job) };
}

/**
 * Reads a job's file, plain or with its pictures in a ZIP. `name` is what messages call it.
 * Throws a LidwrightError whose issues say what is wrong, where, and what to do.
 */
export function readJobFile(name: string, bytes: Uint8Array): ReadFile {
  checkJobSize(name, bytes.byteLength);
  if (!isZip(bytes)) return { ...readText(utf8Text(name, bytes)), others: NO_OTHERS };
  const others = new Map(readZip(bytes, { members: MOST_MEMBERS, bytes: LARGEST_JOB_BYTES }));
  const text = others.get(JOB) ?? fail(`"${name}" is a ZIP without ${JOB}`, [], 'Open a .lidjob file.');
  const texts = new Map<string, string>();
  const read = readText(utf8Text(JOB, text));
  const job = picturesIn(read.job, (beside) => {
    const picture = others.get(beside);
    if (!picture || beside === JOB) return null;
    if (picture.length > LARGEST_PICTURE_BYTES)
      fail(`the picture "${beside}" is ${sizeWords(picture.length)} long`, ['photos'], 'Scale it down in the file.');
    const inside = texts.get(beside) ?? pictureText(beside, picture);
    if (inside !== null) texts.set(beside, inside);
    return inside;
  });
  for (const taken of [JOB, ...texts.keys()]) others.delete(taken);
  return { job, others, notes: read.notes };
}

/** A file name of a picture that nothing else in the file has; letters and digits of the photo's id are kept. */
function freeName(id: string, ending: string, taken: Set<string>): string {
  const stem = id.replace(/[^\w-]+/g, '-');
  for (let n = 1; ; n++) {
    const name = `${stem}${n > 1 ? `-${n}` : ''}.${ending}`;
    if (taken.has(name.toLowerCase())) continue;
    taken.add(name.toLowerCase());
    return name;
  }
}

/**
 * A job as its file's bytes: the same job gives the same bytes. Plain JSON where it has no picture inside and nothing else
 * lay in its ZIP. Throws a LidwrightError when it is larger than a job may be.
 */
export function writeJobFile({ job, others }: JobFile): Uint8Array<ArrayBuffer> {
  const members = new Map<string, Uint8Array<ArrayBuffer>>([[JOB, new Uint8Array()]]);
  const beside = (job.photos ?? []).flatMap(({ source }) => ('beside' in source ? [source.beside] : []));
  const taken = new Set([JOB, ...others.keys(), ...beside].map((name) => name.toLowerCase()));
  const bare = picturesOut(job, ({ id }, inside) => {
    const picture = pictureOf(inside);
    if (!picture) return null;
    const name = freeName(id, picture.ending, taken);
    members.set(name, picture.bytes);
    return name;
  });
  for (const [name, bytes] of others) members.set(name, bytes);
  const text = new TextEncoder().encode(writeJob(bare));
  members.set(JOB, text);
  const bytes = members.size > 1 ? writeZip(members) : text;
  const unpacked = [...members.values()].reduce((sum, member) => sum + member.length, 0);
  if (Math.max(unpacked, bytes.length) > LARGEST_JOB_BYTES)
    fail(
      `the job is ${mib(unpacked)} long; one may be ${mib(LARGEST_JOB_BYTES)} at most`,
      [],
      'Remove a photo, or undo what made it so large, and save again.',
    );
  return bytes;
}
