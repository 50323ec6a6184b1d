import type { BracketSpec } from './kinds';

/** Room a socket spanner takes round a screw, mm from its middle: 0.75 × width across flats + 1. Common practice, no source. */
export const spannerRoomMm = (acrossFlatsMm: number): number => 0.75 * acrossFlatsMm + 1;

/** Whether screws stand in the fixing holes. */
export const bolted = (spec: BracketSpec): boolean => spec.attachedBy !== 'weld' && spec.fixings.length > 0;
