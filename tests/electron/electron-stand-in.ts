// Stands in for 'electron' wherever a test does not bring its own: the real package would start a download when imported.
// Every member throws as soon as it is used, so that no test leans on Electron without saying so.

const unexpected = (name: string): never => {
  throw new Error(
    `electron.${name} was used by a test that did not mock it: vi.mock('electron', …) with what is needed.`,
  );
};

const refusing = (name: string): never =>
  new Proxy(function () {}, {
    get: (_target, key) => (key === 'then' ? undefined : unexpected(`${name}.${String(key)}`)),
    apply: () => unexpected(name),
    construct: () => unexpected(name),
  }) as never;

export const app = refusing('app');
export const BrowserWindow = refusing('BrowserWindow');
export const contextBridge = refusing('contextBridge');
export const dialog = refusing('dialog');
export const ipcMain = refusing('ipcMain');
export const ipcRenderer = refusing('ipcRenderer');
export const Menu = refusing('Menu');
export const net = refusing('net');
export const protocol = refusing('protocol');
export const session = refusing('session');
export const shell = refusing('shell');
