// Drafts in the program's folder against a plain model: random keeping, dropping, starting anew, and machines that stop dead
// in the middle of a write.
import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Drafts, draftFolder } from '../../electron/autosave';
import { clearTemporary } from '../../electron/files';
import { KEPT_STATES } from '../../renderer/host/interface';
import { runs } from '../support/tier';
import { crashingFs } from './crashing-fs';
import { temporaryFolder } from './temporary';

const picture = (n: number): readonly [string, Uint8Array] => {
  const bytes = new TextEncoder().encode(`picture ${n}`);
  return [`${createHash('sha256').update(bytes).digest('hex')}.jpg`, bytes];
};
type Stored = Parameters<Drafts['put']>[0];

const id = fc.constantFrom('a', 'b', 'c-1');
const pictures = fc.uniqueArray(fc.integer({ min: 0, max: 3 }), { maxLength: 3 });
const act = fc.oneof(
  { weight: 5, arbitrary: fc.record({ what: fc.constant('put' as const), id, pictures }) },
  { weight: 2, arbitrary: fc.record({ what: fc.constant('crash' as const), id, pictures, at: fc.nat({ max: 25 }) }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('drop' as const), id }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('start' as const) }) },
);

it('drafts are what a plain list says they are, whole, with their pictures, through crashes and new starts', async () => {
  let crashes = 0;
  await fc.assert(
    fc.asyncProperty(fc.array(act, { maxLength: 25 }), async (acts) => {
      const folder = temporaryFolder();
      const start = async (): Promise<Drafts> => {
        await clearTemporary(folder);
        await clearTemporary(path.join(folder, 'pictures'));
        return draftFolder(folder, (words) => expect(words, 'no draft is torn').toBe(''));
      };
      let drafts = await start();
      let whenMs = 0;
      let kept: Stored[] = [];
      const newest = (all: readonly Stored[]): Stored[] =>
        [...all]
          .sort((a, b) => b.whenMs - a.whenMs)
          .filter((d, i, list) => list.slice(0, i).filter((e) => e.id === d.id).length < KEPT_STATES);
      const put = async (to: Drafts, of: string, which: readonly number[]): Promise<Stored> => {
        const pairs = which.map(picture);
        whenMs++;
        const names = pairs.map(([name]) => name);
        const draft: Stored = { id: of, name: `${of}.lidjob`, text: `state ${whenMs}`, pictures: names, whenMs, path: null, digest: null }; // prettier-ignore
        const missing = await to.missing(names);
        await to.put(draft, pairs.filter(([name]) => missing.includes(name))); // prettier-ignore
        return draft;
      };
      for (const one of acts) {
        if (one.what === 'put') kept = newest([...kept, await put(drafts, one.id, one.pictures)]);
        else if (one.what === 'drop') {
          await drafts.drop(one.id);
          kept = kept.filter((d) => d.id !== one.id);
        } else if (one.what === 'start') drafts = await start();
        else {
          const before = whenMs;
          const dying = draftFolder(folder, undefined, crashingFs(one.at).fs);
          const made = await put(dying, one.id, one.pictures).catch(() => null);
          crashes += made ? 0 : 1;
          drafts = await start();
          // what was being written is there whole, or not at all
          const there = made ?? (await drafts.list()).find((d) => d.whenMs === before + 1);
          if (there) {
            expect(there).toMatchObject({ text: `state ${before + 1}`, id: one.id });
            kept = newest([...kept, there]);
          }
          // older states that were still to be taken away may have stayed: they go with the next write
          const extra = (await drafts.list()).filter((d) => !kept.some((k) => k.whenMs === d.whenMs));
          expect(extra.every((d) => d.id === one.id && d.whenMs <= before)).toBe(true);
          if (extra.length > 0) kept = newest([...kept, await put(drafts, one.id, one.pictures)]);
        }
        const list = await drafts.list();
        expect(list.map(({ id: of, text }) => [of, text])).toEqual(kept.map(({ id: of, text }) => [of, text]));
        for (const name of new Set(list.flatMap((d) => d.pictures))) {
          const bytes = await drafts.picture(name);
          expect(bytes && `${createHash('sha256').update(bytes).digest('hex')}.jpg`).toBe(name);
        }
      }
      expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
    }),
    { numRuns: runs(1000, 25) },
  );
  expect(crashes).toBeGreaterThan(0);
});
