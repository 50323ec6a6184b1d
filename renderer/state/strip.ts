// How the travel strip stands: open or folded in each stage, and how high. It lives in the browser, beside every job.
import { createStore } from 'zustand/vanilla';
import { useStore } from 'zustand';
import type { Stage } from './store';

/** Heights of the open strip's chart, px. */
export const STRIP_PX = { least: 120, most: 420, usual: 220 } as const;
/** Stages that open with the chart: where the travel is what is looked at, and the window has the height for both. */
const OPENS: readonly Stage[] = ['strut', 'prove'];
const HIGH_PX = 800;
const KEY = 'lidwright.strip';

interface Strip {
  readonly open: Partial<Record<Stage, boolean>>;
  readonly chartPx: number;
}

const within = (px: number): number => Math.min(Math.max(Math.round(px), STRIP_PX.least), STRIP_PX.most);

function kept(): Strip {
  try {
    const { open, chartPx } = JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<Strip>;
    return { open: open ?? {}, chartPx: within(Number(chartPx) || STRIP_PX.usual) };
  } catch {
    return { open: {}, chartPx: STRIP_PX.usual };
  }
}

const strip = createStore<Strip>(kept);

function put(change: Partial<Strip>): void {
  strip.setState(change);
  try {
    localStorage.setItem(KEY, JSON.stringify(strip.getState()));
  } catch {
    // a browser that keeps nothing: it lasts as long as the page
  }
}

export const useStripPx = (): number => useStore(strip, (s) => s.chartPx);
export const useStripOpen = (stage: Stage): boolean =>
  useStore(strip, (s) => s.open[stage] ?? (OPENS.includes(stage) && innerHeight >= HIGH_PX));
export const openStrip = (stage: Stage, open: boolean): void =>
  put({ open: { ...strip.getState().open, [stage]: open } });
export const sizeStrip = (px: number): void => put({ chartPx: within(px) });
