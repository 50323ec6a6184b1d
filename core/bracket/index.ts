export type { BentAngle } from './spec';
export { type BracketIssue, checkBracket, requireMakeable } from './check';
export * from './bend';
export * from './contour';
export { blankAreaMm2, type FlatHole, type FlatPattern, flatPattern, massKg } from './flat';
export { foldedFront, foldedProfile, foldedVolumeMm3 } from './folded';
export { type BracketMesh, bracketMesh } from './mesh';
export { type BracketPlacement, placeBracket } from './place';
export * from './tables';
