import { bench } from '../state/store';

/** Where a machine is slow, what trails follows a drag this far apart, ms. */
const CALM_MS = 110;
/** Passes further apart than this tell such a machine, ms. */
const SLOW_FRAME_MS = 22;

/** One drawing pass a frame: whoever draws registers here, whoever changes something asks for a pass. */
const painters = new Set<() => void>();
/** What may come after the pointer in a drag, with the time it was last drawn. */
const trailing = new Map<() => void, number>();
let asked = 0;
let lastPass = 0;
let rest: ReturnType<typeof setTimeout> | undefined;

export function addPainter(paint: () => void): () => void {
  painters.add(paint);
  return () => painters.delete(paint);
}

/**
 * Draws in every pass too, but in a drag these take turns, one a frame, so that the views under the pointer come first; all
 * of them are brought up to date as soon as the pointer rests.
 */
export function addTrailingPainter(paint: () => void): () => void {
  trailing.set(paint, 0);
  return () => trailing.delete(paint);
}

function paintTrailing(): void {
  clearTimeout(rest);
  const now = performance.now();
  const slow = now - lastPass > SLOW_FRAME_MS;
  lastPass = now;
  const dragged = bench.getState().drag !== null;
  if (!dragged) {
    for (const paint of trailing.keys()) paint();
    return;
  }
  const [due] = [...trailing].sort((a, b) => a[1] - b[1]);
  if (due && (!slow || now - due[1] >= CALM_MS)) {
    trailing.set(due[0], now);
    due[0]();
  }
  rest = setTimeout(() => [...trailing.keys()].forEach((paint) => paint()), CALM_MS);
}

/** Draws now: for the end of a drag step, which already runs inside a frame. */
export function paintNow(): void {
  if (asked !== 0) cancelAnimationFrame(asked);
  asked = 0;
  for (const paint of painters) paint();
  paintTrailing();
}

/** Draws in the next frame; asking twice draws once. */
export function askPaint(): void {
  if (asked === 0) asked = requestAnimationFrame(() => ((asked = 0), paintNow()));
}
