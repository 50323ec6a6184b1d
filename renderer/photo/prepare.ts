import { fail } from '../../core/error';
import type { JobPhoto } from '../../core/job';
import { LARGEST_PHOTO_PX, SCALE_DOWN_PX, focalFromPhoto, pictureSize, readExif } from '../../core/photo';

/** Longest edge that a photo keeps inside a job, px: sharp enough to trace, small enough to carry. */
const LONGEST_EDGE_PX = 4000;

/** A picture ready to travel inside a job. */
export interface PreparedPhoto {
  readonly dataUrl: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly name: string;
  /** Focal length that the picture's own notes give, px of the picture as kept. */
  readonly focal: NonNullable<JobPhoto['focal']> | null;
}

async function toDataUrl(blob: Blob): Promise<string> {
  return new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result));
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(blob);
  });
}

/**
 * Reads a dropped picture: `say` tells what was done to it; size checked before anything is decoded, turned upright by its EXIF note, brought down to
 * 4000 px, kept as JPEG. Throws a LidwrightError for what is no picture or too large.
 */
export async function preparePhoto(file: File, say: (words: string) => void): Promise<PreparedPhoto> {
  const head = new Uint8Array(await file.slice(0, 512 * 1024).arrayBuffer());
  const size = pictureSize(head);
  if (!size || size.widthPx < 1 || size.heightPx < 1)
    return fail(`"${file.name}" is not a JPEG, PNG or WebP picture`, [], 'Choose a photo in one of these formats.');
  const px = size.widthPx * size.heightPx;
  if (px > LARGEST_PHOTO_PX)
    return fail(
      `"${file.name}" has ${Math.round(px / 1e6)} megapixels, more than can be opened (${LARGEST_PHOTO_PX / 1e6})`,
      [],
      'Scale it down first, or send it from the phone in a smaller size.',
    );
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    return fail(
      `"${file.name}" is damaged: the picture can't be read to its end`,
      [],
      'Copy it again from the camera.',
    );
  }
  const shrink = Math.min(1, LONGEST_EDGE_PX / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * shrink));
  canvas.height = Math.max(1, Math.round(bitmap.height * shrink));
  const context = canvas.getContext('2d');
  if (!context)
    return fail('this page has no memory left for the picture', [], 'Close other windows and drop it again.');
  context.fillStyle = '#ffffff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.imageSmoothingQuality = 'high';
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.88));
  if (!blob) return fail('the picture could not be packed into the job', [], 'Try a smaller one.');
  if (px > SCALE_DOWN_PX)
    say(
      `"${file.name}" has ${Math.round(px / 1e6)} megapixels; it was brought down to ${canvas.width} × ${canvas.height}.`,
    );
  return {
    dataUrl: await toDataUrl(blob),
    widthPx: canvas.width,
    heightPx: canvas.height,
    focal: focalFromPhoto(readExif(head), canvas.width, canvas.height),
    name: file.name.replace(/\.[^.]+$/, '').slice(0, 100),
  };
}
