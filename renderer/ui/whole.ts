/**
 * Properties of a field whose whole value is chosen when one comes to it, by key or by mouse: what is typed then takes its
 * place. The mouse button let go would put a caret there instead.
 */
export const whole = {
  onFocus: (e: React.FocusEvent<HTMLInputElement>): void => e.target.select(),
  onPointerDown: (e: React.PointerEvent<HTMLInputElement>): void => {
    const field = e.currentTarget;
    if (document.activeElement === field) return;
    const up = (): void => {
      if (field.selectionStart === field.selectionEnd) field.select();
    };
    field.addEventListener('mouseup', up, { once: true });
  },
} as const;
