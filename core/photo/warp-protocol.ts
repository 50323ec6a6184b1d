import type { Mat3 } from '../space';
import type { FlatRegion } from './flat-picture';
import { type Plane2, applyHomography } from './homography';

/** What the page asks of the warp worker. `Picture` is the host's picture type (ImageBitmap), which is handed over, not copied. */
export type WarpQuestion<Picture> =
  /** Keeps a photo; an earlier one of that id is dropped. */
  | { readonly photoId: string; readonly picture: Picture }
  /** Warps a region of a photo's plane; `toPx`: plane mm → px of the photo, third coordinate positive before the camera, as rectify gives it. */
  | { readonly photoId: string; readonly toPx: Mat3; readonly region: FlatRegion };

/** The region's picture; null for a photo that was kept. */
export type WarpAnswer<Picture> = Picture | null;

/** Pixels, four bytes each: red, green, blue, opacity; row by row from the top. */
export interface Pixels {
  readonly data: Uint8ClampedArray;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Side of the squares in which a region is warped, px: between two of them the worker looks for newer requests. */
export const TILE_PX = 256;

/** A tile of a region's grid, px from its upper left corner. */
export interface Tile {
  readonly left: number;
  readonly top: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The tiles of a region, row by row. */
export function tilesOf(region: Pick<FlatRegion, 'widthPx' | 'heightPx'>, sidePx: number = TILE_PX): Tile[] {
  const tiles: Tile[] = [];
  for (let top = 0; top < region.heightPx; top += sidePx)
    for (let left = 0; left < region.widthPx; left += sidePx)
      tiles.push({
        left,
        top,
        widthPx: Math.min(sidePx, region.widthPx - left),
        heightPx: Math.min(sidePx, region.heightPx - top),
      });
  return tiles;
}

/** Grid px of a region → photo px, as one matrix; (0, 0) is the upper left corner of each. */
export function gridToPhoto(toPx: Mat3, region: FlatRegion): Mat3 {
  const k = region.mmPerPx;
  return toPx.map(([a, b, c]) => [a * k, -b * k, a * region.leftMm + b * region.topMm + c]) as unknown as Mat3;
}

/**
 * How often the photo is to be halved before a tile is read from it: as often as the tile's pixels stay no coarser than
 * half the photo's, in the place where they are finest.
 */
export function halvingsFor(grid: Mat3, tile: Tile): number {
  let least = Infinity;
  for (const [x, y] of cornersOf(tile)) {
    const w = grid[2][0] * x + grid[2][1] * y + grid[2][2];
    const [u, v] = applyHomography(grid, [x, y]);
    const a = (grid[0][0] - u * grid[2][0]) / w;
    const b = (grid[0][1] - u * grid[2][1]) / w;
    const c = (grid[1][0] - v * grid[2][0]) / w;
    const d = (grid[1][1] - v * grid[2][1]) / w;
    least = Math.min(least, Math.sqrt(Math.abs(a * d - b * c)));
  }
  return Math.max(0, Math.floor(Math.log2(least) + 1e-9));
}

const cornersOf = (t: Tile): Plane2[] => [
  [t.left, t.top],
  [t.left + t.widthPx, t.top],
  [t.left + t.widthPx, t.top + t.heightPx],
  [t.left, t.top + t.heightPx],
];

/** The part of a photo (already halved) that a tile reads, whole px with one to spare; null when it reads none. */
export function sourceOf(
  grid: Mat3,
  tile: Tile,
  photo: { readonly widthPx: number; readonly heightPx: number },
  halvings = 0,
): Tile | null {
  const corners = cornersOf(tile);
  // a tile across the horizon has no finite picture
  if (corners.some(([x, y]) => !(grid[2][0] * x + grid[2][1] * y + grid[2][2] > 0))) return null;
  const px = corners.map((p) => applyHomography(grid, p));
  const k = 2 ** -halvings;
  const left = Math.max(0, Math.floor(Math.min(...px.map((p) => p[0])) * k) - 1);
  const top = Math.max(0, Math.floor(Math.min(...px.map((p) => p[1])) * k) - 1);
  const right = Math.min(photo.widthPx, Math.ceil(Math.max(...px.map((p) => p[0])) * k) + 1);
  const bottom = Math.min(photo.heightPx, Math.ceil(Math.max(...px.map((p) => p[1])) * k) + 1);
  return right > left && bottom > top ? { left, top, widthPx: right - left, heightPx: bottom - top } : null;
}

/**
 * One tile, warped: each of its pixels takes the photo's colour at its own middle, bilinear between the four nearest. Off the
 * photo it is clear. `source` holds the part `part` of the photo after `halvings` halvings.
 * Returns tile.widthPx × tile.heightPx × 4 bytes.
 */
export function warpTile(
  grid: Mat3,
  tile: Tile,
  source: Pixels,
  part: Tile,
  halvings = 0,
): Uint8ClampedArray<ArrayBuffer> {
  const out = new Uint8ClampedArray(tile.widthPx * tile.heightPx * 4);
  const { data, widthPx, heightPx } = source;
  const k = 2 ** -halvings;
  const [[a, b, c], [d, e, f], [g, h, i]] = grid;
  let to = 0;
  for (let row = 0; row < tile.heightPx; row++) {
    const y = tile.top + row + 0.5;
    for (let column = 0; column < tile.widthPx; column++, to += 4) {
      const x = tile.left + column + 0.5;
      const w = g * x + h * y + i;
      // px of the part, counted from the middle of its first pixel
      const u = ((a * x + b * y + c) / w) * k - part.left - 0.5;
      const v = ((d * x + e * y + f) / w) * k - part.top - 0.5;
      // half a pixel around the rim takes the rim's colour
      if (!(u >= -0.5 && v >= -0.5 && u <= widthPx - 0.5 && v <= heightPx - 0.5)) continue;
      const cu = Math.min(Math.max(u, 0), widthPx - 1);
      const cv = Math.min(Math.max(v, 0), heightPx - 1);
      const x0 = Math.floor(cu);
      const y0 = Math.floor(cv);
      const fx = cu - x0;
      const fy = cv - y0;
      const p00 = (y0 * widthPx + x0) * 4;
      const p10 = x0 + 1 < widthPx ? p00 + 4 : p00;
      const down = y0 + 1 < heightPx ? widthPx * 4 : 0;
      for (let channel = 0; channel < 4; channel++) {
        const upper = data[p00 + channel]! * (1 - fx) + data[p10 + channel]! * fx;
        const lower = data[p00 + down + channel]! * (1 - fx) + data[p10 + down + channel]! * fx;
        out[to + channel] = upper * (1 - fy) + lower * fy;
      }
    }
  }
  return out;
}
