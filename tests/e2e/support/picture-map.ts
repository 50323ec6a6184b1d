// Where a photo lies on the screen, read from the pixels of the view's photo layer.
import type { Page } from '@playwright/test';
import type { At } from './sheet-map';

/** Upper left corner on the screen and screen pixels per photo pixel. */
export interface PictureMap {
  readonly corner: At;
  readonly scale: number;
}

/**
 * The rectangle that a fully opaque photo covers in a view. Its edges are found to a part of a pixel from how far the
 * edge pixels are covered. The photo must lie level and wholly inside the view.
 */
export async function pictureMap(page: Page, view: string, widthPx: number, heightPx: number): Promise<PictureMap> {
  const box = await page.evaluate((name) => {
    const canvas = document.querySelector<HTMLCanvasElement>(`[data-view=${name}] canvas`)!;
    const { width, height } = canvas;
    const alpha = canvas.getContext('2d')!.getImageData(0, 0, width, height).data;
    const at = (x: number, y: number): number => alpha[4 * (y * width + x) + 3]! / 255;
    let [left, top, right, bottom] = [width, height, -1, -1];
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++)
        if (at(x, y) > 0.99) {
          left = Math.min(left, x);
          right = Math.max(right, x);
          top = Math.min(top, y);
          bottom = Math.max(bottom, y);
        }
    if (right < 0) return null;
    const [mx, my] = [Math.round((left + right) / 2), Math.round((top + bottom) / 2)];
    const seen = canvas.getBoundingClientRect();
    const k = seen.width / width;
    // only where nothing else lies beside the photo do its edge pixels tell how far they are covered
    const part = (x: number, y: number, beyond: number): number => (beyond < 0.01 ? at(x, y) : 0);
    const l = left - (left > 1 ? part(left - 1, my, at(left - 2, my)) : 0);
    const t = top - (top > 1 ? part(mx, top - 1, at(mx, top - 2)) : 0);
    const r = right + 1 + (right < width - 2 ? part(right + 1, my, at(right + 2, my)) : 0);
    const b = bottom + 1 + (bottom < height - 2 ? part(mx, bottom + 1, at(mx, bottom + 2)) : 0);
    return { x: seen.x + l * k, y: seen.y + t * k, width: (r - l) * k, height: (b - t) * k };
  }, view);
  if (!box) throw new Error(`no photo is drawn in the ${view} view`);
  const scale = box.width / widthPx;
  if (Math.abs(box.height / heightPx / scale - 1) > 0.01)
    throw new Error(`the photo is cut off or turned: ${box.width} × ${box.height} on the screen`);
  return { corner: [box.x, box.y], scale };
}

export const pictureToScreen = (map: PictureMap, px: At): At => [
  map.corner[0] + px[0] * map.scale,
  map.corner[1] + px[1] * map.scale,
];
