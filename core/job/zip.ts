// A ZIP read with suspicion and written so that the same members give the same bytes. The library packs and unpacks; it
// checks no sums and believes what a header says of sizes, so names, sizes and sums are held to here.
// Source: APPNOTE.TXT 6.3.x of the ZIP format (sections 4.3.7, 4.3.12, 4.3.16); CRC-32 as in ISO 3309.
import { Inflate, zipSync } from 'fflate';
import { fail } from '../error';

/** What lies in a ZIP, by name. */
export type Members = ReadonlyMap<string, Uint8Array<ArrayBuffer>>;

export interface ZipLimits {
  readonly members: number;
  /** Unpacked, all together. */
  readonly bytes: number;
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

/** CRC-32 of the bytes, as an unsigned whole number. */
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = CRC_TABLE[(c ^ byte) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

const ENTRY = 0x02014b50;
const LOCAL = 0x04034b50;
const END = 0x06054b50;
const END_LENGTH = 22;
const LONGEST_COMMENT = 0xffff;
const STORED = 0;
const DEFLATED = 8;
/** Packed bytes handed to the unpacker at a time: it can grow them a thousandfold before their size is looked at. */
const PIECE = 16 * 1024;

const ADVICE = 'Open an older copy or the recovered draft.';
const torn = (what: string): never => fail(`the ZIP is torn or was tampered with: ${what}`, [], ADVICE);

/** Whether a file begins as a ZIP does. */
export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);

/** Offset of the record that ends a ZIP, or -1. */
function endOf(view: DataView): number {
  const last = view.byteLength - END_LENGTH;
  for (let at = last; at >= Math.max(0, last - LONGEST_COMMENT); at--)
    if (view.getUint32(at, true) === END && at + END_LENGTH + view.getUint16(at + 20, true) === view.byteLength)
      return at;
  return -1;
}

function nameOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes); // an old program's own letters
  }
}

interface Entry {
  readonly name: string;
  readonly method: number;
  readonly crc: number;
  readonly packed: Uint8Array;
  readonly size: number;
}

function unpack({ name, method, packed, size }: Entry): Uint8Array<ArrayBuffer> {
  if (method === STORED) return packed.length === size ? Uint8Array.from(packed) : torn(`"${name}" has another size`);
  const out = new Uint8Array(size);
  let length = 0;
  const stream = new Inflate((piece) => {
    if (length + piece.length > size) torn(`"${name}" unpacks to more than it says`);
    out.set(piece, length);
    length += piece.length;
  });
  try {
    for (let at = 0; at === 0 || at < packed.length; at += PIECE)
      stream.push(packed.subarray(at, at + PIECE), at + PIECE >= packed.length);
  } catch (error) {
    if (error instanceof Error && error.name === 'LidwrightError') throw error;
    torn(`"${name}" can't be unpacked`);
  }
  return length === size ? out : torn(`"${name}" ends too early`);
}

/**
 * What lies in a ZIP. Every name, size and sum is checked, and nothing is unpacked beyond the limits.
 * Throws a LidwrightError for what is torn, locked, of a kind that is not read here, or too much.
 */
export function readZip(bytes: Uint8Array, limits: ZipLimits): Members {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = bytes.byteLength < END_LENGTH ? -1 : endOf(view);
  if (end < 0) torn('its end is missing');
  const count = view.getUint16(end + 10, true);
  const length = view.getUint32(end + 12, true);
  const from = view.getUint32(end + 16, true);
  if (count === 0xffff || from === 0xffffffff) fail('the ZIP is of the 64-bit kind', [], 'Pack it again without that.');
  if (view.getUint32(end + 4, true) !== 0 || view.getUint16(end + 8, true) !== count)
    fail('the ZIP is one part of several', [], 'Join the parts first.');
  if (count > limits.members)
    fail(`${count} files lie in the ZIP; ${limits.members} may`, [], 'Check that it is a job.');
  if (from + length > end) torn('its list of files runs past its end');

  const members = new Map<string, Uint8Array<ArrayBuffer>>();
  let total = 0;
  let at = from;
  for (let n = 0; n < count; n++) {
    if (at + 46 > end || view.getUint32(at, true) !== ENTRY) torn('its list of files is broken');
    const [flags, method] = [view.getUint16(at + 8, true), view.getUint16(at + 10, true)];
    const [crc, packedSize, size] = [16, 20, 24].map((k) => view.getUint32(at + k, true)) as [number, number, number];
    const nameLength = view.getUint16(at + 28, true);
    const start = view.getUint32(at + 42, true);
    const rawName = bytes.subarray(at + 46, at + 46 + nameLength);
    const name = nameOf(rawName);
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);

    if (name === '' || name.includes('\0') || /^([\\/]|[a-z]:)|(^|[\\/])\.\.([\\/]|$)/i.test(name))
      torn(`"${name}" leads out of it`);
    if (members.has(name)) torn(`"${name}" is in it twice`);
    if (flags & 1) fail(`"${name}" in the ZIP is locked by a password`, [], 'Pack it again without one.');
    if (method !== STORED && method !== DEFLATED)
      fail(`"${name}" in the ZIP is packed in a way that is not read here (${method})`, [], 'Pack it again, plainly.');
    total += size;
    if (total > limits.bytes)
      fail(
        `the ZIP unpacks to more than ${Math.floor(limits.bytes / 1048576)} MiB`,
        [],
        'Check that it is a job; if its photos make it so large, use smaller ones.',
      );
    if (start + 30 > from || view.getUint32(start, true) !== LOCAL) torn(`"${name}" is not where the list says`);
    const localName = view.getUint16(start + 26, true);
    const data = start + 30 + localName + view.getUint16(start + 28, true);
    if (nameOf(bytes.subarray(start + 30, start + 30 + localName)) !== name)
      torn(`"${name}" has another name at its place`);
    if (data + packedSize > from) torn(`"${name}" runs past its end`);
    const member = unpack({ name, method, crc, packed: bytes.subarray(data, data + packedSize), size });
    if (crc32(member) !== crc) torn(`the sum of "${name}" is wrong`);
    members.set(name, member);
  }
  return members;
}

/** The time that stands at every member: the format knows none earlier, and it needs one. */
const NO_TIME = '1980-01-01T00:00';
const PACKED_ALREADY = /\.(jpe?g|png|webp|zip)$/i;

/** A ZIP of the members, in their order; the same members give the same bytes. */
export const writeZip = (members: Members): Uint8Array<ArrayBuffer> =>
  zipSync(
    Object.fromEntries(
      [...members].map(([name, bytes]) => [
        name,
        [bytes, { mtime: NO_TIME, level: PACKED_ALREADY.test(name) ? 0 : 6 }] as const,
      ]),
    ) as never,
  ) as Uint8Array<ArrayBuffer>;
