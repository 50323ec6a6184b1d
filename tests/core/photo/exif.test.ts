import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { focalFromExif, readExif, uprightSize } from '../../../core/photo';
import { filePath } from '../../support/files';
import { expectClose, within } from '../../support/close';
import { random } from './random';

type Entry = readonly [tag: number, type: 3 | 4 | 5, value: number | readonly [number, number]];

/** A JPEG of nothing but its notes: markers as ITU-T T.81 B.1.1, block as TIFF 6.0. */
function jpeg(
  order: 'II' | 'MM',
  main: readonly Entry[],
  exif: readonly Entry[],
  before: readonly number[] = [],
): Uint8Array {
  const little = order === 'II';
  const tiff = new DataView(new ArrayBuffer(512));
  tiff.setUint16(0, little ? 0x4949 : 0x4d4d);
  tiff.setUint16(2, 42, little);
  tiff.setUint32(4, 8, little);
  let free = 300;
  const block = (at: number, entries: readonly Entry[]): void => {
    tiff.setUint16(at, entries.length, little);
    entries.forEach(([tag, type, value], i) => {
      const e = at + 2 + 12 * i;
      tiff.setUint16(e, tag, little);
      tiff.setUint16(e + 2, type, little);
      tiff.setUint32(e + 4, 1, little);
      if (typeof value !== 'number') {
        tiff.setUint32(e + 8, free, little);
        tiff.setUint32(free, value[0], little);
        tiff.setUint32(free + 4, value[1], little);
        free += 8;
      } else if (type === 3) tiff.setUint16(e + 8, value, little);
      else tiff.setUint32(e + 8, value, little);
    });
  };
  block(8, exif.length > 0 ? [...main, [0x8769, 4, 150]] : main);
  if (exif.length > 0) block(150, exif);
  const body = [0x45, 0x78, 0x69, 0x66, 0, 0, ...new Uint8Array(tiff.buffer)];
  const length = body.length + 2;
  return Uint8Array.from([0xff, 0xd8, ...before, 0xff, 0xe1, length >> 8, length & 255, ...body, 0xff, 0xda, 0, 2]);
}

const exif: Entry[] = [
  [0x920a, 5, [577, 100]],
  [0xa002, 4, 4032],
  [0xa20e, 5, [717000, 1000]],
  [0xa210, 3, 3],
  [0xa405, 3, 26],
];

describe('notes of a photo', () => {
  it.each(['II', 'MM'] as const)('are read in both byte orders (%s), after another block', (order) => {
    const notes = readExif(jpeg(order, [[0x0112, 3, 6]], exif, [0xff, 0xe0, 0, 6, 1, 2, 3, 4]));
    expect(notes).toEqual({
      orientation: 6,
      focal35Mm: 26,
      focalMm: 5.77,
      pxPerSensorMm: 71.7,
      takenWidthPx: 4032,
    });
  });
  it('say nothing where they are silent: null, not a guess', () => {
    expect(readExif(jpeg('II', [[0x0112, 3, 1]], []))).toEqual({
      orientation: 1,
      focal35Mm: null,
      focalMm: null,
      pxPerSensorMm: null,
      takenWidthPx: null,
    });
    expect(readExif(jpeg('MM', [[0x0112, 3, 9]], [[0xa405, 3, 0]]))).toMatchObject({
      orientation: null,
      focal35Mm: null,
    });
  });
  it('are null for a JPEG without any, another file, and no file', () => {
    expect(readExif(readFileSync(filePath('tests/fixtures/photos/locker-side.jpg')))).toBeNull();
    expect(readExif(Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]))).toBeNull();
    expect(readExif(new Uint8Array(0))).toBeNull();
  });
  it('never throw, however broken: cut at every length, 2000 random bytes changed', () => {
    const whole = jpeg('II', [[0x0112, 3, 6]], exif);
    for (let n = 0; n < whole.length; n++) expect(() => readExif(whole.slice(0, n))).not.toThrow();
    const rng = random(8);
    for (let i = 0; i < 2000; i++) {
      const broken = whole.slice();
      for (let k = 0; k < 4; k++) broken[Math.floor(rng.uniform() * broken.length)] = Math.floor(rng.uniform() * 256);
      expect(() => readExif(broken)).not.toThrow();
    }
  });
});

describe('focal length in pixels', () => {
  const notes = readExif(jpeg('II', [], exif));
  it('from the 35 mm equivalent by the diagonal: 26 mm on 4032 × 3024 is 3029 px', () => {
    const guess = focalFromExif(notes, 4032, 3024)!;
    // 26 / √(36² + 24²) × 5040
    expectClose(guess.focalPx, 3028.69, within(0.05, 'px'));
    expect(guess.from).toBe('35 mm equivalent');
    expect(guess.sigmaPx / guess.focalPx).toBeGreaterThan(0.03);
  });
  it('the same upright or on its side, in proportion when scaled down', () => {
    const full = focalFromExif(notes, 4032, 3024)!.focalPx;
    expectClose(focalFromExif(notes, 3024, 4032)!.focalPx, full, within(1e-9, 'px'));
    expectClose(focalFromExif(notes, 1008, 756)!.focalPx, full / 4, within(1e-9, 'px'));
  });
  it('from the sensor’s resolution otherwise, and null when nothing is known', () => {
    const bare = { ...notes!, focal35Mm: null };
    const guess = focalFromExif(bare, 2016, 1512)!;
    expectClose(guess.focalPx, (5.77 * 71.7) / 2, within(1e-9, 'px'));
    expect(guess.from).toBe('sensor resolution');
    expect(focalFromExif({ ...bare, focalMm: null }, 4032, 3024)).toBeNull();
    expect(focalFromExif(null, 4032, 3024)).toBeNull();
  });
  it('turned pictures swap their sides', () => {
    expect(uprightSize(8, 4000, 3000)).toEqual([3000, 4000]);
    expect(uprightSize(3, 4000, 3000)).toEqual([4000, 3000]);
    expect(uprightSize(null, 4000, 3000)).toEqual([4000, 3000]);
  });
});
