import type { Vec3 } from '../../core/space';
import { traceUnderlay } from '../../core/start';
import type { Plane, SheetView } from '../state/planes';
import { setSheet } from '../state/session';
import { type BenchState, bench } from '../state/store';
import { PROJECTIONS, type Size, fitSheet, zoomAt } from './sheet/projection';
import { seen } from './sheet/seen';

const sizes: Record<Plane, Size> = {
  side: { width: 0, height: 0 },
  top: { width: 0, height: 0 },
  front: { width: 0, height: 0 },
};
let wanted = false;
/** The sheet as last fitted: while nobody has moved it, it is fitted anew to views of other sizes. */
let fitted: SheetView | null = null;
const others = new Set<() => void>();

/** Something that has a view of its own to fit, when the sheet is fitted. */
export function onFit(fit: () => void): () => void {
  others.add(fit);
  return () => others.delete(fit);
}

/** Each view says how large it is; a fit that was asked for before the sizes were known is made up for. */
export function viewSized(plane: Plane, size: Size): void {
  const had = sizes[plane];
  sizes[plane] = size;
  const other = had.width !== size.width || had.height !== size.height;
  // the other views may not have their new size yet
  if (wanted || (other && size.width > 0 && bench.getState().sheet === fitted)) fitSoon();
}

/** Everything that a fit should show: the lid closed and open, pivots, masses. */
function extent(state: BenchState): Vec3[] {
  if (state.wizard) {
    const u = traceUnderlay(state.wizard);
    const { widthPx, heightPx } = state.wizard.photo;
    const [x0, x1] = [-u.anchorPx[0] * u.mmPerPx, (widthPx - u.anchorPx[0]) * u.mmPerPx];
    const [z0, z1] = [-(heightPx - u.anchorPx[1]) * u.mmPerPx, u.anchorPx[1] * u.mmPerPx];
    return [
      [x0, 0, z0],
      [x1, 0, z1],
    ];
  }
  const { scene } = seen(state);
  return [...scene.posed.values(), ...scene.outlineClosed, ...scene.outlineOpen, ...[...scene.traces.values()].flat()];
}

function tryFit(): void {
  if (!wanted) return;
  const state = bench.getState();
  const { filled } = state;
  const shown = filled && filled !== 'space' && sizes[filled].width > 0 ? onlyView(filled) : sizes;
  if (Object.values(shown).every((s) => s.width < 50)) return;
  wanted = false;
  fitted = fitSheet(extent(state), shown);
  setSheet(fitted);
  for (const fit of others) fit();
}

/** The sheet zoomed about the middle of a view. */
export function zoomView(plane: Plane, factor: number): void {
  const { width, height } = sizes[plane];
  setSheet(zoomAt(bench.getState().sheet, factor, width / 2, height / 2, PROJECTIONS[plane], sizes[plane]));
}

const none: Size = { width: 0, height: 0 };
const onlyView = (plane: Plane): Record<Plane, Size> => ({ side: none, top: none, front: none, [plane]: sizes[plane] });

function fitSoon(): void {
  wanted = true;
  // views change size after the next layout when one is filled or given back
  requestAnimationFrame(() => requestAnimationFrame(tryFit));
}

bench.subscribe((now, before) => {
  if (now.fitAsked !== before.fitAsked) fitSoon();
});
