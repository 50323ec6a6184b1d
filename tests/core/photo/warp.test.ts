import { describe, expect, it } from 'vitest';
import {
  type FlatRegion,
  type Pixels,
  type Plane2,
  type Tile,
  applyHomography,
  fitHomography,
  gridToPhoto,
  halvingsFor,
  invertHomography,
  sourceOf,
  tilesOf,
  warpTile,
} from '../../../core/photo';
import type { Mat3 } from '../../../core/space';
import { expectClose, within } from '../../support/close';

/** A made-up photo whose colours are known at every place: red grows to the right, green downwards, blue with both. */
const colour = (x: number, y: number): number[] => [20 + 0.9 * x, 15 + 1.7 * y, 10 + 0.4 * x + 0.8 * y, 255];
function photo(widthPx: number, heightPx: number): Pixels {
  const data = new Uint8ClampedArray(widthPx * heightPx * 4);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) data.set(colour(x + 0.5, y + 0.5), (y * widthPx + x) * 4);
  return { data, widthPx, heightPx };
}
const source = photo(200, 120);
const whole: Tile = { left: 0, top: 0, widthPx: 200, heightPx: 120 };
const region: FlatRegion = { leftMm: -40, topMm: 310, mmPerPx: 2.5, widthPx: 150, heightPx: 110 };
/** Plane mm (y up) → px (y down), aslant. */
const toPx = fitHomography([
  { from: [0, 50], to: [21, 108] },
  { from: [320, 60], to: [188, 97] },
  { from: [300, 290], to: [160, 14] },
  { from: [10, 280], to: [34, 9] },
] as { from: Plane2; to: Plane2 }[]).matrix;
const grid = gridToPhoto(toPx, region);

describe('warping', () => {
  it('grid px go where the plane says: x right, y down from the upper left corner', () => {
    for (const [i, j] of [
      [0, 0],
      [150, 110],
      [33.5, 71.25],
    ] as Plane2[])
      expectClose(
        applyHomography(grid, [i, j]),
        applyHomography(toPx, [region.leftMm + i * region.mmPerPx, region.topMm - j * region.mmPerPx]),
        within(1e-9, 'px'),
      );
  });

  it('each pixel has the colour that the photo has at its own middle', () => {
    const tile: Tile = { left: 0, top: 0, widthPx: region.widthPx, heightPx: region.heightPx };
    const out = warpTile(grid, tile, source, whole);
    let shown = 0;
    for (let j = 0; j < region.heightPx; j++)
      for (let i = 0; i < region.widthPx; i++) {
        const [u, v] = applyHomography(grid, [i + 0.5, j + 0.5]);
        const at = (j * region.widthPx + i) * 4;
        if (u < 0 || v < 0 || u > 200 || v > 120) expect(out[at + 3]).toBe(0);
        else if (u > 1 && v > 1 && u < 199 && v < 119) {
          shown++;
          // linear colours come through bilinear reading unchanged, but for the rounding of photo and result
          expectClose([...out.subarray(at, at + 4)], colour(u, v), within(1.01, 'of 255'));
        }
      }
    expect(shown).toBeGreaterThan(5000);
  });

  it('tiles, each from its own part of the photo, make the same picture as one go', () => {
    const one = warpTile(grid, { left: 0, top: 0, widthPx: 150, heightPx: 110 }, source, whole);
    const many = new Uint8ClampedArray(one.length);
    const tiles = tilesOf(region, 32);
    expect(tiles.reduce((n, t) => n + t.widthPx * t.heightPx, 0)).toBe(150 * 110);
    for (const tile of tiles) {
      const part = sourceOf(grid, tile, source);
      if (part === null) continue;
      const data = new Uint8ClampedArray(part.widthPx * part.heightPx * 4);
      for (let y = 0; y < part.heightPx; y++)
        data.set(
          source.data.subarray(
            ((part.top + y) * 200 + part.left) * 4,
            ((part.top + y) * 200 + part.left + part.widthPx) * 4,
          ),
          y * part.widthPx * 4,
        );
      const warped = warpTile(grid, tile, { data, widthPx: part.widthPx, heightPx: part.heightPx }, part);
      for (let y = 0; y < tile.heightPx; y++)
        many.set(
          warped.subarray(y * tile.widthPx * 4, (y + 1) * tile.widthPx * 4),
          ((tile.top + y) * 150 + tile.left) * 4,
        );
    }
    expect(many).toEqual(one);
  });

  it('a photo warped onto itself is unchanged to the last bit', () => {
    const same: Mat3 = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
    expect(warpTile(same, whole, source, whole)).toEqual(source.data);
  });

  it('from a halved photo the places stay, to the halved pixel', () => {
    const half: Pixels = { data: new Uint8ClampedArray(100 * 60 * 4), widthPx: 100, heightPx: 60 };
    for (let y = 0; y < 60; y++)
      for (let x = 0; x < 100; x++) half.data.set(colour(2 * x + 1, 2 * y + 1), (y * 100 + x) * 4);
    const coarse = gridToPhoto(toPx, { ...region, mmPerPx: 6, widthPx: 60, heightPx: 45 });
    const tile: Tile = { left: 10, top: 10, widthPx: 40, heightPx: 25 };
    const out = warpTile(coarse, tile, half, { left: 0, top: 0, widthPx: 100, heightPx: 60 }, 1);
    let shown = 0;
    for (let j = 0; j < tile.heightPx; j++)
      for (let i = 0; i < tile.widthPx; i++) {
        const [u, v] = applyHomography(coarse, [tile.left + i + 0.5, tile.top + j + 0.5]);
        if (!(u > 2 && v > 2 && u < 198 && v < 118)) continue;
        shown++;
        const at = (j * tile.widthPx + i) * 4;
        expectClose([...out.subarray(at, at + 4)], colour(u, v), within(1.01, 'of 255'));
      }
    expect(shown).toBeGreaterThan(400);
  });
});

describe('how sharp a tile is read', () => {
  const tile: Tile = { left: 0, top: 0, widthPx: 64, heightPx: 64 };
  const zoom = (k: number): Mat3 => [
    [k, 0, 0],
    [0, k, 0],
    [0, 0, 1],
  ];
  it.each([
    [0.2, 0],
    [1, 0],
    [1.9, 0],
    [2, 1],
    [3.99, 1],
    [9, 3],
  ])('%f photo px to a pixel: halved %i times', (k, halvings) => {
    expect(halvingsFor(zoom(k), tile)).toBe(halvings);
  });
  it('a tile off the photo or across the horizon reads nothing', () => {
    expect(sourceOf(zoom(1), { ...tile, left: 500 }, source)).toBeNull();
    const horizon: Mat3 = [
      [1, 0, 0],
      [0, 1, 0],
      [0, -1 / 32, 1],
    ];
    expect(sourceOf(horizon, tile, source)).toBeNull();
    expect(sourceOf(zoom(1), { ...tile, left: 30 }, source)).toEqual({ left: 29, top: 0, widthPx: 66, heightPx: 65 });
  });
  it('goes there and back', () => {
    const back = invertHomography(grid);
    expectClose(applyHomography(back, applyHomography(grid, [77, 31])), [77, 31], within(1e-8, 'px'));
  });
});
