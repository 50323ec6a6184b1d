import type { JobPhoto } from '../job';
import { MM_PER_INCH } from '../quantity';

type Focal = NonNullable<JobPhoto['focal']>;
type SizePx = Pick<JobPhoto, 'widthPx' | 'heightPx'>;

/** What a photo's own notes say about how it was taken; null where they are silent. */
export interface PhotoNotes {
  /** 1 … 8: how the stored picture is to be turned or mirrored to stand upright. 1 is upright as stored. */
  readonly orientation: number | null;
  /** Focal length of a lens with the same view on 36 × 24 mm film, mm. */
  readonly focal35Mm: number | null;
  /** True focal length of the lens, mm. */
  readonly focalMm: number | null;
  /** Pixels per mm on the sensor, along x, of the picture as taken. */
  readonly pxPerSensorMm: number | null;
  /** Width of the picture as taken, pixels, stored sense. */
  readonly takenWidthPx: number | null;
}

/** Diagonal of a 36 × 24 mm film frame, mm: what "35 mm equivalent" compares with (CIPA DCG-001, from memory). */
const FILM_DIAGONAL_MM = Math.hypot(36, 24);

const TAG = {
  orientation: 0x0112,
  exifBlock: 0x8769,
  focalLength: 0x920a,
  pixelXDimension: 0xa002,
  focalPlaneXResolution: 0xa20e,
  focalPlaneUnit: 0xa210,
  focal35: 0xa405,
} as const;
const BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8] as const;
/** mm in one focal plane unit: 2 = inch, 3 = centimetre; 4 and 5 are seen in the wild for mm and µm. */
const UNIT_MM: Readonly<Record<number, number>> = { 2: MM_PER_INCH, 3: 10, 4: 1, 5: 0.001 };

/**
 * The Exif notes of a JPEG; null when it is no JPEG, has none, or they can't be read. Never throws.
 * Sources: ITU-T T.81 B.1.1 (markers), TIFF 6.0 section 2 (tag blocks), Exif 2.3 (CIPA DC-008) tables of tags.
 */
export function readExif(bytes: Uint8Array): PhotoNotes | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 4 || bytes[0] !== 0xff || bytes[1] !== 0xd8) return null;
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    // scan data or the end: no notes come after these
    if (marker === 0xda || marker === 0xd9) return null;
    const length = view.getUint16(at + 2);
    const end = at + 2 + length;
    if (marker === 0xe1 && end <= bytes.length && length >= 16 && isExif(bytes, at + 4))
      return readTiff(new DataView(bytes.buffer, bytes.byteOffset + at + 10, end - at - 10));
    at = end;
  }
  return null;
}

const isExif = (bytes: Uint8Array, at: number): boolean =>
  [0x45, 0x78, 0x69, 0x66, 0, 0].every((b, i) => bytes[at + i] === b);

function readTiff(view: DataView): PhotoNotes | null {
  const order = view.getUint16(0);
  if (order !== 0x4949 && order !== 0x4d4d) return null;
  const little = order === 0x4949;
  if (view.getUint16(2, little) !== 42) return null;
  const main = readBlock(view, view.getUint32(4, little), little);
  const pointer = main.get(TAG.exifBlock);
  const exif = pointer === undefined ? new Map<number, number>() : readBlock(view, pointer, little);
  const positive = (v: number | undefined): number | null =>
    v !== undefined && v > 0 && Number.isFinite(v) ? v : null;
  const orientation = main.get(TAG.orientation);
  const resolution = positive(exif.get(TAG.focalPlaneXResolution));
  const unitMm = UNIT_MM[exif.get(TAG.focalPlaneUnit) ?? 2];
  return {
    orientation: orientation !== undefined && orientation >= 1 && orientation <= 8 ? orientation : null,
    // 0 means "unknown" for both focal lengths
    focal35Mm: positive(exif.get(TAG.focal35)),
    focalMm: positive(exif.get(TAG.focalLength)),
    pxPerSensorMm: resolution !== null && unitMm !== undefined ? resolution / unitMm : null,
    takenWidthPx: positive(exif.get(TAG.pixelXDimension)),
  };
}

