import type Konva from 'konva/lib/Core';
import { useEffect, useRef, useState } from 'react';
import { Stage } from 'react-konva/lib/ReactKonvaCore';
import type { Host } from '../../host/host';
import { onFlatReady } from '../../photo/flat';
import { onPhotoLoaded } from '../../photo/images';
import type { Plane } from '../../state/planes';
import { setSheet } from '../../state/session';
import { bench } from '../../state/store';
import { viewSized } from '../fit';
import { addPainter, askPaint } from '../frame';
import { Aim, useMarking } from './aim';
import { Graph } from './graph';
import { PointKeys } from './point-keys';
import { type Size, panBy, zoomAt } from './projection';
import { View, ViewProvider } from './view';

function zoom(view: View, e: WheelEvent): void {
  e.preventDefault();
  const at = view.stage?.getPointerPosition();
  if (!at) return;
  const unit = e.deltaMode === 1 ? 30 : 1;
  const factor = Math.exp(-Math.min(Math.max(e.deltaY * unit, -240), 240) * 0.0016);
  setSheet(zoomAt(bench.getState().sheet, factor, at.x, at.y, view.projection, view.look.size));
}

/** Any button but the first pans, wherever it is pressed. */
function panByOther(e: Konva.KonvaEventObject<MouseEvent>): void {
  const stage = e.target.getStage();
  if (e.evt.button !== 0 && stage && !stage.find((n: Konva.Node) => n.isDragging()).length)
    stage.findOne('.paper')?.startDrag(e);
}

/** Follows the pointer over the whole page; Escape lets go of what it holds, before anyone else hears it. */
function watchPointer(view: View): () => void {
  const off = new AbortController();
  const at = (e: PointerEvent): void => {
    view.pointer = { x: e.clientX, y: e.clientY };
    view.touching = e.pointerType === 'touch';
  };
  for (const what of ['pointerdown', 'pointermove', 'pointerup'] as const)
    window.addEventListener(what, at, { capture: true, signal: off.signal });
  const lifted = (): void => {
    view.held = null;
    view.aim(null);
  };
  for (const what of ['mouseup', 'touchend', 'touchcancel'] as const)
    window.addEventListener(what, lifted, { signal: off.signal });
  const key = (e: KeyboardEvent): void => {
    if (e.key !== 'Escape' || !view.held) return;
    view.held.letGo();
    view.held = null;
    e.stopImmediatePropagation();
  };
  window.addEventListener('keydown', key, { capture: true, signal: off.signal });
  return () => off.abort();
}

/** Two fingers pan and zoom together; what one of them had taken hold of is let go. */
function watchPinch(view: View, element: HTMLElement): () => void {
  const off = new AbortController();
  const fingers = new Map<number, { x: number; y: number }>();
  const place = ({ clientX, clientY }: PointerEvent): { x: number; y: number } => {
    const box = element.getBoundingClientRect();
    return { x: clientX - box.x, y: clientY - box.y };
  };
  const grasp = (): { x: number; y: number; apart: number } => {
    const [a, b] = [...fingers.values()] as [{ x: number; y: number }, { x: number; y: number }];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, apart: Math.hypot(a.x - b.x, a.y - b.y) };
  };
  const on = (
    what: 'pointerdown' | 'pointermove' | 'pointerup' | 'pointercancel',
    act: (e: PointerEvent) => void,
  ): void =>
    (what === 'pointerdown' ? element : window).addEventListener(
      what,
      (e) => (e as PointerEvent).pointerType === 'touch' && act(e as PointerEvent),
      { capture: true, signal: off.signal },
    );
  on('pointerdown', (e) => {
    fingers.set(e.pointerId, place(e));
    if (fingers.size !== 2) return;
    view.held?.letGo();
    view.held = null;
  });
  on('pointermove', (e) => {
    if (!fingers.has(e.pointerId)) return;
    if (fingers.size !== 2) return void fingers.set(e.pointerId, place(e));
    const before = grasp();
    fingers.set(e.pointerId, place(e));
    const now = grasp();
    const { projection, look } = view;
    const panned = panBy(bench.getState().sheet, now.x - before.x, now.y - before.y, projection);
    const factor = before.apart > 0 ? now.apart / before.apart : 1;
    setSheet(zoomAt(panned, factor, now.x, now.y, projection, look.size));
  });
  for (const what of ['pointerup', 'pointercancel'] as const) on(what, (e) => void fingers.delete(e.pointerId));
  // nor does the second finger take hold of what it lands on
  const second = (e: TouchEvent): void => void (e.touches.length > 1 && e.stopPropagation());
  element.addEventListener('touchstart', second, { capture: true, signal: off.signal });
  return () => off.abort();
}

const Aiming = ({ view }: { view: View }): React.JSX.Element | null => (useMarking(view) ? <Aim view={view} /> : null);

/** One drawn view: its scene graph on a stage of its size, and the points' keys over it. */
export function DrawnView({
  plane,
  host,
  onFiles,
}: {
  plane: Plane;
  host: Host;
  onFiles: (files: FileList) => void;
}): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const [view, setView] = useState<View | null>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });

  useEffect(() => {
    const element = box.current!;
    const made = new View(element, plane, host);
    setView(made);
    const measure = (): void => {
      const now = { width: element.clientWidth, height: element.clientHeight };
      made.resize(now);
      setSize((had) => (had.width === now.width && had.height === now.height ? had : now));
      viewSized(plane, now);
      askPaint();
    };
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    measure();
    const ends = [
      addPainter(plane, () => made.pass()),
      onPhotoLoaded(() => made.again()),
      onFlatReady(() => made.again()),
      watchPointer(made),
      watchPinch(made, element),
    ];
    return () => {
      watch.disconnect();
      viewSized(plane, { width: 0, height: 0 });
      for (const end of ends) end();
    };
  }, [plane, host]);

  return (
    <div
      className="view-paper"
      ref={box}
      tabIndex={-1}
      data-view={plane}
      onDragOver={(e) => e.preventDefault()}
      onDrop={(e) => {
        e.preventDefault();
        onFiles(e.dataTransfer.files);
      }}
      onPointerDown={() => box.current?.focus({ preventScroll: true })}
      onMouseDown={(e) => e.preventDefault()}
      onContextMenu={(e) => e.preventDefault()}
    >
      {view && (
        <ViewProvider value={view}>
          <Stage
            className="view-canvas"
            ref={(stage: Konva.Stage | null) => void (view.stage = stage)}
            width={Math.max(1, size.width)}
            height={Math.max(1, size.height)}
            onWheel={(e) => zoom(view, e.evt)}
            onMouseDown={panByOther}
          >
            <Graph />
          </Stage>
        </ViewProvider>
      )}
      {view && <Aiming view={view} />}
      {view && <PointKeys view={view} />}
    </div>
  );
}
