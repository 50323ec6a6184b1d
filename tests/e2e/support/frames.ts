import type { Page } from '@playwright/test';

export interface FrameGaps {
  readonly count: number;
  readonly medianMs: number;
  readonly p95Ms: number;
  readonly maxMs: number;
}

interface Watched {
  frameTimesMs?: number[] | undefined;
}

/** Notes when frames come, until stopped; gives the times between them. */
export async function watchFrames(page: Page): Promise<{ stop(): Promise<FrameGaps> }> {
  await page.evaluate(() => {
    const times: number[] = ((window as Watched).frameTimesMs = []);
    const tick = (): void => {
      if ((window as Watched).frameTimesMs !== times) return;
      times.push(performance.now());
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  });
  return {
    async stop() {
      const times = await page.evaluate(() => {
        const seen = (window as Watched).frameTimesMs ?? [];
        (window as Watched).frameTimesMs = undefined;
        return seen;
      });
      const gaps = times
        .slice(1)
        .map((t, i) => t - times[i]!)
        .sort((a, b) => a - b);
      const at = (share: number): number => gaps[Math.min(gaps.length - 1, Math.floor(share * gaps.length))] ?? 0;
      return { count: gaps.length, medianMs: at(0.5), p95Ms: at(0.95), maxMs: at(1) };
    },
  };
}
