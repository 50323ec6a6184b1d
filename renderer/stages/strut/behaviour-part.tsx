import { useMemo } from 'react';
import { type AngleBand, OPENING_SPEED_NOTE, bands } from '../../../core/choose';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

const angle = (a: AngleBand): string => {
  const say = (v: number | null): string => (v === null ? 'nowhere' : `${v.toFixed(1)}°`);
  return a.lowForceDeg === null && a.highForceDeg === null
    ? 'nowhere'
    : a.lowForceDeg === a.highForceDeg
      ? say(a.lowForceDeg)
      : `${say(a.lowForceDeg)} (weak) … ${say(a.highForceDeg)} (strong)`;
};

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
            Lifts by itself from {angle(b.popUp)}. Coming down, starts to fall at {angle(b.startsToFall)}.{' '}
            {b.restDeg.length === 0
              ? 'Stays nowhere whatever the tolerance.'
              : `Stays in any case ${b.restDeg.map(([x, y]) => `${x.toFixed(0)}°–${y.toFixed(0)}°`).join(', ')}.`}
          </p>
        </div>
      ))}
      <p className="hint">{OPENING_SPEED_NOTE}</p>
    </Part>
  );
}
