// A small reader of an exported drawing: what is drawn, and what each dimension says beside what its arrows span.
interface DimensionRead {
  readonly id: string;
  readonly label: string;
  readonly value: number;
  readonly decimals: number;
  /** Between the points of the two arrows, mm on paper; null for a leader or an angle. */
  readonly spanMm: number | null;
}

export interface SvgSheet {
  readonly scaleText: string;
  /** Paper over real. */
  readonly scale: number;
  readonly dimensions: readonly DimensionRead[];
  readonly circleRadii: readonly number[];
  readonly arcRadii: readonly number[];
}

const unescape = (text: string): string =>
  text
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&');

type At = readonly [number, number];
const pointsOf = (text: string): At[] => {
  const n = text.split(/[\s,]+/).map(Number);
  return n.flatMap((x, i) => (i % 2 === 0 ? [[x, n[i + 1]!] as const] : []));
};
const apart = (a: At, b: At): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The tip of an arrowhead: the corner between the two long sides. */
function tipOf(corners: readonly At[]): At {
  const [a, b, c] = corners as [At, At, At];
  const [ab, bc, ca] = [apart(a, b), apart(b, c), apart(c, a)];
  return bc <= ab && bc <= ca ? a : ca <= ab ? b : c;
}

/** Reads the text of one exported SVG; throws when it has no scale in its title block. */
export function readSvgSheet(svg: string): SvgSheet {
  const texts = [...svg.matchAll(/<text [^>]*>(.*?)<\/text>/g)].map((m) => unescape(m[1]!));
  const scaleText = texts.find((t) => /^\d+:\d+$/.test(t));
  if (!scaleText) throw new Error('no scale on the sheet');
  const [paper, real] = scaleText.split(':').map(Number) as [number, number];
  const dimensions = [...svg.matchAll(/<g data-dimension="([^"]*)">(.*?)<\/g>/gs)].map((m): DimensionRead => {
    const label = unescape(/<text [^>]*>(.*?)<\/text>/.exec(m[2]!)![1]!);
    // "2× ⌀9 for M8" and "bend up 90°, R5" say 9 and 5; the rest begin with their figure
    const figure = /[R⌀](\d+(?:\.(\d+))?)/.exec(label) ?? /(\d+(?:\.(\d+))?)/.exec(label)!;
    const tips = [...m[2]!.matchAll(/<polygon points="([^"]*)"/g)].map((p) => tipOf(pointsOf(p[1]!)));
    const level = label.includes('°') || tips.length !== 2 ? null : apart(tips[0]!, tips[1]!);
    return {
      id: m[1]!,
      label,
      value: Number(figure[1]),
      decimals: figure[2]?.length ?? 0,
      spanMm: level,
    };
  });
  return {
    scaleText,
    scale: paper / real,
    dimensions,
    circleRadii: [...svg.matchAll(/<circle [^>]*r="([\d.]+)"/g)].map((m) => Number(m[1])),
    arcRadii: [...svg.matchAll(/A([\d.]+) [\d.]+ 0 [01] [01]/g)].map((m) => Number(m[1])),
  };
}
