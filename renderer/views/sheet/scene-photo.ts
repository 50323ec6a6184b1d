import type Konva from 'konva';
import { type PhotoPlace, type Pixel, type Underlay, photoPlace } from '../../../core/photo';
import { formatQuantity } from '../../../core/quantity';
import type { Host } from '../../host/host';
import { flatOf, flatParts } from '../../photo/flat';
import { photoImage } from '../../photo/images';
import type { PaperBox } from '../../photo/tool';
import { traceUnderlay } from '../../../core/start';
import type { BenchState } from '../../state/store';
import * as ink from './draw';
import type { Palette } from './palette';
import type { Projection, Size } from './projection';
import { wizardImage } from './wizard-image';

/** What drawing photos needs of a view. */
export interface PhotoFace {
  readonly projection: Projection;
  readonly size: Size;
  readonly palette: Palette;
  readonly host: Host;
  paperPx(mm: readonly [number, number], state: BenchState): [number, number];
  paperMm(x: number, y: number, state: BenchState): [number, number];
}

type ResolvedPhoto = BenchState['resolved']['photos'][number];

/** The photos under a view: each by its scale and anchor, or laid flat; the one at work with its marks. */
export function drawPhotos(context: Konva.Context, state: BenchState, face: PhotoFace): void {
  const pen = context._context;
  if (state.wizard) {
    const { wizard } = state;
    const image = face.projection.plane === 'side' ? wizardImage(wizard) : null;
    if (image) drawUnderlay(pen, image, wizard.photo, traceUnderlay(wizard), 1, state, face);
    return;
  }
  state.resolved.photos.forEach((photo, i) => {
    if (photo.view !== face.projection.plane) return;
    const raw = state.history.present.photos?.[i];
    const loaded = raw ? photoImage(raw, face.host, state.file.photosFrom) : null;
    const place = photoPlace(photo, face.projection.rightSign);
    if (loaded?.state === 'ready') {
      const opacity = state.tool?.photoId === photo.id ? 1 : (photo.opacity ?? 0.6);
      if (place.underlay) drawUnderlay(pen, loaded.image, photo, place.underlay, opacity, state, face);
      else drawFlat(pen, loaded.image, photo, place, opacity, state, face);
    } else if (loaded?.state === 'missing') {
      const words = `No picture: ${photo.name ?? photo.id} (see Measure)`;
      ink.drawLabel(pen, words, 12, face.size.height - 40, face.palette, face.palette.bad);
    }
    drawMarks(pen, photo, place, state, face);
  });
}

function drawUnderlay(
  pen: CanvasRenderingContext2D,
  image: CanvasImageSource,
  photo: { readonly widthPx: number; readonly heightPx: number },
  u: Underlay,
  opacity: number,
  state: BenchState,
  face: PhotoFace,
): void {
  const [x, y] = face.paperPx(u.anchorMm, state);
  const scale = u.mmPerPx * state.sheet.pxPerMm;
  pen.save();
  pen.globalAlpha = opacity;
  pen.translate(x, y);
  pen.rotate(-u.rotationRad);
  pen.scale(scale, scale);
  pen.drawImage(image, -u.anchorPx[0], -u.anchorPx[1], photo.widthPx, photo.heightPx);
  pen.restore();
}

/** The part of the paper that a view shows. */
function boxOf(state: BenchState, face: PhotoFace): PaperBox {
  const [leftMm, topMm] = face.paperMm(0, 0, state);
  return {
    leftMm,
    topMm,
    widthMm: face.size.width / state.sheet.pxPerMm,
    heightMm: face.size.height / state.sheet.pxPerMm,
  };
}

