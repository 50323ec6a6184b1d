import { goTo } from '../state/session';
import { STAGES, type Stage, stageOf } from '../state/store';
import { useToldMade } from '../state/told';
import { useBench } from '../state/use-bench';

const STAGE_WORDS: Record<Stage, string> = {
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
  const fails = useToldMade((s) => {
    const count: Partial<Record<Stage, number>> = {};
    for (const f of s.findings) if (f.state === 'fails') count[stageOf(f)] = (count[stageOf(f)] ?? 0) + 1;
    return count;
  });
  return (
    <nav className="stages" aria-label="Stages of the job">
      {STAGES.map((name, i) => {
        const failing = fails[name] ?? 0;
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
