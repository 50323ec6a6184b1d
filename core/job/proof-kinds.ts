/** What can be measured on the fitted lid. */
export const PROOF_KINDS = [
  /** Distance between a strut's two pivots: closed, open, or at an angle. */
  'strut-length',
  /** A strut's own length from pivot to pivot, lying free and fully extended. */
  'free-length',
  /** Distance between a strut's pivot and the hinge pin nearer to it. */
  'pivot-to-hinge',
  /** What the hand does at the grip at an angle, while the lid moves slowly one way. */
  'hand-force',
  /** From this angle up the lid rises by itself. */
  'lifts-from',
  /** From this angle down the lid falls by itself. */
  'falls-from',
  /** In the middle of where the lid stays put when it is let go. */
  'rests-at',
  /** How far the lid opens. */
  'opens-to',
  /** Angle between a stem and the strut. */
  'joint-angle',
  /** Mass of the whole lid with what is on it, on a scale. */
  'lid-mass',
] as const;
export type ProofKind = (typeof PROOF_KINDS)[number];

/** Which unit a kind is read in. */
export const PROOF_UNIT: Readonly<Record<ProofKind, 'mm' | 'N' | 'deg' | 'kg'>> = {
  'strut-length': 'mm',
  'free-length': 'mm',
  'pivot-to-hinge': 'mm',
  'hand-force': 'N',
  'lifts-from': 'deg',
  'falls-from': 'deg',
  'rests-at': 'deg',
  'opens-to': 'deg',
  'joint-angle': 'deg',
  'lid-mass': 'kg',
};
