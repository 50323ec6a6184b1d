// The page's only way out of its sandbox: the Host's members, each a message of its own. Types only from elsewhere.
import { contextBridge, ipcRenderer } from 'electron';
import type { Bridge, Outcome } from '../renderer/host/bridge';
import type { HostCommand, OpenedJob } from '../renderer/host/interface';
import { channelOf, type Ask } from './channels';

function ask<T>(name: Ask, ...args: unknown[]): Promise<Outcome<T>> {
  return ipcRenderer.invoke(channelOf(name), ...args).catch((error: unknown) => ({
    ok: false,
    issue: {
      what: error instanceof Error ? error.message : String(error),
      where: [],
      advice: 'Save your work as a new file and start Lidwright again.',
    },
  }));
}

let isUnsaved = (): boolean => false;
ipcRenderer.on(channelOf('askClose'), (_event, question: number) => {
  let unsaved = true; // a page that fails to answer is asked about, not closed
  try {
    unsaved = isUnsaved() === true;
  } finally {
    void ask('closeAnswer', question, unsaved);
  }
});

const bridge: Bridge = {
  kind: 'desktop',
  canWriteInPlace: true,
  openJob: () => ask('openJob'),
  recent: () => ask('recent'),
  openRecent: (token) => ask('openRecent', token),
  saveJob: (token, name, bytes, over) => ask('saveJob', token, name, bytes, over),
  saveJobAs: (name, bytes) => ask('saveJobAs', name, bytes),
  presentDigest: (token) => ask('presentDigest', token),
  exportFile: (name, bytes, mime) => ask('exportFile', name, bytes, mime),
  readAsset: (name) => ask('readAsset', name),
  readBeside: (token, name) => ask('readBeside', token, name),
  missingPictures: (names) => ask('missingPictures', names),
  putDraft: (draft, pictures) => ask('putDraft', draft, pictures),
  listDrafts: () => ask('listDrafts'),
  draftPicture: (name) => ask('draftPicture', name),
  dropDraft: (id) => ask('dropDraft', id),
  onAskClose: (question) => {
    isUnsaved = question;
  },
  onOpenAsked: (take) => {
    ipcRenderer.on(channelOf('openAsked'), (_event, job: OpenedJob) => take(job));
    void ask('listening');
  },
  onCommand: (run) => {
    ipcRenderer.on(channelOf('command'), (_event, command: HostCommand) => run(command));
  },
};

contextBridge.exposeInMainWorld('lidwright', bridge);
