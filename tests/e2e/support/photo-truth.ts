// What a rendered photo shows, told by its known camera: nothing of the page's own code is used.
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { photoFile } from './paths';
import type { At } from './sheet-map';

type Mm = readonly [number, number, number];

export interface PhotoTruth {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly camera: { readonly K: number[][]; readonly R: number[][]; readonly t: number[]; readonly eyeMm: number[] };
  readonly points: readonly { readonly id: string; readonly atMm: Mm; readonly px: At }[];
  readonly scaleBar: { readonly lengthMm: number; readonly ends: readonly { readonly atMm: Mm; readonly px: At }[] };
  readonly underlay: {
    readonly scale: { readonly from: At; readonly to: At; readonly lengthMm: number };
    readonly rotationDeg: number;
    readonly anchorPx: At;
    readonly anchorMm: At;
  };
}

export const photoTruth = (name: string): PhotoTruth =>
  JSON.parse(readFileSync(photoFile(`${name}.truth.json`), 'utf8')) as PhotoTruth;

/** Where the camera sees a place: px = K (R X + t). */
export function seenAt({ camera: { K, R, t } }: PhotoTruth, mm: Mm): [number, number] {
  const c = R.map((row, i) => row[0]! * mm[0] + row[1]! * mm[1] + row[2]! * mm[2] + t[i]!);
  return [(K[0]![0]! * c[0]!) / c[2]! + K[0]![2]!, (K[1]![1]! * c[1]!) / c[2]! + K[1]![2]!];
}

/** Where a photo that is laid by scale, turn and anchor shows a pixel, mm along the view's axes (turn anticlockwise). */
export function laidAt(
  { scale, rotationDeg, anchorPx, anchorMm }: PhotoTruth['underlay'],
  [x, y]: At,
): [number, number] {
  const k = scale.lengthMm / Math.hypot(scale.to[0] - scale.from[0], scale.to[1] - scale.from[1]);
  const [c, s] = [Math.cos((rotationDeg * Math.PI) / 180), Math.sin((rotationDeg * Math.PI) / 180)];
  const [dx, dy] = [k * (x - anchorPx[0]), -k * (y - anchorPx[1])];
  return [anchorMm[0] + c * dx - s * dy, anchorMm[1] + s * dx + c * dy];
}

/**
 * Correlation of brightness between a view's photo layer at places on the screen and a picture file at its stored pixels:
 * near 1 where the view shows those pixels at those places.
 */
export async function likeness(
  page: Page,
  view: string,
  picture: Buffer,
  pairs: readonly { readonly screen: At; readonly px: At }[],
): Promise<number> {
  return page.evaluate(
    async ([name, base64, places]) => {
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }), { imageOrientation: 'none' });
      const own = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!;
      own.drawImage(bitmap, 0, 0);
      const canvas = document.querySelector<HTMLCanvasElement>(`[data-view=${name}] canvas`)!;
      const box = canvas.getBoundingClientRect();
      const k = canvas.width / box.width;
      const seen = canvas.getContext('2d')!;
      const bright = (d: Uint8ClampedArray): number => {
        let sum = 0;
        for (let i = 0; i < d.length; i += 4) sum += d[i]! + d[i + 1]! + d[i + 2]!;
        return sum / (d.length / 4);
      };
      const a: number[] = [];
      const b: number[] = [];
      for (const { screen, px } of places) {
        const [x, y] = [Math.round((screen[0] - box.left) * k), Math.round((screen[1] - box.top) * k)];
        if (x < 2 || y < 2 || x > canvas.width - 3 || y > canvas.height - 3) continue;
        a.push(bright(seen.getImageData(x - 1, y - 1, 3, 3).data));
        b.push(bright(own.getImageData(Math.round(px[0]) - 1, Math.round(px[1]) - 1, 3, 3).data));
      }
      const mean = (v: number[]): number => v.reduce((s, n) => s + n, 0) / v.length;
      const [ma, mb] = [mean(a), mean(b)];
      let [ab, aa, bb] = [0, 0, 0];
      a.forEach((v, i) => {
        ab += (v - ma) * (b[i]! - mb);
        aa += (v - ma) ** 2;
        bb += (b[i]! - mb) ** 2;
      });
      return a.length < 50 ? NaN : ab / Math.sqrt(aa * bb);
    },
    [view, picture.toString('base64'), pairs] as const,
  );
}

/** The same JPEG with an EXIF note that says how it is to be turned (EXIF 2.3, tag 0x0112). */
export function withOrientation(jpeg: Buffer, orientation: number): Buffer {
  const tiff = Buffer.from('49492a00080000000100120103000100000000000000000000000000', 'hex');
  tiff.writeUInt16LE(orientation, 18);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
}
