import type { Host } from '../host/host';
import type { Stage } from '../state/store';
import { useBench } from '../state/use-bench';
import { StageHead } from '../ui/stage-head';
import { SheetViews, useMiddle } from '../views/sheet-views';
import { TravelStrip } from '../views/travel-strip';
import { useAnswer } from './answers';
import { BracketMiddle } from './bracket/bracket-middle';
import { JointsMiddle } from './joints/joints-middle';
import { MeasureMiddle } from './measure/measure-middle';
import { PlaceMiddle } from './place-middle';
import { StrutMiddle } from './strut/strut-middle';
import { WeighMiddle } from './weigh/weigh-middle';

const QUESTIONS: Readonly<
  Record<Exclude<Stage, 'measure' | 'weigh' | 'place' | 'strut' | 'joints' | 'bracket'>, string>
> = {
  papers: 'What goes to the workshop?',
  prove: 'Does the fitted one do what was computed?',
};

function Middle({
  stage,
  host,
}: {
  stage: Exclude<Stage, 'measure' | 'weigh' | 'place' | 'strut' | 'joints' | 'bracket'>;
  host: Host;
}): React.JSX.Element {
  return (
    <>
      <StageHead question={QUESTIONS[stage]} answer={useAnswer(stage)} />
      <SheetViews host={host} />
    </>
  );
}

/** What the present stage is about, large; while a lid is traced from a photo, the views alone. */
export function StageMiddle({ host }: { host: Host }): React.JSX.Element {
  useMiddle();
  const stage = useBench((s) => s.stage);
  const tracing = useBench((s) => s.wizard !== null);
  return (
    <div className="middle">
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
      ) : stage === 'joints' ? (
        <JointsMiddle host={host} />
      ) : (
        <Middle stage={stage} host={host} />
      )}
      {!tracing && stage !== 'papers' && <TravelStrip />}
    </div>
  );
}
