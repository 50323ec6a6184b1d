import type { BrowserWindow, MessageBoxOptions } from 'electron';
import { describe, expect, it, vi } from 'vitest';
import { closeQuestion, guardClose } from '../../electron/close-guard';

/** A window that a test can close, and a person who presses a button. */
function scene(pressed: number) {
  const questions: MessageBoxOptions[] = [];
  const sent: unknown[][] = [];
  let onClose = (_event: { preventDefault(): void }): void => undefined;
  const win = {
    on: (_name: string, listener: typeof onClose) => (onClose = listener),
    destroy: vi.fn(),
    webContents: { send: (...args: unknown[]) => sent.push(args) },
  };
  const guard = guardClose(
    win as unknown as BrowserWindow,
    async (question) => {
      questions.push(question);
      return pressed;
    },
    30,
  );
  const close = (): boolean => {
    const event = { preventDefault: vi.fn() };
    onClose(event);
    return event.preventDefault.mock.calls.length > 0;
  };
  const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 60));
  return { win, guard, close, questions, sent, settle };
}

describe('closing the window', () => {
  it('closes at once when nothing is unsaved', async () => {
    const { win, guard, close, questions, settle } = scene(0);
    expect(close()).toBe(true);
    guard.answer(1, false);
    await settle();
    expect(questions).toEqual([]);
    expect(win.destroy).toHaveBeenCalledOnce();
  });

  it('asks when something is, and stays if told so', async () => {
    const { win, guard, close, questions, settle } = scene(0);
    close();
    guard.answer(1, true);
    await settle();
    expect(questions[0]?.message).toMatch(/not saved/);
    expect(win.destroy).not.toHaveBeenCalled();
  });

  it('closes without saving only when the person says so', async () => {
    const { win, guard, close, settle } = scene(1);
    close();
    guard.answer(1, true);
    await settle();
    expect(win.destroy).toHaveBeenCalledOnce();
  });

  it('a page that does not answer is asked about', async () => {
    const { win, close, questions, settle } = scene(1);
    close();
    await settle();
    expect(questions[0]?.message).toMatch(/does not answer/);
    expect(win.destroy).toHaveBeenCalledOnce();
  });

  it('asks one question at a time, and takes no answer to an old one', async () => {
    const { win, guard, close, sent, settle } = scene(0);
    close();
    close();
    expect(sent).toHaveLength(1);
    guard.answer(1, true);
    await settle();
    close();
    expect(sent.at(-1)).toEqual(['lidwright:askClose', 2]);
    guard.answer(1, false);
    expect(win.destroy).not.toHaveBeenCalled();
    guard.answer(2, false);
    await settle();
    expect(win.destroy).toHaveBeenCalledOnce();
  });

  it('the safe button is the one that Enter and Esc press', () => {
    for (const page of ['unsaved', 'silent'] as const)
      expect(closeQuestion(page)).toMatchObject({
        defaultId: 0,
        cancelId: 0,
        buttons: ['Keep working', expect.any(String)],
      });
  });
});
