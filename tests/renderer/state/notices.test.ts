import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Notice, withNotice } from '../../../renderer/state/notices';
import { runs } from '../../support/tier';

describe('notices', () => {
  it('lose no bad word, count what is said again, and show the newest good one last', () => {
    const word = fc.record({
      text: fc.constantFrom('a', 'b', 'c', 'd'),
      tone: fc.constantFrom<Notice['tone'][]>('word', 'bad'),
    });
    fc.assert(
      fc.property(fc.array(word, { maxLength: 30 }), (words) => {
        const all = words.reduce<readonly Notice[]>((now, { text, tone }, key) => withNotice(now, text, tone, key), []);
        const bad = words.filter(({ tone }) => tone === 'bad');
        const shown = all.filter(({ tone }) => tone === 'bad');
        expect(shown.reduce((sum, { times }) => sum + times, 0)).toBe(bad.length);
        // the last said stands last, and no tone takes the other away
        expect(shown.at(-1)?.text).toBe(bad.at(-1)?.text);
        const good = all.filter(({ tone }) => tone === 'word');
        expect(good.map(({ text }) => text)).toEqual(
          words
            .filter(({ tone }) => tone === 'word')
            .slice(-1)
            .map(({ text }) => text),
        );
        expect(all.at(-1)?.text).toBe(words.at(-1)?.text);
      }),
      { numRuns: runs(5000) },
    );
  });
});
