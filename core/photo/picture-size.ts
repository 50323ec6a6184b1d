import { fail } from '../error';

/** Width and height of a picture, pixels, and its format. */
export interface PictureSize {
  readonly format: 'jpeg' | 'png' | 'webp';
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Pictures that are asked for: as a file picker takes them; HEIC is read by some browsers only. */
export const PICTURES = 'image/jpeg,image/png,image/webp,image/heic,image/heif,.heic,.heif';

/** Photos over this are scaled down when they come in, pixels. */
export const SCALE_DOWN_PX = 50e6;
/** Photos over this are refused before anything is decoded: they would take over half a gigabyte, pixels. */
export const LARGEST_PHOTO_PX = 120e6;

/**
 * Size of a JPEG, PNG or WebP from its first bytes, without decoding it; null when the bytes are none of these.
 * Sources: ITU-T T.81 B.2.2 (frame header), PNG specification 11.2.2 (IHDR), RFC 9649 (WebP container).
 */
export function pictureSize(bytes: Uint8Array): PictureSize | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const tag = (at: number, text: string): boolean => [...text].every((c, i) => bytes[at + i] === c.charCodeAt(0));
  if (bytes.length >= 24 && bytes[0] === 0x89 && tag(1, 'PNG') && tag(12, 'IHDR'))
    return { format: 'png', widthPx: view.getUint32(16), heightPx: view.getUint32(20) };
  if (bytes.length >= 30 && tag(0, 'RIFF') && tag(8, 'WEBP')) return webpSize(bytes, view, tag);
  if (bytes.length >= 4 && bytes[0] === 0xff && bytes[1] === 0xd8) return jpegSize(bytes, view);
  return null;
}

function webpSize(bytes: Uint8Array, view: DataView, tag: (at: number, text: string) => boolean): PictureSize | null {
  if (tag(12, 'VP8X')) {
    const read24 = (at: number): number => bytes[at]! + (bytes[at + 1]! << 8) + (bytes[at + 2]! << 16);
    return { format: 'webp', widthPx: read24(24) + 1, heightPx: read24(27) + 1 };
  }
  if (tag(12, 'VP8 '))
    return { format: 'webp', widthPx: view.getUint16(26, true) & 0x3fff, heightPx: view.getUint16(28, true) & 0x3fff };
  if (tag(12, 'VP8L')) {
    const bits = view.getUint32(21, true);
    return { format: 'webp', widthPx: (bits & 0x3fff) + 1, heightPx: ((bits >>> 14) & 0x3fff) + 1 };
  }
  return null;
}

/** Markers that stand alone, without a length: TEM and RST0 … RST7. */
const standsAlone = (marker: number): boolean => marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7);

/** Reads as a decoder does, so that nothing before the frame can hide another size: whatever a decoder might skip is no JPEG here. */
function jpegSize(bytes: Uint8Array, view: DataView): PictureSize | null {
  let at = 2;
  while (at + 9 < bytes.length) {
    if (bytes[at] !== 0xff) return null;
    const marker = bytes[at + 1]!;
    if (marker === 0xff) at++;
    else if (standsAlone(marker)) at += 2;
    else {
      const length = view.getUint16(at + 2);
      // start-of-frame markers, without the tables (C4, C8, CC) that share their range
      if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
        return { format: 'jpeg', heightPx: view.getUint16(at + 5), widthPx: view.getUint16(at + 7) };
      // FF00 is coded data; the start, the end and a scan can't come before a frame
      if (marker === 0 || marker === 0xd8 || marker === 0xd9 || marker === 0xda || length < 2) return null;
      at += 2 + length;
    }
  }
  return null;
}

/** Brands of pictures in HEIF's container that are coded as HEVC, or may be. */
const HEIC_BRANDS = ['heic', 'heix', 'hevc', 'hevx', 'heim', 'heis', 'mif1', 'msf1'];

/**
 * Whether a file's first bytes are those of a phone's HEIC picture: a "ftyp" box with one of its brands. Source: ISO/IEC
 * 14496-12 4.3 and 23008-12 (brands), from memory.
 */
export function isHeic(head: Uint8Array): boolean {
  const text = String.fromCharCode(...head.subarray(0, 64));
  return text.slice(4, 8) === 'ftyp' && HEIC_BRANDS.some((brand) => text.slice(8).includes(brand));
}

/** How many bytes of a picture are read at first, and at most, for its size: a JPEG's notes may run over many MB before it. */
const HEAD_BYTES = 512 * 1024;
const LONGEST_HEAD_BYTES = 64 * 1024 * 1024;

/**
 * Size of a picture of which not more is read than it takes. `read` gives its first bytes, as many as asked for or all.
 * Throws a LidwrightError, before anything is decoded, where it is no picture or one too large to open.
 */
export async function openableSize(
  name: string,
  read: (most: number) => Promise<Uint8Array>,
): Promise<PictureSize & { readonly head: Uint8Array }> {
  let head: Uint8Array;
  let size: PictureSize | null;
  let most = HEAD_BYTES;
  do {
    head = await read(most);
    size = pictureSize(head);
    most *= 4;
  } while (!size && head[0] === 0xff && head.length >= most / 4 && most <= LONGEST_HEAD_BYTES);
  if (!size || size.widthPx < 1 || size.heightPx < 1)
    return fail(`${name} is not a JPEG, PNG or WebP picture`, [], 'Choose a photo in one of these formats.');
  const { widthPx, heightPx } = size;
  if (widthPx * heightPx > LARGEST_PHOTO_PX)
    return fail(
      `${name} has ${Math.round((widthPx * heightPx) / 1e6)} megapixels, more than can be opened (${LARGEST_PHOTO_PX / 1e6}): it is ${widthPx} × ${heightPx}`,
      [],
      'Scale it down first, or send it from the phone in a smaller size.',
    );
  return { ...size, head };
}
