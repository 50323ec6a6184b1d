import type { CaseBands, ForceGradient } from '../../core/choose';
import type { Workings } from '../../core/workings';

/** The arrows at each strut's pivots: which way a pivot must go to need less force. */
export interface Pulls {
  readonly outcome: Workings;
  readonly byStrut: ReadonlyMap<string, ForceGradient>;
}

/** Hand-force bands of every load case, for the chart that shows one of them strongest. */
export interface Bands {
  readonly outcome: Workings;
  readonly byCase: readonly CaseBands[];
}
