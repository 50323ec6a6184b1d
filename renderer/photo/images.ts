import { LidwrightError, wordsOf } from '../../core/error';
import type { JobPhoto } from '../../core/job';
import type { Host } from '../host/host';
import { decodePicture } from './decode';

/** A decoded photo, or why there is none. */
export type PhotoImage =
  | { readonly state: 'ready'; readonly image: ImageBitmap }
  | { readonly state: 'loading' }
  /** `crowded`: there is none for want of room, and room may come. */
  | { readonly state: 'missing'; readonly why: string; readonly crowded?: true };

/** What all decoded photos may hold together, pixels of four bytes each. */
const MOST_PX = 400e6;
/** A photo that nobody has drawn for so long may make room for another, ms. */
const RESTS_MS = 60_000;

const cache = new Map<string, { readonly photo: PhotoImage; askedAt: number }>();
const listeners = new Set<() => void>();

export function onPhotoLoaded(listen: () => void): () => void {
  listeners.add(listen);
  return () => listeners.delete(listen);
}

const mimeOf = (name: string): string =>
  /\.png$/i.test(name) ? 'image/png' : /\.webp$/i.test(name) ? 'image/webp' : 'image/jpeg';

/** Bytes of a data: URL without asking the network layer, which a strict content policy forbids. */
export function dataUrlToBlob(url: string): Blob {
  const comma = url.indexOf(',');
  const mime = /^data:([^;,]+)/.exec(url)?.[1] ?? 'image/jpeg';
  const binary = atob(url.slice(comma + 1));
  const bytes = new Uint8Array(binary.length);
  for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i);
  return new Blob([bytes], { type: mime });
}

async function load(photo: JobPhoto, host: Host, token: string | null): Promise<PhotoImage> {
  try {
    if ('inside' in photo.source)
      return { state: 'ready', image: (await decodePicture('this photo', dataUrlToBlob(photo.source.inside))).image };
    const name = photo.source.beside;
    // an example has no place of its own: its photos are shipped beside it
    const bytes = token === null ? await host.readAsset(`examples/${name}`) : await host.readBeside(token, name);
    if (!bytes)
      return {
        state: 'missing',
        why: `"${name}" lies beside the job, where this page can't read it. Drop it on the view to bring it in.`,
      };
    const { image } = await decodePicture(`"${name}"`, new Blob([bytes as BlobPart], { type: mimeOf(name) }));
    if (Math.abs((image.width * photo.heightPx) / (image.height * photo.widthPx) - 1) > 0.01)
      return {
        state: 'missing',
        why: `"${name}" is ${image.width} × ${image.height} now and was ${photo.widthPx} × ${photo.heightPx} when it was marked: its marks would not fit. Put the old picture beside the job again.`,
      };
    return { state: 'ready', image };
  } catch (error) {
    if (error instanceof LidwrightError) return { state: 'missing', why: wordsOf(error) };
    const name = 'beside' in photo.source ? `"${photo.source.beside}"` : 'this photo';
    return { state: 'missing', why: `${name} can't be read as a picture. Drop it on the view again.` };
  }
}

const pxOf = ({ photo }: { readonly photo: PhotoImage }): number =>
  photo.state === 'ready' ? photo.image.width * photo.image.height : 0;

/** Keeps what was loaded, or tells that there is no room for it. */
function keep(key: string, loaded: PhotoImage): void {
  const now = performance.now();
  const own = pxOf({ photo: loaded });
  let held = [...cache.values()].reduce((sum, each) => sum + pxOf(each), 0);
  for (const [other, each] of cache) {
    if (held + own <= MOST_PX) break;
    // not closed: a view that was not drawn anew may still show it
    if (now - each.askedAt > RESTS_MS && cache.delete(other)) held -= pxOf(each);
  }
  const room = held + own <= MOST_PX;
  if (!room && loaded.state === 'ready') loaded.image.close();
  const why = `the photos drawn already hold ${Math.round(held / 1e6)} megapixels, and this page can hold ${MOST_PX / 1e6}. Remove one, or use smaller ones.`;
  cache.set(key, { photo: room ? loaded : { state: 'missing', why, crowded: true }, askedAt: now });
}

/** The picture of a photo; starts loading it at first asking. */
export function photoImage(photo: JobPhoto, host: Host, token: string | null): PhotoImage {
  const key =
    'inside' in photo.source
      ? `in:${photo.id}:${photo.source.inside.length}:${photo.source.inside.slice(-64)}`
      : `by:${token ?? ''}:${photo.source.beside}`;
  const known = cache.get(key);
  const now = performance.now();
  const crowded = known?.photo.state === 'missing' && known.photo.crowded;
  if (known && !(crowded && now - known.askedAt > RESTS_MS)) {
    if (!crowded) known.askedAt = now;
    return known.photo;
  }
  const loading = { state: 'loading' } as const;
  cache.set(key, { photo: loading, askedAt: now });
  void load(photo, host, token).then((loaded) => {
    keep(key, loaded);
    for (const listen of listeners) listen();
  });
  return loading;
}
