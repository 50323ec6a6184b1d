import { fail } from '../../core/error';
import { isHeic, openableSize } from '../../core/photo';

/** Longest edge of a picture that is kept decoded or inside a job, px: sharp enough to trace, small enough to carry. */
const LONGEST_EDGE_PX = 4000;

/** A HEIC picture tells its size only once it is decoded: larger files are refused, bytes. */
const LARGEST_HEIC = 60_000_000;
const HEIC_HEAD = 64;

/** A decoded picture, upright, and what its file said of it. */
export interface Decoded {
  readonly image: ImageBitmap;
  /** Pixels in the file. */
  readonly px: number;
  /** The file's first bytes, with its notes. */
  readonly head: Uint8Array;
}

let last: Promise<unknown> = Promise.resolve();

/**
 * The one door for pictures, dropped, inside a job or beside it: size told before anything is decoded, one at a time, turned
 * upright as its own note says, brought down to 4000 px. `name` is what messages call it.
 * Throws a LidwrightError for what is no picture, damaged or too large.
 */
export function decodePicture(name: string, blob: Blob): Promise<Decoded> {
  const mine = last.then(() => decode(name, blob));
  last = mine.catch(() => undefined); // told to whoever asked; the next in line goes on
  return mine;
}

async function decode(name: string, blob: Blob): Promise<Decoded> {
  if (isHeic(new Uint8Array(await blob.slice(0, HEIC_HEAD).arrayBuffer()))) return decodeHeic(name, blob);
  const { widthPx, heightPx, head } = await openableSize(
    name,
    async (most) => new Uint8Array(await blob.slice(0, most).arrayBuffer()),
  );
  let whole: ImageBitmap;
  try {
    whole = await createImageBitmap(blob, { imageOrientation: 'from-image' });
  } catch {
    return fail(`${name} is damaged: the picture can't be read to its end`, [], 'Copy it again from the camera.');
  }
  return { image: await broughtDown(whole), px: widthPx * heightPx, head };
}

/** A phone's HEIC picture, where the browser can show it; upright as its own note says. */
async function decodeHeic(name: string, blob: Blob): Promise<Decoded> {
  const whole = blob.size > LARGEST_HEIC ? null : await createImageBitmap(blob).catch(() => null);
  if (!whole)
    return fail(
      `${name} is a HEIC picture, which this browser can’t show`,
      [],
      'Send it from the phone as JPEG, or have the phone’s camera keep the most compatible format, and choose that one.',
    );
  const px = whole.width * whole.height;
  return { image: await broughtDown(whole), px, head: new Uint8Array() };
}

async function broughtDown(whole: ImageBitmap): Promise<ImageBitmap> {
  const shrink = LONGEST_EDGE_PX / Math.max(whole.width, whole.height);
  if (shrink >= 1) return whole;
  const image = await createImageBitmap(whole, {
    resizeWidth: Math.max(1, Math.round(whole.width * shrink)),
    resizeHeight: Math.max(1, Math.round(whole.height * shrink)),
    resizeQuality: 'high',
  });
  whole.close();
  return image;
}
