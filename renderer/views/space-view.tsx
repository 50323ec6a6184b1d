import { useEffect, useRef } from 'react';
import { placesStore } from '../state/places';
import { select } from '../state/session';
import { bench } from '../state/store';
import { onFit } from './fit';
import { addTrailingPainter } from './frame';
import type { Ghost, View3D } from './space';

const NONE: readonly Ghost[] = [];

/** Places found, or the nearest where none works, as the view in space shows them. */
function ghostsNow(): readonly Ghost[] {
  const { places, chosen, answer } = placesStore.getState();
  const near = places.length === 0 ? (answer?.relaxed?.place ?? answer?.nearest?.place) : undefined;
  const all = near ? [near] : places;
  return all.length === 0 ? NONE : all.map(({ base, lid }, i) => ({ base, lid, chosen: i === chosen }));
}

/** Keeps the view in step with the job until what it returns is called. */
function follow(view: View3D): () => void {
  let last: readonly unknown[] = [];
  const paint = (): void => {
    const s = bench.getState();
    const key = [s.resolved, s.outcome, s.angleDeg, s.selection, s.theme, placesStore.getState()];
    if (s.resolved.points.length === 0 || key.every((part, i) => part === last[i])) return;
    last = key;
    view.show({
      job: s.resolved,
      outcome: s.outcome,
      angleDeg: s.angleDeg,
      selected: s.selection?.id ?? null,
      theme: s.theme,
      showTrace: true,
      ghosts: ghostsNow(),
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
