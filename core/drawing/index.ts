// The PDF writer is in ./pdf, loaded only when needed.
export * from './model';
export * from './lines';
export * from './marks';
export * from './number';
export { drawingFont, fontSizeMm, textBox, textWidthMm, unknownLetters } from './lettering';
export { lettersWithout } from './letters';
export * from './dimension';
export * from './geometry';
export * from './clip';
export { type SvgOptions, writeSvg } from './svg';
export { writeDxf } from './dxf';
export { dxfText } from './dxf-text';
