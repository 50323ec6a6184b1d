import { memo, useMemo, useState } from 'react';
import { describeIssue } from '../../core/error';
import { type Finding, countOf, settingsOf, worstFirst } from '../../core/findings';
import { setValue } from '../../core/job';
import { edit, showFinding } from '../state/store';
import { useTold } from '../state/told';
import { alike } from '../state/use-bench';
import { PENDING_WORDS, STATE_WORDS } from '../ui/finding-words';
import { SurveyLine } from './survey-line';

/** Findings of one check about one thing in one state: the worst stands for the other load cases. */
interface Group {
  readonly worst: Finding;
  readonly others: readonly Finding[];
}

function grouped(sorted: readonly Finding[]): Group[] {
  const groups = new Map<string, Finding[]>();
  for (const f of sorted) {
    const key = `${f.id}:${f.subject}:${f.state}`;
    const group = groups.get(key);
    if (group) group.push(f);
    else groups.set(key, [f]);
  }
  return [...groups.values()].map((all) => {
    const worst = all.reduce((a, b) => ((b.margin ?? Infinity) < (a.margin ?? Infinity) ? b : a));
    return { worst, others: all.filter((f) => f !== worst) };
  });
}

function Body({ finding }: { finding: Finding }): React.JSX.Element {
  const { proposal } = finding;
  return (
    <>
      <button
        type="button"
        className="finding-body"
        onClick={() => showFinding(finding)}
        title="Show it in the views, at its worst angle"
      >
        <span className="finding-state">
          <span aria-hidden="true">{STATE_WORDS[finding.state].sign}</span> {STATE_WORDS[finding.state].word}
        </span>
        <span>{finding.text}</span>
        {finding.advice && <span className="advice">{finding.advice}</span>}
      </button>
      {proposal && (
        <button
          type="button"
          className="strong"
          onClick={() =>
            edit(proposal.label, (job) => settingsOf(proposal).reduce((next, set) => setValue(next, set), job))
          }
        >
          {proposal.label}
        </button>
      )}
    </>
  );
}

const Item = memo(function Item({ group }: { group: Group }): React.JSX.Element {
  const { worst, others } = group;
  return (
    <li
      className={`finding ${worst.state}`}
      data-finding={worst.id}
      data-subject={worst.subject}
      data-case={worst.case}
      data-state={worst.state}
    >
      <Body finding={worst} />
      {others.length > 0 && (
        <details className="others">
          <summary>
            and in {others.length} more load case{others.length > 1 ? 's' : ''}
          </summary>
          <ul>
            {others.map((f) => (
              <li key={f.case}>
                <button type="button" className="finding-body" onClick={() => showFinding(f)}>
                  {f.text}
                </button>
              </li>
            ))}
          </ul>
        </details>
      )}
    </li>
  );
}, alike);

/** All findings, worst first; those that hold are folded away. */
export function FindingsPanel(): React.JSX.Element {
  const outcome = useTold((s) => s.outcome);
  const trouble = useTold((s) => s.trouble);
  const [showHolding, setShowHolding] = useState(false);
  const findings = useTold((s) => s.findings);
  const pending = useTold((s) => s.pending);
  const sorted = useMemo(() => worstFirst(findings), [findings]);
  const count = (state: Finding['state']): number => countOf(findings, state);
  const open = grouped(sorted.filter((f) => f.state !== 'holds' && !f.caution));
  const cautions = grouped(sorted.filter((f) => f.state !== 'holds' && f.caution));
  const holding = grouped(sorted.filter((f) => f.state === 'holds'));
  return (
    <aside className="findings" aria-label="Findings">
      <h2>
        Findings{' '}
        <span className="tally" data-fails={count('fails')}>
          {outcome ? `${count('fails')} fail · ${count('watch')} watch · ${count('holds')} hold` : 'none'}
        </span>
      </h2>
      {trouble.length > 0 && (
        <div className="trouble" role="alert">
          <strong>This can’t be worked out:</strong>
          <ul>
            {trouble.slice(0, 8).map((issue, i) => (
              <li key={i}>{describeIssue(issue)}</li>
            ))}
          </ul>
          Undo the last step, or mend it in the panel. Nothing is lost.
        </div>
      )}
      <SurveyLine />
      {pending.length > 0 && (
        <p className="hint" role="status">
          Being worked out: {pending.map((check) => PENDING_WORDS[check] ?? check).join(', ')} …
        </p>
      )}
      <ul className="finding-list">
        {open.map((g) => (
          <Item key={`${g.worst.id}:${g.worst.subject}:${g.worst.state}`} group={g} />
        ))}
      </ul>
      {cautions.length > 0 && (
        <section aria-label="Cautions">
          <h3>If a strut is lost</h3>
          <ul className="finding-list">
            {cautions.map((g) => (
              <Item key={`${g.worst.id}:${g.worst.subject}:${g.worst.state}`} group={g} />
            ))}
          </ul>
        </section>
      )}
      {holding.length > 0 && (
        <button type="button" className="fold" aria-expanded={showHolding} onClick={() => setShowHolding(!showHolding)}>
          {showHolding ? 'Hide' : 'Show'} the {count('holds')} that hold
        </button>
      )}
      {showHolding && (
        <ul className="finding-list">
          {holding.map((g) => (
            <Item key={`${g.worst.id}:${g.worst.subject}:${g.worst.state}`} group={g} />
          ))}
        </ul>
      )}
      <p className="caution">
        Keep a prop in until the strut is proven. Never work under a lid that a strut alone holds. Never open, heat or
        drill a gas spring.
      </p>
    </aside>
  );
}
