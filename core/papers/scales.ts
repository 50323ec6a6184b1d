/** A drawing scale: `paper` mm on the sheet stand for `real` mm. */
export interface DrawingScale {
  readonly paper: number;
  readonly real: number;
}

const scale = (paper: number, real: number): DrawingScale => ({ paper, real });

/** Recommended scales, largest first. Source: ISO 5455. */
export const drawingScales: readonly DrawingScale[] = [
  ...[50, 20, 10, 5, 2].map((n) => scale(n, 1)),
  scale(1, 1),
  ...[2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000].map((n) => scale(1, n)),
];

/** "1:2". */
export const scaleText = ({ paper, real }: DrawingScale): string => `${paper}:${real}`;