function drawFlat(
  pen: CanvasRenderingContext2D,
  image: ImageBitmap,
  photo: ResolvedPhoto,
  place: PhotoPlace,
  opacity: number,
  state: BenchState,
  face: PhotoFace,
): void {
  const plane = place.plane!;
  const flat = flatOf(plane, photo);
  if (!flat || face.size.width < 2) return;
  const parts = flatParts({
    photoId: photo.id,
    image,
    photo,
    plane,
    view: face.projection.plane,
    box: boxOf(state, face),
    mmPerScreenPx: 1 / (state.sheet.pxPerMm * (globalThis.devicePixelRatio || 1)),
  });
  pen.save();
  pen.globalAlpha = opacity;
  trace(
    pen,
    flat.outlineMm.map((mm) => face.paperPx(mm, state)),
  );
  pen.clip();
  parts.forEach(({ region, picture }, i) => {
    const [x, y] = face.paperPx([region.leftMm, region.topMm], state);
    const scale = region.mmPerPx * state.sheet.pxPerMm;
    const finer = parts[i + 1];
    pen.save();
    if (finer) {
      // the coarse whole only where the sharp part is not, or the two would show through each other
      const [fx, fy] = face.paperPx([finer.region.leftMm, finer.region.topMm], state);
      const k = finer.region.mmPerPx * state.sheet.pxPerMm;
      pen.beginPath();
      pen.rect(-1e5, -1e5, 2e5, 2e5);
      pen.rect(fx, fy, finer.region.widthPx * k, finer.region.heightPx * k);
      pen.clip('evenodd');
    }
    pen.drawImage(picture, x, y, region.widthPx * scale, region.heightPx * scale);
    pen.restore();
  });
  pen.restore();
}

function trace(pen: CanvasRenderingContext2D, corners: readonly (readonly [number, number])[]): void {
  pen.beginPath();
  corners.forEach(([x, y], i) => (i === 0 ? pen.moveTo(x, y) : pen.lineTo(x, y)));
  pen.closePath();
}

/** The marks of the photo at work: what its tool has clicked, or those it is set by. */
function drawMarks(
  pen: CanvasRenderingContext2D,
  photo: ResolvedPhoto,
  place: PhotoPlace,
  state: BenchState,
  face: PhotoFace,
): void {
  const tool = state.tool?.photoId === photo.id ? state.tool : null;
  if (!tool && !(state.selection?.kind === 'photo' && state.selection.id === photo.id)) return;
  const c = face.palette;
  const at = (px: Pixel): [number, number] => face.paperPx(place.toMm(px), state);
  const label = (px: Pixel, text: string): void => {
    const [x, y] = at(px);
    ink.drawLabel(pen, text, x + 12, y - 12, c, c.accent);
  };
  const line = (from: Pixel, to: Pixel, text: string | null): void => {
    const [a, b] = [at(from), at(to)];
    ink.drawLine(pen, [a, b], c.accent, 2);
    if (text !== null) ink.drawLabel(pen, text, (a[0] + b[0]) / 2 + 8, (a[1] + b[1]) / 2 - 12, c, c.accent);
  };
  const crosses = (...marks: (Pixel | null)[]): void => {
    for (const px of marks) if (px) drawMark(pen, at(px), c);
  };
  if (tool?.kind === 'scale' || tool?.kind === 'length') {
    if (tool.from && tool.to) line(tool.from, tool.to, null);
    crosses(tool.from, tool.to);
  } else if (tool?.kind === 'level') crosses(tool.from);
  else if (tool?.kind === 'square')
    tool.marks.forEach((m, i) => {
      drawMark(pen, at(m.px), c);
      label(m.px, String(i + 1));
    });
  else if (!tool && place.plane)
    place.plane.marks.forEach((m, i) => {
      drawMark(pen, at(m.px), c);
      label(m.px, String(i + 1));
    });
  else if (!tool && photo.scale) {
    const { from, to, lengthMm } = photo.scale;
    line(from, to, formatQuantity(lengthMm, 'length', state.units));
    crosses(from, to);
  }
  if (tool && tool.kind !== 'mark') return;
  const names = new Map(state.resolved.points.map((p) => [p.id, p.name ?? p.id]));
  for (const o of state.resolved.observations) {
    if (o.kind !== 'photo-mark' || o.photo !== photo.id || !o.px) continue;
    const [x, y] = at(o.px);
    ink.drawDisc(pen, [x, y], 5, null, c.paper, 4);
    ink.drawDisc(pen, [x, y], 5, null, o.use === false ? c.ink : c.accent, 2);
    label(o.px, names.get(o.points[0]!) ?? o.points[0]!);
  }
}

/** A cross in a ring: something clicked on a photo. */
export function drawMark(pen: ink.Pen, [x, y]: readonly [number, number], c: Palette): void {
  ink.drawDisc(pen, [x, y], 7, null, c.paper, 4);
  ink.drawDisc(pen, [x, y], 7, null, c.accent, 2);
  ink.drawLine(
    pen,
    [
      [x - 12, y],
      [x + 12, y],
    ],
    c.accent,
    1,
  );
  ink.drawLine(
    pen,
    [
      [x, y - 12],
      [x, y + 12],
    ],
    c.accent,
    1,
  );
}
