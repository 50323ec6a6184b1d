import type { ProofKind } from '../job';

/**
 * How sure a measurement on the fitted lid is where its row does not say: one standard deviation in the kind's own unit.
 * Common practice, no source: a reading taken with care by hand, two in three lie within it.
 */
export const USUAL_PROOF_SIGMA: Readonly<Record<ProofKind, { readonly sigma: number; readonly tool: string }>> = {
  'strut-length': { sigma: 1, tool: 'tape measure, from pivot centre to pivot centre' },
  'free-length': { sigma: 1, tool: 'tape measure, strut lying free and fully extended' },
  'pivot-to-hinge': { sigma: 1, tool: 'tape measure, from pin centre to pivot centre' },
  'hand-force': { sigma: 3, tool: 'luggage scale, read while the lid moves slowly and evenly' },
  'lifts-from': { sigma: 1, tool: 'digital angle gauge laid on the lid' },
  'falls-from': { sigma: 1, tool: 'digital angle gauge laid on the lid' },
  'rests-at': { sigma: 1.5, tool: 'digital angle gauge, middle of the range where it stays' },
  'opens-to': { sigma: 0.3, tool: 'digital angle gauge laid on the lid' },
  'joint-angle': { sigma: 3, tool: 'protractor held against ball stud and strut' },
  'lid-mass': { sigma: 0.3, tool: 'bathroom or hanging scale' },
};

/** How exactly the angle is known at which a force is read, degrees. Common practice, no source. */
export const ANGLE_SIGMA_DEG = 0.5;

/** A lid let go does not start for less than this at the grip, N. Common practice, no source. */
export const START_SIGMA_N = 1;
