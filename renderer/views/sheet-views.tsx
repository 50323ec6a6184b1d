import { useEffect, useRef, useState } from 'react';
import type { Host } from '../host/host';
import { onFlatReady } from '../photo/flat';
import { onPhotoLoaded } from '../photo/images';
import { layPhoto, startFromPhoto } from '../state/photo-actions';
import { pickForRelation, relationDesk } from '../state/relations';
import type { Plane } from '../state/planes';
import { select, toggleFilled } from '../state/session';
import { type ViewName, bench, edit, setAngle } from '../state/store';
import { useBench } from '../state/use-bench';
import { openDropped } from '../state/files';
import { BracketView, FaceChoice, useBracketView } from './bracket';
import { viewSized } from './fit';
import { showBracket } from '../state/bracket-desk';
import { survey } from '../state/survey';
import { addPainter, askPaint } from './frame';
import { handlesOf } from './sheet/handles';
import { movePosed, saidIfHeld } from './sheet/move-point';
import { attachPointer } from './sheet/pointer';
import { PROJECTIONS } from './sheet/projection';
import { sceneOf } from './sheet/scene-cache';
import { SheetCanvas } from './sheet/sheet-canvas';
import { SpaceView } from './space-view';

/** A dropped file: a job is opened, a picture goes under the view it fell on. */
function dropOn(plane: Plane | null, files: FileList): void {
  const file = files[0];
  if (!file) return;
  if (/\.(lidjob|json)$/i.test(file.name)) void openDropped(file);
  else if (bench.getState().wizard) void startFromPhoto(file);
  else void layPhoto(file, plane ?? 'side');
}

/** Buttons that lie over the points for the keyboard and for screen readers; the pointer goes through them to the canvas. */
function PointKeys({ canvas, plane }: { canvas: SheetCanvas; plane: Plane }): React.JSX.Element {
  const resolved = useBench((s) => s.resolved);
  const stage = useBench((s) => s.stage);
  const wizard = useBench((s) => s.wizard !== null);
  const holder = useRef<HTMLDivElement>(null);
  const handles = wizard ? [] : handlesOf(resolved, stage);

  useEffect(() => {
    const place = (): void => {
      const scene = sceneOf(bench.getState());
      for (const button of holder.current?.querySelectorAll<HTMLElement>('[data-point]') ?? []) {
        const at = scene.posed.get(button.dataset['point'] ?? '');
        if (!at) continue;
        const [x, y] = canvas.px(at);
        button.style.transform = `translate(${x - 12}px, ${y - 12}px)`;
      }
    };
    place();
    return addPainter(place);
  }, [canvas, handles.length]);

  const nudge = (e: React.KeyboardEvent, pointId: string, name: string): void => {
    const dir = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (!dir) return;
    e.preventDefault();
    e.stopPropagation();
    const stepMm = e.shiftKey ? 10 : e.altKey ? 0.1 : 1;
    const { right, rightSign, up } = PROJECTIONS[plane];
    edit(`Nudge ${name}`, (job) => {
      const state = bench.getState();
      const from = sceneOf(state).posed.get(pointId);
      if (!from) return job;
      const to: [number, number, number] = [from[0], from[1], from[2]];
      to[right] += rightSign * dir[0]! * stepMm;
      to[up] += dir[1]! * stepMm;
      return saidIfHeld(job, movePosed(job, pointId, to, state.angleDeg, plane), pointId);
    });
  };

  return (
    <div className="point-keys" ref={holder}>
      {handles.map((h) => (
        <button
          key={h.pointId}
          type="button"
          data-point={h.pointId}
          aria-label={`${h.name}: arrow keys move it 1 mm in this view, with Shift 10, with Alt 0.1`}
          onFocus={() => select({ kind: 'point', id: h.pointId })}
          onClick={() => pickForRelation(h.pointId)}
          onKeyDown={(e) => nudge(e, h.pointId, h.name)}
        />
      ))}
    </div>
  );
}

