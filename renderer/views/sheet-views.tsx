import { useEffect } from 'react';
import type { Host } from '../host/host';
import { layPhoto, startFromPhoto } from '../state/photo-actions';
import { relationStore } from '../state/relations';
import type { Plane } from '../state/planes';
import { toggleFilled } from '../state/session';
import { type ViewName, bench, setAngle } from '../state/store';
import { useBench } from '../state/use-bench';
import { openDropped } from '../state/files';
import { placesStore } from '../state/places';
import { proof } from '../state/proof';
import { survey } from '../state/survey';
import { worksMap } from '../state/works-map';
import { zoneTool } from '../state/zone-tool';
import { isTable, takeDroppedTable } from '../state/tables';
import { zoomView } from './fit';
import { askPaint } from './frame';
import { DrawnView } from './sheet/drawn-view';
import { PROJECTIONS } from './sheet/projection';
import { SpaceView } from './space-view';

/** A dropped file: a job is opened, a table taken in, a picture goes under the view it fell on. */
function dropOn(plane: Plane | null, files: FileList): void {
  const file = files[0];
  if (!file) return;
  if (/\.(lidjob|json)$/i.test(file.name)) void openDropped(file);
  else if (isTable(file)) takeDroppedTable(file);
  else if (bench.getState().wizard) void startFromPhoto(file);
  else void layPhoto(file, plane ?? 'side');
}

const TITLES: Record<ViewName, string> = {
  side: PROJECTIONS.side.title,
  top: PROJECTIONS.top.title,
  front: PROJECTIONS.front.title,
  space: 'In space',
};

/** A step of the zoom buttons. */
const STEP = 1.25;

const Zoom = ({ plane, title }: { plane: Plane; title: string }): React.JSX.Element => (
  <span className="segment">
    <button type="button" aria-label={`${title}: zoom out`} onClick={() => zoomView(plane, 1 / STEP)}>
      −
    </button>
    <button type="button" aria-label={`${title}: zoom in`} onClick={() => zoomView(plane, STEP)}>
      +
    </button>
  </span>
);

function Frame({ name, children }: { name: ViewName; children: React.ReactNode }): React.JSX.Element {
  const title = TITLES[name];
  const filled = useBench((s) => s.filled);
  const toggle = (): void => toggleFilled(name);
  if (filled !== null && filled !== name) return <></>;
  return (
    <section className={`view view-${name}`} aria-label={`${title} view`}>
      <header onDoubleClick={toggle}>
        <span>{title}</span>
        <div>
          {name !== 'space' && <Zoom plane={name} title={title} />}
          <button
            type="button"
            onClick={toggle}
            title={filled === name ? 'Show all four views again' : 'Let this view fill the sheet'}
          >
            {filled === name ? 'All views' : 'Enlarge'}
          </button>
        </div>
      </header>
      {children}
    </section>
  );
}

/** The lid in space by itself. */
export const OneSpace = (): React.JSX.Element => (
  <section className="view view-space" aria-label={`${TITLES.space} view`}>
    <header>
      <span>{TITLES.space}</span>
    </header>
    <SpaceView />
  </section>
);

/** One drawn view by itself, as large as there is room. */
export function OneView({ name, host }: { name: Plane; host: Host }): React.JSX.Element {
  return (
    <section className={`view view-${name}`} aria-label={`${TITLES[name]} view`}>
      <header>
        <span>{TITLES[name]}</span>
        <Zoom plane={name} title={TITLES[name]} />
      </header>
      <DrawnView plane={name} host={host} onFiles={(files) => dropOn(name, files)} />
    </section>
  );
}

/** What holds whatever the middle shows: its paint, files let go beside a view, and the keys of the travel. */
export function useMiddle(): void {
  useEffect(() => bench.subscribe(askPaint), []);
  useEffect(() => survey.subscribe(askPaint), []);
  useEffect(() => relationStore.subscribe(askPaint), []);
  useEffect(() => placesStore.subscribe(askPaint), []);
  useEffect(() => worksMap.subscribe(askPaint), []);
  useEffect(() => zoneTool.subscribe(askPaint), []);
  useEffect(() => proof.subscribe(askPaint), []);
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
}

/** The sheet: side view with the top view below and the view from behind beside it (first angle), and the lid in space. */
export function SheetViews({ host }: { host: Host }): React.JSX.Element {
  const filled = useBench((s) => s.filled);
  return (
    <div className={filled ? 'sheet filled' : 'sheet'}>
      <Frame name="side">
        <DrawnView plane="side" host={host} onFiles={(files) => dropOn('side', files)} />
      </Frame>
      <Frame name="front">
        <DrawnView plane="front" host={host} onFiles={(files) => dropOn('front', files)} />
      </Frame>
      <Frame name="top">
        <DrawnView plane="top" host={host} onFiles={(files) => dropOn('top', files)} />
      </Frame>
      <Frame name="space">
        <SpaceView />
      </Frame>
    </div>
  );
}
