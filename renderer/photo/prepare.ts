import { fail } from '../../core/error';
import type { JobPhoto } from '../../core/job';
import { SCALE_DOWN_PX, focalFromPhoto, readExif } from '../../core/photo';
import { decodePicture } from './decode';

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
  const { image, px, head } = await decodePicture(`"${file.name}"`, file);
  const canvas = document.createElement('canvas');
  canvas.width = image.width;
  canvas.height = image.height;
  const context = canvas.getContext('2d');
  if (!context)
    return fail('this page has no memory left for the picture', [], 'Close other windows and drop it again.');
  context.fillStyle = '#ffffff';
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(image, 0, 0);
  image.close();
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
