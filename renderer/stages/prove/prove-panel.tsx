import { useEffect, useMemo } from 'react';
import type { Go, ProveAnswer } from '../../../core/prove';
import { useProof, watchProof } from '../../state/proof';
import { goTo } from '../../state/session';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { EntryTable } from '../../ui/entry-table';
import { ChoiceField, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { CausesPart } from './causes-part';
import { HandChart } from './hand-chart';
import { OtherPart, SurenessPart } from './other-part';
import './prove.css';
import { type FitUpRow, aboutRow, fitUpColumns } from './lines';
import { GROUPS, groupOf, linesOf } from '../../../core/prove';

const GO_WORDS: Record<Go, { sign: string; words: string }> = {
  go: { sign: '✓', words: 'Safe to go on' },
  care: { sign: '!', words: 'Go on with care' },
  stop: { sign: '✗', words: 'Stop: the prop stays in' },
};
const GROUP_WORDS: Partial<Record<(typeof GROUPS)[number], string>> = {
  'Before the strut goes in':
    'Scale and bare lid only if they can be done safely: the lid falls without its strut. ▲ opening, ▼ closing.',
};
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
        <span aria-hidden="true">{sign}</span> {words}
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

/** Prove: what was measured on the fitted lid beside what was predicted, the likely causes, and whether to go on. */
export function ProvePanel(): React.JSX.Element {
  const outcome = useTold((s) => s.outcome);
  const job = useBench((s) => s.resolved);
  const { answer, trouble, busy } = useProof((s) => s);
  useEffect(watchProof, []);
  const proof = answer?.proof;
  const rows = useMemo(() => {
    const found = new Map(proof?.comparisons.map((c) => [c.reading.id, c]));
    return linesOf(job, proof?.plan ?? []).map((line): FitUpRow => ({
      line,
      found: found.get(line.reading?.id ?? ''),
    }));
  }, [job, proof]);
  const units = useBench((s) => s.units);
  const columns = useMemo(() => fitUpColumns(job, units), [job, units]);
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
      <p className="hint">
        Type down the table; Enter goes on. Hand: at the grip, square to its arm, the lid moving slowly. Positive: push
        the way it opens. Negative: hold it back or pull it shut.
      </p>
      <button type="button" onClick={() => goTo('papers', 'checklist')}>
        Take it on paper: the fit-up checklist
      </button>
      <div className="proof-table" data-entries>
        {GROUPS.map((group) => {
          const own = rows.filter(({ line }) => groupOf(line.probe) === group);
          return own.length === 0 ? null : (
            <section key={group} aria-label={group}>
              <h3>
                {group}
                <span className="columns" aria-hidden="true">
                  predicted · read
                </span>
              </h3>
              {GROUP_WORDS[group] && <p className="hint">{GROUP_WORDS[group]}</p>}
              <EntryTable label={group} className="fit-up" columns={columns} rows={own} about={aboutRow} />
            </section>
          );
        })}
      </div>
      {answer && <HandChart answer={answer} />}
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
