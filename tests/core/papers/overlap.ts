import { type Box, explode, type Mark, type PlainMark, type Point, type Sheet, textBox } from '../../../core/drawing';

/** All marks of a sheet with the part they belong to, dimensions taken apart. */
export const plainMarks = (sheet: Sheet): { part: string; mark: PlainMark }[] =>
  sheet.parts.flatMap((part) => explode(part.marks).map((mark) => ({ part: part.name, mark })));

/** Straight pieces of everything drawn with a pen; arcs cut every 3°. */
export function strokes(mark: PlainMark): [Point, Point][] {
  const arc = (c: Point, r: number, start: number, sweep: number): [Point, Point][] => {
    const pieces = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 60)));
    const at = (i: number): Point => [
      c[0] + r * Math.cos(start + (sweep * i) / pieces),
      c[1] + r * Math.sin(start + (sweep * i) / pieces),
    ];
    return Array.from({ length: pieces }, (_, i) => [at(i), at(i + 1)]);
  };
  switch (mark.kind) {
    case 'line':
      return [[mark.from, mark.to]];
    case 'circle':
      return arc(mark.centre, mark.radiusMm, 0, 2 * Math.PI);
    case 'arc':
      return arc(mark.centre, mark.radiusMm, mark.startRad, mark.sweepRad);
    case 'path':
      return mark.segments.flatMap((s): [Point, Point][] =>
        s.kind === 'line' ? [[s.from, s.to]] : arc(s.centre, s.radiusMm, s.startRad, s.sweepRad),
      );
    case 'area':
      return mark.points.map((p, i) => [p, mark.points[(i + 1) % mark.points.length]!]);
    case 'text':
      return [];
  }
}

/** The upright box of a text that reads from below or from the right. */
function uprightBox(mark: Extract<Mark, { kind: 'text' }>): Box {
  const corners = textBox(mark);
  return {
    left: Math.min(...corners.map((p) => p[0])),
    right: Math.max(...corners.map((p) => p[0])),
    bottom: Math.min(...corners.map((p) => p[1])),
    top: Math.max(...corners.map((p) => p[1])),
  };
}

export const boxesMeet = (a: Box, b: Box, slack = 0): boolean =>
  a.left < b.right - slack && b.left < a.right - slack && a.bottom < b.top - slack && b.bottom < a.top - slack;

/** True when a straight piece runs through a box (Liang–Barsky clipping). */
function pieceMeetsBox([a, b]: [Point, Point], box: Box): boolean {
  let [low, high] = [0, 1];
  const d = [b[0] - a[0], b[1] - a[1]] as const;
  for (const [step, room] of [
    [-d[0], a[0] - box.left],
    [d[0], box.right - a[0]],
    [-d[1], a[1] - box.bottom],
    [d[1], box.top - a[1]],
  ] as const) {
    if (step === 0) {
      if (room < 0) return false;
    } else if (step < 0) low = Math.max(low, room / step);
    else high = Math.min(high, room / step);
  }
  return low < high;
}

/** Texts that meet another text or a drawn line, in words; empty for a clean sheet. */
export function collisions(sheet: Sheet): string[] {
  const marks = plainMarks(sheet);
  const texts = marks.flatMap(({ part, mark }) =>
    mark.kind === 'text' ? [{ part, text: mark.text, box: uprightBox(mark) }] : [],
  );
  const found: string[] = [];
  texts.forEach((a, i) => {
    for (const b of texts.slice(i + 1))
      if (boxesMeet(a.box, b.box)) found.push(`${a.part} "${a.text}" meets ${b.part} "${b.text}"`);
    for (const { part, mark } of marks)
      for (const piece of strokes(mark))
        if (pieceMeetsBox(piece, a.box)) {
          found.push(`${a.part} "${a.text}" meets a ${mark.kind} ${'role' in mark ? mark.role : ''} of ${part}`);
          break;
        }
  });
  return found;
}
