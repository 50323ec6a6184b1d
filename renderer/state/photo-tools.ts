import { markOnPhoto } from '../../core/survey';
import { type Job, type Photo, movePoint, setPhoto } from '../../core/job';
import {
  type Pixel,
  type PhotoPlace,
  type ViewMm,
  cameraOverPlane,
  levelSigmaDeg,
  levelTurnDeg,
  lengthOnPlane,
  mmPerPixel,
  parallaxMm,
  photoPlace,
  shiftMarks,
} from '../../core/photo';
import { PROJECTIONS, type Projection } from './planes';
import { type PhotoTool, TOWARDS } from '../photo/tool';
import { leaveTool } from './session';
import { bench, edit, notify, orSay } from './store';

type Tool<K extends PhotoTool['kind']> = Extract<PhotoTool, { kind: K }>;

function atWork(tool: PhotoTool): { photo: Photo; projection: Projection; place: PhotoPlace } | null {
  const photo = bench.getState().resolved.photos.find((p) => p.id === tool.photoId);
  if (!photo) return null;
  const projection = PROJECTIONS[photo.view];
  return { photo, projection, place: photoPlace(photo, projection.rightSign) };
}

/** Takes up a tool of a photo; its marks are shown. */
export const takeTool = (tool: PhotoTool): void =>
  bench.setState({ tool, selection: { kind: 'photo', id: tool.photoId } });

/** One undoable step; a LidwrightError is said and changes nothing. */
function step(label: string, run: (job: Job) => Job): void {
  if (edit(label, run)) leaveTool();
}

/** A click on the photo with the present tool, in pixels of the upright picture. */
export function clickPhotoTool(px: Pixel): void {
  const { tool } = bench.getState();
  const work = tool && atWork(tool);
  if (!tool || !work) return;
  const { photo } = work;
  if (px[0] < 0 || px[1] < 0 || px[0] > photo.widthPx || px[1] > photo.heightPx) {
    if (tool.kind !== 'scale' && tool.kind !== 'anchor') return notify('That is off the photo.');
  }
  switch (tool.kind) {
    case 'scale':
    case 'length':
      if (!tool.from || tool.to) bench.setState({ tool: { ...tool, from: px, to: null } });
      else if (mmPerPixel(tool.from, px, 1) !== null) bench.setState({ tool: { ...tool, to: px } });
      return;
    case 'anchor':
      return anchor(tool, px);
    case 'level':
      if (!tool.from) bench.setState({ tool: { ...tool, from: px } });
      else level(tool, tool.from, px);
      return;
    case 'square': {
      const marks = [...tool.marks];
      if (tool.redo === null) marks.push({ px, planeMm: [null, null] });
      else marks[tool.redo] = { ...marks[tool.redo]!, px };
      bench.setState({ tool: { ...tool, marks, redo: null } });
      return;
    }
    case 'mark':
      return step(`Mark ${nameOf(tool.pointId)} on the photo`, (job) =>
        markOnPhoto(job, { photo: tool.photoId, point: tool.pointId, px }),
      );
    case 'put':
      return put(tool, px);
  }
}

const nameOf = (id: string): string => bench.getState().resolved.points.find((p) => p.id === id)?.name ?? id;

/** The photo is laid so that the click lies at a point: a flat one by all its marks, another by its anchor. */
function anchor(tool: Tool<'anchor'>, px: Pixel): void {
  const { photo, projection, place } = atWork(tool)!;
  const point = bench.getState().resolved.points.find((p) => p.id === tool.pointId);
  if (!point) return;
  const to: ViewMm = [point.at[projection.right], point.at[projection.up]];
  step(`Line up the photo with ${point.name ?? point.id}`, (job) => {
    const rectify = job.photos?.find((p) => p.id === photo.id)?.rectify;
    if (!place.plane || !rectify)
      return setPhoto(job, { id: photo.id, patch: { anchorPx: [px[0], px[1]], anchorMm: [...to] } });
    const [x, y] = place.toMm(px);
    return setPhoto(job, {
      id: photo.id,
      patch: { rectify: shiftMarks(rectify, [to[0] - projection.rightSign * x, to[1] - y]) },
    });
  });
}

function level(tool: Tool<'level'>, from: Pixel, to: Pixel): void {
  orSay(() => {
    const turn = levelTurnDeg(from, to, tool.along);
    step(`Turn the photo ${tool.along}`, (job) =>
      setPhoto(job, { id: tool.photoId, patch: { rotationDeg: Math.round(turn * 1000) / 1000 } }),
    );
    notify(`Turned ${turn.toFixed(2)}° ± ${levelSigmaDeg(from, to).toFixed(2)}°.`);
  });
}

