import { relationDesk } from '../../state/relations';
import type { BenchState } from '../../state/store';
import type { ViewFace } from './drag-overlay';
import * as ink from './draw';
import { toPx } from './projection';
import type { Scene } from './scene';
import { offOf, relationMarks, withNotes } from './scene-relations';

const LABEL_HIGH_PX = 17;
/** How many places up and down a label may go to keep clear of the others. */
const MOST_TRIES = 8;

/** Marks of the relations: thin lines and plain words, the chosen one in the accent. In Measure and Place, and in a drag. */
export function drawRelations(pen: ink.Pen, state: BenchState, scene: Scene, face: ViewFace): void {
  if (state.resolved.relations.length === 0) return;
  if (state.stage !== 'measure' && state.stage !== 'place' && !state.drag) return;
  const { projection, size, palette: c } = face;
  const { chosen } = relationDesk.getState();
  const off = state.drag ? [] : offOf(state.history.present);
  const marks = withNotes(
    relationMarks(state.resolved, scene, projection.plane, state.units),
    state.resolved,
    state.angleDeg,
    off,
  );
  // the chosen one last, over the others
  marks.sort((a, b) => Number(a.id === chosen) - Number(b.id === chosen));
  const taken: (readonly [x: number, y: number, width: number])[] = [];
  pen.font = ink.LABEL_FONT;
  for (const mark of marks) {
    const own = mark.id === chosen;
    const colour = own ? c.accent : off.includes(mark.id) ? c.bad : c.soft;
    for (const line of mark.lines)
      ink.drawLine(
        pen,
        line.map((p) => toPx(p, projection, state.sheet, size)),
        colour,
        own ? 2 : 1,
        ink.DASH.centre,
      );
    for (const label of mark.labels) {
      const [px, py] = toPx(label.at, projection, state.sheet, size);
      const width = pen.measureText(label.text).width + 8;
      const x = Math.min(px + 10, size.width - width);
      const y0 = py + 15;
      let y = y0;
      const clash = (): boolean =>
        taken.some(([tx, ty, tw]) => Math.abs(ty - y) < LABEL_HIGH_PX && x < tx + tw && tx < x + width);
      // below, above, further below, further above
      for (let k = 1; k <= MOST_TRIES && clash(); k++)
        y = y0 + (k % 2 === 1 ? -1 : 1) * Math.ceil(k / 2) * LABEL_HIGH_PX - (k % 2 === 1 ? 13 : 0);
      taken.push([x, y, width]);
      ink.drawLabel(pen, label.text, x, y, c, own ? c.accent : off.includes(mark.id) ? c.bad : c.ink);
    }
  }
}