function DrawnView({ plane, host }: { plane: Plane; host: Host }): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const paper = useRef<HTMLDivElement>(null);
  const [canvas, setCanvas] = useState<SheetCanvas | null>(null);

  useEffect(() => {
    const element = box.current!;
    const made = new SheetCanvas(paper.current!, plane, host);
    setCanvas(made);
    const size = (): void => {
      made.resize(element.clientWidth, element.clientHeight);
      viewSized(plane, { width: element.clientWidth, height: element.clientHeight });
      askPaint();
    };
    const watch = new ResizeObserver(size);
    watch.observe(element);
    size();
    const offPaint = addPainter(() => made.draw());
    const offPhotos = onPhotoLoaded(() => made.draw(true));
    const offFlat = onFlatReady(() => made.draw(true));
    const offPointer = attachPointer(element, made);
    return () => {
      watch.disconnect();
      offPaint();
      offPhotos();
      offFlat();
      offPointer();
      made.destroy();
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
        dropOn(plane, e.dataTransfer.files);
      }}
    >
      <div className="view-canvas" ref={paper} />
      {canvas && <PointKeys canvas={canvas} plane={plane} />}
    </div>
  );
}

const TITLES: Record<ViewName, string> = {
  side: PROJECTIONS.side.title,
  top: PROJECTIONS.top.title,
  front: PROJECTIONS.front.title,
  space: 'In space',
};

function Frame({
  name,
  title = TITLES[name],
  tools,
  children,
}: {
  name: ViewName;
  title?: string;
  tools?: React.ReactNode;
  children: React.ReactNode;
}): React.JSX.Element {
  const filled = useBench((s) => s.filled);
  const toggle = (): void => toggleFilled(name);
  if (filled !== null && filled !== name) return <></>;
  return (
    <section className={`view view-${name}`} aria-label={`${title} view`}>
      <header onDoubleClick={toggle}>
        <span>{title}</span>
        {tools}
        <button
          type="button"
          onClick={toggle}
          title={filled === name ? 'Show all four views again' : 'Let this view fill the sheet'}
        >
          {filled === name ? 'All views' : 'Fill'}
        </button>
      </header>
      {children}
    </section>
  );
}

/** The view from behind; in the Bracket stage the bracket itself takes its place until the lid is asked for. */
function FrontFrame({ host }: { host: Host }): React.JSX.Element {
  const { index, face, offered } = useBracketView();
  const toggle = offered && (
    <button type="button" className="bv-toggle" onClick={() => showBracket(index < 0)}>
      {index < 0 ? 'Show the bracket' : 'Show the lid'}
    </button>
  );
  if (index < 0)
    return (
      <Frame name="front" tools={toggle}>
        <DrawnView plane="front" host={host} />
      </Frame>
    );
  return (
    <Frame
      name="front"
      title="Bracket"
      tools={
        <>
          <FaceChoice face={face} />
          {toggle}
        </>
      }
    >
      <BracketView index={index} face={face} />
    </Frame>
  );
}

/** The sheet: side view with the top view below and the view from behind beside it (first angle), and the lid in space. */
export function SheetViews({ host }: { host: Host }): React.JSX.Element {
  const filled = useBench((s) => s.filled);
  useEffect(() => bench.subscribe(askPaint), []);
  useEffect(() => survey.subscribe(askPaint), []);
  useEffect(() => relationDesk.subscribe(askPaint), []);
  useEffect(() => {
    // a file let go beside the views must not take the page's place: it is taken as if it fell on the side view
    const over = (e: DragEvent): void => e.preventDefault();
    const drop = (e: DragEvent): void => {
      if (e.defaultPrevented) return;
      e.preventDefault();
      if (e.dataTransfer) dropOn(null, e.dataTransfer.files);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('drop', drop);
    };
  }, []);
  useEffect(() => {
    // the sheet's own keys, when nothing else has the focus
    const key = (e: KeyboardEvent): void => {
      const target = e.target as HTMLElement;
      if (/^(INPUT|SELECT|TEXTAREA)$/.test(target.tagName)) return;
      if (e.key === '[' || e.key === ']') setAngle(bench.getState().angleDeg + (e.key === ']' ? 1 : -1));
    };
    window.addEventListener('keydown', key);
    return () => window.removeEventListener('keydown', key);
  }, []);
  return (
    <div className={filled ? 'sheet filled' : 'sheet'}>
      <Frame name="side">
        <DrawnView plane="side" host={host} />
      </Frame>
      <FrontFrame host={host} />
      <Frame name="top">
        <DrawnView plane="top" host={host} />
      </Frame>
      <Frame name="space">
        <SpaceView />
      </Frame>
    </div>
  );
}
