import type { Vec3 } from '../space';

/** How well a number is known. */
export type Provenance =
  | 'from published tables, not the standard’s own text'
  | 'computed'
  | 'not checked against the standard’s text'
  | 'common practice, no source'
  | 'stated by the user';

/** Which way a strut pushes when a force happens. "stop": the lid rests on the strut's end; "hand on stop": a hand presses it on. */
export type Sense = 'extending' | 'compressing' | 'stop' | 'hand on stop';

/** One force on the bracket at the ball's centre. */
export interface LoadSample {
  readonly caseId: string;
  readonly angleDeg: number;
  readonly sense: Sense;
  /** Along the strut, positive pushes on the bracket, without the shock factor, N. */
  readonly pushN: number;
  /** On the bracket at the ball's centre, in the bracket's frame, shock factor included, N. */
  readonly forceN: Vec3;
}

/** What a check wants and has under one force; same unit. */
export interface DemandCapacity {
  readonly demand: number;
  /** Infinity where nothing is asked of it. */
  readonly capacity: number;
}

type StudCheck = 'stud' | 'pin' | 'rod-thread' | 'stud-bearing' | 'stud-tear-out' | 'stud-couple' | 'stud-thread';
type UprightCheck = 'upright' | 'upright-above-gusset' | 'upright-at-stud';
type BaseCheck = 'base-leg' | 'base-leg-beyond-gusset' | 'base-leg-at-fixings' | 'plate-at-fixings';
type FixingCheck = 'fixings' | 'bearing' | 'tear-out' | 'thread-strip' | 'insert' | 'slip' | 'spin' | 'rivet';
type WoodCheck = 'wood-screw' | 'wood-lateral' | 'wood-washer' | 'wood-spacing';
type WeldCheck = 'weld' | 'weld-simple' | 'gusset-weld' | 'gusset-buckling';
type SeatCheck = 'seat-bearing' | 'seat-bending' | 'seat-collapse' | 'seat-pull-through';

/** Names of the checks, stable: findings, papers and screens go by them. */
export type CheckId = StudCheck | UprightCheck | BaseCheck | FixingCheck | WoodCheck | WeldCheck | SeatCheck;

/** What a check says of itself. */
export interface CheckTexts {
  readonly id: CheckId;
  readonly name: string;
  /** "N/mm²", "N", "N·mm", "N/mm" or "1" for a use of several capacities together. */
  readonly unit: string;
  readonly formula: string;
  /** Where the formula comes from. */
  readonly source: string;
  /** Where the capacity comes from. */
  readonly capacitySource: string;
  /** What a safety factor under 1 means: failure, or something that shows but is held otherwise. */
  readonly gravity: 'fails' | 'watch';
  readonly notes: readonly string[];
}

/** A check that can't be made, and what it lacks. */
export interface Unchecked {
  readonly id: CheckId;
  readonly name: string;
  readonly why: string;
  readonly advice: string;
  /** Key into the bracket of what is lacking, where there is one. */
  readonly path: readonly string[];
}

/** A check made: the worst over every load case and the travel. */
export interface StrengthResult extends CheckTexts, DemandCapacity {
  /** capacity / demand; Infinity where nothing is asked. 1 is the limit. */
  readonly safetyFactor: number;
  /** The force at which it is worst. */
  readonly governing: LoadSample;
}
