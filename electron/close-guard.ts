// Asks the page about unsaved work before the window closes.
import type { BrowserWindow, MessageBoxOptions } from 'electron';
import { channelOf } from './channels';

const ANSWER_WITHIN_MS = 3_000;

type CloseChoice = 'close' | 'stay';

/** What the person is asked; the first button is the safe one. */
export function closeQuestion(page: 'unsaved' | 'silent'): MessageBoxOptions {
  return {
    type: 'warning',
    title: 'Lidwright',
    message: page === 'unsaved' ? 'This job has changes that are not saved.' : 'The page does not answer.',
    detail:
      page === 'unsaved'
        ? 'Close the window without saving them?'
        : 'It may be busy. Close the window all the same? What was kept aside is offered at the next start.',
    buttons: ['Keep working', page === 'unsaved' ? 'Close without saving' : 'Close all the same'],
    defaultId: 0,
    cancelId: 0,
    noLink: true,
  };
}

/**
 * Stops the window from closing until the page says that nothing is unsaved or the person says so.
 * @param ask shows a question and gives the pressed button's index
 * @returns what to call with the page's answers
 */
export function guardClose(
  win: BrowserWindow,
  ask: (question: MessageBoxOptions) => Promise<number>,
  waitMs = ANSWER_WITHIN_MS,
): { answer(question: number, unsaved: boolean): void } {
  let question = 0;
  let asking = false;
  let waiting: ((page: 'saved' | 'unsaved' | 'silent') => void) | null = null;

  const pageSays = (): Promise<'saved' | 'unsaved' | 'silent'> =>
    new Promise((resolve) => {
      const timer = setTimeout(() => resolve('silent'), waitMs);
      waiting = (page) => {
        clearTimeout(timer);
        resolve(page);
      };
      question += 1;
      win.webContents.send(channelOf('askClose'), question);
    });

  const decide = async (): Promise<CloseChoice> => {
    const page = await pageSays();
    waiting = null;
    if (page === 'saved') return 'close';
    return (await ask(closeQuestion(page))) === 1 ? 'close' : 'stay';
  };

  win.on('close', (event) => {
    event.preventDefault();
    if (asking) return;
    asking = true;
    void decide()
      .then((choice) => {
        if (choice === 'close') win.destroy();
      })
      .finally(() => (asking = false));
  });

  return {
    answer(number, unsaved) {
      if (number === question) waiting?.(unsaved ? 'unsaved' : 'saved');
    },
  };
}
