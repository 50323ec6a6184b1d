import 'konva/lib/shapes/Rect';
import type Konva from 'konva/lib/Core';
import { memo, useMemo } from 'react';
import { Rect } from 'react-konva/lib/ReactKonvaCore';
import { type EndName, turnMount } from '../../../core/job';
import { mmToPixel, photoPlace } from '../../../core/photo';
import { type Vec3, cos, rad, sin } from '../../../core/space';
import { traceUnderlay } from '../../../core/start';
import { clickWizard } from '../../photo/wizard';
import { setWizard } from '../../state/photo-actions';
import { clickPhotoTool } from '../../state/photo-tools';
import { pickForRelation } from '../../state/relations';
import { select, setSheet } from '../../state/session';
import { bench, cancelDrag, finishDrag, moveDrag, sayMoved, startDrag } from '../../state/store';
import { clickSurface, picksSurface } from '../../state/mount-tool';
import { clickZone, zoneTool } from '../../state/zone-tool';
import { type Gesture, dragged } from './dragging';
import { REACH_PX, type Handle as HandleOf, type Spot, handlesOf, leadOf, reachPx } from './handles';
import { Mark, type Pen, disc, line, DASH } from './ink';
import { measuredAlong, movePosed } from './move-point';
import { fromPx, panBy } from './projection';
import { type StemHandleOf, handleTo, stemHandles } from './stem-handles';
import { type Look, type View, useView } from './view';

// What the pointer takes hold of: the paper, the points, the stems. Their hit areas, dragging and cursors are Konva's.

/** A gesture kept while its node lives: React may render it anew in the middle of a drag. */
const useDragged = (view: View, key: string, make: () => Gesture) =>
  // oxlint-disable-next-line react/exhaustive-deps -- made anew for another node only
  useMemo(() => dragged(view, make()), [view, key]);

const cursor =
  (name: string) =>
  (e: Konva.KonvaEventObject<MouseEvent>): void => {
    const box = e.target.getStage()?.container();
    if (box) box.style.cursor = name;
  };

/** A click on the paper: a mark for the tracing or for the photo's tool, else nothing is chosen any more. */
export function clickPaper({ look, plane, projection }: View, x: number, y: number): void {
  const { state } = look;
  const mm = look.paperMm(x, y);
  if (picksSurface()) clickSurface(plane, mm);
  else if (zoneTool.getState().draft) clickZone(plane, mm);
  else if (state.wizard) {
    if (plane !== 'side') return;
    const px = mmToPixel(traceUnderlay(state.wizard), mm);
    const { widthPx, heightPx } = state.wizard.photo;
    if (px[0] < 0 || px[1] < 0 || px[0] > widthPx || px[1] > heightPx) return;
    setWizard(clickWizard(state.wizard, px));
  } else if (state.tool) {
    const photo = state.resolved.photos.find((p) => p.id === state.tool!.photoId);
    const px = photo?.view === plane ? photoPlace(photo, projection.rightSign).toPx(mm) : null;
    if (px) clickPhotoTool(px);
  } else select(null);
}

const ORIGIN = { x: 0, y: 0 };

/** The sheet under everything: dragged it pans all three views, by any button; clicked it takes marks or lets go of what is chosen. */
export const Paper = memo(({ clicking }: { clicking: boolean }) => {
  const view = useView();
  const drag = useDragged(view, 'paper', () => {
    let last = ORIGIN;
    // a finger that places a mark does not pan: it slides under the magnifier till it is lifted
    let aims = false;
    return {
      press: () => void (aims = view.touching && view.aim(view.pointerPx)),
      start: () => (last = view.pointer),
      step: () => {
        if (aims) return void view.aim(view.pointerPx);
        const now = view.pointer;
        const { sheet } = bench.getState();
        setSheet(panBy(sheet, now.x - last.x, now.y - last.y, view.projection));
        last = now;
      },
      end: () => aims && clickPaper(view, ...view.pointerPx),
      click: (x, y) => clickPaper(view, x, y),
    };
  });
  return (
    <Rect
      {...drag}
      name="paper"
      dragBoundFunc={() => ORIGIN}
      hitFunc={(context, shape) => {
        context.beginPath();
        context.rect(0, 0, view.look.size.width, view.look.size.height);
        context.fillStrokeShape(shape);
      }}
      onMouseEnter={cursor(clicking ? 'crosshair' : 'default')}
      onMouseMove={cursor(clicking ? 'crosshair' : 'default')}
    />
  );
});

/** A handle's room: a disc of 28 px, shared out where others are near. */
function traceReach(context: Konva.Context, view: View, id: string): void {
  const { state, scene, at } = view.look;
  const chosen = state.selection?.kind === 'point' ? state.selection.id : null;
  const spots = handlesOf(state.resolved, state.stage).flatMap((h): (Spot & { id: string })[] => {
    const p = scene.posed.get(h.pointId);
    if (!p) return [];
    const [x, y] = at(p);
    return [{ id: h.pointId, x, y, lead: leadOf(h, chosen) }];
  });
  const own = spots.find((s) => s.id === id);
  context.beginPath();
  if (own) {
    const others = spots.filter((s) => s !== own);
    for (let k = 0; k < 48; k++) {
      const angle = (2 * Math.PI * k) / 48;
      const r = reachPx(own, others, angle);
      context.lineTo(r * cos(rad(angle)), r * sin(rad(angle)));
    }
  }
  context.closePath();
}

