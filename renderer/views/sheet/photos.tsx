import 'konva/lib/shapes/Image';
import type Konva from 'konva/lib/Core';
import { memo, useRef } from 'react';
import { Image } from 'react-konva/lib/ReactKonvaCore';
import { type PhotoPlace, type Pixel, type Underlay, photoPlace, pixelToMm } from '../../../core/photo';
import { formatQuantity } from '../../../core/quantity';
import { toDeg } from '../../../core/space';
import { flatOf, flatParts } from '../../photo/flat';
import { type PhotoImage, photoImage } from '../../photo/images';
import { PLACES, traceUnderlay } from '../../../core/start';
import { STEP_WORDS } from '../../photo/wizard';
import type { BenchState } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { Ink, type Pen, type Px, clickMark, disc, label, line, trace } from './ink';
import { type Look, type View, useFollow, useView } from './view';
import { wizardImage } from './wizard-image';

// The photos under a view: each by its scale and anchor, or laid flat; the one at work with its marks; the one being traced.

type ResolvedPhoto = BenchState['resolved']['photos'][number];

const photoOf = (state: BenchState, id: string): ResolvedPhoto | undefined =>
  state.resolved.photos.find((p) => p.id === id);

function loaded({ host }: View, state: BenchState, id: string): PhotoImage | null {
  const raw = state.history.present.photos?.find((p) => p.id === id);
  return raw ? photoImage(raw, host, state.file.photosFrom) : null;
}

/** The photo at work is seen whole. */
const opacityOf = (state: BenchState, photo: ResolvedPhoto): number =>
  state.tool?.photoId === photo.id ? 1 : (photo.opacity ?? 0.6);

/** Lays a picture on the sheet as an underlay; hidden where there is none. */
function lay(
  node: Konva.Shape | null,
  image: ImageBitmap | null,
  photo: { readonly widthPx: number; readonly heightPx: number },
  u: Underlay,
  { paperPx, state }: Look,
): void {
  const [x, y] = paperPx(u.anchorMm);
  const scale = u.mmPerPx * state.sheet.pxPerMm;
  node?.setAttrs({
    ...{ image, visible: image !== null, x, y, scaleX: scale, scaleY: scale, rotation: -toDeg(u.rotationRad) },
    ...{ offsetX: u.anchorPx[0], offsetY: u.anchorPx[1], width: photo.widthPx, height: photo.heightPx },
  });
}

const picture = { image: undefined, listening: false, perfectDrawEnabled: false } as const;

/** A photo by its scale and anchor, as one picture. */
function UnderlaidPhoto({ id }: { id: string }): React.JSX.Element {
  const view = useView();
  const node = useRef<Konva.Shape>(null);
  useFollow((look) => {
    const photo = photoOf(look.state, id);
    const underlay = photo && photoPlace(photo, look.projection.rightSign).underlay;
    if (!photo || !underlay) return void node.current?.visible(false);
    const found = loaded(view, look.state, id);
    lay(node.current, found?.state === 'ready' ? found.image : null, photo, underlay, look);
    node.current?.opacity(opacityOf(look.state, photo));
  });
  return <Image {...picture} ref={node as never} name={`photo ${id}`} />;
}

/** A photo laid flat: the warped parts that have come, the sharp one over the coarse whole. */
function FlatPhoto({ id }: { id: string }): React.JSX.Element {
  const view = useView();
  return (
    <Ink
      name={`flat photo ${id}`}
      draw={(pen, look) => {
        const photo = photoOf(look.state, id);
        const found = photo && loaded(view, look.state, id);
        if (!photo || found?.state !== 'ready') return;
        drawFlat(pen, found.image, photo, photoPlace(photo, look.projection.rightSign), look);
      }}
    />
  );
}

function drawFlat(pen: Pen, image: ImageBitmap, photo: ResolvedPhoto, place: PhotoPlace, look: Look): void {
  const { state, size, paperPx, paperMm } = look;
  const { pxPerMm } = state.sheet;
  const plane = place.plane!;
  const flat = flatOf(plane, photo);
  if (!flat || size.width < 2) return;
  const [leftMm, topMm] = paperMm(0, 0);
  const parts = flatParts({
    photoId: photo.id,
    image,
    photo,
    plane,
    view: look.projection.plane,
    box: { leftMm, topMm, widthMm: size.width / pxPerMm, heightMm: size.height / pxPerMm },
    mmPerScreenPx: 1 / (pxPerMm * (globalThis.devicePixelRatio || 1)),
  });
  pen.globalAlpha = opacityOf(state, photo);
  trace(pen, flat.outlineMm.map(paperPx), true);
  pen.clip();
  parts.forEach(({ region, picture: part }, i) => {
    const [x, y] = paperPx([region.leftMm, region.topMm]);
    const scale = region.mmPerPx * pxPerMm;
    const finer = parts[i + 1];
    pen.save();
    if (finer) {
      // the coarse whole only where the sharp part is not, or the two would show through each other
      const [fx, fy] = paperPx([finer.region.leftMm, finer.region.topMm]);
      const k = finer.region.mmPerPx * pxPerMm;
      pen.beginPath();
      pen.rect(-1e5, -1e5, 2e5, 2e5);
      pen.rect(fx, fy, finer.region.widthPx * k, finer.region.heightPx * k);
      pen.clip('evenodd');
    }
    pen.drawImage(part, x, y, region.widthPx * scale, region.heightPx * scale);
    pen.restore();
  });
}

