// Warps photos onto the plane of a view, off the main thread. The arithmetic is in core/photo/warp-protocol; here are
// only the pictures: each photo with its halved copies, and the tiles of what is asked for.
import { LidwrightError, fail } from '../../core/error';
import {
  type Pixels,
  type Tile,
  type WarpAnswer,
  type WarpQuestion,
  gridToPhoto,
  halvingsFor,
  sourceOf,
  tilesOf,
  warpTile,
} from '../../core/photo/warp-protocol';
import { answerBy } from './answer';

type Context = OffscreenCanvasRenderingContext2D;
type Question = WarpQuestion<ImageBitmap>;

/** A photo as it came and its copies, halved once, twice, …, each made when first read. */
interface Photo {
  readonly picture: ImageBitmap;
  readonly levels: (Context | undefined)[];
}
const photos = new Map<string, Photo>();

function keep(photoId: string, picture: ImageBitmap): null {
  photos.get(photoId)?.picture.close();
  photos.set(photoId, { picture, levels: [] });
  return null;
}

function canvas(width: number, height: number): Context {
  const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('no canvas');
  return context;
}

/** Pixels of a part of the photo after so many halvings. The unhalved photo is not copied whole: it may have 50 million. */
function read(photo: Photo, halvings: number, part: Tile): Pixels {
  const from = halvings > 0 ? level(photo, halvings) : canvas(part.widthPx, part.heightPx);
  if (halvings === 0) from.drawImage(photo.picture, -part.left, -part.top);
  const [left, top] = halvings === 0 ? [0, 0] : [part.left, part.top];
  return {
    data: from.getImageData(left, top, part.widthPx, part.heightPx).data,
    widthPx: part.widthPx,
    heightPx: part.heightPx,
  };
}

/** The photo halved once or more. */
function level(photo: Photo, halvings: number): Context {
  const known = photo.levels[halvings];
  if (known) return known;
  const from = halvings === 1 ? photo.picture : level(photo, halvings - 1).canvas;
  const made = canvas(Math.ceil(from.width / 2), Math.ceil(from.height / 2));
  made.imageSmoothingQuality = 'high';
  // an odd last row or column keeps its scale, and its other half stays clear
  made.drawImage(from, 0, 0, from.width / 2, from.height / 2);
  photo.levels[halvings] = made;
  return made;
}

const sizeAt = (photo: Photo, halvings: number): { widthPx: number; heightPx: number } => ({
  widthPx: halvings === 0 ? photo.picture.width : level(photo, halvings).canvas.width,
  heightPx: halvings === 0 ? photo.picture.height : level(photo, halvings).canvas.height,
});

function* warp({ photoId, toPx, region }: Exclude<Question, { picture: unknown }>): Generator<number, ImageBitmap> {
  const photo =
    photos.get(photoId) ?? fail('this photo is not loaded', [], 'Zoom a little, and it is asked for again.');
  try {
    const grid = gridToPhoto(toPx, region);
    const out = canvas(region.widthPx, region.heightPx);
    const tiles = tilesOf(region);
    for (const [i, tile] of tiles.entries()) {
      yield i / tiles.length;
      if (sourceOf(grid, tile, sizeAt(photo, 0)) === null) continue;
      const halvings = Math.min(halvingsFor(grid, tile), 6);
      const part = sourceOf(grid, tile, sizeAt(photo, halvings), halvings);
      if (part === null) continue;
      const source = read(photo, halvings, part);
      const warped = warpTile(grid, tile, source, part, halvings);
      out.putImageData(new ImageData(warped, tile.widthPx, tile.heightPx), tile.left, tile.top);
    }
    return out.canvas.transferToImageBitmap();
  } catch (error) {
    if (error instanceof LidwrightError) throw error;
    return fail('the flat picture needs more memory than there is', [], 'Zoom out, or use a smaller photo.');
  }
}

answerBy<Question, WarpAnswer<ImageBitmap>>(
  (question) => ('picture' in question ? keep(question.photoId, question.picture) : warp(question)),
  (picture) => (picture ? [picture] : []),
);
