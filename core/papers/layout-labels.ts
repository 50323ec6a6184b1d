import { type DimensionMark, explode, lineMark, type Mark, type Point } from '../drawing';
import { atan2, cos, dot, onCircle, rad, sin, toRad } from '../space';
import type { LayoutScene } from './layout-scene';
import { endOnAxes, onPaper, type ViewPlace } from './layout-view';
import type { TextPlacer } from './place-text';
import { figure } from './report-tables';

const NUMBER_MM = 3.5;
const WORDS_MM = 2.5;

/**
 * The opening angle about the hinge in a view that looks along its axis: an arc from the lid's far edge closed to the same
 * open. Where the view looks askew, so that the angle would measure falsely (by more than `offDeg`), the angle stands in
 * words. Null when there is no room at all.
 */
export function angleMark(scene: LayoutScene, view: ViewPlace, placer: TextPlacer, offDeg: number): Mark[] | null {
  const vertex = onPaper(view, scene.hinge[0]);
  const closed = onPaper(view, scene.far.closed);
  const open = onPaper(view, scene.far.open);
  const startRad = atan2(closed[1] - vertex[1], closed[0] - vertex[0]);
  const endRad = atan2(open[1] - vertex[1], open[0] - vertex[0]);
  // the turn goes the way of the opening axis as the view sees it
  const way = dot(scene.openingAxis, view.axes.into) > 0 ? -1 : 1;
  let sweepRad = endRad - startRad;
  while (sweepRad * way < 0) sweepRad += way * 2 * Math.PI;
  while (Math.abs(sweepRad) > 2 * Math.PI) sweepRad -= way * 2 * Math.PI;
  const true_ = Math.abs(Math.abs(sweepRad) - toRad(scene.openDeg)) < toRad(offDeg);
  const arm = Math.min(
    Math.hypot(closed[0] - vertex[0], closed[1] - vertex[1]),
    Math.hypot(open[0] - vertex[0], open[1] - vertex[1]),
  );
  if (true_)
    for (let r = 16; r < 90; r += 4) {
      const dimension: DimensionMark = {
        kind: 'dimension',
        id: 'opening-angle',
        measured: { of: 'angle', vertex, startRad, sweepRad: rad(sweepRad) },
        scale: view.scale,
        before: '',
        after: '°',
        decimals: 1,
        layout: { style: 'angular', radiusMm: r },
      };
      const text = explode([dimension]).find((m) => m.kind === 'text');
      if (!text || !placer.free(text)) continue;
      const arcInside = Array.from({ length: 13 }, (_, i): Point => {
        return onCircle(vertex, r, rad(startRad + (sweepRad * i) / 12));
      }).every((p, i, all) => i === 0 || placer.freeLine(all[i - 1]!, p));
      if (!arcInside) continue;
      const out = (radius: number, angle: number): Point => [
        vertex[0] + radius * cos(rad(angle)),
        vertex[1] + radius * sin(rad(angle)),
      ];
      // the lid's own edge need not run through the hinge: a thin line from it shows the arm that is measured
      const from = r + 2 > arm ? arm : 4;
      const extensions = [startRad, startRad + sweepRad].map((angle) =>
        lineMark('narrow', out(from, angle), out(r + 2, angle)),
      );
      const marks: Mark[] = [dimension, ...extensions];
      if (explode(marks).some((m) => m.kind === 'line' && !placer.freeLine(m.from, m.to))) continue;
      placer.add(marks);
      return marks;
    }
  return placer.near(`opens ${figure(scene.openDeg, 1)}°`, WORDS_MM, vertex, { fromMm: 6 });
}

/** Numbers of the pivots in each view and the lengths of the struts in the one along the hinge; how many found no room. */
export function layoutLabels(
  scene: LayoutScene,
  views: readonly ViewPlace[],
  placer: TextPlacer,
): { readonly marks: Mark[]; readonly missing: number } {
  const marks: Mark[] = [];
  let missing = 0;
  const label = (text: string, size: number, at: Point, options: Parameters<TextPlacer['near']>[3]): void => {
    const placed = placer.near(text, size, at, options);
    if (placed) marks.push(...placed);
    else missing++;
  };
  const own = scene.struts.filter((s) => !s.twin);
  const side = views.find((v) => v.axes === endOnAxes(scene));
  const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  for (const view of views)
    scene.pivots.forEach((p, i) => {
      label(`${i + 1}`, NUMBER_MM, onPaper(view, p.closed), { fromMm: 2.4, toMm: 40 });
    });
  for (const s of side ? own : []) {
    const base = onPaper(side!, s.base);
    const room = { fromMm: 3, toMm: 60, leaderFromMm: 3 };
    const closed = middle(base, onPaper(side!, s.lidClosed));
    label(`${s.mark} closed ${figure(s.closedMm, 1)}`, WORDS_MM, closed, room);
    label(`${s.mark} open ${figure(s.openMm, 1)}`, WORDS_MM, middle(base, onPaper(side!, s.lidOpen)), room);
  }
  return { marks, missing };
}
