import type { Host } from '../host/host';
import { useBench } from '../state/use-bench';
import { SheetViews, useMiddle } from '../views/sheet-views';
import { TravelStrip } from '../views/travel-strip';
import { BracketMiddle } from './bracket/bracket-middle';
import { JointsMiddle } from './joints/joints-middle';
import { MeasureMiddle } from './measure/measure-middle';
import { PapersMiddle } from './papers/papers-middle';
import { PlaceMiddle } from './place-middle';
import { ProveMiddle } from './prove/prove-middle';
import { StrutMiddle } from './strut/strut-middle';
import { WeighMiddle } from './weigh/weigh-middle';

/** What the present stage is about, large; while a lid is traced from a photo, the views alone. */
export function StageMiddle({ host }: { host: Host }): React.JSX.Element {
  useMiddle();
  const stage = useBench((s) => s.stage);
  const tracing = useBench((s) => s.wizard !== null);
  return (
    <div className="middle" tabIndex={-1}>
      {tracing ? (
        <SheetViews host={host} />
      ) : stage === 'measure' ? (
        <MeasureMiddle host={host} />
      ) : stage === 'weigh' ? (
        <WeighMiddle host={host} />
      ) : stage === 'place' ? (
        <PlaceMiddle host={host} />
      ) : stage === 'strut' ? (
        <StrutMiddle />
      ) : stage === 'bracket' ? (
        <BracketMiddle host={host} />
      ) : stage === 'prove' ? (
        <ProveMiddle />
      ) : stage === 'joints' ? (
        <JointsMiddle host={host} />
      ) : (
        <PapersMiddle />
      )}
      {!tracing && stage !== 'papers' && <TravelStrip />}
    </div>
  );
}
