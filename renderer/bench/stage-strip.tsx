import { useMemo } from 'react';
import { goTo } from '../state/session';
import { STAGES, type Stage, stageOf } from '../state/store';
import { useBench, useCalmBench } from '../state/use-bench';

export const STAGE_WORDS: Record<Stage, string> = {
  measure: 'Measure',
  weigh: 'Weigh',
  place: 'Place',
  strut: 'Strut',
  joints: 'Joints',
  bracket: 'Bracket',
  papers: 'Papers',
  prove: 'Prove',
};

/** The job in its order; each tab says how many of its findings fail. */
export function StageStrip(): React.JSX.Element {
  const stage = useBench((s) => s.stage);
  const findings = useCalmBench((s) => s.findings);
  const fails = useMemo(() => {
    const count = new Map<Stage, number>();
    for (const f of findings) if (f.state === 'fails') count.set(stageOf(f), (count.get(stageOf(f)) ?? 0) + 1);
    return count;
  }, [findings]);
  return (
    <nav className="stages" aria-label="Stages of the job">
      {STAGES.map((name, i) => {
        const failing = fails.get(name) ?? 0;
        return (
          <button
            key={name}
            type="button"
            aria-current={stage === name ? 'step' : undefined}
            onClick={() => goTo(name)}
          >
            <span className="stage-number">{i + 1}</span> {STAGE_WORDS[name]}
            {failing > 0 && (
              <span className="stage-fails">
                {failing} fail{failing === 1 ? 's' : ''}
              </span>
            )}
          </button>
        );
      })}
    </nav>
  );
}
