import { attempt, LidwrightError, wordsOf } from '../../core/error';
import { type FlatPicture, type FlatRegion, type Rectification, flatPicture, regionFor } from '../../core/photo';
import { type Mat3, scale } from '../../core/space';
import { ask, isAborted, warping } from '../workers';
import type { PaperBox } from './tool';

/** A warped part of a photo, ready to be drawn. */
export interface FlatPart {
  readonly region: FlatRegion;
  readonly picture: ImageBitmap;
  readonly plane: Rectification;
}

/** What one view shows of one photo: the part last warped, and the whole coarsely, for what lies beyond it. */
interface Slot {
  part: FlatPart | null;
  asked: { readonly region: FlatRegion; readonly plane: Rectification } | null;
}

/** Resolution of the coarse whole, pixels. */
const COARSE_PX = 6e5;
/** A part is warped so much larger than the view on each side that a small pan needs no new one. */
const MARGIN = 0.2;

const sent = new Map<string, ImageBitmap>();
const slots = new Map<string, Slot>();
const pictures = new WeakMap<Rectification, FlatPicture | null>();
const troubles = new Map<string, string>();
const listeners = new Set<() => void>();
/** Pictures that the worker holds. */
let ready = new WeakSet<ImageBitmap>();

/** Tells when a warped part has arrived or has failed. */
export function onFlatReady(listen: () => void): () => void {
  listeners.add(listen);
  return () => listeners.delete(listen);
}

/** Why a photo can't be shown flat at the moment; null where it can. */
export const flatTrouble = (photoId: string): string | null => troubles.get(photoId) ?? null;

function tell(): void {
  for (const listen of listeners) listen();
}

/** The worker no longer holds what it was given: all is handed over again when it is next drawn. */
function startAnew(): void {
  sent.clear();
  slots.clear();
  ready = new WeakSet();
  tell();
}

/** How a rectified photo lies, worked out once; null where nothing of the photo lies on the plane. */
export function flatOf(plane: Rectification, photo: { widthPx: number; heightPx: number }): FlatPicture | null {
  const known = pictures.get(plane);
  if (known !== undefined) return known;
  // null is told by the photo's own row: its marks lay nothing flat
  const flat = attempt(() => flatPicture(plane, photo)).value;
  pictures.set(plane, flat);
  return flat;
}

const same = (a: FlatRegion, b: FlatRegion): boolean =>
  a.leftMm === b.leftMm &&
  a.topMm === b.topMm &&
  a.mmPerPx === b.mmPerPx &&
  a.widthPx === b.widthPx &&
  a.heightPx === b.heightPx;

function covers(have: FlatRegion, want: FlatRegion): boolean {
  const slack = 1.5 * have.mmPerPx;
  return (
    have.leftMm <= want.leftMm + slack &&
    have.topMm >= want.topMm - slack &&
    have.leftMm + have.widthPx * have.mmPerPx >= want.leftMm + want.widthPx * want.mmPerPx - slack &&
    have.topMm - have.heightPx * have.mmPerPx <= want.topMm - want.heightPx * want.mmPerPx + slack
  );
}

/** `fit`: pixels of the picture to one of the job's photo, across and down (1 unless the file was exchanged for a smaller one). */
function askFor(
  photoId: string,
  name: string,
  plane: Rectification,
  region: FlatRegion,
  fit: readonly [number, number],
): void {
  const key = `${photoId}\n${name}`;
  const slot = slots.get(key)!;
  if (slot.asked && slot.asked.plane === plane && same(slot.asked.region, region)) return;
  slot.asked = { region, plane };
  const [u, v, w] = plane.toPx;
  const toPx: Mat3 = [scale(u, fit[0]), scale(v, fit[1]), w];
  ask(warping, { photoId, toPx, region }, { latestWins: key }).then(
    (picture) => {
      if (!picture || slots.get(key) !== slot) return picture?.close();
      troubles.delete(photoId);
      slot.part?.picture.close();
      slot.part = { region, picture, plane };
      tell();
    },
    (error: unknown) => {
      if (isAborted(error)) return;
      troubles.set(photoId, error instanceof LidwrightError ? wordsOf(error) : String(error));
      // a worker that stopped by itself takes its photos with it
      if (warping.worker === null) startAnew();
      else tell();
    },
  );
}

/**
 * The warped parts that a view is to draw, coarse whole first; whatever is missing or too coarse is asked for, and the old
 * part stays until the new one has come.
 */
export function flatParts(args: {
  readonly photoId: string;
  readonly image: ImageBitmap;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  readonly plane: Rectification;
  /** Which view asks. */
  readonly view: string;
  /** What it shows, on paper, and its fineness. */
  readonly box: PaperBox;
  readonly mmPerScreenPx: number;
}): readonly FlatPart[] {
  const { photoId, image, photo, plane, view, box } = args;
  const flat = flatOf(plane, photo);
  if (!flat) return [];
  if (sent.get(photoId) !== image) {
    sent.set(photoId, image);
    for (const key of slots.keys()) if (key.startsWith(`${photoId}\n`)) slots.delete(key);
    void createImageBitmap(image).then((picture) => {
      if (sent.get(photoId) !== image) return picture.close();
      ask(warping, { photoId, picture }, { transfer: [picture] }).catch(startAnew);
      ready.add(image);
      tell();
    });
  }
  for (const name of [view, `${view} whole`])
    if (!slots.has(`${photoId}\n${name}`)) slots.set(`${photoId}\n${name}`, { part: null, asked: null });
  const fit = [image.width / photo.widthPx, image.height / photo.heightPx] as const;
  const whole = slots.get(`${photoId}\n${view} whole`)!;
  const near = slots.get(`${photoId}\n${view}`)!;
  if (ready.has(image)) {
    const all = { leftMm: flat.leftMm, topMm: flat.topMm, widthMm: flat.widthMm, heightMm: flat.heightMm };
    const coarse = regionFor(flat, { ...all, mmPerScreenPx: Math.sqrt((flat.widthMm * flat.heightMm) / COARSE_PX) });
    if (coarse && whole.asked?.plane !== plane) askFor(photoId, `${view} whole`, plane, coarse, fit);
    const want = regionFor(flat, { ...box, mmPerScreenPx: args.mmPerScreenPx });
    const have = near.asked;
    const fits =
      have !== null &&
      have.plane === plane &&
      want !== null &&
      have.region.mmPerPx === want.mmPerPx &&
      covers(have.region, want);
    if (want && !fits) {
      const wide = regionFor(flat, {
        leftMm: box.leftMm - MARGIN * box.widthMm,
        topMm: box.topMm + MARGIN * box.heightMm,
        widthMm: box.widthMm * (1 + 2 * MARGIN),
        heightMm: box.heightMm * (1 + 2 * MARGIN),
        mmPerScreenPx: args.mmPerScreenPx,
      });
      // where the margin would make it coarser, sharpness goes first
      askFor(photoId, view, plane, wide && wide.mmPerPx === want.mmPerPx ? wide : want, fit);
    }
  }
  return [whole.part, near.part].filter((part) => part !== null);
}
