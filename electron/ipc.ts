// The one door for messages from the page: checks who sends, checks what is sent, and turns every failure into words.
import type { IpcMain, IpcMainInvokeEvent } from 'electron';
import type { Bridge, Outcome } from '../renderer/host/bridge';
import { ARGS, type ArgsOf } from './args';
import { ASKS, channelOf, type Ask } from './channels';
import { issueOf } from './errors';
import { isOurs } from './scheme';

type Answer<Member> = Member extends (...args: never[]) => Promise<Outcome<infer Value>> ? Promise<Value> : never;
/** What main does for each ask. */
export type Handlers = {
  [Name in Ask]: (...args: ArgsOf<Name>) => Name extends keyof Bridge ? Answer<Bridge[Name]> : unknown;
};

type Sender = Pick<IpcMainInvokeEvent, 'sender' | 'senderFrame'>;

/** True only for the top frame of our own window, showing our own page. */
export function isOurPage(event: Sender, ourContentsId: number | null): boolean {
  const frame = event.senderFrame;
  return (
    ourContentsId !== null &&
    event.sender.id === ourContentsId &&
    frame !== null &&
    frame.parent === null &&
    isOurs(frame.url)
  );
}

/**
 * Registers a handler for every ask.
 * @param ourContentsId the id of our window's page; null while there is none
 */
export function setupIpc(
  ipcMain: Pick<IpcMain, 'handle'>,
  handlers: Handlers,
  ourContentsId: () => number | null,
  log: (error: unknown) => void = console.error,
): void {
  for (const name of ASKS) {
    ipcMain.handle(channelOf(name), async (event, ...raw: unknown[]): Promise<Outcome<unknown>> => {
      if (!isOurPage(event, ourContentsId()))
        return {
          ok: false,
          issue: { what: 'This page may not ask that.', where: [], advice: 'Use the window that Lidwright opened.' },
        };
      try {
        const args = ARGS[name].parse(raw);
        const run = handlers[name] as (...args: unknown[]) => unknown;
        return { ok: true, value: await run(...args) };
      } catch (error) {
        if (!(error instanceof Error && error.name === 'LidwrightError')) log(error); // unforeseen: leave a trace
        return { ok: false, issue: issueOf(error) };
      }
    });
  }
}
