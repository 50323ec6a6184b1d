import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { useMountTool } from '../../state/mount-tool';
import { useZoneTool } from '../../state/zone-tool';
import { useBench } from '../../state/use-bench';
import { clickPaper } from './grips';
import { ARROWS } from './point-keys';
import type { View } from './view';

// Placing a mark without a mouse: a cross-hair that arrow keys move and Enter sets, and a magnifier of what lies under it or
// under a finger.

type Px = readonly [x: number, y: number];

/** How much the magnifier enlarges, and its size, px. */
const TIMES = 3;
const ACROSS = 132;

/** Whether a click on the paper of this view places a mark. */
export function useMarking({ plane }: View): boolean {
  const ofPhoto = useBench((s) =>
    s.wizard
      ? plane === 'side'
      : s.tool !== null && s.resolved.photos.some((p) => p.id === s.tool?.photoId && p.view === plane),
  );
  const ofZone = useZoneTool((draft) => draft !== null && (draft.plane ?? plane) === plane);
  return useMountTool((wanted) => wanted !== null) || ofPhoto || ofZone;
}

/** What the view shows about a place, enlarged. */
function enlarge(canvas: HTMLCanvasElement, { stage, look }: View, [x, y]: Px): void {
  const pen = canvas.getContext('2d');
  if (!pen || !stage) return;
  const dense = globalThis.devicePixelRatio || 1;
  canvas.width = canvas.height = ACROSS * dense;
  pen.fillStyle = look.palette.paper;
  pen.fillRect(0, 0, canvas.width, canvas.height);
  const part = ACROSS / TIMES;
  for (const layer of stage.getLayers()) {
    const from = layer.getNativeCanvasElement();
    if (from.style.visibility === 'hidden' || from.width === 0) continue;
    const ratio = from.width / Math.max(1, look.size.width);
    const source = [(x - part / 2) * ratio, (y - part / 2) * ratio, part * ratio, part * ratio] as const;
    pen.drawImage(from, ...source, 0, 0, canvas.width, canvas.height);
  }
}

/** Magnifies the place of a mark that is being placed; it stands in the corner away from it. */
function Magnifier({ view, at }: { view: View; at: Px }): React.JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => enlarge(canvas.current!, view, at));
  // what is drawn anew under it shows in it, too
  useEffect(
    () => view.follow(() => requestAnimationFrame(() => canvas.current && enlarge(canvas.current, view, at))),
    [view, at],
  );
  const left = at[0] > ACROSS + 40 || at[1] > ACROSS + 40;
  return (
    <div className={left ? 'magnifier' : 'magnifier right'} aria-hidden="true">
      <canvas ref={canvas} />
    </div>
  );
}

/** The cross-hair and magnifier of a view in which a click would place a mark. */
export function Aim({ view }: { view: View }): React.JSX.Element {
  const [finger, setFinger] = useState<Px | null>(null);
  const [cross, setCross] = useState<Px | null>(null);
  const [focused, setFocused] = useState(false);
  useEffect(() => view.onAim(setFinger), [view]);
  const { width, height } = view.look.size;
  const at = cross ?? [Math.round(width / 2), Math.round(height / 2)];
  const move = (e: React.KeyboardEvent): void => {
    const way = ARROWS[e.key];
    if (!way && e.key !== 'Enter') return;
    e.preventDefault();
    e.stopPropagation();
    if (!way) return clickPaper(view, at[0], at[1]);
    const step = e.shiftKey ? 50 : e.altKey ? 1 : 10;
    const within = (v: number, most: number): number => Math.min(Math.max(v, 0), most);
    setCross([within(at[0] + way[0] * step, width), within(at[1] - way[1] * step, height)]);
  };
  const shown = finger ?? (focused ? at : null);
  return (
    <>
      <button
        type="button"
        className="cross-hair"
        style={{ transform: `translate(${at[0] - 16}px, ${at[1] - 16}px)` }}
        aria-label="Cross-hair: arrow keys move it 10 pixels, with Shift 50, with Alt 1; Enter sets the mark there"
        onFocus={() => setFocused(true)}
        onBlur={() => setFocused(false)}
        onKeyDown={move}
      />
      {shown && <Magnifier view={view} at={shown} />}
    </>
  );
}