/** Tag → first value of one block; entries that point outside are left out. */
function readBlock(view: DataView, at: number, little: boolean): Map<number, number> {
  const found = new Map<number, number>();
  if (at + 2 > view.byteLength) return found;
  const count = view.getUint16(at, little);
  for (let i = 0; i < count; i++) {
    const entry = at + 2 + 12 * i;
    if (entry + 12 > view.byteLength) break;
    const type = view.getUint16(entry + 2, little);
    const size = (BYTES[type] ?? 0) * view.getUint32(entry + 4, little);
    const place = size <= 4 ? entry + 8 : view.getUint32(entry + 8, little);
    if (size === 0 || place + size > view.byteLength) continue;
    const value = readValue(view, place, type, little);
    if (value !== null) found.set(view.getUint16(entry, little), value);
  }
  return found;
}

function readValue(view: DataView, at: number, type: number, little: boolean): number | null {
  if (type === 1) return view.getUint8(at);
  if (type === 3) return view.getUint16(at, little);
  if (type === 4) return view.getUint32(at, little);
  if (type === 5) return view.getUint32(at, little) / view.getUint32(at + 4, little);
  if (type === 9) return view.getInt32(at, little);
  if (type === 10) return view.getInt32(at, little) / view.getInt32(at + 4, little);
  return null;
}

/** A focal length in pixels with its σ, and where it was read. */
export interface FocalGuess {
  readonly focalPx: number;
  readonly sigmaPx: number;
  readonly from: '35 mm equivalent' | 'sensor resolution';
}

/**
 * Focal length in pixels of the picture at widthPx × heightPx (upright or as stored: only the diagonal counts); null
 * when the notes hold none. A cropped picture gives a wrong one: the notes don't say that it was cut.
 * σ is half the last digit that the notes keep and 3 % for what makers round (common practice, no source).
 */
export function focalFromExif(notes: PhotoNotes | null, widthPx: number, heightPx: number): FocalGuess | null {
  if (notes === null) return null;
  if (notes.focal35Mm !== null) {
    const focalPx = (notes.focal35Mm / FILM_DIAGONAL_MM) * Math.hypot(widthPx, heightPx);
    return { focalPx, sigmaPx: focalPx * Math.hypot(0.03, 0.29 / notes.focal35Mm), from: '35 mm equivalent' };
  }
  if (notes.focalMm !== null && notes.pxPerSensorMm !== null && notes.takenWidthPx !== null) {
    const shrunk = Math.max(widthPx, heightPx) / notes.takenWidthPx;
    const focalPx = notes.focalMm * notes.pxPerSensorMm * shrunk;
    return { focalPx, sigmaPx: 0.03 * focalPx, from: 'sensor resolution' };
  }
  return null;
}

/** The same as a job keeps it, to 0.1 px; null where the notes are silent. */
export function focalFromPhoto(notes: PhotoNotes | null, widthPx: number, heightPx: number): Focal | null {
  const guess = focalFromExif(notes, widthPx, heightPx);
  const tenth = (v: number): number => Math.round(v * 10) / 10;
  return guess && { px: tenth(guess.focalPx), sigmaPx: tenth(guess.sigmaPx), from: 'exif' };
}

/** A focal length in px as on 35 mm film, mm to 0.1. */
export const filmMmOfFocal = (focalPx: number, { widthPx, heightPx }: SizePx): number =>
  Math.round((focalPx / Math.hypot(widthPx, heightPx)) * FILM_DIAGONAL_MM * 10) / 10;

/** A focal length typed as on 35 mm film, good to 3 %: what makers round it by (common practice, no source). */
export function focalFromFilm(filmMm: number, { widthPx, heightPx }: SizePx): Focal {
  const px = Math.round((filmMm / FILM_DIAGONAL_MM) * Math.hypot(widthPx, heightPx) * 10) / 10;
  return { px, sigmaPx: Math.round(0.3 * px) / 10, from: 'typed' };
}

/** Width and height of the upright picture: 5 … 8 swap them. @example uprightSize(6, 4000, 3000) // [3000, 4000] */
export const uprightSize = (orientation: number | null, widthPx: number, heightPx: number): readonly [number, number] =>
  orientation !== null && orientation >= 5 ? [heightPx, widthPx] : [widthPx, heightPx];
