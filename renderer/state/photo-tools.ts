import { markOnPhoto } from '../../core/survey';
import { type Job, type Photo, type Point, movePoint, setPhoto } from '../../core/job';
import {
  type Pixel,
  lengthOnPhoto,
  levelSigmaDeg,
  levelTurnDeg,
  lineUp,
  mmPerPixel,
  placeOnView,
  seenPlace,
} from '../../core/photo';
import type { PhotoTool } from '../photo/tool';
import { leaveTool } from './session';
import { bench, edit, notify, orSay } from './store';

type Tool<K extends PhotoTool['kind']> = Extract<PhotoTool, { kind: K }>;

const photoOf = (tool: PhotoTool): Photo | undefined =>
  bench.getState().resolved.photos.find((p) => p.id === tool.photoId);
const pointOf = (tool: { readonly pointId: string }): Point | undefined =>
  bench.getState().resolved.points.find((p) => p.id === tool.pointId);

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
  const photo = tool && photoOf(tool);
  if (!tool || !photo) return;
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
  const [photo, point] = [photoOf(tool)!, pointOf(tool)];
  if (point)
    step(`Line up the photo with ${point.name ?? point.id}`, (job) => lineUp(job, { photo, px, at: point.at }));
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

function put(tool: Tool<'put'>, px: Pixel): void {
  const [photo, point] = [photoOf(tool)!, pointOf(tool)];
  if (!point) return;
  orSay(() => {
    const at = seenPlace(photo, point.at, px, tool.offMm);
    if (!at)
      return notify(
        'How far the camera stood is not known: type the focal length, or put points in the plane only.',
        'bad',
      );
    step(`Put ${point.name ?? point.id} from the photo`, (job) => movePoint(job, { id: point.id, at }));
    if (!placeOnView(photo).plane && !photo.scale) notify('This photo has no scale yet: the place is a guess.');
  });
}

/** Length between the two clicks of the length tool, mm, with its σ where the photo is laid flat. */
export function lengthOfTool(tool: Tool<'length'>): ReturnType<typeof lengthOnPhoto> | null {
  const photo = photoOf(tool);
  return photo && tool.from && tool.to ? lengthOnPhoto(photo, tool.from, tool.to) : null;
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
  const photo = tool && photoOf(tool);
  if (tool?.kind !== 'square' || !photo) return;
  const marks = tool.marks.map((m) => ({
    ...(m.name ? { name: m.name } : {}),
    px: [m.px[0], m.px[1]] as [number, number],
    planeMm: [m.planeMm[0]!, m.planeMm[1]!] as [number, number],
  }));
  const kept = marks.map((m, i) => ({ ...m, planeMm: tool.marks[i]!.held ?? m.planeMm }));
  const old = bench.getState().history.present.photos?.find((p) => p.id === tool.photoId)?.rectify;
  const tried = placeOnView({ ...photo, rectify: { ...photo.rectify, marks } });
  if (tried.trouble) return notify(tried.trouble, 'bad');
  step('Set the photo square', (job) =>
    setPhoto(job, { id: tool.photoId, patch: { rectify: { ...old, marks: kept } } }),
  );
}
