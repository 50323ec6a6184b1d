import { memo } from 'react';
import type { Plane } from '../../state/planes';
import { relationStore } from '../../state/relations';
import { DASH, Ink, type Pen, label, labelWidth, line } from './ink';
import { offOf, relationMarks, withNotes } from './condition-marks';
import { keepLast } from './seen';
import { type Look, useView } from './view';

// What must hold: thin lines and plain words, the chosen one in the accent.

const LABEL_HIGH_PX = 17;
/** How many places up and down a label may go to keep clear of the others. */
const MOST_TRIES = 8;

interface Placed {
  readonly id: string;
  readonly off: boolean;
  readonly lines: readonly (readonly [number, number][])[];
  readonly labels: readonly { readonly text: string; readonly x: number; readonly y: number }[];
}

/** All marks of a view with their labels kept clear of each other, the chosen one last. */
function place(pen: Pen, look: Look, chosen: string | null): ReadonlyMap<string, Placed> {
  const { state, scene, projection, size, at } = look;
  const { resolved, angleDeg, units } = state;
  const off = state.drag ? [] : offOf(state.history.present);
  const marks = withNotes(relationMarks(resolved, scene, projection.plane, units), resolved, angleDeg, off);
  marks.sort((a, b) => Number(a.id === chosen) - Number(b.id === chosen));
  const taken: (readonly [x: number, y: number, width: number])[] = [];
  const labelAt = (text: string, [px, py]: [number, number]): Placed['labels'][number] => {
    const width = labelWidth(pen, text) + 8;
    const x = Math.min(px + 10, size.width - width);
    const y0 = py + 15;
    let y = y0;
    const clash = (): boolean =>
      taken.some(([tx, ty, tw]) => Math.abs(ty - y) < LABEL_HIGH_PX && x < tx + tw && tx < x + width);
    // below, above, further below, further above
    for (let k = 1; k <= MOST_TRIES && clash(); k++)
      y = y0 + (k % 2 === 1 ? -1 : 1) * Math.ceil(k / 2) * LABEL_HIGH_PX - (k % 2 === 1 ? 13 : 0);
    taken.push([x, y, width]);
    return { text, x, y };
  };
  return new Map(
    marks.map((m) => [
      m.id,
      {
        id: m.id,
        off: off.includes(m.id),
        lines: m.lines.map((points) => points.map(at)),
        labels: m.labels.map((l) => labelAt(l.text, at(l.at))),
      },
    ]),
  );
}

const placed: Record<Plane, typeof place> = { side: keepLast(place), top: keepLast(place), front: keepLast(place) };

export const ConditionMark = memo(({ id }: { id: string }) => {
  const { plane } = useView();
  return (
    <Ink
      name={`condition ${id}`}
      draw={(pen, look) => {
        const { chosen } = relationStore.getState();
        const mark = placed[plane](pen, look, chosen).get(id);
        if (!mark) return;
        const c = look.palette;
        const own = id === chosen;
        for (const points of mark.lines)
          line(pen, points, own ? c.accent : mark.off ? c.bad : c.soft, own ? 2 : 1, DASH.centre);
        for (const { text, x, y } of mark.labels) label(pen, text, x, y, c, own ? c.accent : mark.off ? c.bad : c.ink);
      }}
    />
  );
});
