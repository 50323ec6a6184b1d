import { useEffect, useRef } from 'react';
import { select } from '../state/session';
import { bench } from '../state/store';
import { onFit } from './fit';
import { addTrailingPainter } from './frame';
import type { View3D } from './space';

/** Keeps the view in step with the job until what it returns is called. */
function follow(view: View3D): () => void {
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
}

/** The lid in space; drawn in the same pass as the sheet. */
export function SpaceView(): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let gone = false;
    let end = (): void => undefined;
    // what draws it is a fifth of the page: the rest does not wait for it
    void import('./space').then(({ View3D }) => {
      if (!gone) end = follow(new View3D(box.current!, { onPick: (id) => select({ kind: 'point', id }) }));
    });
    return () => {
      gone = true;
      end();
    };
  }, []);
  return <div className="view-paper" data-view="space" ref={box} />;
}
