import { pauseAfter, timeFrame } from '../state/felt';
import { type ViewName, bench } from '../state/store';

/** The pointer rests when no pass was asked for so long, ms. */
const REST_MS = 110;
/** A frame that what trails makes longer than this is felt under the pointer, ms: few machines without a graphics card do it in less. */
const FELT_MS = 6;

/** One drawing pass a frame: whoever draws registers here with its view, whoever changes something asks for a pass. */
const painters = new Map<() => void, ViewName>();
/** What may come after the pointer in a drag: when it was last drawn, and what the frame that showed it took, ms. */
const trailing = new Map<() => void, { at: number; tookMs: number }>();
let asked = 0;
let rest: ReturnType<typeof setTimeout> | undefined;

export function addPainter(view: ViewName, paint: () => void): () => void {
  painters.set(paint, view);
  return () => painters.delete(paint);
}

/** Draws in every pass too, but in a drag these take turns, one a frame; all of them are drawn when the pointer rests. */
export function addTrailingPainter(paint: () => void): () => void {
  trailing.set(paint, { at: 0, tookMs: 0 });
  return () => trailing.delete(paint);
}

const paintViews = (wanted: (view: ViewName) => boolean): void => {
  for (const [paint, view] of painters) if (wanted(view)) paint();
};

function paintTrailing(): void {
  clearTimeout(rest);
  const now = performance.now();
  const [due] = [...trailing]
    .filter(([, { at, tookMs }]) => tookMs < FELT_MS || now - at >= pauseAfter(tookMs))
    .sort(([, a], [, b]) => a.at - b.at);
  if (due) paintTimed(...due, now);
  rest = setTimeout(() => [...trailing.keys()].forEach((paint) => paint()), REST_MS);
}

/** Draws what trails, and notes how long it and the frame that shows it take. */
function paintTimed(paint: () => void, drawn: { at: number; tookMs: number }, now: number): void {
  // asked for before what is drawn asks for its own, so that it runs first in that frame
  timeFrame((ms) => (drawn.tookMs = ms));
  drawn.at = now;
  paint();
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
