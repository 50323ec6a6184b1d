/** The few colours of the view, as CSS hex. */
export interface Palette {
  readonly paper: string;
  readonly ink: string;
  readonly accent: string;
  readonly bad: string;
}

const FALLBACK: Record<'light' | 'dark', Palette> = {
  light: { paper: '#f6f2e7', ink: '#23262b', accent: '#b3541e', bad: '#a3142a' },
  dark: { paper: '#1b1d20', ink: '#e4dfd2', accent: '#e08a4f', bad: '#ff6b7d' },
};

/** Any colour that the page can paint, as hex; null when it is none. */
function toHex(css: string, brush: CanvasRenderingContext2D | null): string | null {
  if (!brush || css === '' || !CSS.supports('color', css)) return null;
  brush.clearRect(0, 0, 1, 1);
  brush.fillStyle = css;
  brush.fillRect(0, 0, 1, 1);
  const [r, g, b] = brush.getImageData(0, 0, 1, 1).data;
  return `#${[r, g, b].map((x) => x!.toString(16).padStart(2, '0')).join('')}`;
}

/** Reads --paper, --ink, --accent and --bad where the host stands; what is not set there comes from the theme. */
export function readPalette(host: HTMLElement, theme: 'light' | 'dark'): Palette {
  const style = getComputedStyle(host);
  const brush = Object.assign(document.createElement('canvas'), { width: 1, height: 1 }).getContext('2d', {
    willReadFrequently: true,
  });
  const pick = (name: keyof Palette): string =>
    toHex(style.getPropertyValue(`--${name}`).trim(), brush) ?? FALLBACK[theme][name];
  return { paper: pick('paper'), ink: pick('ink'), accent: pick('accent'), bad: pick('bad') };
}
