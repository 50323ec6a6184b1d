import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** True when a program can be run here; says so aloud when it cannot, so that a skipped check is seen. */
export function haveTool(name: string): boolean {
  try {
    execFileSync(name, [name === 'rsvg-convert' ? '--version' : '-v'], { stdio: 'ignore' });
    return true;
  } catch {
    console.warn(
      `SKIPPED: ${name} is not installed (poppler-utils, librsvg2-bin), so drawings are not read back by it.`,
    );
    return false;
  }
}

/** Runs `use` in a folder of its own that is gone afterwards. */
export function inFolder<T>(use: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'lidwright-'));
  try {
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const run = (tool: string, args: string[]): string => execFileSync(tool, args, { encoding: 'utf8', maxBuffer: 1e8 });

/** Page width and height by pdfinfo, mm. */
export function pageSizeMm(pdf: Uint8Array): [number, number] {
  return inFolder((folder) => {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    const [, w, h] = /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(run('pdfinfo', [join(folder, 'a.pdf')]))!;
    return [(Number(w) * 25.4) / 72, (Number(h) * 25.4) / 72];
  });
}

/** Words on the page by pdftotext, boxes in mm from the upper left. */
export function wordsOf(pdf: Uint8Array): { text: string; left: number; top: number; right: number; bottom: number }[] {
  return inFolder((folder) => {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    const html = run('pdftotext', ['-bbox', join(folder, 'a.pdf'), '-']);
    const mm = (s: string | undefined) => (Number(s) * 25.4) / 72;
    return [
      ...html.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)<\/word>/g),
    ].map((m) => ({
      text: m[5]!
        .replace(/&lt;/g, '<')
        .replace(/&quot;/g, '"')
        .replace(/&apos;|&#39;/g, "'")
        .replace(/&amp;/g, '&'),
      left: mm(m[1]),
      top: mm(m[2]),
      right: mm(m[3]),
      bottom: mm(m[4]),
    }));
  });
}

/** The page's plain text by pdftotext. */
export const textOf = (pdf: Uint8Array): string =>
  inFolder((folder) => {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    return run('pdftotext', ['-layout', join(folder, 'a.pdf'), '-']);
  });

/** A grey picture of the page. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly dark: (x: number, y: number) => boolean;
}

/** The page by pdftoppm at a resolution (dots per inch). */
export function rasterOf(pdf: Uint8Array, dpi: number): Raster {
  return inFolder((folder) => {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    run('pdftoppm', ['-gray', '-r', String(dpi), '-singlefile', join(folder, 'a.pdf'), join(folder, 'a')]);
    const bytes = readFileSync(join(folder, 'a.pgm'));
    const [head, w, h] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'))!;
    const [width, height] = [Number(w), Number(h)];
    const start = head.length;
    return {
      width,
      height,
      dark: (x, y) => x >= 0 && y >= 0 && x < width && y < height && bytes[start + y * width + x]! < 128,
    };
  });
}

/** An SVG turned into a PDF by rsvg-convert: a second reader of the same drawing. */
export const svgAsPdf = (svg: string): Uint8Array =>
  inFolder((folder) => {
    writeFileSync(join(folder, 'a.svg'), svg);
    run('rsvg-convert', ['-f', 'pdf', '-o', join(folder, 'a.pdf'), join(folder, 'a.svg')]);
    return new Uint8Array(readFileSync(join(folder, 'a.pdf')));
  });
