import fontkit, { type Font } from '@cantoo/fontkit';
import { describe, expect, it } from 'vitest';
import { lettersOn, subsetFont } from '../../../core/drawing/font-subset';
import { sampleDrawings } from '../../../core/papers/examples';
import { fontBytes } from './font';

const read = (bytes: Uint8Array): Font => fontkit.create(bytes) as Font;
const whole = read(fontBytes);

describe('the letters of a sheet as a font', () => {
  const sheet = sampleDrawings['bracket-hatch-a4-first']!();
  const letters = lettersOn(sheet);
  const file = subsetFont(fontBytes, letters);

  it('has each letter as wide and with the same outline as the whole font, read back from its own file', () => {
    expect(letters.length).toBeGreaterThan(40);
    const own = read(file);
    for (const letter of letters) {
      const code = letter.codePointAt(0)!;
      expect(own.hasGlyphForCodePoint(code), letter).toBe(true);
      const [a, b] = [own.glyphForCodePoint(code)!, whole.glyphForCodePoint(code)!];
      expect(a.advanceWidth).toBe(b.advanceWidth);
      expect(a.path.toSVG()).toBe(b.path.toSVG());
    }
    expect(own.hasGlyphForCodePoint('Ω'.codePointAt(0)!)).toBe(false);
  });

  it('is small, and the same bytes each time', () => {
    expect(file.length).toBeLessThan(20_000);
    expect(Buffer.from(subsetFont(fontBytes, letters)).equals(Buffer.from(file))).toBe(true);
  });
});
