import { LidwrightError, fail } from '../../core/error';
import { addPhoto, freshId, setPhoto } from '../../core/job';
import { LARGEST_PHOTO_PX, type Pixel, SCALE_DOWN_PX, mmPerPixel, pictureSize } from '../../core/photo';
import { type Wizard, jobFromWizard, startWizard, wizardUnderlay } from '../photo/wizard';
import { askFit } from '../bench/fit';
import { keepPhotoStill } from '../bench/sheet/projection';
import { type Plane, bench, edit, notify } from './store';

/** Longest edge that a photo keeps inside a job, px: sharp enough to trace, small enough to carry. */
const LONGEST_EDGE_PX = 4000;

/** A picture ready to travel inside a job. */
export interface PreparedPhoto {
  readonly dataUrl: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly name: string;
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
 * Reads a dropped picture: size checked before anything is decoded, turned upright by its EXIF note, brought down to
 * 4000 px, kept as JPEG. Throws a LidwrightError for what is no picture or too large.
 */
export async function preparePhoto(file: File): Promise<PreparedPhoto> {
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
    notify(
      `"${file.name}" has ${Math.round(px / 1e6)} megapixels; it was brought down to ${canvas.width} × ${canvas.height}.`,
    );
  return {
    dataUrl: await toDataUrl(blob),
    widthPx: canvas.width,
    heightPx: canvas.height,
    name: file.name.replace(/\.[^.]+$/, '').slice(0, 100),
  };
}

function say(error: unknown): void {
  if (!(error instanceof LidwrightError)) throw error;
  notify(error.message, 'bad');
}

/** Lays a picture under a view of the present job; its scale is asked for next. */
export async function layPhoto(file: File, view: Plane): Promise<void> {
  try {
    const photo = await preparePhoto(file);
    const { resolved, sheet } = bench.getState();
    const id = freshId(bench.getState().history.present, 'photos', view);
    const axes = { side: [0, 2], top: [0, 1], front: [1, 2] }[view] as [number, number];
    const done = edit(`Lay ${photo.name} under the ${view} view`, (job) =>
      addPhoto(job, {
        photo: {
          id,
          name: photo.name,
          view,
          source: { inside: photo.dataUrl },
          widthPx: photo.widthPx,
          heightPx: photo.heightPx,
          rotationDeg: 0,
          anchorPx: [photo.widthPx / 2, photo.heightPx / 2],
          anchorMm: [Math.round(sheet.centre[axes[0]]!), Math.round(sheet.centre[axes[1]]!)],
          opacity: 0.6,
        },
      }),
    );
    if (!done) return;
    bench.setState({
      stage: 'measure',
      selection: { kind: 'photo', id },
      tool: { kind: 'scale', photoId: id, from: null, to: null },
    });
    notify(
      `${photo.name} lies under the ${view} view${resolved.photos.some((p) => p.view === view) ? ', over the one that was there' : ''}. Click two marks whose distance you know.`,
    );
  } catch (error) {
    say(error);
  }
}

/** Starts tracing a lid of one's own from a side photo. */
export async function startFromPhoto(file: File): Promise<void> {
  try {
    const photo = await preparePhoto(file);
    bench.setState({ wizard: startWizard(photo), tool: null, selection: null, stage: 'measure', filled: 'side' });
    askFit();
  } catch (error) {
    say(error);
  }
}

/** The next state of the tracing. The photo stays where it is seen: who has zoomed in on a mark keeps it in view. */
export function setWizard(next: Wizard): void {
  const { wizard, sheet } = bench.getState();
  bench.setState({
    wizard: next,
    ...(wizard ? { sheet: keepPhotoStill(sheet, wizardUnderlay(wizard), wizardUnderlay(next)) } : {}),
  });
}

/** The last click is made: the job is whole. The job before it is one undo away, and nothing of it is overwritten. */
export function finishWizard(wizard: Wizard): void {
  const job = jobFromWizard(wizard);
  if (!job) return;
  const { file } = bench.getState();
  if (!edit('Start from a photo', () => job)) return;
  bench.setState({
    wizard: null,
    filled: null,
    stage: 'place',
    angleDeg: 0,
    file: { ...file, name: `${wizard.photo.name}.lidjob`, token: null, saved: null },
  });
  askFit();
  notify('The lid stands. Its width, mass and strut are assumed until you type them; drag any point to mend a click.');
}

/** A click with the scale or the anchor tool, in photo pixels. */
export function clickPhotoTool(px: Pixel): void {
  const { tool, resolved } = bench.getState();
  if (!tool) return;
  if (tool.kind === 'scale') {
    if (!tool.from || tool.to) bench.setState({ tool: { ...tool, from: px, to: null } });
    else if (mmPerPixel(tool.from, px, 1) !== null) bench.setState({ tool: { ...tool, to: px } });
    return;
  }
  const photo = resolved.photos.find((p) => p.id === tool.photoId);
  const point = resolved.points.find((p) => p.id === tool.pointId);
  if (!photo || !point) return;
  const axes = { side: [0, 2], top: [0, 1], front: [1, 2] }[photo.view] as [0 | 1 | 2, 0 | 1 | 2];
  const ok = edit(`Line up the photo with ${point.name ?? point.id}`, (job) =>
    setPhoto(job, {
      id: photo.id,
      patch: { anchorPx: [px[0], px[1]], anchorMm: [point.at[axes[0]], point.at[axes[1]]] },
    }),
  );
  if (ok) bench.setState({ tool: null });
}

/** Both marks are clicked and the length is typed: the photo has its scale. */
export function finishScale(lengthMm: number): void {
  const { tool } = bench.getState();
  if (tool?.kind !== 'scale' || !tool.from || !tool.to) return;
  const { from, to, photoId } = tool;
  const ok = edit('Set the photo’s scale', (job) =>
    setPhoto(job, { id: photoId, patch: { scale: { from: [from[0], from[1]], to: [to[0], to[1]], lengthMm } } }),
  );
  if (ok) bench.setState({ tool: null });
}
