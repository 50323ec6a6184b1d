// An Electron that notes what main does with it, in order.
type Listener = (...args: never[]) => unknown;

export interface FakeElectron {
  log: string[];
  appEvents: Map<string, Listener>;
  contentsEvents: Map<string, Listener>;
  handled: Map<string, Listener>;
  schemes: { scheme: string; privileges: Record<string, boolean> }[];
  windows: { options: { webPreferences: Record<string, unknown> }; loaded: string[] }[];
  windowOpen: (() => { action: string }) | null;
  permissionRequest:
    | ((
        contents: unknown,
        permission: string,
        answer: (yes: boolean) => void,
        details: { requestingUrl: string },
      ) => void)
    | null;
  permissionCheck: ((contents: unknown, permission: string, origin: string) => boolean) | null;
  sessionEvents: Map<string, Listener>;
  deviceCheck: (() => boolean) | null;
  beforeRequest: ((details: { url: string }, answer: (verdict: { cancel: boolean }) => void) => void) | null;
  module: Record<string, unknown>;
}

/** @param userData where the program's own files go */
export function fakeElectron(userData: string): FakeElectron {
  const fake: FakeElectron = {
    log: [],
    appEvents: new Map(),
    contentsEvents: new Map(),
    handled: new Map(),
    schemes: [],
    windows: [],
    windowOpen: null,
    permissionRequest: null,
    permissionCheck: null,
    sessionEvents: new Map(),
    deviceCheck: null,
    beforeRequest: null,
    module: {},
  };

  const contents = {
    id: 1,
    on: (name: string, listener: Listener) => fake.contentsEvents.set(name, listener),
    setWindowOpenHandler: (handler: () => { action: string }) => (fake.windowOpen = handler),
    send: () => undefined,
  };

  class BrowserWindow {
    webContents = contents;
    private readonly loaded: string[] = [];
    constructor(options: { webPreferences: Record<string, unknown> }) {
      fake.log.push('window');
      fake.windows.push({ options, loaded: this.loaded });
      fake.appEvents.get('web-contents-created')?.({} as never, contents as never);
    }
    on(): void {}
    once(): void {}
    async loadURL(url: string): Promise<void> {
      fake.log.push('load');
      this.loaded.push(url);
    }
  }

  fake.module = {
    BrowserWindow,
    app: {
      isPackaged: true,
      enableSandbox: () => fake.log.push('sandbox'),
      requestSingleInstanceLock: () => fake.log.push('single'),
      on: (name: string, listener: Listener) => fake.appEvents.set(name, listener),
      whenReady: async () => void fake.log.push('ready'),
      getPath: () => userData,
      quit: () => fake.log.push('quit'),
    },
    protocol: {
      registerSchemesAsPrivileged: (schemes: FakeElectron['schemes']) => {
        fake.log.push('privileges');
        fake.schemes.push(...schemes);
      },
      handle: () => fake.log.push('scheme'),
    },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (handler: FakeElectron['permissionRequest']) => (fake.permissionRequest = handler),
        on: (name: string, listener: Listener) => fake.sessionEvents.set(name, listener),
        setPermissionCheckHandler: (handler: FakeElectron['permissionCheck']) => (fake.permissionCheck = handler),
        setDevicePermissionHandler: (handler: () => boolean) => (fake.deviceCheck = handler),
        webRequest: {
          onBeforeRequest: (handler: FakeElectron['beforeRequest']) => {
            fake.log.push('session locked');
            fake.beforeRequest = handler;
          },
        },
      },
    },
    ipcMain: { handle: (channel: string, listener: Listener) => fake.handled.set(channel, listener) },
    Menu: { buildFromTemplate: (template: unknown) => template, setApplicationMenu: () => fake.log.push('menu') },
    dialog: {},
  };
  return fake;
}
