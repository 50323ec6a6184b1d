import { formatQuantity } from '../../../core/quantity';
import { type Vec3, add, rotateVec, scale, toRad } from '../../../core/space';
import type { BenchState } from '../../state/store';
import { type ViewFace, drawBeside } from './drag-overlay';
import * as ink from './draw';
import { toPx } from './projection';
import type { Scene } from './scene';

/** Length of an arrow seen square, px. */
const ARROW_PX = 70;

/** At each pivot the way to go for less force, with newtons per 10 mm; an arrow seen end-on is left out. */
export function drawPulls(pen: ink.Pen, state: BenchState, scene: Scene, face: ViewFace): void {
  if (state.pulls?.outcome !== state.outcome || !state.pulls) return;
  const { palette: c, projection, size } = face;
  const px = (p: Vec3): [number, number] => toPx(p, projection, state.sheet, size);
  for (const strut of scene.struts) {
    const gradient = state.pulls.byStrut.get(strut.id);
    if (!gradient) continue;
    for (const pull of [gradient.base, gradient.lid]) {
      if (pull.perTenMm < 0.5) continue;
      const from = pull.end === 'base' ? strut.base : strut.lid;
      const way =
        pull.end === 'lid' && scene.axis
          ? rotateVec(pull.direction, scene.axis.opening, toRad(state.angleDeg))
          : pull.direction;
      const a = px(from);
      const b = px(add(from, scale(way, ARROW_PX / state.sheet.pxPerMm)));
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (length < 18) continue;
      const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
      const start: [number, number] = [a[0] + ux * 10, a[1] + uy * 10];
      ink.drawLine(pen, [start, b], c.accent, 3);
      const wing = (side: number): [number, number] => [b[0] - ux * 11 + side * uy * 6, b[1] - uy * 11 - side * ux * 6];
      ink.drawLine(pen, [wing(1), b, wing(-1)], c.accent, 3);
      drawBeside(
        pen,
        `−${formatQuantity(pull.perTenMm, 'force', state.units)} per 10 mm`,
        b[0] - 8,
        pull.end === 'base' ? b[1] + 18 : b[1] - 8,
        face,
      );
    }
  }
}
