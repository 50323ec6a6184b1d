import type { ObservationKind } from '../job';

/** One reading after the adjustment. */
export interface SurveyReading {
  readonly id: string;
  readonly kind: ObservationKind;
  /** In words, without a capital: "the tape from port hinge to lower pivot". */
  readonly name: string;
  readonly unit: 'mm' | 'deg' | 'px';
  /** computed − read, in unit, and its σ; of the worst part where the reading has several. */
  readonly residual: number;
  readonly sigma: number;
  /** 0: no other reading controls it. 1: the others alone would say the same. */
  readonly redundancy: number;
  /** Standardised residual (Baarda); null where no other reading controls it. */
  readonly w: number | null;
  /** Smallest blunder that would be seen in 4 of 5 cases, in unit; null where none ever would. */
  readonly detectable: number | null;
  /** How much it is estimated to read too much, in unit, were it the only wrong one; null where nothing controls it. */
  readonly blunder: number | null;
  readonly verdict: 'fits' | 'suspicious' | 'uncontrolled';
}
