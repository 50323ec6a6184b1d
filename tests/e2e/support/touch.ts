// Fingers on the page, as the browser gets them from a touch screen.
import type { Page } from '@playwright/test';
import type { At } from './sheet-map';

/** Puts fingers down, slides them straight to where they are lifted in a few steps; `midway` runs before they are lifted. */
export async function slide(
  page: Page,
  fingers: readonly (readonly [from: At, to: At])[],
  midway: () => Promise<void> = () => Promise.resolve(),
): Promise<void> {
  const touch = await page.context().newCDPSession(page);
  const send = (
    type: 'touchStart' | 'touchMove' | 'touchEnd',
    share: number,
    down = fingers.length,
  ): Promise<unknown> =>
    touch.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: fingers.slice(0, down).map(([from, to], id) => ({
        id,
        x: from[0] + share * (to[0] - from[0]),
        y: from[1] + share * (to[1] - from[1]),
      })),
    });
  for (let k = 1; k <= fingers.length; k++) await send('touchStart', 0, k);
  for (let k = 1; k <= 5; k++) await send('touchMove', k / 5);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await midway();
  await send('touchEnd', 1, 0);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await touch.detach();
}
