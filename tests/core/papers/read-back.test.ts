import { describe, expect, it } from 'vitest';
import { dimensionLabel, explode, type Sheet, textWidthMm, writeSvg } from '../../../core/drawing';
import { writePdf } from '../../../core/drawing/pdf';
import { sampleDrawings } from '../../../core/papers/examples';
import { fontBytes } from '../drawing/font';
import { haveTool, pageSizeMm, rasterOf, svgAsPdf, textOf, wordsOf } from './readers';

const poppler = haveTool('pdftotext');
const rsvg = haveTool('rsvg-convert');
const names = Object.keys(sampleDrawings);
const pdfOf = (sheet: Sheet) => writePdf([sheet], { fontBytes, date: '2026-11-25' });

describe('drawings read back by other programs', () => {
  it.skipIf(!poppler).each(names)('pdftotext finds every figure and every title field: %s', async (name) => {
    const sheet = sampleDrawings[name]!();
    const pdf = await pdfOf(sheet);
    const plain = textOf(pdf).replace(/\s+/g, ' ');
    const words = wordsOf(pdf).map((w) => w.text);
    for (const part of sheet.parts)
      for (const mark of part.marks)
        if (mark.kind === 'dimension')
          for (const word of dimensionLabel(mark).split(' ')) expect(words).toContain(word);
        else if (mark.kind === 'text') expect(plain).toContain(mark.text);
  });

  it.skipIf(!poppler).each(names)('texts stand where the SVG puts them: %s', async (name) => {
    const sheet = sampleDrawings[name]!();
    const words = wordsOf(await pdfOf(sheet));
    // The SVG's own figures, not the sheet's.
    const level = [
      ...writeSvg(sheet).matchAll(
        /<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"(?: text-anchor="(\w+)")? fill="#000" stroke="none">(.*?)<\/text>/g,
      ),
    ];
    expect(level.length).toBeGreaterThan(30);
    for (const [, x, y, size, anchor, raw] of level) {
      const text = raw!
        .replace(/&lt;/g, '<')
        .replace(/&quot;/g, '"')
        .replace(/&amp;/g, '&');
      const width = textWidthMm(text, (Number(size) * 1493) / 2048);
      const left = Number(x) - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
      const first = text.split(' ')[0]!;
      const hit = words.some(
        (w) =>
          w.text === first &&
          Math.abs(w.left - left) < 0.1 &&
          w.top < Number(y) &&
          w.bottom > Number(y) - 0.1 &&
          Math.abs(w.bottom - Number(y)) < Number(size) * 0.35,
      );
      expect(hit, `"${text}" at ${left.toFixed(2)}, ${y}`).toBe(true);
    }
  });

  it.skipIf(!poppler || !rsvg).each(names)('lines lie where the SVG puts them: %s', async (name) => {
    const full = sampleDrawings[name]!();
    // Lettering is left out: its shapes hang on the fonts installed here.
    const sheet: Sheet = {
      ...full,
      parts: full.parts.map((p) => ({ ...p, marks: explode(p.marks).filter((m) => m.kind !== 'text') })),
    };
    const a = rasterOf(await pdfOf(sheet), 150);
    const b = rasterOf(svgAsPdf(writeSvg(sheet)), 150);
    expect(Math.abs(a.width - b.width) + Math.abs(a.height - b.height)).toBeLessThanOrEqual(2);
    let ink = 0;
    let lonely = 0;
    for (const [one, other] of [
      [a, b],
      [b, a],
    ] as const)
      for (let y = 0; y < one.height; y++)
        for (let x = 0; x < one.width; x++) {
          if (!one.dark(x, y)) continue;
          ink++;
          let met = false;
          for (let dy = -1; dy <= 1 && !met; dy++)
            for (let dx = -1; dx <= 1 && !met; dx++) met = other.dark(x + dx, y + dy);
          if (!met) lonely++;
        }
    expect(ink).toBeGreaterThan(10_000);
    // Within one dot (0.17 mm), but for the odd dot where a thin line falls between two.
    expect(lonely / ink).toBeLessThan(1e-3);
  });

  it.skipIf(!poppler).each(names)('the checking bar measures 100 mm: %s', async (name) => {
    const sheet = sampleDrawings[name]!();
    const dpi = 300;
    const raster = rasterOf(await pdfOf(sheet), dpi);
    const bar = sheet.parts.find((p) => p.name === 'checking-bar')!.marks[0]!;
    if (bar.kind !== 'line') throw new Error('the bar is no line');
    const y = Math.round(((sheet.heightMm - bar.from[1]) / 25.4) * dpi);
    const middle = Math.round(((bar.from[0] + 50.3) / 25.4) * dpi);
    let [left, right] = [middle, middle];
    while (raster.dark(left - 1, y)) left--;
    while (raster.dark(right + 1, y)) right++;
    expect(Math.abs(((right - left + 1) / dpi) * 25.4 - 100)).toBeLessThan(0.3);
  });

  it.skipIf(!poppler).each(names)('pdfinfo sees the exact page: %s', async (name) => {
    const sheet = sampleDrawings[name]!();
    const [w, h] = pageSizeMm(await pdfOf(sheet));
    expect(Math.abs(w - sheet.widthMm)).toBeLessThan(0.01);
    expect(Math.abs(h - sheet.heightMm)).toBeLessThan(0.01);
  });
});
