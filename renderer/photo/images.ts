import type { JobPhoto } from '../../core/job';
import type { Host } from '../host/host';

/** A decoded photo, or why there is none. */
export type PhotoImage =
  | { readonly state: 'ready'; readonly image: ImageBitmap }
  | { readonly state: 'loading' }
  | { readonly state: 'missing'; readonly why: string };

const cache = new Map<string, PhotoImage>();
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

/** Turned and mirrored as the picture's own note says, so that pixels count from the corner a person sees. */
const UPRIGHT = { imageOrientation: 'from-image' } as const;

async function load(photo: JobPhoto, host: Host, token: string | null): Promise<PhotoImage> {
  try {
    if ('inside' in photo.source)
      return { state: 'ready', image: await createImageBitmap(dataUrlToBlob(photo.source.inside), UPRIGHT) };
    const name = photo.source.beside;
    // an example has no place of its own: its photos are shipped beside it
    const bytes = token === null ? await host.readAsset(`examples/${name}`) : await host.readBeside(token, name);
    if (!bytes)
      return {
        state: 'missing',
        why: `"${name}" lies beside the job, where this page can't read it. Drop it on the view to bring it in.`,
      };
    const image = await createImageBitmap(new Blob([bytes as BlobPart], { type: mimeOf(name) }), UPRIGHT);
    if (Math.abs((image.width * photo.heightPx) / (image.height * photo.widthPx) - 1) > 0.01)
      return {
        state: 'missing',
        why: `"${name}" is ${image.width} × ${image.height} now and was ${photo.widthPx} × ${photo.heightPx} when it was marked: its marks would not fit. Put the old picture beside the job again.`,
      };
    return { state: 'ready', image };
  } catch {
    const name = 'beside' in photo.source ? `"${photo.source.beside}"` : 'this photo';
    return { state: 'missing', why: `${name} can't be read as a picture. Drop it on the view again.` };
  }
}

/** The picture of a photo; starts loading it at first asking. */
export function photoImage(photo: JobPhoto, host: Host, token: string | null): PhotoImage {
  const key =
    'inside' in photo.source
      ? `in:${photo.id}:${photo.source.inside.length}:${photo.source.inside.slice(-64)}`
      : `by:${token ?? ''}:${photo.source.beside}`;
  const known = cache.get(key);
  if (known) return known;
  cache.set(key, { state: 'loading' });
  void load(photo, host, token).then((loaded) => {
    cache.set(key, loaded);
    for (const listen of listeners) listen();
  });
  return { state: 'loading' };
}
