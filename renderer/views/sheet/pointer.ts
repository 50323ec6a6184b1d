import { turnMount } from '../../../core/job';
import { mmToPixel, photoPlace } from '../../../core/photo';
import type { Vec3 } from '../../../core/space';
import { nextStep, traceUnderlay } from '../../../core/start';
import { clickWizard } from '../../photo/wizard';
import { finishWizard, setWizard } from '../../state/photo-actions';
import { clickPhotoTool } from '../../state/photo-tools';
import { pickForRelation } from '../../state/relations';
import { select, setSheet } from '../../state/session';
import { bench, cancelDrag, finishDrag, moveDrag, sayMoved, startDrag } from '../../state/store';
import { paintNow } from '../frame';
import { handleAt, handlesOf } from './handles';
import { measuredAlong, movePosed } from './move-point';
import { fromPx, panBy, zoomAt } from './projection';
import { sceneOf } from './scene-cache';
import { type StemHandle, stemHandles, turnTo } from './stem-handles';
import type { SheetCanvas } from './sheet-canvas';

/** A press that moves less than this is a click, px. */
const CLICK_PX = 4;

type Press =
  | { readonly kind: 'stem'; readonly handle: StemHandle; moving: boolean }
  | {
      readonly kind: 'point';
      readonly pointId: string;
      readonly from: Vec3;
      readonly grab: readonly [number, number];
      moving: boolean;
    }
  | { readonly kind: 'pan'; moved: boolean; readonly click: boolean };

