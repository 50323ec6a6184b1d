// The door to the host: its types, and the one function that finds which host this page runs in.
import { hostFromBridge, type Bridge } from './bridge';
import { browserHost } from './browser-host';
import type { Host } from './interface';

export * from './interface';
export { digestOf, fileBytes } from './browser-host';

declare global {
  interface Window {
    /** Put there by Electron's preload; absent in a browser. */
    readonly lidwright?: Bridge;
  }
}

/** The desktop host where the preload has left one, else the browser. */
export function pickHost(win: Window = window): Host {
  return win.lidwright ? hostFromBridge(win.lidwright) : browserHost(win);
}
