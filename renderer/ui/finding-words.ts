import type { FindingState } from '../../core/findings';

/** How a finding's state is told: a sign that needs no colour, and a word. */
export const STATE_WORDS: Record<FindingState, { readonly sign: string; readonly word: string }> = {
  fails: { sign: '✕', word: 'Fails' },
  unknown: { sign: '?', word: 'Not known' },
  watch: { sign: '△', word: 'Watch' },
  holds: { sign: '✓', word: 'Holds' },
};

/** Slow checks, as told while they are being worked out. */
export const PENDING_WORDS: Readonly<Record<string, string>> = {
  advice: 'what would help',
  jointRange: 'what helps a joint',
  bracketStrength: 'strength of brackets',
  clearances: 'clearances',
  lidRoom: 'room for the lid',
};
