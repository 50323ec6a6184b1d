import type { FindingState } from '../../core/findings';

/** How a finding's state is told: a sign that needs no colour, and a word. */
export const STATE_WORDS: Record<FindingState, { readonly sign: string; readonly word: string }> = {
  fails: { sign: '✕', word: 'Fails' },
  unknown: { sign: '?', word: 'Not known' },
  watch: { sign: '△', word: 'Watch' },
  holds: { sign: '✓', word: 'Holds' },
};
