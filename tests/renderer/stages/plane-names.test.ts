import fc from 'fast-check';
import { expect, it } from 'vitest';
import { beside, placedNames } from '../../../renderer/stages/strut/plane-names';

const FRAME = { left: 0, top: 0, right: 400, bottom: 300 };

it('lays no name on another, and none that may go over the frame', () => {
  const name = fc.record({
    x: fc.integer({ min: 0, max: 400 }),
    y: fc.integer({ min: 0, max: 300 }),
    text: fc.stringMatching(/^[a-z]{3,20}$/),
    turned: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(name, { maxLength: 12 }), (wanted) => {
      const placed = placedNames(
        wanted.map(({ x, y, text, turned }) => ({ text, turned, className: '', places: beside(x, y, text) })),
        FRAME,
      );
      const boxes = placed.map(({ at: [x, y], text, turned }) => {
        const [w, h] = turned ? [8, text.length * 3.4] : [text.length * 3.4, 8];
        return { left: x - w, right: x + w, top: y - h, bottom: y + h };
      });
      boxes.forEach((a, i) => {
        expect(a.left >= 0 && a.right <= 400 && a.top >= 0 && a.bottom <= 300).toBe(true);
        for (const b of boxes.slice(0, i))
          expect(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).toBe(false);
      });
    }),
    { numRuns: 200 },
  );
});

it('leaves out none that must be there', () => {
  const text = 'fitted now';
  const places = beside(5, 5, text);
  const crowd = [0, 1].map(() => ({ text, places, className: '', must: true }));
  expect(placedNames(crowd, { left: 0, top: 0, right: 9, bottom: 9 })).toHaveLength(2);
});
