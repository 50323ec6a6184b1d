import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { drawingFont } from '../../../core/drawing';

const folder = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));

/** A file of the font package, by its path within it. */
export const fontFile = (path: string): Uint8Array => new Uint8Array(readFileSync(join(folder, path)));
/** The drawing font's file. */
export const fontBytes = fontFile(drawingFont.file);
