// The one door for pictures: what a job holds inside passes the same guard as what is dropped on the page.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobPhoto } from '../../../core/job';
import { decodePicture } from '../../../renderer/photo/decode';
import { type PhotoImage, onPhotoLoaded, photoImage } from '../../../renderer/photo/images';
import { preparePhoto } from '../../../renderer/photo/prepare';

const be32 = (n: number): number[] => [n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255];
/** The head of a PNG (PNG specification 11.2.2); nothing of its picture follows. */
const png = (widthPx: number, heightPx: number): Uint8Array<ArrayBuffer> =>
  Uint8Array.from([
    ...Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    ...be32(13),
    ...Buffer.from('IHDR'),
    ...be32(widthPx),
    ...be32(heightPx),
    ...[8, 6, 0, 0, 0],
  ]);
const blob = (bytes: Uint8Array<ArrayBuffer>): Blob => new Blob([bytes]);

class FakeBitmap {
  closed = false;
  constructor(
    readonly width: number,
    readonly height: number,
  ) {}
  close(): void {
    this.closed = true;
  }
}
interface Resize {
  readonly resizeWidth?: number;
  readonly resizeHeight?: number;
}

/** Pictures being decoded at one time, at most; and how many were begun. */
let [now, most, begun] = [0, 0, 0];
let bitmaps: FakeBitmap[] = [];

beforeEach(() => {
  [now, most, begun] = [0, 0, 0];
  bitmaps = [];
  vi.stubGlobal('createImageBitmap', async (from: Blob | FakeBitmap, { resizeWidth, resizeHeight }: Resize = {}) => {
    most = Math.max(most, ++now);
    if (from instanceof Blob) begun++;
    let size = [resizeWidth ?? 0, resizeHeight ?? 0];
    if (from instanceof Blob) {
      const head = Buffer.from(await from.arrayBuffer());
      size = [head.readUInt32BE(16), head.readUInt32BE(20)];
    }
    await new Promise((done) => setTimeout(done, 1));
    now--;
    const made = new FakeBitmap(size[0]!, size[1]!);
    bitmaps.push(made);
    return made;
  });
});
afterEach(() => vi.unstubAllGlobals());

let photos = 0;
const inside = (bytes: Uint8Array): JobPhoto =>
  ({
    id: `p${++photos}`,
    view: 'side',
    source: { inside: `data:image/png;base64,${Buffer.from(bytes).toString('base64')}` },
    widthPx: 4000,
    heightPx: 4000,
    anchorPx: [0, 0],
    anchorMm: [0, 0],
  }) as JobPhoto;
async function loaded(photo: JobPhoto): Promise<PhotoImage> {
  const ask = (): PhotoImage => photoImage(photo, {} as never, null);
  if (ask().state === 'loading')
    await new Promise<void>((done) => {
      const off = onPhotoLoaded(() => {
        if (ask().state === 'loading') return;
        off();
        done();
      });
    });
  return ask();
}

describe('a photo inside a job', () => {
  it('is told by its size and not decoded when it is larger than can be opened', async () => {
    const why = /megapixels, more than can be opened \(120\): it is 30000 × 30000\. Scale it down/;
    expect(await loaded(inside(png(30_000, 30_000)))).toEqual({ state: 'missing', why: expect.stringMatching(why) });
    expect(begun).toBe(0);
  });

  it('meets the same words as a dropped one', async () => {
    const dropped = new File([png(30_000, 30_000)], 'wall.png');
    await expect(preparePhoto(dropped, () => undefined)).rejects.toThrow(/900 megapixels, more than/);
    expect(begun).toBe(0);
  });

  it('is kept at 4000 px at most, and what it was made from is let go', async () => {
    const got = await loaded(inside(png(10_000, 9_000)));
    expect(got).toMatchObject({ state: 'ready', image: { width: 4000, height: 3600 } });
    expect(bitmaps.map((b) => b.closed)).toEqual([true, false]);
  });

  it('that is no picture at all is said so', async () => {
    const text = Uint8Array.from(Buffer.from('<svg onload="alert(1)"/>'));
    expect(await loaded(inside(text))).toMatchObject({ state: 'missing', why: expect.stringMatching(/not a JPEG/) });
    expect(begun).toBe(0);
  });
});

describe('the door', () => {
  it('lets one picture be decoded at a time, and goes on after one that fails', async () => {
    const tries = [png(100, 80), png(0, 80), png(120, 80), png(140, 80)].map((b) => decodePicture('it', blob(b)));
    const ends = await Promise.allSettled(tries);
    expect(ends.map((end) => end.status)).toEqual(['fulfilled', 'rejected', 'fulfilled', 'fulfilled']);
    expect(most).toBe(1);
  });

  it('holds 400 megapixels together at most, says so, and tries again when others rest', async () => {
    const clock = vi.spyOn(performance, 'now').mockReturnValue(1e6);
    const big = Array.from({ length: 26 }, () => inside(png(4000, 4000)));
    const got = [];
    for (const photo of big) got.push(await loaded(photo));
    const ready = got.filter((each) => each.state === 'ready');
    expect(ready.length * 16).toBeLessThanOrEqual(400);
    expect(ready.length).toBeGreaterThan(22);
    const refused = big[25]!;
    expect(await loaded(refused)).toMatchObject({
      state: 'missing',
      why: expect.stringMatching(/megapixels, and this/),
    });
    clock.mockReturnValue(1e6 + 61_000);
    expect(await loaded(refused)).toMatchObject({ state: 'ready' });
    clock.mockRestore();
  });
});
