/** Runs one piece of work at a time, in order; a failing piece does not stop the next. */
export function oneAtATime(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const next = last.then(work, work);
    last = next.catch(() => undefined); // whoever asked gets the error from `next`
    return next;
  };
}
