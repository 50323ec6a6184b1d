import { createStore } from 'zustand/vanilla';
import type { Face } from '../../core/bracket';

/** Which bracket the Bracket stage is about, and how its view shows it; lives as long as the page. */
export interface BracketState {
  /** Null: the job's first one. */
  readonly bracketId: string | null;
  readonly face: Face;
  /** False: the view from behind shows the lid as in other stages. */
  readonly shown: boolean;
}

export const bracketStore = createStore<BracketState>(() => ({ bracketId: null, face: 'side', shown: true }));

export const chooseBracket = (bracketId: string): void => bracketStore.setState({ bracketId });
/** The bracket's own view in place of the view from behind, or the lid there as in other stages. */
export const showBracket = (shown: boolean): void => bracketStore.setState({ shown });
export const showFace = (face: Face): void => bracketStore.setState({ face, shown: true });

/** Index of the bracket that is looked at; −1 where the job has none. */
export function chosenBracket(brackets: readonly { readonly id: string }[], bracketId: string | null): number {
  if (brackets.length === 0) return -1;
  return Math.max(
    0,
    brackets.findIndex((b) => b.id === bracketId),
  );
}
