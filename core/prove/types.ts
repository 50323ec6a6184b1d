import type { EndName, ProofKind } from '../job';

/** A way to measure the fitted lid: what, where in the travel, under which conditions. */
export interface Probe {
  readonly what: ProofKind;
  readonly strut?: string;
  readonly end?: EndName;
  /** 'open' follows the lid to wherever it stops. */
  readonly at: 'closed' | 'open' | 'angle';
  /** Degrees; where at is 'angle'. For an angle of balance, the angle that was read or is predicted. */
  readonly angleDeg: number;
  readonly way?: 'opening' | 'closing';
  readonly pull: 'square' | 'upright';
  readonly loadCase: string;
  readonly tempC: number;
  readonly strutsOff: boolean;
}

/** A probe that was read; value and sigma (one standard deviation) in mm, N, degrees or kg. */
export interface Reading extends Probe {
  readonly id: string;
  readonly value: number;
  readonly sigma: number;
}

/** What one strut may be other than entered. */
export interface StrutChange {
  /** Times the extending force F1; 1 as entered. */
  readonly forceFactor?: number;
  /** Added to the friction band FR, N. */
  readonly frictionN?: number;
  /** Pivots moved, mm: outward along the lid (closed) and the way it opens; see Directions. */
  readonly baseMm?: readonly [number, number];
  readonly lidMm?: readonly [number, number];
  /** Added to the extended length, mm. */
  readonly extendedMm?: number;
  /** Times the gas law's fill (rod area over gas volume): stands for a force ratio other than stated. */
  readonly fillFactor?: number;
  /** How many of it push; as the load case has it where not given. */
  readonly working?: 0 | 1 | 2;
}

/** How a fitted lid may differ from the job: everything absent is as entered. */
export interface Change {
  /** Added to every mass, as a share of it. */
  readonly massShare?: number;
  /** Added to single mass items, kg, by id. */
  readonly massKg?: Readonly<Record<string, number>>;
  /** The common centre of mass moved, mm: outward along the lid, and the way it opens. */
  readonly centreMm?: readonly [number, number];
  /** Added to the hinges' and seals' friction, N·m. */
  readonly hingeNm?: number;
  readonly struts?: Readonly<Record<string, StrutChange>>;
}
