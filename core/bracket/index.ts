export type { BracketIssue } from './issue';
export type * from './kinds';
export { bracketSpecOf, isBent } from './spec';
export { firstBracket, suitingKind } from './first';
export { edgeDistancesMm } from './edge-distance';
export { freeSpot } from './free-spot';
export { checkBracket, requireMakeable } from './check';
export { spannerRoomMm } from './room';
export * from './edits';
export * from './drag';
export * from './pattern';
export * from './bend';
export { leastInsideRadiusMm, leastLegMm, vDieMm } from './bend-tables';
export * from './contour';
export { bendTakesMm, type BodyLayout, bodyLayout } from './layout';
export { blankAreaMm2, blanks, blankVolumeMm3, massKg } from './blanks';
export { foldedFront, foldedProfile, foldedVolumeMm3 } from './folded';
export { placedHoles } from './holes';
export { hardwareBodies, type HardwareBody } from './hardware';
export { ballAt, originFromEndMm, stemOfBracket, studDepthMm } from './stem';
export { topNormal } from './lean';
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
export { inView, type ViewDirection, type ViewLines, viewOf, type ViewRole } from './views';
