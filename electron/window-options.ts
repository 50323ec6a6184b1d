import type { BrowserWindowConstructorOptions } from 'electron';

/** The one window's options: a page in a sandbox that knows nothing of Node. */
export function windowOptions({
  preload,
  devTools = false,
}: {
  preload: string;
  devTools?: boolean;
}): BrowserWindowConstructorOptions {
  return {
    title: 'Lidwright',
    width: 1440,
    height: 900,
    minWidth: 900,
    minHeight: 600,
    backgroundColor: '#f4efe4',
    show: false, // until the first paint: no white flash
    webPreferences: {
      preload,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false, // it would fetch dictionaries from elsewhere
      devTools,
    },
  };
}