/** Where a click lies along the view's axes, mm: for a thing `offMm` off a flat photo's plane, with that taken out. */
export function placeOfClick(tool: PhotoTool, px: Pixel, offMm = 0): ViewMm | null {
  const work = atWork(tool);
  if (!work) return null;
  const { photo, projection, place } = work;
  let [x, y] = place.toMm(px);
  if (offMm !== 0 && place.plane) {
    const camera = cameraOfPhoto(photo, place);
    if (!camera) return null;
    const [dx, dy] = parallaxMm(camera, [x, y], offMm);
    [x, y] = [x - dx, y - dy];
  }
  return [projection.rightSign * x, y];
}

/** Where the camera of a flat photo stood over its plane, as far as that is known. */
export const cameraOfPhoto = (photo: Photo, place: PhotoPlace): ReturnType<typeof cameraOverPlane> =>
  place.plane &&
  cameraOverPlane(place.plane, {
    widthPx: photo.widthPx,
    heightPx: photo.heightPx,
    ...(photo.focal ? { focalPx: photo.focal.px } : {}),
  });

function put(tool: Tool<'put'>, px: Pixel): void {
  const { photo, projection, place } = atWork(tool)!;
  const point = bench.getState().resolved.points.find((p) => p.id === tool.pointId);
  if (!point) return;
  orSay(() => {
    const at = placeOfClick(tool, px, tool.offMm);
    if (!at)
      return notify(
        'How far the camera stood is not known: type the focal length, or put points in the plane only.',
        'bad',
      );
    const next: [number, number, number] = [...point.at];
    next[projection.right] = at[0];
    next[projection.up] = at[1];
    const deep = place.plane ? photo.rectify?.depthMm : undefined;
    if (deep !== undefined) next[projection.depth] = deep + TOWARDS[photo.view] * tool.offMm;
    step(`Put ${point.name ?? point.id} from the photo`, (job) => movePoint(job, { id: point.id, at: next }));
    if (!place.plane && !photo.scale) notify('This photo has no scale yet: the place is a guess.');
  });
}

/** Length between the two clicks of the length tool, mm, with its σ where the photo is laid flat. */
export function lengthOfTool(tool: Tool<'length'>): { lengthMm: number; sigmaMm: number | null } | null {
  const work = atWork(tool);
  if (!work || !tool.from || !tool.to) return null;
  const { place } = work;
  if (place.plane) return lengthOnPlane(place.plane, tool.from, tool.to);
  const [a, b] = [place.toMm(tool.from), place.toMm(tool.to)];
  return { lengthMm: Math.hypot(b[0] - a[0], b[1] - a[1]), sigmaMm: null };
}

/** Both marks are clicked and the length is typed: the photo has its scale. */
export function finishScale(lengthMm: number): void {
  const { tool } = bench.getState();
  if (tool?.kind !== 'scale' || !tool.from || !tool.to) return;
  const { from, to, photoId } = tool;
  step('Set the photo’s scale', (job) =>
    setPhoto(job, { id: photoId, patch: { scale: { from: [from[0], from[1]], to: [to[0], to[1]], lengthMm } } }),
  );
}

/** All marks have their places: the photo is laid flat by them. */
export function finishSquare(): void {
  const { tool } = bench.getState();
  const work = tool?.kind === 'square' ? atWork(tool) : null;
  if (tool?.kind !== 'square' || !work) return;
  const marks = tool.marks.map((m) => ({
    ...(m.name ? { name: m.name } : {}),
    px: [m.px[0], m.px[1]] as [number, number],
    planeMm: [m.planeMm[0]!, m.planeMm[1]!] as [number, number],
  }));
  const kept = marks.map((m, i) => ({ ...m, planeMm: tool.marks[i]!.held ?? m.planeMm }));
  const old = bench.getState().history.present.photos?.find((p) => p.id === tool.photoId)?.rectify;
  const tried = photoPlace({ ...work.photo, rectify: { ...work.photo.rectify, marks } }, work.projection.rightSign);
  if (tried.trouble) return notify(tried.trouble, 'bad');
  step('Set the photo square', (job) =>
    setPhoto(job, { id: tool.photoId, patch: { rectify: { ...old, marks: kept } } }),
  );
}
