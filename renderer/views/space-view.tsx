import { useEffect, useRef } from 'react';
import { select } from '../state/session';
import { bench } from '../state/store';
import { onFit } from './fit';
import { addTrailingPainter } from './frame';
import { View3D } from './space';

/** The lid in space; drawn in the same pass as the sheet. */
export function SpaceView(): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const view = new View3D(box.current!, { onPick: (id) => select({ kind: 'point', id }) });
    let last: readonly unknown[] = [];
    const paint = (): void => {
      const s = bench.getState();
      const key = [s.resolved, s.outcome, s.angleDeg, s.selection, s.theme];
      if (s.resolved.points.length === 0 || key.every((part, i) => part === last[i])) return;
      last = key;
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
    const off = addTrailingPainter(paint);
    const offFit = onFit(() => {
      paint();
      view.fit();
    });
    return () => {
      off();
      offFit();
      view.dispose();
    };
  }, []);
  return <div className="view-paper" data-view="space" ref={box} />;
}
