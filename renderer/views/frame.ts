import { type ViewName, bench } from '../state/store';

/** Where a machine is slow, what trails follows a drag this far apart, ms. */
const CALM_MS = 110;
/** Passes further apart than this tell such a machine, ms. */
const SLOW_FRAME_MS = 22;

/** One drawing pass a frame: whoever draws registers here with its view, whoever changes something asks for a pass. */
const painters = new Map<() => void, ViewName>();
/** What may come after the pointer in a drag, with the time it was last drawn. */
const trailing = new Map<() => void, number>();
let asked = 0;
let lastPass = 0;
let rest: ReturnType<typeof setTimeout> | undefined;

export function addPainter(view: ViewName, paint: () => void): () => void {
  painters.set(paint, view);
  return () => painters.delete(paint);
}

/** Draws in every pass too, but in a drag these take turns, one a frame; all of them are drawn when the pointer rests. */
export function addTrailingPainter(paint: () => void): () => void {
  trailing.set(paint, 0);
  return () => trailing.delete(paint);
}

const paintViews = (wanted: (view: ViewName) => boolean): void => {
  for (const [paint, view] of painters) if (wanted(view)) paint();
};

function paintTrailing(): void {
  clearTimeout(rest);
  const now = performance.now();
  const slow = now - lastPass > SLOW_FRAME_MS;
  lastPass = now;
  const [due] = [...trailing].sort((a, b) => a[1] - b[1]);
  if (due && (!slow || now - due[1] >= CALM_MS)) {
    trailing.set(due[0], now);
    due[0]();
  }
  rest = setTimeout(() => [...trailing.keys()].forEach((paint) => paint()), CALM_MS);
}

const { port1, port2 } = new MessageChannel();
let later: (() => void) | null = null;
port1.onmessage = () => {
  later?.();
  later = null;
};

/** Runs when the frame under way has been handed on, or once more is asked for; the newest stands for all. */
function afterFrame(run: () => void): void {
  if (!later) port2.postMessage(null);
  later = run;
}

/**
 * Draws now: for the end of a drag step, which already runs inside a frame. In a drag the view under the pointer comes first;
 * the others, and what trails, are drawn when its frame has been handed on.
 */
export function paintNow(): void {
  if (asked !== 0) cancelAnimationFrame(asked);
  asked = 0;
  const { drag } = bench.getState();
  const first = drag && 'plane' in drag ? drag.plane : null;
  if (first === null) {
    clearTimeout(rest);
    paintViews(() => true);
    for (const paint of trailing.keys()) paint();
    return;
  }
  paintViews((view) => view === first);
  afterFrame(() => {
    paintViews((view) => view !== first);
    paintTrailing();
  });
}

/** Draws in the next frame; asking twice draws once. */
export function askPaint(): void {
  if (asked === 0) asked = requestAnimationFrame(() => ((asked = 0), paintNow()));
}