/** A point (or the middle of an obstacle) to take hold of. Unseen itself: what stands there has a mark of its own. */
export const Handle = memo(({ handle: { pointId, name } }: { handle: HandleOf }) => {
  const view = useView();
  const drag = useDragged(view, pointId, () => {
    let from: Vec3 = [0, 0, 0];
    const { plane, projection } = view;
    return {
      press: () => {
        from = view.look.scene.posed.get(pointId) ?? from;
        select({ kind: 'point', id: pointId });
      },
      start: () => startDrag({ kind: 'point', pointId, plane, from }),
      step: (x, y) => {
        const { state, size } = view.look;
        const to = fromPx(x, y, from, projection, state.sheet, size);
        moveDrag((atStart) => movePosed(atStart, pointId, to, state.angleDeg, plane));
      },
      end: () => {
        const along = measuredAlong(bench.getState().history.mark, pointId);
        finishDrag(`Move ${bench.getState().resolved.points.find((p) => p.id === pointId)?.name ?? pointId}`);
        sayMoved(along);
      },
      cancel: cancelDrag,
      click: () => pickForRelation(pointId),
    };
  });
  return (
    <Mark
      {...drag}
      name={`handle of ${name}`}
      listening
      at={({ scene, at }) => (scene.posed.has(pointId) ? at(scene.posed.get(pointId)!) : null)}
      hitFunc={(context: Konva.Context, shape: Konva.Shape) => {
        traceReach(context, view, pointId);
        context.fillStrokeShape(shape);
      }}
      onMouseEnter={(e: Konva.KonvaEventObject<MouseEvent>) => {
        cursor('grab')(e);
        view.hover(pointId);
      }}
      onMouseLeave={() => view.hover(null)}
    />
  );
});

const DIAMOND = [[0, -6], [6, 0], [0, 6], [-6, 0]] as const; // prettier-ignore

/** Ring at a stem's tip to turn the azimuth, diamond half-way to lean it. */
export const StemHandle = memo(({ strut, end, what }: { strut: string; end: EndName; what: 'azimuth' | 'tilt' }) => {
  const view = useView();
  const find = ({ state, scene }: Look): StemHandleOf | null =>
    stemHandles(state.resolved, scene, state.sheet.pxPerMm).find(
      (h) => h.strut === strut && h.end === end && h.what === what,
    ) ?? null;
  const drag = useDragged(view, `${strut} ${end} ${what}`, () => {
    let held: StemHandleOf | null = null;
    const { plane, projection } = view;
    return {
      press: () => {
        held = find(view.look);
        select({ kind: 'strut', id: strut });
      },
      start: () => held && startDrag({ kind: 'stem', strut, end, what, plane, from: held.at }),
      step: (x, y) => {
        const { state, scene, paperMm } = view.look;
        if (!held) return;
        const { resolved, angleDeg, sheet } = state;
        const value = handleTo(resolved, held, scene, angleDeg, projection, paperMm(x, y), sheet.pxPerMm);
        moveDrag((atStart) => {
          const spec = atStart.struts.find((s) => s.id === strut)?.ends[end];
          // what a given holds does not follow a drag
          if (!spec || typeof (what === 'azimuth' ? spec.azimuthDeg : spec.tiltDeg) === 'object') return atStart;
          const azimuthDeg = what === 'azimuth' ? value : (spec.azimuthDeg ?? 0);
          return turnMount(atStart, { strut, end, azimuthDeg, ...(what === 'tilt' ? { tiltDeg: value } : {}) });
        });
      },
      end: () => finishDrag(what === 'azimuth' ? 'Turn the mount' : 'Lean the stud'),
      cancel: cancelDrag,
    };
  });
  return (
    <Mark
      {...drag}
      name={`${what} handle of ${end} joint of strut ${strut}`}
      listening
      at={(look) => {
        const handle = find(look);
        return handle && look.at(handle.at);
      }}
      draw={(pen: Pen, look) => {
        const handle = find(look);
        if (!handle) return;
        const c = look.palette;
        const [at, ball] = [look.at(handle.at), look.at(handle.ball)];
        if (what === 'azimuth') {
          line(pen, [[ball[0] - at[0], ball[1] - at[1]], [0, 0]], c.accent, 1.5); // prettier-ignore
          return disc(pen, [0, 0], 7, c.paper, c.accent, 3);
        }
        pen.beginPath();
        for (const [x, y] of DIAMOND) pen.lineTo(x, y);
        pen.fillStyle = c.paper;
        pen.fill();
        line(pen, DIAMOND, c.accent, 2, DASH.full, true);
      }}
      hitFunc={(context: Konva.Context, shape: Konva.Shape) => {
        const handle = find(view.look);
        if (!handle) return;
        const [at, ball] = [view.look.at(handle.at), view.look.at(handle.ball)];
        // seen along the stem it lies on the ball, which is then the thing to drag
        if (Math.hypot(at[0] - ball[0], at[1] - ball[1]) < REACH_PX + 2) return;
        context.beginPath();
        context.arc(0, 0, REACH_PX, 0, 2 * Math.PI);
        context.fillStrokeShape(shape);
      }}
      onMouseEnter={cursor('grab')}
    />
  );
});