/** Pointer, wheel and keys of one drawn view. Returns how to take them off again. */
export function attachPointer(element: HTMLElement, canvas: SheetCanvas): () => void {
  let press: Press | null = null;
  let start: readonly [number, number] = [0, 0];
  let latest: readonly [number, number] = [0, 0];
  let frame = 0;

  const local = (e: PointerEvent | WheelEvent): [number, number] => {
    const box = element.getBoundingClientRect();
    return [e.clientX - box.left, e.clientY - box.top];
  };
  const grabbed = (x: number, y: number) => {
    const state = bench.getState();
    const scene = sceneOf(state);
    const selected = state.selection?.kind === 'point' ? state.selection.id : null;
    return handleAt(
      handlesOf(state.resolved, state.stage),
      (id) => (scene.posed.has(id) ? canvas.px(scene.posed.get(id)!) : null),
      x,
      y,
      selected,
    );
  };

  /** The stem handle under the pointer; only in the Joints stage. */
  const stemAt = (x: number, y: number): StemHandle | null => {
    const state = bench.getState();
    if (state.stage !== 'joints') return null;
    let best: StemHandle | null = null;
    let least = 12;
    for (const handle of stemHandles(state.resolved, sceneOf(state), state.sheet.pxPerMm)) {
      const at = canvas.px(handle.at);
      // seen along the stem its handles lie on the ball, which is then the thing to drag
      const ball = canvas.px(handle.ball);
      if (Math.hypot(at[0] - ball[0], at[1] - ball[1]) < 16) continue;
      const d = Math.hypot(at[0] - x, at[1] - y);
      if (d < least) [best, least] = [handle, d];
    }
    return best;
  };

  const down = (e: PointerEvent): void => {
    if (press || e.button > 2) return;
    const [x, y] = (start = latest = local(e));
    const state = bench.getState();
    element.setPointerCapture(e.pointerId);
    const clicking = e.button === 0 && (state.wizard !== null || state.tool !== null);
    const stem = e.button === 0 && !clicking ? stemAt(x, y) : null;
    const handle = e.button === 0 && !clicking && !stem ? grabbed(x, y) : null;
    if (stem) {
      press = { kind: 'stem', handle: stem, moving: false };
      select({ kind: 'strut', id: stem.strut });
    } else if (handle) {
      const from = sceneOf(state).posed.get(handle.pointId)!;
      const at = canvas.px(from);
      press = { kind: 'point', pointId: handle.pointId, from, grab: [x - at[0], y - at[1]], moving: false };
      select({ kind: 'point', id: handle.pointId });
    } else press = { kind: 'pan', moved: false, click: e.button === 0 };
    element.focus({ preventScroll: true });
    e.preventDefault();
  };

  /** One step of whatever is under way, from the press's start and the whole pointer travel; at most once a frame. */
  const step = (): void => {
    frame = 0;
    if (!press) return;
    const [x, y] = latest;
    if (press.kind === 'point') {
      const held = press;
      if (!held.moving) return;
      const state = bench.getState();
      const to = fromPx(x - held.grab[0], y - held.grab[1], held.from, canvas.projection, state.sheet, canvas.size);
      moveDrag((atStart) => movePosed(atStart, held.pointId, to, state.angleDeg, canvas.projection.plane));
    }
    if (press.kind === 'stem') {
      const { handle, moving } = press;
      if (!moving) return;
      const state = bench.getState();
      const value = turnTo(
        state.resolved,
        handle,
        state.outcome?.frame.axis ?? null,
        state.angleDeg,
        canvas.projection,
        canvas.paperMm(x, y, state),
        state.sheet.pxPerMm,
      );
      moveDrag((atStart) => {
        const end = atStart.struts.find((s) => s.id === handle.strut)?.ends[handle.end];
        // what a given holds does not follow a drag
        if (!end || typeof (handle.what === 'azimuth' ? end.azimuthDeg : end.tiltDeg) === 'object') return atStart;
        const azimuthDeg = handle.what === 'azimuth' ? value : (end.azimuthDeg ?? 0);
        return turnMount(atStart, {
          strut: handle.strut,
          end: handle.end,
          azimuthDeg,
          ...(handle.what === 'tilt' ? { tiltDeg: value } : {}),
        });
      });
    }
    paintNow();
  };

  const move = (e: PointerEvent): void => {
    const now = local(e);
    if (!press) {
      const state = bench.getState();
      const handle = state.wizard || state.tool ? null : grabbed(...now);
      const id = handle?.pointId ?? null;
      const stem = state.wizard || state.tool ? null : stemAt(...now);
      element.style.cursor = state.wizard || state.tool ? 'crosshair' : id || stem ? 'grab' : 'default';
      if (id !== canvas.hovered) {
        canvas.hovered = id;
        canvas.draw();
      }
      return;
    }
    const far = Math.hypot(now[0] - start[0], now[1] - start[1]) > CLICK_PX;
    if (press.kind === 'point' && !press.moving && far) {
      press.moving = true;
      startDrag({ kind: 'point', pointId: press.pointId, plane: canvas.projection.plane, from: press.from });
    }
    if (press.kind === 'stem' && !press.moving && far) {
      press.moving = true;
      const { strut, end, what, at } = press.handle;
      startDrag({ kind: 'stem', strut, end, what, plane: canvas.projection.plane, from: at });
    }
    if (press.kind === 'pan' && (press.moved || far)) {
      press.moved = true;
      const state = bench.getState();
      setSheet(panBy(state.sheet, now[0] - latest[0], now[1] - latest[1], canvas.projection));
    }
    latest = now;
    if (frame === 0) frame = requestAnimationFrame(step);
  };

  const up = (e: PointerEvent): void => {
    if (!press) return;
    const done = press;
    latest = local(e);
    if (frame !== 0) {
      cancelAnimationFrame(frame);
      step();
    }
    press = null;
    if (done.kind === 'point' && !done.moving) pickForRelation(done.pointId);
    if (done.kind === 'point' && done.moving) {
      const along = measuredAlong(bench.getState().history.mark, done.pointId);
      finishDrag(`Move ${nameOf(done.pointId)}`);
      sayMoved(along);
    }
    if (done.kind === 'stem' && done.moving)
      finishDrag(done.handle.what === 'azimuth' ? 'Turn the mount' : 'Lean the stem');
    if (done.kind === 'pan' && !done.moved && done.click) click(...latest);
    paintNow();
  };

  const click = (x: number, y: number): void => {
    const state = bench.getState();
    const mm = canvas.paperMm(x, y, state);
    if (state.wizard) {
      if (canvas.projection.plane !== 'side') return;
      const px = mmToPixel(traceUnderlay(state.wizard), mm);
      const { widthPx, heightPx } = state.wizard.photo;
      if (px[0] < 0 || px[1] < 0 || px[0] > widthPx || px[1] > heightPx) return;
      const next = clickWizard(state.wizard, px);
      setWizard(next);
      if (nextStep(next) === null) finishWizard(next);
      return;
    }
    if (state.tool) {
      const photo = state.resolved.photos.find((p) => p.id === state.tool!.photoId);
      const px =
        photo && photo.view === canvas.projection.plane
          ? photoPlace(photo, canvas.projection.rightSign).toPx(mm)
          : null;
      if (px) clickPhotoTool(px);
      return;
    }
    select(null);
  };

  const nameOf = (id: string): string => bench.getState().resolved.points.find((p) => p.id === id)?.name ?? id;

  const wheel = (e: WheelEvent): void => {
    e.preventDefault();
    const [x, y] = local(e);
    const unit = e.deltaMode === 1 ? 30 : 1;
    const factor = Math.exp(-Math.min(Math.max(e.deltaY * unit, -240), 240) * 0.0016);
    setSheet(zoomAt(bench.getState().sheet, factor, x, y, canvas.projection, canvas.size));
  };

  const cancel = (): void => {
    if (frame !== 0) cancelAnimationFrame(frame);
    frame = 0;
    if (press && press.kind !== 'pan' && press.moving) cancelDrag();
    press = null;
    paintNow();
  };
  const key = (e: KeyboardEvent): void => {
    if (e.key !== 'Escape') return;
    if (press) {
      cancel();
      e.stopImmediatePropagation();
    }
  };
  const menu = (e: Event): void => e.preventDefault();

  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', up);
  element.addEventListener('pointercancel', cancel);
  element.addEventListener('wheel', wheel, { passive: false });
  element.addEventListener('contextmenu', menu);
  window.addEventListener('keydown', key, true);
  return () => {
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', up);
    element.removeEventListener('pointercancel', cancel);
    element.removeEventListener('wheel', wheel);
    element.removeEventListener('contextmenu', menu);
    window.removeEventListener('keydown', key, true);
  };
}
