// Screen pixels against millimetres on paper, found from what is seen; nothing of the page's own code is used.
export type At = readonly [number, number];

/** px = origin + (x, −y)·pxPerMm; `worstPx` is how far the given points lie off it. */
export interface Fit {
  readonly pxPerMm: number;
  readonly originPx: At;
  readonly worstPx: number;
}

/** Least squares over points known in both; at least two that differ. */
export function fitSheet(points: readonly { readonly px: At; readonly mm: At }[]): Fit {
  const n = points.length;
  const mean = (pick: (p: (typeof points)[number]) => number): number => points.reduce((s, p) => s + pick(p), 0) / n;
  const [mx, my] = [mean((p) => p.mm[0]), mean((p) => p.mm[1])];
  const [px, py] = [mean((p) => p.px[0]), mean((p) => p.px[1])];
  let [top, bottom] = [0, 0];
  for (const p of points) {
    top += (p.px[0] - px) * (p.mm[0] - mx) - (p.px[1] - py) * (p.mm[1] - my);
    bottom += (p.mm[0] - mx) ** 2 + (p.mm[1] - my) ** 2;
  }
  if (!(bottom > 0)) throw new Error('the points lie on one spot: no scale can be told');
  const pxPerMm = top / bottom;
  const fit = { pxPerMm, originPx: [px - mx * pxPerMm, py + my * pxPerMm] as At, worstPx: 0 };
  return {
    ...fit,
    worstPx: Math.max(...points.map((p) => Math.hypot(...sub(toPx(fit, p.mm), p.px)))),
  };
}

const sub = (a: At, b: At): [number, number] => [a[0] - b[0], a[1] - b[1]];

export const toPx = (fit: Pick<Fit, 'pxPerMm' | 'originPx'>, mm: At): At => [
  fit.originPx[0] + mm[0] * fit.pxPerMm,
  fit.originPx[1] - mm[1] * fit.pxPerMm,
];

export const toMm = (fit: Pick<Fit, 'pxPerMm' | 'originPx'>, px: At): At => [
  (px[0] - fit.originPx[0]) / fit.pxPerMm,
  -(px[1] - fit.originPx[1]) / fit.pxPerMm,
];
