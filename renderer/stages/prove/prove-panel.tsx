import type { Go, ProveAnswer } from '../../../core/prove';
import { useProof } from '../../state/proof';
import { goTo } from '../../state/session';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { ChoiceField, TextField } from '../../ui/fields';
import { Mark } from '../../ui/mark';
import { NumberField } from '../../ui/number-field';
import { CausesPart } from './causes-part';
import { OtherPart, SurenessPart } from './other-part';
import './prove.css';

const GO_WORDS = {
  go: { sign: 'holds', words: 'Safe to go on' },
  care: { sign: 'watch', words: 'Go on with care' },
  stop: { sign: 'fails', words: 'Stop: the prop stays in' },
} as const satisfies Record<Go, unknown>;
/** Reasons shown at once. */
const FEW_REASONS = 3;

function Verdict({ answer, busy }: { answer: ProveAnswer; busy: boolean }): React.JSX.Element {
  const { text, safety, state } = answer.proof;
  const { sign, words } = GO_WORDS[safety.go];
  const few = safety.reasons.slice(0, FEW_REASONS);
  const more = safety.reasons.slice(FEW_REASONS);
  return (
    <section className={busy ? 'go stale' : 'go'} aria-label="Safe to go on?" data-go={safety.go}>
      <p className="go-word">
        <Mark state={sign} /> {words}
      </p>
      <div role="status" data-proof={state}>
        {text}
      </div>
      {few.length > 0 && (
        <ul>
          {few.map((r) => (
            <li key={r}>{r}</li>
          ))}
        </ul>
      )}
      {more.length > 0 && (
        <details>
          <summary>{more.length === 1 ? '1 more reason' : `${more.length} more reasons`}</summary>
          <ul>
            {more.map((r) => (
              <li key={r}>{r}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** Prove: whether to go on, what it was read under, and the likely causes. */
export function ProvePanel(): React.JSX.Element {
  const outcome = useTold((s) => s.outcome);
  const job = useBench((s) => s.resolved);
  const { answer, trouble, busy } = useProof((s) => s);
  return (
    <div className="prove">
      <ul className="cautions">
        <li>
          <strong>Keep a prop in</strong> until this stage says go on; never work under a lid that a strut alone holds.
        </li>
        <li>Move the lid slowly, one person at the grip, a second at the prop. Hands out of the gap.</li>
        <li>
          Fit the strut before the load, and take it off before the load comes off where the lid would fly open without
          it.
        </li>
        <li>Never open, heat, drill or weld near a gas spring: it stays under pressure for life.</li>
      </ul>
      {!outcome && <p className="hint">The job can’t be worked out yet; mend that first.</p>}
      {trouble && (
        <p className="wrong" role="alert">
          {trouble.what}. {trouble.advice}
        </p>
      )}
      {answer && <Verdict answer={answer} busy={busy} />}
      <div className="conditions">
        <ChoiceField
          label="Load case"
          path={['proof', 'loadCase']}
          options={job.loadCases.map((c) => [c.id, c.name] as const)}
          fallback={job.loadCases[0]!.id}
        />
        <NumberField label="Strut at" path={['proof', 'tempC']} dimension="temperature" fallback={20} />
        <TextField label="Date" path={['proof', 'date']} placeholder="when it was done" />
      </div>
      <button type="button" onClick={() => goTo('papers', 'checklist')}>
        Take it on paper: the fit-up checklist
      </button>
      {answer && <CausesPart answer={answer} stale={busy} />}
      <OtherPart job={job} />
      <SurenessPart job={job} />
      <p className="hint">
        On a road vehicle, a boat or a machine at work, local rules and a licensed person’s judgement come before these
        figures.
      </p>
    </div>
  );
}
