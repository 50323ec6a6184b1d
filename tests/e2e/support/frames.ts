import type { Page } from '@playwright/test';

interface Counted {
  frameCount?: number | undefined;
}

/** Counts the frames that come until stopped. */
export async function countFrames(page: Page): Promise<{ stop(): Promise<number> }> {
  await page.evaluate(() => {
    const counted = window as Counted;
    counted.frameCount = 0;
    const tick = (): void => {
      if (counted.frameCount === undefined) return;
      counted.frameCount++;
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  });
  return {
    stop: () =>
      page.evaluate(() => {
        const { frameCount } = window as Counted;
        (window as Counted).frameCount = undefined;
        return frameCount ?? 0;
      }),
  };
}
