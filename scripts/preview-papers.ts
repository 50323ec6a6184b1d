// Writes the sample drawings to out/preview/ as SVG and PDF, to be looked at: tsx scripts/preview-papers.ts
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { drawingFont, writeSvg } from '../core/drawing';
import { writePdf } from '../core/drawing/pdf';
import { sampleDrawings } from '../core/papers/examples';

const out = join(import.meta.dirname, '../out/preview');
const fonts = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
const fontBytes = new Uint8Array(readFileSync(join(fonts, drawingFont.file)));
mkdirSync(out, { recursive: true });
for (const [name, draw] of Object.entries(sampleDrawings)) {
  const sheet = draw();
  writeFileSync(join(out, `${name}.svg`), writeSvg(sheet, { fontBytes }));
  writeFileSync(join(out, `${name}.pdf`), await writePdf([sheet], { fontBytes, date: '2026-11-25' }));
  console.log(`${name}: ${sheet.widthMm} × ${sheet.heightMm} mm`);
}
