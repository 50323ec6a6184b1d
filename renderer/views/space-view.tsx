import { useEffect, useRef } from 'react';
import { select } from '../state/session';
import { bench } from '../state/store';
import { onFit } from './fit';
import { addPainter } from './frame';
import { View3D } from './space';

/** Where a machine draws 3D in software, the drag comes first: the space view then follows this far apart, ms. */
const CALM_MS = 110;
/** A frame longer than this tells such a machine, ms. */
const SLOW_FRAME_MS = 22;

/** The lid in space; drawn in the same pass as the sheet. */
export function SpaceView(): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const view = new View3D(box.current!, { onPick: (id) => select({ kind: 'point', id }) });
    let last: readonly unknown[] = [];
    let lastCall = 0;
    let lastShown = 0;
    let timer = 0;
    const paint = (): void => {
      const s = bench.getState();
      const now = performance.now();
      const slow = now - lastCall > SLOW_FRAME_MS;
      lastCall = now;
      if (s.drag && slow && now - lastShown < CALM_MS) {
        // the last move of a pause is still to be shown
        window.clearTimeout(timer);
        timer = window.setTimeout(paint, CALM_MS);
        return;
      }
      const key = [s.resolved, s.outcome, s.angleDeg, s.selection, s.theme];
      if (s.resolved.points.length === 0 || key.every((part, i) => part === last[i])) return;
      last = key;
      lastShown = now;
      view.show({
        job: s.resolved,
        outcome: s.outcome,
        angleDeg: s.angleDeg,
        selected: s.selection?.id ?? null,
        theme: s.theme,
        showTrace: true,
      });
    };
    paint();
    const off = addPainter(paint);
    const offFit = onFit(() => {
      paint();
      view.fit();
    });
    return () => {
      window.clearTimeout(timer);
      off();
      offFit();
      view.dispose();
    };
  }, []);
  return <div className="view-paper" data-view="space" ref={box} />;
}
