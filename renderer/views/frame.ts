/** One drawing pass a frame: whoever draws registers here, whoever changes something asks for a pass. */
const painters = new Set<() => void>();
let asked = 0;

export function addPainter(paint: () => void): () => void {
  painters.add(paint);
  return () => painters.delete(paint);
}

/** Draws now: for the end of a drag step, which already runs inside a frame. */
export function paintNow(): void {
  if (asked !== 0) cancelAnimationFrame(asked);
  asked = 0;
  for (const paint of painters) paint();
}

/** Draws in the next frame; asking twice draws once. */
export function askPaint(): void {
  if (asked === 0) asked = requestAnimationFrame(() => ((asked = 0), paintNow()));
}
