// Warps photos onto the plane of a view, off the main thread. The arithmetic is in core/photo/warp-protocol; here are
// only the pictures: each photo with its halved copies, and the tiles of what is asked for.
import {
  type Pixels,
  type Tile,
  type WarpReply,
  type WarpRequest,
  gridToPhoto,
  halvingsFor,
  sourceOf,
  tilesOf,
  warpTile,
} from '../../core/photo/warp-protocol';

type Context = OffscreenCanvasRenderingContext2D;
type Region = Extract<WarpRequest<ImageBitmap>, { kind: 'region' }>;

/** A photo as it came and its copies, halved once, twice, …, each made when first read. */
interface Photo {
  readonly picture: ImageBitmap;
  readonly levels: (Context | undefined)[];
}
const photos = new Map<string, Photo>();
/** Newest serial of each photo and slot: an older one in work stops. */
const newest = new Map<string, number>();

const scope = self as unknown as {
  postMessage(reply: WarpReply<ImageBitmap>, transfer: Transferable[]): void;
  onmessage: ((event: MessageEvent<WarpRequest<ImageBitmap>>) => void) | null;
};

scope.onmessage = ({ data }) => {
  if (data.kind === 'photo') {
    forget(data.photoId);
    photos.set(data.photoId, { picture: data.picture, levels: [] });
  } else if (data.kind === 'forget') forget(data.photoId);
  else {
    newest.set(`${data.photoId}\n${data.slot}`, data.serial);
    void warp(data);
  }
};

function forget(photoId: string): void {
  photos.get(photoId)?.picture.close();
  photos.delete(photoId);
  for (const key of newest.keys()) if (key.startsWith(`${photoId}\n`)) newest.delete(key);
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

async function warp(request: Region): Promise<void> {
  const { photoId, slot, serial, region, toPx } = request;
  const stale = (): boolean => newest.get(`${photoId}\n${slot}`) !== serial;
  const failed = (what: string, advice: string): void =>
    scope.postMessage({ kind: 'failed', photoId, slot, serial, what, advice }, []);
  const photo = photos.get(photoId);
  if (!photo) return failed('this photo is not loaded', 'Drop it on the view again.');
  try {
    const grid = gridToPhoto(toPx, region);
    const out = canvas(region.widthPx, region.heightPx);
    let since = performance.now();
    for (const tile of tilesOf(region)) {
      // let newer requests in about every frame
      if (performance.now() - since > 12) {
        await new Promise((resolve) => setTimeout(resolve, 0));
        since = performance.now();
        if (stale() || photos.get(photoId) !== photo) return;
      }
      if (sourceOf(grid, tile, sizeAt(photo, 0)) === null) continue;
      const halvings = Math.min(halvingsFor(grid, tile), 6);
      const part = sourceOf(grid, tile, sizeAt(photo, halvings), halvings);
      if (part === null) continue;
      const source = read(photo, halvings, part);
      const warped = warpTile(grid, tile, source, part, halvings);
      out.putImageData(new ImageData(warped, tile.widthPx, tile.heightPx), tile.left, tile.top);
    }
    if (stale()) return;
    const picture = out.canvas.transferToImageBitmap();
    scope.postMessage({ kind: 'region', photoId, slot, serial, region, picture }, [picture]);
  } catch {
    failed('the flat picture needs more memory than there is', 'Zoom out, or use a smaller photo.');
  }
}
