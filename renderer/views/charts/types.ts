import type { CaseBands } from '../../../core/choose';
import type { ShownUnits } from '../../../core/quantity';
import type { Workings } from '../../../core/workings';

/** What the chart draws over the opening angle. */
/** Between which hand forces a load case may lie, N, and what its two edges are called. */
export interface HandBand extends Pick<
  CaseBands,
  'caseId' | 'angleDeg' | 'openingWeakN' | 'openingStrongN' | 'closingWeakN' | 'closingStrongN'
> {
  readonly words?: readonly [weak: string, strong: string];
}

/** A hand force that was read, N, with the standard deviation of its tool. */
interface HandReading {
  readonly angleDeg: number;
  readonly way: 'opening' | 'closing';
  readonly value: number;
  readonly sigma: number;
}

/** What a fit-up adds to the hand force: what was read, and the curves as the first cause would have them. */
export interface HandProof {
  readonly readings: readonly HandReading[];
  readonly withCause: {
    readonly angleDeg: Float64Array;
    readonly openingN: Float64Array;
    readonly closingN: Float64Array;
  } | null;
}

export type ChartKind = 'hand' | 'force' | 'length' | 'joint';

export interface ChartState {
  /** Null when the job can't be worked out: the chart says so. */
  readonly outcome: Workings | null;
  readonly kind: ChartKind;
  readonly angleDeg: number;
  readonly units: ShownUnits;
  readonly theme: 'light' | 'dark';
  /** Other variants of the job, drawn dotted for the emphasised (or first) load case. */
  readonly variants?: readonly { readonly name: string; readonly outcome: Workings }[];
  /** Hand force of the emphasised load case with the weakest and the strongest strut its tolerance allows. */
  readonly band?: HandBand | null;
  readonly proof?: HandProof | null;
  /** The load case that is emphasised, or null. */
  readonly caseId: string | null;
}

export interface ChartOptions {
  /** The pointer or a key set another opening angle, degrees, within the travel. */
  onScrub(angleDeg: number): void;
}
