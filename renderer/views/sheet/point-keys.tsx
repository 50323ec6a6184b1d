import { useLayoutEffect, useRef } from 'react';
import { pickForRelation } from '../../state/relations';
import { select } from '../../state/session';
import { edit } from '../../state/store';
import { useRest } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { handlesOf } from './handles';
import { movePosed, saidIfHeld } from './move-point';
import type { View } from './view';

/** Which way an arrow key means, up counted up. */
export const ARROWS: Record<string, readonly [number, number]> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** Moves a point by the step that an arrow key means, along the view. */
function nudge(e: React.KeyboardEvent, { look, plane }: View, pointId: string, name: string): void {
  const way = ARROWS[e.key];
  if (!way) return;
  e.preventDefault();
  e.stopPropagation();
  const stepMm = e.shiftKey ? 10 : e.altKey ? 0.1 : 1;
  const { right, rightSign, up } = look.projection;
  edit(`Nudge ${name}`, (job) => {
    const from = look.scene.posed.get(pointId);
    if (!from) return job;
    const to: [number, number, number] = [...from];
    to[right] += rightSign * way[0] * stepMm;
    to[up] += way[1] * stepMm;
    return saidIfHeld(job, movePosed(job, pointId, to, look.state.angleDeg, plane), pointId);
  });
}

/** Buttons that lie over the points for the keyboard and for screen readers; the pointer goes through them to the canvas. */
export function PointKeys({ view }: { view: View }): React.JSX.Element {
  const resolved = useRest((s) => s.resolved);
  const stage = useBench((s) => s.stage);
  const wizard = useBench((s) => s.wizard !== null);
  const holder = useRef<HTMLDivElement>(null);
  const handles = wizard ? [] : handlesOf(resolved, stage);

  useLayoutEffect(
    () =>
      view.follow(({ scene, at }) => {
        for (const button of holder.current?.querySelectorAll<HTMLElement>('[data-point]') ?? []) {
          const p = scene.posed.get(button.dataset['point'] ?? '');
          if (!p) continue;
          const [x, y] = at(p);
          button.style.transform = `translate(${x - 12}px, ${y - 12}px)`;
        }
      }),
    [view, handles.length],
  );

  return (
    <div className="point-keys" ref={holder}>
      {handles.map((h) => (
        <button
          key={h.pointId}
          type="button"
          data-point={h.pointId}
          aria-label={`${h.name}: arrow keys move it 1 mm in this view, with Shift 10, with Alt 0.1`}
          onFocus={() => select({ kind: 'point', id: h.pointId })}
          onClick={() => pickForRelation(h.pointId)}
          onKeyDown={(e) => nudge(e, view, h.pointId, h.name)}
        />
      ))}
    </div>
  );
}
