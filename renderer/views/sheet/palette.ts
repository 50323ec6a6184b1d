/** Colours of the drawn views, taken from the page's style so that light and dark have one source. */
export interface Palette {
  readonly paper: string;
  readonly ink: string;
  readonly faint: string;
  readonly soft: string;
  readonly accent: string;
  readonly bad: string;
  readonly good: string;
}

export function readPalette(element: HTMLElement): Palette {
  const style = getComputedStyle(element);
  const get = (name: string, fallback: string): string => style.getPropertyValue(name).trim() || fallback;
  return {
    paper: get('--paper', '#f7f4ea'),
    ink: get('--ink', '#1f2a30'),
    faint: get('--ink-faint', '#c9c6b8'),
    soft: get('--ink-soft', '#7c8286'),
    accent: get('--accent', '#b3541e'),
    bad: get('--bad', '#a3162d'),
    good: get('--good', '#2c6b3f'),
  };
}
