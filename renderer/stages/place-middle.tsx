import type { Host } from '../host/host';
import { StageHead } from '../ui/stage-head';
import { SheetViews } from '../views/sheet-views';
import { useAnswer } from './answers';

/** Place: the lid from three sides and in space, where its points are dragged. */
export function PlaceMiddle({ host }: { host: Host }): React.JSX.Element {
  return (
    <>
      <StageHead question="Where may the strut go?" answer={useAnswer('place')} />
      <SheetViews host={host} />
    </>
  );
}
