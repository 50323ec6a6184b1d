import type { Job } from '../../core/job';
import { goTo } from '../state/session';
import { STAGES, type Stage, stageOf } from '../state/store';
import { useToldMade } from '../state/told';
import { useBench } from '../state/use-bench';
import { Mark } from '../ui/mark';

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

/** How a stage stands: nothing done there, something left to do or not known, done; and how many of its findings fail. */
interface Stand {
  readonly state: 'untouched' | 'open' | 'done';
  readonly fails: number;
}

/** Whether anything was done in a stage that begins empty; the others begin with the lid's first strut. */
function touched(stage: Stage, job: Job): boolean {
  switch (stage) {
    case 'measure':
      return (job.observations ?? []).length + (job.photos ?? []).length > 0;
    case 'weigh':
      return job.weighings !== undefined || !(job.assumed ?? []).some((name) => name.startsWith('masses.'));
    case 'bracket':
      return (job.brackets ?? []).length > 0;
    case 'prove':
      return (job.proof?.readings ?? []).length > 0;
    case 'papers':
      return job.papers !== undefined;
    case 'place':
    case 'strut':
    case 'joints':
      return job.struts.length > 0;
  }
}

/** Stages whose findings say when they are done; measuring, papers and proof are never finished by what is found here. */
const FINISHED: readonly Stage[] = ['weigh', 'place', 'strut', 'joints', 'bracket'];

/** The job in its order; each tab says how its stage stands and how many of its findings fail. */
export function StageStrip(): React.JSX.Element {
  const stage = useBench((s) => s.stage);
  const stands = useToldMade((s) => {
    const of = (name: Stage): Stand => {
      const own = s.findings.filter((f) => !f.caution && stageOf(f) === name);
      const fails = new Set(own.filter((f) => f.state === 'fails').map((f) => `${f.id} ${f.subject}`)).size;
      const open = fails > 0 || own.some((f) => f.state === 'unknown') || !FINISHED.includes(name);
      return { fails, state: !touched(name, s.history.present) ? 'untouched' : open ? 'open' : 'done' };
    };
    return Object.fromEntries(STAGES.map((name) => [name, of(name)])) as Record<Stage, Stand>;
  });
  return (
    <nav className="stages" aria-label="Stages of the job">
      {STAGES.map((name) => {
        const { fails, state } = stands[name];
        return (
          <button
            key={name}
            type="button"
            aria-current={stage === name ? 'step' : undefined}
            onClick={() => goTo(name)}
          >
            <b>{STAGE_WORDS[name]}</b>
            {fails > 0 ? (
              <span className="stage-fails">
                <Mark state="fails" /> {fails} fail{fails === 1 ? 's' : ''}
              </span>
            ) : (
              <span>{state}</span>
            )}
          </button>
        );
      })}
    </nav>
  );
}

/** What comes after a stage; after the last one nothing does. */
export function NextStage(): React.JSX.Element | null {
  const next = useBench((s) => STAGES[STAGES.indexOf(s.stage) + 1] ?? null);
  return (
    next && (
      <button type="button" className="next" onClick={() => goTo(next)}>
        Next: {STAGE_WORDS[next]}
      </button>
    )
  );
}
