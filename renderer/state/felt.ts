// How often in a drag something may be shown that does not follow the pointer itself.

/** Of so many ms of a drag one at most goes into frames that show it, but for one in LATEST_MS: one that was long by chance is no reason to stop. */
const RARELY = 30;
const LATEST_MS = 600;

/** How long to wait after showing what made a frame take so long, ms. */
export const pauseAfter = (tookMs: number): number => Math.min(RARELY * tookMs, LATEST_MS);

/** Says how long the next frame takes, ms, from the first that runs in it until it is handed on. To be asked before what it shows is changed. */
export function timeFrame(say: (ms: number) => void): void {
  requestAnimationFrame(() => {
    const begun = performance.now();
    const handedOn = new MessageChannel();
    handedOn.port1.onmessage = () => {
      say(performance.now() - begun);
      handedOn.port1.close();
    };
    handedOn.port2.postMessage(null);
  });
}
