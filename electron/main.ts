// The desktop program: a window for the page, and the only hands that touch files. Every rule it keeps stands in a
// module of its own; this is the order in which they come into force.
import path from 'node:path';
import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, session } from 'electron';
import type { HostCommand } from '../renderer/host/interface';
import { draftFolder } from './autosave';
import { channelOf, type Tell } from './channels';
import { guardClose } from './close-guard';
import { issueOf } from './errors';
import { clearTemporary, openJournal } from './files';
import { fileHandlers, type Dialogs, type FileHandlers } from './host-handlers';
import { setupIpc } from './ipc';
import { lockEveryPage, lockSession } from './lockdown';
import { menuTemplate } from './menu';
import { Places } from './places';
import { recentList } from './recent';
import { PRIVILEGES, serveScheme, START_URL } from './scheme';
import { jobFromArguments } from './start-argument';
import { windowOptions } from './window-options';

const OUT = path.resolve(import.meta.dirname, '..');
const PAGE = path.join(OUT, 'renderer');
const PRELOAD = path.join(OUT, 'preload/preload.cjs');

let win: BrowserWindow | null = null;
let guard: ReturnType<typeof guardClose> | null = null;
let files: FileHandlers | null = null;
let pageListens = false;
let askedJob = jobFromArguments(process.argv, app.isPackaged, process.cwd());

const tell = (name: Tell, value: unknown): void => win?.webContents.send(channelOf(name), value);

function setupProcess(): void {
  app.enableSandbox();
  protocol.registerSchemesAsPrivileged([PRIVILEGES]);
  lockEveryPage(app);
  app.on('window-all-closed', () => app.quit());
}

function setupSingleInstance(): boolean {
  if (!app.requestSingleInstanceLock()) return false;
  app.on('second-instance', (_event, argv, cwd) => {
    if (win?.isMinimized()) win.restore();
    win?.focus();
    handOver(jobFromArguments(argv, app.isPackaged, cwd));
  });
  app.on('open-file', (event, file) => {
    event.preventDefault();
    handOver(file);
  });
  return true;
}

/** Gives the page a job that was asked for from outside, now or as soon as it listens. */
function handOver(file: string | null): void {
  if (file === null) return;
  askedJob = file;
  if (!pageListens || files === null) return;
  askedJob = null;
  files
    .openPath(file)
    .then((job) => tell('openAsked', job))
    .catch((error: unknown) => {
      const { what, advice } = issueOf(error);
      void showMessage({ type: 'error', title: 'Lidwright', message: what, detail: advice });
    });
}

const showMessage = async (question: Electron.MessageBoxOptions): Promise<number> =>
  (await (win ? dialog.showMessageBox(win, question) : dialog.showMessageBox(question))).response;

const dialogs: Dialogs = {
  async askOpen(filters) {
    const options: Electron.OpenDialogOptions = { title: 'Open a job', properties: ['openFile'], filters };
    const { canceled, filePaths } = await (win ? dialog.showOpenDialog(win, options) : dialog.showOpenDialog(options));
    return canceled ? null : (filePaths[0] ?? null);
  },
  async askSave(suggested, filters) {
    const options: Electron.SaveDialogOptions = {
      title: 'Save',
      defaultPath: suggested,
      filters,
      properties: ['createDirectory', 'showOverwriteConfirmation'],
    };
    const { canceled, filePath } = await (win ? dialog.showSaveDialog(win, options) : dialog.showSaveDialog(options));
    return canceled || filePath === '' ? null : filePath;
  },
  askReplace: async (name) =>
    (await showMessage({
      type: 'warning',
      title: 'Lidwright',
      message: `"${name}" is there already.`,
      detail: 'Replace it?',
      buttons: ['Choose another name', 'Replace'],
      defaultId: 0,
      cancelId: 0,
      noLink: true,
    })) === 1,
};

async function setupFiles(): Promise<FileHandlers> {
  const own = app.getPath('userData');
  for (const folder of ['drafts', 'drafts/pictures']) await clearTemporary(path.join(own, folder));
  return fileHandlers({
    dialogs,
    journal: await openJournal(path.join(own, 'unfinished.txt')),
    places: new Places(),
    recent: recentList(path.join(own, 'recent.json')),
    drafts: draftFolder(path.join(own, 'drafts')),
    assets: PAGE,
    home: app.getPath('home'),
    now: Date.now,
  });
}

function setupMessages(handlers: FileHandlers): void {
  setupIpc(
    ipcMain,
    {
      ...handlers,
      listening: () => {
        pageListens = true;
        handOver(askedJob);
      },
      closeAnswer: (question, unsaved) => guard?.answer(question, unsaved),
    },
    () => win?.webContents.id ?? null,
  );
}

function setupMenu(): void {
  const send = (command: HostCommand): void => tell('command', command);
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(send, { mac: process.platform === 'darwin' })));
}

function setupWindow(): void {
  const opened = new BrowserWindow(
    windowOptions({ preload: PRELOAD, devTools: process.env['LIDWRIGHT_DEVTOOLS'] === '1' }),
  );
  win = opened;
  guard = guardClose(opened, showMessage);
  opened.once('ready-to-show', () => opened.show());
  opened.on('closed', () => (win = null));
  opened.webContents.on('did-start-navigation', ({ isMainFrame, isSameDocument }) => {
    if (isMainFrame && !isSameDocument) pageListens = false;
  });
  opened.webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit') return;
    void showMessage({
      type: 'error',
      title: 'Lidwright',
      message: `The page stopped (${reason}).`,
      detail: 'It is loaded again now; the work that was kept aside is offered there.',
    }).then(() => win?.reload());
  });
  void opened.loadURL(START_URL);
}

setupProcess();
if (!setupSingleInstance()) app.quit();
else
  void app.whenReady().then(async () => {
    lockSession(session.defaultSession);
    serveScheme(protocol, PAGE);
    files = await setupFiles();
    setupMessages(files);
    setupMenu();
    setupWindow();
  });
