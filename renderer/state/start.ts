// The start page: what is seen while there is no job, or a new one is begun.
import type { LidSizes } from '../../core/start';
import { ask, starting } from '../workers';
import { openMade } from './files';
import { bench, notify } from './store';
import { enterTyped, heldWords } from './unentered';

/** Shows the start page; the job that was open stays, and nothing of it is seen there. */
export function showStart(): void {
  const field = enterTyped();
  if (field) return notify(heldWords('Not left', field), 'bad');
  bench.setState({ startPage: true, tool: null, wizard: null, filled: null });
}

/** Back to the job that was open. */
export const leaveStart = (): void => bench.setState({ startPage: false });

/** Makes a job from sizes and opens it in place of the present one. False: it was not made, and why is said. */
export async function startFromSizes(sizes: LidSizes): Promise<boolean> {
  try {
    const job = await ask(starting, sizes, { latestWins: 'start' });
    return await openMade(job, `${job.title}.lidjob`);
  } catch (error) {
    notify(error instanceof Error ? error.message : String(error), 'bad');
    return false;
  }
}
