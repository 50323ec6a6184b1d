import { useEffect } from 'react';
import type { Host } from '../../host/host';
import { showAlone } from '../../state/session';
import { bench } from '../../state/store';
import { StageHead } from '../../ui/stage-head';
import { SheetViews } from '../../views/sheet-views';
import { useAnswer } from '../answers';
import './measure.css';
import { AddPhoto, PhotoBar } from './photos/photo-bar';
import { ReadingsPane } from './readings/readings-pane';

/** Measure: the photo that is worked on, large, with its tools over it; what tape, level and gauge read in a table below. */
export function MeasureMiddle({ host }: { host: Host }): React.JSX.Element {
  useEffect(() => {
    const { filled, resolved } = bench.getState();
    const photo = resolved.photos[0];
    if (filled !== null || !photo) return;
    showAlone(photo.view);
    return () => {
      if (bench.getState().filled === photo.view) showAlone(null);
    };
  }, []);
  return (
    <>
      <StageHead question="Where is everything?" answer={useAnswer('measure')}>
        <AddPhoto />
      </StageHead>
      <PhotoBar host={host} />
      <div className="measure-middle">
        <SheetViews host={host} />
        <ReadingsPane />
      </div>
    </>
  );
}
