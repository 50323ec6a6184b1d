export type { BracketIssue } from './check/issue';
export type * from './types';
export { bracketSpecOf } from './spec';
export { type BracketEdge, KINDS } from './kinds';
export { firstBracket, suitingKind } from './first';
export { readyPlate } from './ready';
export { FIRST_TILTS, bracketsTo, firstHeights, withBallAt } from './standing';
export { edgeDistancesMm } from './edge-distance';
export { freeSpot } from './free-spot';
export { checkBracket, requireMakeable } from './check';
export * from './edits';
export * from './drag';
export * from './pattern';
export * from './bend';
export { leastInsideRadiusMm, leastLegMm, vDieMm } from './bend-tables';
export * from './contour';
export {
  ballAt,
  bendTakesMm,
  bodyLayout,
  isBent,
  isPinned,
  originFromEndMm,
  platesOf,
  stemOfBracket,
  studDepthMm,
} from './body';
export { blankAreaMm2, blanks, blankVolumeMm3, massKg, stockMm } from './blanks';
export { isOwnMirror, mirroredSpec } from './twin';
export { foldedProfile, foldedVolumeMm3, placedHoles } from './folded';
export { hardwareBodies, type HardwareBody } from './hardware';
export { bracketMesh } from './mesh';
export {
  type BracketPlacement,
  type BracketStand,
  outOfBracket,
  placeBracket,
  standBracket,
  stemMismatchDeg,
} from './place';
export * from './tables';
export { inView, type ViewDirection, type ViewLines } from './view-lines';
export { viewOf } from './views';
export { ballOf, boxOf, type Face, farEnd, linesOf } from './faces';
export { type Dim, type Handle, handlesOf } from './handles';