/** The marks of a photo at work: what its tool has clicked, or those it is set by; or why there is no picture. */
function PhotoMarks({ id }: { id: string }): React.JSX.Element {
  const view = useView();
  return (
    <Ink
      name={`marks of photo ${id}`}
      draw={(pen, look) => {
        const photo = photoOf(look.state, id);
        if (!photo) return;
        const c = look.palette;
        if (loaded(view, look.state, id)?.state === 'missing')
          label(pen, `No picture: ${photo.name ?? id} (see Measure)`, 12, look.size.height - 40, c, c.bad);
        drawMarks(pen, photo, photoPlace(photo, look.projection.rightSign), look);
      }}
    />
  );
}

function drawMarks(pen: Pen, photo: ResolvedPhoto, place: PhotoPlace, { state, palette: c, paperPx }: Look): void {
  const tool = state.tool?.photoId === photo.id ? state.tool : null;
  if (!tool && !(state.selection?.kind === 'photo' && state.selection.id === photo.id)) return;
  const at = (px: Pixel): Px => paperPx(place.toMm(px));
  const named = (px: Pixel, text: string): void => label(pen, text, at(px)[0] + 12, at(px)[1] - 12, c, c.accent);
  const between = (from: Pixel, to: Pixel, text: string | null): void => {
    const [a, b] = [at(from), at(to)];
    line(pen, [a, b], c.accent, 2);
    if (text !== null) label(pen, text, (a[0] + b[0]) / 2 + 8, (a[1] + b[1]) / 2 - 12, c, c.accent);
  };
  const crosses = (...marks: (Pixel | null)[]): void => {
    for (const px of marks) if (px) clickMark(pen, at(px), c);
  };
  const numbered = (marks: readonly { readonly px: Pixel }[]): void =>
    marks.forEach(({ px }, i) => {
      crosses(px);
      named(px, String(i + 1));
    });
  if (tool?.kind === 'scale' || tool?.kind === 'length') {
    if (tool.from && tool.to) between(tool.from, tool.to, null);
    crosses(tool.from, tool.to);
  } else if (tool?.kind === 'level') crosses(tool.from);
  else if (tool?.kind === 'square') numbered(tool.marks);
  else if (!tool && place.plane) numbered(place.plane.marks);
  else if (!tool && photo.scale) {
    const { from, to, lengthMm } = photo.scale;
    between(from, to, formatQuantity(lengthMm, 'length', state.units));
    crosses(from, to);
  }
  if (tool && tool.kind !== 'mark') return;
  const names = new Map(state.resolved.points.map((p) => [p.id, p.name ?? p.id]));
  for (const o of state.resolved.observations) {
    if (o.kind !== 'photo-mark' || o.photo !== photo.id || !o.px) continue;
    disc(pen, at(o.px), 5, null, c.paper, 4);
    disc(pen, at(o.px), 5, null, o.use === false ? c.ink : c.accent, 2);
    named(o.px, names.get(o.points[0]!) ?? o.points[0]!);
  }
}

export const Photo = memo(({ id }: { id: string }) => {
  const { projection } = useView();
  const flat = useBench((s) => {
    const photo = photoOf(s, id);
    return photo !== undefined && photoPlace(photo, projection.rightSign).underlay === null;
  });
  return (
    <>
      {flat ? <FlatPhoto id={id} /> : <UnderlaidPhoto id={id} />}
      <PhotoMarks id={id} />
    </>
  );
});

/** The photo that a lid is being traced from. */
export const TracedPhoto = memo(() => {
  const node = useRef<Konva.Shape>(null);
  useFollow((look) => {
    const { wizard } = look.state;
    if (wizard) lay(node.current, wizardImage(wizard), wizard.photo, traceUnderlay(wizard), look);
  });
  return <Image {...picture} ref={node as never} name="photo being traced" />;
});

/** What has been clicked on it, and the lid and strut that follow. */
export const Tracing = memo(() => (
  <Ink
    name="tracing"
    draw={(pen, { palette: c, paperPx, state }) => {
      const w = state.wizard;
      if (!w) return;
      const u = traceUnderlay(w);
      const at = (px: Pixel): Px => paperPx(pixelToMm(u, px));
      if (w.scaleFrom && w.scaleTo) line(pen, [at(w.scaleFrom), at(w.scaleTo)], c.accent, 2);
      for (const mark of [w.levelFrom, w.levelTo, w.scaleFrom, w.scaleTo]) if (mark) clickMark(pen, at(mark), c);
      const { hinge, edge, base, lid } = w.marks;
      if (hinge && edge) line(pen, [at(hinge), at(edge)], c.ink, 2.5);
      if (base && lid) line(pen, [at(base), at(lid)], c.ink, 4);
      for (const place of PLACES) {
        const px = w.marks[place];
        if (!px) continue;
        const [x, y] = at(px);
        clickMark(pen, [x, y], c);
        label(pen, STEP_WORDS[place].name, x + 12, y - 12, c);
      }
    }}
  />
));
