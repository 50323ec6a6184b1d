export * from './formats';
export * from './scales';
export { type Projection, projectionSymbol } from './projection-symbol';
export type { DrawingInfo } from './title-block';
export { bracketDrawing, type BracketDrawingOptions } from './bracket-drawing';
export { bracketSheet, type SheetWishes } from './bracket-sheet';
export { purchaseSheet } from './purchase-sheet';
export { wedgeDrawing, type WedgeDrawingOptions } from './wedge-drawing';
