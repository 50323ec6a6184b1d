/** Runs one piece of work at a time, in order; a failing piece does not stop the next. */
export function oneAtATime(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const next = last.then(work, work);
    last = next.catch(() => undefined); // whoever asked gets the error from `next`
    return next;
  };
}

/** What `work` gives, or `late` when it takes longer than `ms`; it goes on all the same. */
export async function inTime<T>(work: Promise<T>, late: T, ms: number): Promise<T> {
  let clock: ReturnType<typeof setTimeout> | undefined;
  const patience = new Promise<T>((resolve) => (clock = setTimeout(() => resolve(late), ms)));
  return Promise.race([work, patience]).finally(() => clearTimeout(clock));
}
