import { useMemo } from 'react';
import { type AngleBand, OPENING_SPEED_NOTE, bands } from '../../../core/choose';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

/** Where something happens over friction and tolerance: after `from`, or `never` where it doesn't. */
function where({ lowForceDeg: low, highForceDeg: high }: AngleBand, from: string, never: string): string {
  if (low === null && high === null) return never;
  const say = (deg: number | null): string => (deg === null ? 'never' : `${deg.toFixed(1)}°`);
  return low === high ? `${from} ${say(low)}.` : `${from} ${say(low)} (weak) … ${say(high)} (strong).`;
}

/** Where it lifts by itself, where it starts to fall, where it stays: bands over friction and tolerance. */
export function BehaviourPart(): React.JSX.Element | null {
  const outcome = useTold((s) => s.outcome);
  const dragging = useBench((s) => s.drag !== null);
  const found = useMemo(() => (outcome && !dragging ? bands(outcome) : null), [outcome, dragging]);
  if (!found || !outcome) return null;
  return (
    <Part title="How it behaves" folded>
      {found.map((b, i) => (
        <div key={b.caseId} className="item">
          <strong>{outcome.job.loadCases[i]!.name}</strong>
          <p className="hint">
            {where(b.popUp, 'Lifts by itself from', 'Never lifts by itself.')}{' '}
            {where(b.startsToFall, 'Coming down, starts to fall at', 'Never falls by itself.')}{' '}
            {b.restDeg.length === 0
              ? 'Does not stay part-open.'
              : `Stays in any case ${b.restDeg.map(([x, y]) => `${x.toFixed(0)}°–${y.toFixed(0)}°`).join(', ')}.`}
          </p>
        </div>
      ))}
      <p className="hint">{OPENING_SPEED_NOTE}</p>
    </Part>
  );
}
