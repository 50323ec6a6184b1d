// Fields in which something is typed that the job has not taken: nothing is called saved, and nothing is left, while there are any.
import { useStore } from 'zustand';
import { createStore } from 'zustand/vanilla';

export interface HeldField {
  /** As the person knows the field. */
  readonly label: string;
  /** Takes what is typed; false when it can't be taken: the field then says why. */
  readonly enter: () => boolean;
  /** Sets the keyboard on it. */
  readonly show?: () => void;
}

const held = createStore<readonly HeldField[]>(() => []);

/** Keeps count of a field that holds something typed; returns how to leave off. */
export function holdField(field: HeldField): () => void {
  held.setState([...held.getState(), field], true);
  return () =>
    held.setState(
      held.getState().filter((each) => each !== field),
      true,
    );
}

export const isHolding = (): boolean => held.getState().length > 0;
export const useHolding = (): boolean => useStore(held, (fields) => fields.length > 0);

/** Takes everything that is typed and not entered. Gives a field whose text can't be taken, or null. */
export const enterTyped = (): HeldField | null => held.getState().find((field) => !field.enter()) ?? null;

/** What a person is told who wants to leave while a field holds what can't be taken. `but`: "Not saved". */
export function heldWords(but: string, { label, show }: HeldField): string {
  show?.();
  return `${but}: “${label}” holds what can’t be taken as it stands. Finish or mend it, or press Escape in it to have it as it was.`;
}
