import {
  type BracketSpec,
  contourPoints,
  holeContour,
  type PlacedHole,
  placedHoles,
  type Point2,
  studDepthMm,
} from '../../bracket';
import { sidesOf } from '../../drawing';
import { atan2, cos, rad, tan, toRad } from '../../space';
import { hatch } from './hatch';
import { Sketch } from './view-marks';
import { chord, sectionLine, turnedInto } from './section-line';
import { type DrawnView, finish } from './views';
import { leaderOf } from './wanted';

/** Where the section meets a fixing, along the section's line from the stud's root; null when it passes it by. */
function fixingChord(hole: PlacedHole, d: Point2): readonly [number, number] | null {
  const outline = holeContour({
    centre: [hole.centreMm[0], hole.centreMm[1]],
    diameterMm: hole.diameterMm,
    slotMm: hole.slotMm,
    slotRad: atan2(hole.slotAxis[1], hole.slotAxis[0]),
  });
  return chord(
    contourPoints(outline, rad(Math.PI / 90)).map((p) => turnedInto(p, d)),
    1e-9,
  );
}

/** A wedge plate cut along its steepest rise through the stud's axis: heights at both ends, the rise's angle, what is cut open. */
export function wedgeSection(spec: BracketSpec, scale: number): DrawnView {
  const sketch = new Sketch(scale);
  const { way, from, to } = sectionLine(spec);
  const tilt = toRad(spec.wedge!.tiltDeg);
  const rise = tan(tilt);
  const atRoot = studDepthMm(spec) / cos(tilt);
  const top = (s: number): number => atRoot + rise * s;
  const corners: Point2[] = [
    [from, 0],
    [to, 0],
    [to, top(to)],
    [from, top(from)],
  ];
  const gaps: Point2[][] = [];
  const open = (quad: readonly Point2[]): void => {
    gaps.push([...quad]);
    sketch.pen.line('visible', quad[0]!, quad[3]!);
    sketch.pen.line('visible', quad[1]!, quad[2]!);
  };
  for (const hole of placedHoles(spec)) {
    if (hole.role === 'fixing') {
      const cut = fixingChord(hole, way);
      if (!cut || cut[1] - cut[0] < 1e-6) continue;
      const [a, b] = cut;
      open([
        [a, 0],
        [b, 0],
        [b, top(b)],
        [a, top(a)],
      ]);
      sketch.centre([(a + b) / 2, 0], [(a + b) / 2, top((a + b) / 2)]);
      continue;
    }
    // square to the top: it leans back by the tilt
    const r = hole.diameterMm / 2 / cos(tilt);
    // the wall starts at s0 on the underside and follows the axis up to the top
    const up = (s0: number): Point2 => {
      const z = top(s0) / (1 + rise * rise);
      return [s0 - rise * z, z];
    };
    open([[-r, 0], [r, 0], up(r), up(-r)]);
    sketch.centre([0, 0], up(0));
  }
  sketch.pen.outline(sidesOf(corners));
  sketch.marks.push(...hatch([corners, ...gaps].map((loop) => loop.map((p) => sketch.at(p)))));
  sketch.size('wedge-low', 'y', [from, 0], [from, top(from)], -1);
  if (tilt > 1e-6) sketch.size('wedge-high', 'y', [to, 0], [to, top(to)], 1, { auxiliary: true });
  sketch.size('wedge-section', 'x', [from, 0], [to, 0], -1, { auxiliary: true, decimals: 1 });
  sketch.size('wedge-from-stud', 'x', [from, 0], [0, 0], -1, { auxiliary: true, decimals: 1, gapsMm: [2, 4] });
  if (tilt > 1e-6) {
    const tip = sketch.at([from + (to - from) * 0.8, top(from + (to - from) * 0.8)]);
    sketch.wanted.push(
      leaderOf(
        'wedge-tilt',
        scale,
        { of: 'angle', vertex: sketch.at([from, top(from)]), startRad: rad(0), sweepRad: tilt },
        () => tip,
        { before: 'top rises ', after: '°' },
      ),
    );
  }
  return finish('section', sketch, 'A–A');
}
