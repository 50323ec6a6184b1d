/** A passing word to the person: what was saved, what was refused. */
export interface Notice {
  readonly text: string;
  readonly tone: 'word' | 'bad';
  readonly key: number;
  /** How often it was said. */
  readonly times: number;
}

/**
 * The notices with one more, in the order in which they were said. Bad ones stay until they are put away, one said again is
 * counted; a good one takes the place of the good one before it and covers nothing.
 */
export function withNotice(
  notices: readonly Notice[],
  text: string,
  tone: Notice['tone'],
  key: number,
): readonly Notice[] {
  const again = notices.find((n) => n.tone === tone && n.text === text);
  const others = notices.filter((n) => n !== again && (n.tone === 'bad' || tone === 'bad'));
  return [...others, { text, tone, key, times: (tone === 'bad' ? (again?.times ?? 0) : 0) + 1 }];
}
