import { useMemo, useState } from 'react';
import { attempt } from '../../../core/error';
import type { Host } from '../../host/host';
import { type EndName, turnMount } from '../../../core/job';
import { useTold } from '../../state/told';
import { useMountTool } from '../../state/mount-tool';
import { useMade } from '../../state/use-bench';
import { Segment, StageHead } from '../../ui/stage-head';
import { SheetViews } from '../../views/sheet-views';
import { useAnswer } from '../answers';
import { CloseUp, type Pose, useJoint } from './close-up';
import { stemToSet } from './stem-to-set';
import { TurnChart } from './turn-chart';

const ENDS: readonly EndName[] = ['base', 'lid'];
const NAMES: Readonly<Record<EndName, string>> = { base: 'Joint on the base', lid: 'Joint on the lid' };

/** How far off square the chosen joint gets against its turn; without a mount there is nothing to turn. */
function Turning({ index, end }: { index: number; end: EndName }): React.JSX.Element | null {
  const joint = useJoint(index, end);
  const spec = useTold((s) => s.outcome?.job.struts[index]?.ends[end] ?? null);
  const id = useTold((s) => s.outcome?.job.struts[index]?.id ?? '');
  const plan = useTold((s) => s.outcome?.plans[0] ?? null);
  const best = useMemo(() => {
    const strut = plan?.struts[index];
    return plan && strut && spec ? attempt(() => stemToSet(plan, strut, end, spec, 1)).value : null;
  }, [plan, spec, index, end]);
  if (!joint || !spec?.mount || !best)
    return (
      <p className="pane empty">
        {joint
          ? 'This joint stands on no mount: put it on one, and it can be turned.'
          : 'Nothing can be worked out yet.'}
      </p>
    );
  return (
    <section className="pane turning" aria-label="Turn of the stud">
      <header>
        <b>
          If the stud on the {end} is turned, how far off {joint.axial ? 'its line' : 'square'} does it get?
        </b>
        <span>drag the mark, or ← →</span>
      </header>
      <TurnChart
        swing={joint.swing}
        mount={spec.mount}
        tiltDeg={spec.tiltDeg ?? 0}
        rangeDeg={spec.rangeDeg}
        presentDeg={spec.azimuthDeg ?? 0}
        best={best.rounded}
        turn={(job, azimuthDeg) => turnMount(job, { strut: id, end, azimuthDeg })}
      />
    </section>
  );
}

/** Joints: both ends side by side where they are worst, and what turning one would do; or the lid, where studs are dragged. */
export function JointsMiddle({ host }: { host: Host }): React.JSX.Element {
  const [pose, setPose] = useState<Pose>('worst');
  const [index, setIndex] = useState(0);
  const [chosen, setOnLid] = useState(false);
  // a surface is clicked in a view
  const picking = useMountTool((wanted) => wanted !== null);
  const onLid = chosen || picking;
  const struts = useMade((s) => s.resolved.struts.map(({ name }, i) => [i, name ?? `Strut ${i + 1}`] as const));
  const joints = { base: useJoint(index, 'base'), lid: useJoint(index, 'lid') };
  const used = (end: EndName): number => (joints[end] ? joints[end].worstDeg / joints[end].rangeDeg : -1);
  // the one that is worse when the stage is come to: it must not change under a turn that mends it
  const [end, setEnd] = useState<EndName>(() => (used('lid') > used('base') ? 'lid' : 'base'));
  return (
    <>
      <StageHead question="Do both ball joints stay in their range?" answer={useAnswer('joints')}>
        {struts.length > 1 && <Segment label="Strut" options={struts} value={index} onChoose={setIndex} />}
        {!onLid && (
          <Segment
            label="Where the lid stands"
            options={[
              ['worst', 'Worst'],
              ['closed', 'Closed'],
              ['open', 'Open'],
            ]}
            value={pose}
            onChoose={setPose}
          />
        )}
        <button type="button" onClick={() => setOnLid(!onLid)}>
          {onLid ? 'Close up' : 'On the lid'}
        </button>
      </StageHead>
      {onLid ? (
        <SheetViews host={host} />
      ) : (
        <div className="joints-middle">
          <svg width="0" height="0" aria-hidden="true">
            <pattern id="joint-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path d="M0 0V6" className="hatch-line" />
            </pattern>
          </svg>
          <div className="pane joint-pair">
            {ENDS.map((name) => {
              const joint = joints[name];
              return joint ? (
                <CloseUp
                  key={name}
                  name={NAMES[name]}
                  joint={joint}
                  pose={pose}
                  chosen={end === name}
                  onChoose={() => setEnd(name)}
                />
              ) : (
                <p key={name} className="empty">
                  {NAMES[name]}: it can’t be worked out yet.
                </p>
              );
            })}
          </div>
          <Turning index={index} end={end} />
        </div>
      )}
    </>
  );
}
