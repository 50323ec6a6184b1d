/** A field in which something is typed that is not taken yet. */
interface OpenField {
  readonly label: string;
  /** Takes what is typed; false when it can't be taken: the field then says why. */
  readonly enter: () => boolean;
}

const open = new Set<OpenField>();

/** Keeps count of a field that holds something typed; returns how to leave off. */
export function holdField(field: OpenField): () => void {
  open.add(field);
  return () => void open.delete(field);
}

/** Leaves the field that is being typed in, so that it takes its value, and goes back to it. */
function leaveAndReturn(): void {
  const field = globalThis.document?.activeElement as HTMLElement | null;
  if (!field || !/^(INPUT|TEXTAREA)$/.test(field.tagName)) return;
  field.blur();
  if (field.isConnected) field.focus({ preventScroll: true });
}

/** Takes everything that is typed and not entered. Gives the name of a field whose value can't be taken, or null. */
export function enterTyped(): string | null {
  leaveAndReturn();
  for (const field of [...open]) if (!field.enter()) return field.label;
  return null;
}
