// Headers written by hand from the formats' own papers: ITU-T T.81 B.2.2 (JPEG), PNG specification 11.2.2, RFC 9649 (WebP).
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openableSize, pictureSize } from '../../../core/photo';
import { fixturePath, jpegSize } from '../examples/example';
import { runs } from '../../support/tier';

const bytes = (...parts: (number[] | string)[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((p) => (typeof p === 'string' ? [...p].map((c) => c.charCodeAt(0)) : p)));
const be32 = (n: number): number[] => [n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255];
const be16 = (n: number): number[] => [n >> 8, n & 255];
const le16 = (n: number): number[] => [n & 255, n >> 8];

const png = (w: number, h: number): Uint8Array =>
  bytes([0x89], 'PNG', [13, 10, 26, 10], be32(13), 'IHDR', be32(w), be32(h), [8, 6, 0, 0, 0]);
const jpeg = (w: number, h: number, frame: number): Uint8Array =>
  bytes(
    [0xff, 0xd8, 0xff, 0xe0, 0, 16],
    'JFIF',
    new Array<number>(10).fill(0),
    [0xff, 0xff, 0xc4, 0, 4, 9, 9], // a fill byte, then a table whose marker lies among the frames'
    [0xff, frame, 0, 17, 8],
    be16(h),
    be16(w),
    new Array<number>(12).fill(3),
  );

describe('pictureSize', () => {
  it('reads PNG, also sizes that no machine could hold', () => {
    expect(pictureSize(png(640, 481))).toEqual({ format: 'png', widthPx: 640, heightPx: 481 });
    expect(pictureSize(png(20_000, 10_000))).toEqual({ format: 'png', widthPx: 20_000, heightPx: 10_000 });
    expect(pictureSize(png(0xffffffff, 1))!.widthPx).toBe(0xffffffff);
  });

  it('reads JPEG in every kind of frame, past tables and fill bytes', () => {
    for (const frame of [0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc9, 0xca, 0xcf])
      expect(pictureSize(jpeg(1234, 567, frame))).toEqual({ format: 'jpeg', widthPx: 1234, heightPx: 567 });
    const file = fixturePath('locker-side.jpg');
    expect(pictureSize(new Uint8Array(readFileSync(file)))).toEqual({ format: 'jpeg', ...jpegSize(file) });
  });

  it('reads the three kinds of WebP', () => {
    const riff = (chunk: string, ...body: number[][]): Uint8Array =>
      bytes('RIFF', [0, 0, 0, 0], 'WEBP', chunk, ...body, new Array<number>(12).fill(0));
    const vp8x = riff('VP8X', [10, 0, 0, 0], [0, 0, 0, 0], [0x3f, 0x06, 0], [0xaf, 0x04, 0]);
    expect(pictureSize(vp8x)).toEqual({ format: 'webp', widthPx: 1600, heightPx: 1200 });
    const vp8 = riff('VP8 ', [9, 0, 0, 0], [0, 0, 0, 0x9d, 0x01, 0x2a], le16(1600), le16(1200));
    expect(pictureSize(vp8)).toEqual({ format: 'webp', widthPx: 1600, heightPx: 1200 });
    const packed = (1600 - 1) | ((1200 - 1) << 14);
    const vp8l = riff(
      'VP8L',
      [9, 0, 0, 0],
      [0x2f],
      [packed & 255, (packed >> 8) & 255, (packed >> 16) & 255, packed >>> 24],
    );
    expect(pictureSize(vp8l)).toEqual({ format: 'webp', widthPx: 1600, heightPx: 1200 });
  });

  it('says nothing of what is no picture or is cut off, and never throws', () => {
    for (const other of [bytes('milk, rope, two shackles'), bytes(), bytes('GIF89a', [1, 0, 1, 0]), bytes('RIFF')])
      expect(pictureSize(other)).toBeNull();
    const files = [png(640, 481), jpeg(1234, 567, 0xc2)];
    for (const file of files)
      for (let n = 0; n < file.length; n++) expect(() => pictureSize(file.slice(0, n))).not.toThrow();
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 400 }),
        fc.constantFrom('ffd8ff', '89504e47', '52494646'),
        (rest, head) => {
          expect(() => pictureSize(Uint8Array.from([...Buffer.from(head, 'hex'), ...rest]))).not.toThrow();
        },
      ),
      { numRuns: runs(5000) },
    );
  });

  it('is not led past the frame by markers without a length, nor by what a decoder would skip', () => {
    const decoy = [0xff, 0xc0, 0, 17, 8, ...be16(10), ...be16(10), ...new Array<number>(12).fill(3)];
    const frame = jpeg(30_000, 30_000, 0xc0);
    const after = (...inserted: number[]): Uint8Array => bytes([0xff, 0xd8], inserted, [...frame.slice(2)], decoy);
    for (const lone of [0x01, 0xd0, 0xd7])
      expect(pictureSize(after(0xff, lone)), lone.toString(16)).toMatchObject({ widthPx: 30_000 });
    for (const broken of [0x00, 0xd8, 0xd9, 0xda]) expect(pictureSize(after(0xff, broken, 0, 4, 0, 0))).toBeNull();
    expect(pictureSize(after(0xff, 0xe1, 0, 1))).toBeNull();
  });
});

describe('openableSize', () => {
  /** A JPEG whose notes run over so many bytes before its frame (APP2 segments of 64 kB, as many as it takes). */
  const withNotes = (length: number): Uint8Array => {
    const segment = Buffer.concat([Buffer.from([0xff, 0xe2, 0xff, 0xff]), Buffer.alloc(65533)]);
    const notes = Array.from({ length: Math.ceil(length / segment.length) }, () => segment);
    return Buffer.concat([Buffer.from([0xff, 0xd8]), ...notes, jpeg(4032, 3024, 0xc0).slice(2)]);
  };
  const size = async (file: Uint8Array): Promise<{ at: unknown; read: number }> => {
    let read = 0;
    const at = await openableSize('"it"', (most) => {
      read = Math.min(most, file.length);
      return Promise.resolve(file.subarray(0, most));
    });
    return { at, read };
  };

  it('reads through notes of many MB before the frame, and no more than it takes', async () => {
    for (const mb of [0, 0.4, 0.6, 3, 20]) {
      const { at, read } = await size(withNotes(mb * 1e6));
      expect(at, `${mb} MB`).toMatchObject({ widthPx: 4032, heightPx: 3024 });
      expect(read).toBeLessThanOrEqual(Math.max(512 * 1024, mb * 5e6));
    }
  });

  it('refuses before decoding: no picture, an empty one, one over 120 megapixels, with its size', async () => {
    await expect(size(bytes('two shackles'))).rejects.toThrow(/"it" is not a JPEG, PNG or WebP/);
    await expect(size(png(0, 10))).rejects.toThrow(/is not a JPEG/);
    await expect(size(new Uint8Array())).rejects.toThrow(/is not a JPEG/);
    await expect(size(png(20_000, 10_000))).rejects.toThrow(
      /200 megapixels, more than .* \(120\): it is 20000 × 10000/,
    );
    await expect(size(png(12_000, 10_000))).resolves.toBeTruthy();
  });
});
