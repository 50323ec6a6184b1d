import { fail } from '../../core/error';

/**
 * Throws a LidwrightError when a job's place no longer holds what it is thought to: changes of somebody else are not
 * overwritten unasked. What can't be read any more counts as changed; what has gone does not.
 * @param over digest of what the place is thought to hold; null: not known
 * @param present digest of what it holds now; null: nothing
 */
export async function checkUnchanged(
  name: string,
  over: string | null,
  present: () => Promise<string | null>,
): Promise<void> {
  if (over === null) return;
  const now = await present().catch(() => 'unreadable');
  if (now !== null && now !== over)
    fail(
      `"${name}" was changed by another program since you opened it, so it was not overwritten.`,
      [],
      'Use "Save as" with another name; or with the same name, if yours is the right one.',
    );
}
