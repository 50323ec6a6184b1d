// The one entry of all that is worked out beside the page. Its first message says which part it is to be, so that core is
// shipped once, in pieces that the parts share, and not once for each of them.
const PARTS = {
  aside: () => import('./aside.worker'),
  choose: () => import('./choose.worker'),
  find: () => import('./find.worker'),
  map: () => import('./map.worker'),
  prove: () => import('./prove.worker'),
  relation: () => import('./relation.worker'),
  start: () => import('./start.worker'),
  study: () => import('./study.worker'),
  survey: () => import('./survey.worker'),
  table: () => import('./table.worker'),
  warp: () => import('./warp.worker'),
};
export type Part = keyof typeof PARTS;

/** What is asked before the part is there to hear it. */
const early: unknown[] = [];

function hear({ data }: MessageEvent<object>): void {
  if (!('part' in data)) return void early.push(data);
  PARTS[data.part as Part]().then(
    () => {
      self.removeEventListener('message', hear);
      for (const question of early) self.dispatchEvent(new MessageEvent('message', { data: question }));
    },
    // thrown here it ends the worker, and the page hears that it stopped
    (error: unknown) => setTimeout(() => reportError(error)),
  );
}
self.addEventListener('message', hear);
