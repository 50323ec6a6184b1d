import type { BracketSpec } from '../../bracket';
import {
  arrowhead,
  circleMark,
  formatNumber,
  lineMark,
  type Mark,
  type Point,
  polygonMark,
  textWidthMm,
} from '../../drawing';
import { textAt } from '../text';
import type { Sketch } from './view-marks';
import type { Leader } from './wanted';

const LEG_MM = 3.5;
const TEXT_MM = 3.5;

/**
 * A fillet weld by ISO 2553: arrow line, reference line, triangle with its throat a before it. `both`: on either side of the joint;
 * else on the arrow's side, the other side's dashed line under it. `round`: all round, a circle at the bend of the arrow line.
 */
export function filletSymbol(
  id: string,
  tip: Point,
  throatMm: number | null,
  { both, round }: { readonly both: boolean; readonly round: boolean },
): Leader {
  const words = throatMm === null ? '' : `a${formatNumber(throatMm, 2)}`;
  const wide = textWidthMm(words, TEXT_MM);
  const long = 4 + wide + 2 + LEG_MM + 4;
  return {
    kind: 'leader',
    id,
    tip: () => tip,
    draw: (at, landing, side) => {
      const end: Point = [landing[0] + side * long, landing[1]];
      const reach = Math.hypot(landing[0] - at[0], landing[1] - at[1]);
      const left = Math.min(landing[0], end[0]);
      const y = landing[1];
      // the words stand before the triangle as they are read, on either hand
      const text = left + (side === 1 ? 4 : 3);
      const x = text + wide + (words === '' ? 0 : 1.5);
      const triangle = (way: 1 | -1): Mark =>
        polygonMark('narrow', [
          [x, y],
          [x + LEG_MM, y],
          [x, y + way * LEG_MM],
        ]);
      const marks: Mark[] = [
        lineMark('narrow', at, landing),
        arrowhead(at, [(at[0] - landing[0]) / reach, (at[1] - landing[1]) / reach]),
        lineMark('narrow', landing, end),
        triangle(1),
      ];
      if (words !== '') marks.push(textAt([text, y + 1], words, TEXT_MM));
      if (both) {
        marks.push(triangle(-1));
        if (words !== '') marks.push(textAt([text, y - 1 - TEXT_MM], words, TEXT_MM));
      } else marks.push(lineMark('hidden', [landing[0] + side * 1.5, y - 1.2], [end[0], y - 1.2]));
      if (round) marks.push(circleMark('narrow', landing, 1.3));
      return marks;
    },
  };
}

/** A gusset's welds in the side view: both sides of it, along base and upright. */
export function gussetWeld(spec: BracketSpec, sketch: Sketch): Leader {
  const g = spec.gusset!;
  const t = spec.thicknessMm;
  return filletSymbol('gusset-weld', sketch.at([t + g.alongMm * 0.75, t]), g.weldThroatMm, {
    both: true,
    round: false,
  });
}

/** The weld that holds the bracket on its mount: which edges of its foot, and its throat (null: left open). Lengths mm. */
export interface MountWeld {
  readonly throatMm: number | null;
  readonly edges: 'all' | 'sides' | 'ends';
  /** The job leaves the throat open: it is what strength counts on. */
  readonly assumed?: boolean;
}

/** Its symbol at one of the edges that are welded: all round with a circle, else for the edge it points at. */
export const mountWeld = (
  sketch: Sketch,
  at: { readonly side: readonly [number, number]; readonly end: readonly [number, number] },
  { throatMm, edges }: MountWeld,
): Leader =>
  filletSymbol('mount-weld', sketch.at(edges === 'sides' ? at.side : at.end), throatMm, {
    both: false,
    round: edges === 'all',
  });
