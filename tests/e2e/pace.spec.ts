// Measured, not judged: from a pointer move to the end of the frame that painted it, over a scripted drag.
import { mkdirSync, writeFileSync } from 'node:fs';
import { expect, test } from './support/bench';
import { inRepo } from './support/paths';

interface Paced {
  pace: number[];
}

test('pointer move to paint over a drag', async ({ bench }) => {
  const { page } = bench;
  await bench.setAngle(30);
  await page.evaluate(() => {
    const pace: number[] = ((window as unknown as Paced).pace = []);
    // Heard after the view's own handler, so that this frame callback runs after the one that works out and paints.
    window.addEventListener('pointermove', (e) => {
      if (e.buttons === 0) return;
      requestAnimationFrame(() => pace.push(performance.now() - e.timeStamp));
    });
  });
  const from = await bench.pointPx('side', 's1-lid');
  await page.mouse.move(...from);
  await page.mouse.down();
  for (let i = 1; i <= 150; i++)
    await page.mouse.move(from[0] + 24 * Math.sin(i / 12), from[1] + 16 * (1 - Math.cos(i / 9)));
  await page.mouse.up();
  const times = (await page.evaluate(() => (window as unknown as Paced).pace)).sort((a, b) => a - b);
  const at = (share: number): number => Number(times[Math.floor(share * (times.length - 1))]!.toFixed(2));
  const pace = { what: 'pointer move to paint, ms', moves: times.length, median: at(0.5), p95: at(0.95) };
  console.log(`pointer move to paint: median ${pace.median} ms, 95th percentile ${pace.p95} ms, ${pace.moves} moves`);
  mkdirSync(inRepo('test-results'), { recursive: true });
  writeFileSync(inRepo('test-results/pace.json'), `${JSON.stringify(pace, null, 2)}\n`);
  expect(pace.moves).toBeGreaterThan(20);
  for (const ms of [pace.median, pace.p95]) expect(Number.isFinite(ms) && ms > 0).toBe(true);
});
