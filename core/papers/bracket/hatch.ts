import { lineMark, type Mark, type Point } from '../../drawing';

const PITCH_MM = 2.5;
const EDGE_MM = 0.05;

/** Hatching at 45°: narrow lines inside the loops (even–odd: a loop within another is left open), paper mm. ISO 128-3. */
export function hatch(loops: readonly (readonly Point[])[], pitchMm = PITCH_MM): Mark[] {
  const c = Math.SQRT1_2;
  // turned by −45° the hatching is level
  const turn = ([x, y]: Point): Point => [c * (x + y), c * (y - x)];
  const back = ([x, y]: Point): Point => [c * (x - y), c * (x + y)];
  const turned = loops.map((loop) => loop.map(turn));
  const heights = turned.flat().map((p) => p[1]);
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const marks: Mark[] = [];
  // thin sheet still shows some lines
  const pitch = Math.min(pitchMm, Math.max(0.8, (high - low) / 6));
  for (let y = low + pitch / 2; y < high; y += pitch) {
    const cuts: number[] = [];
    for (const loop of turned)
      loop.forEach((p, i) => {
        const q = loop[(i + 1) % loop.length]!;
        if (p[1] > y !== q[1] > y) cuts.push(p[0] + ((y - p[1]) / (q[1] - p[1])) * (q[0] - p[0]));
      });
    cuts.sort((a, b) => a - b);
    for (let i = 0; i + 1 < cuts.length; i += 2)
      if (cuts[i + 1]! - cuts[i]! > 2 * EDGE_MM)
        marks.push(lineMark('narrow', back([cuts[i]! + EDGE_MM, y]), back([cuts[i + 1]! - EDGE_MM, y])));
  }
  return marks;
}
