export * from './types';
export { solve, type Figures, type Reason, type Solution } from './least-squares';
export { adjustment, LEAST_REDUNDANCY, type Adjustment, type ResidualTest } from './adjustment';
export { freedom, type Freedom } from './freedom';
export { findConflict, findState, type Conflict, type ConflictOptions } from './conflict';
export { PROJECT_DEFAULTS, Projector, type Projected } from './projector';
export * from './distribution';
