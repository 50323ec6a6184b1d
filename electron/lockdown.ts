// What no page in this program may do, whatever it is.
import type { App, Session, WebContents } from 'electron';
import { isOurs } from './scheme';

/** Addresses that the page may load: its own, and what it made itself. */
export function mayLoad(url: string): boolean {
  return isOurs(url) || url.startsWith('data:') || url.startsWith('blob:') || url.startsWith('devtools://devtools/');
}

/** No navigation, no new windows, no web views, for this page. */
export function lockContents(contents: WebContents): void {
  contents.on('will-navigate', (event, url) => {
    if (!isOurs(url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** The one thing our own page may: put a text on the clipboard when a copy button was pressed. Reading it is refused. */
const mayAsk = (permission: string, url: string): boolean => permission === 'clipboard-sanitized-write' && isOurs(url);

/** No other permissions, no devices, no downloads behind the page's back, no requests to anywhere else, for this session. */
export function lockSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, answer, details) =>
    answer(mayAsk(permission, details.requestingUrl)),
  );
  session.setPermissionCheckHandler((_contents, permission, origin) => mayAsk(permission, origin));
  // files are written by main alone, where the person said
  session.on('will-download', (event) => event.preventDefault());
  session.setDevicePermissionHandler(() => false);
  session.webRequest.onBeforeRequest((details, answer) => answer({ cancel: !mayLoad(details.url) }));
}

/** Locks every page from the moment it exists. */
export function lockEveryPage(app: App): void {
  app.on('web-contents-created', (_event, contents) => lockContents(contents));
}
