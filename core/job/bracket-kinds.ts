/** Kinds of bracket, in the order a list offers them. */
export const BRACKET_KINDS = ['flat-tab', 'bent-angle', 'gusset-angle', 'channel', 'wedge-plate'] as const;
export type BracketKind = (typeof BRACKET_KINDS)[number];

/** Coarse metric threads that studs and fixings come in, smallest first. */
export const THREAD_NAMES = ['M4', 'M5', 'M6', 'M8', 'M10', 'M12', 'M14', 'M16'] as const;

/** What a bracket's fixings are screwed or set into. */
export const FIXED_INTO = ['through', 'tapped', 'insert', 'wood', 'rivet'] as const;
export type FixedInto = (typeof FIXED_INTO)[number];

/** What each kind cannot do without, beyond what every bracket has. Paths into the bracket. */
export const BRACKET_NEEDS: Readonly<Record<BracketKind, readonly (readonly string[])[]>> = {
  'flat-tab': [['studHole', 'fromEndMm']],
  'bent-angle': [['insideRadiusMm'], ['uprightLegMm'], ['studHole', 'heightMm']],
  'gusset-angle': [['insideRadiusMm'], ['uprightLegMm'], ['studHole', 'heightMm'], ['gusset']],
  channel: [['insideRadiusMm'], ['uprightLegMm'], ['studHole', 'heightMm'], ['gapMm']],
  'wedge-plate': [['studHole', 'fromEndMm'], ['wedge']],
};
