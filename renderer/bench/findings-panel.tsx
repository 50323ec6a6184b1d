import { memo, useMemo, useState, useSyncExternalStore } from 'react';
import { describeIssue } from '../../core/error';
import {
  type Finding,
  aboutOf,
  checkNameOf,
  headline,
  isMost,
  lineCount,
  settingsOf,
  usedShare,
  valueText,
  verdict,
  worstFirst,
} from '../../core/findings';
import { setValue } from '../../core/job';
import { ADVICE } from '../../core/workings';
import { showGuide } from '../state/session';
import { edit, showFinding } from '../state/store';
import { useTold } from '../state/told';
import { alike, useBench } from '../state/use-bench';
import { PENDING_WORDS, STATE_WORDS } from '../ui/finding-words';
import { Mark } from '../ui/mark';
import './findings-panel.css';
import { SurveyLine } from './survey-line';

/** Findings of one check about one thing in one state: the worst stands for the other load cases. */
interface Group {
  readonly worst: Finding;
  readonly others: readonly Finding[];
  /** Which thing it is about, where the check speaks of several. */
  readonly about: string | null;
}

function grouped(sorted: readonly Finding[], nameOf: (subject: string) => string): Group[] {
  const groups = new Map<string, Finding[]>();
  const subjects = new Map<string, Set<string>>();
  for (const f of sorted) {
    const key = `${f.id}:${f.subject}:${f.state}`;
    const group = groups.get(key);
    if (group) group.push(f);
    else groups.set(key, [f]);
    subjects.set(f.id, (subjects.get(f.id) ?? new Set()).add(f.subject));
  }
  return [...groups.values()].map((all) => {
    const worst = all.reduce((a, b) => ((b.margin ?? Infinity) < (a.margin ?? Infinity) ? b : a));
    const about = subjects.get(worst.id)!.size > 1 ? nameOf(worst.subject) : null;
    return { worst, others: all.filter((f) => f !== worst), about };
  });
}

/** The limit of every bar stands here, as a share of its width. */
const LIMIT_AT = 0.74;

/** Value against limit: what is allowed is plain, what is not hatched, what is over it carmine and taller. */
function Bar({ finding }: { finding: Finding }): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const used = usedShare(finding);
  if (used === null) return null;
  const at = Math.min(used * LIMIT_AT, 1);
  const { value, limit, unit } = finding;
  return (
    <span className="bar">
      <svg viewBox="0 0 100 12" preserveAspectRatio="none" aria-hidden="true">
        <rect width={100 * Math.min(at, LIMIT_AT)} y="3.5" height="5" className="bar-used" />
        {at > LIMIT_AT && (
          <rect x={100 * LIMIT_AT} width={100 * (at - LIMIT_AT)} y="1" height="10" className="bar-over" />
        )}
        <path d={`M${100 * LIMIT_AT} 0V12`} className="bar-limit" />
      </svg>
      <span className="bar-words">
        <b>{valueText(value!, unit, units)}</b>
        <span>
          at {isMost(finding) ? 'most' : 'least'} {valueText(limit!, unit, units)}
        </span>
      </span>
    </span>
  );
}

/** A number keeps its unit on its line. */
const unbroken = (text: string): string => text.replace(/(\d) (?=\D)/g, '$1\u00a0');

/** Why: the whole sentence, what to do, what the check asks and how it is worked out. */
function Why({ group: { worst, others } }: { group: Group }): React.JSX.Element {
  const { what, how } = aboutOf(worst.id);
  return (
    <details className="why">
      <summary>why</summary>
      <p>{worst.text}</p>
      {worst.advice && <p className="advice">{worst.advice}</p>}
      {others.length > 0 && (
        <>
          <p>The same in {others.length === 1 ? 'one more load case' : `${others.length} more load cases`}:</p>
          <ul>
            {others.map((f) => (
              <li key={f.case}>
                <button type="button" className="link" onClick={() => showFinding(f)}>
                  {f.text}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      {what && (
        <details className="about">
          <summary>What is this?</summary>
          <p>{what}</p>
          <details className="about">
            <summary>How it is worked out</summary>
            <p>{how}</p>
          </details>
          <button type="button" className="link" onClick={() => showGuide(`findings/${checkNameOf(worst.id)}`)}>
            In the guide
          </button>
        </details>
      )}
    </details>
  );
}

const Item = memo(function Item({ group }: { group: Group }): React.JSX.Element {
  const { worst, others, about } = group;
  const units = useBench((s) => s.units);
  const { proposal } = worst;
  const chosen = useBench(
    (s) => s.selection !== null && s.selection.id === worst.subject && s.angleDeg === worst.worstDeg,
  );
  const cases = useBench((s) => s.resolved.loadCases);
  const where = worst.everyCase ? 'All load cases' : (cases.find((c) => c.id === worst.case)?.name ?? worst.case);
  return (
    <li
      className={`finding ${worst.state}${chosen ? ' chosen' : ''}`}
      data-finding={worst.id}
      data-subject={worst.subject}
      data-case={worst.case}
      data-state={worst.state}
    >
      <button
        type="button"
        className="finding-body"
        onClick={() => showFinding(worst)}
        title={`${worst.text}\nPress to show it in the views, at its worst angle`}
      >
        <Mark state={worst.state} />
        <span className="finding-state">{STATE_WORDS[worst.state].word}</span>
        <span className="finding-head">
          {about === null ? '' : `${about}: `}
          {unbroken(headline(worst, units))}
        </span>
        {worst.state === 'fails' && <Bar finding={worst} />}
        {worst.state === 'fails' && (
          <span className="finding-where">
            {where}
            {others.length > 0 ? `, and ${others.length} more` : ''}
          </span>
        )}
      </button>
      <div className="finding-acts">
        {proposal && (
          <button
            type="button"
            className={worst.state === 'fails' ? 'strong' : undefined}
            onClick={() =>
              edit(proposal.label, (job) => settingsOf(proposal).reduce((next, set) => setValue(next, set), job))
            }
          >
            {proposal.label}
          </button>
        )}
        <Why group={group} />
      </div>
    </li>
  );
}, alike);

const GROUPS = [
  ['fails', null],
  ['unknown', 'Not known'],
  ['watch', 'To watch'],
] as const;

/** Too narrow for the rail beside the middle, and not so narrow that all stands in one column. */
const NARROW = matchMedia('(min-width: 820.02px) and (max-width: 1180px)');
const useNarrow = (): boolean =>
  useSyncExternalStore(
    (changed) => {
      NARROW.addEventListener('change', changed);
      return () => NARROW.removeEventListener('change', changed);
    },
    () => NARROW.matches,
  );

/** One verdict, then all findings, worst first; those that hold are folded away, cautions apart. */
export function FindingsPanel(): React.JSX.Element {
  const outcome = useTold((s) => s.outcome);
  const trouble = useTold((s) => s.trouble);
  const [showHolding, setShowHolding] = useState(false);
  const [unfolded, setUnfolded] = useState(false);
  const paper = useBench((s) => s.stage === 'papers');
  const narrow = useNarrow();
  // a sheet wants the room; in a narrow window the middle does
  const folds = paper || narrow;
  const findings = useTold((s) => s.findings);
  const pending = useTold((s) => s.pending);
  const dragged = useBench((s) => s.drag !== null);
  const sorted = useMemo(() => worstFirst(findings), [findings]);
  const count = (state: Finding['state']): number => lineCount(findings, state);
  const nameOf = (subject: string): string => {
    const { struts, brackets } = outcome?.job ?? { struts: [], brackets: [] };
    return [...struts, ...brackets].find((thing) => thing.id === subject)?.name ?? subject;
  };
  const list = (which: (f: Finding) => boolean): React.JSX.Element[] =>
    grouped(sorted.filter(which), nameOf).map((g) => (
      <Item key={`${g.worst.id}:${g.worst.subject}:${g.worst.state}`} group={g} />
    ));
  const cautions = list((f) => f.state !== 'holds' && f.caution === true);
  // advice that is still looked for changes no finding
  const told = verdict(
    findings,
    pending.some((name) => name !== ADVICE),
  );
  return (
    <aside className={`findings${folds ? ' folds' : ''}${unfolded ? ' unfolded' : ''}`} aria-label="Findings">
      <button type="button" className="spine" aria-expanded={unfolded} onClick={() => setUnfolded(!unfolded)}>
        <span className="spine-words">
          {unfolded ? 'Fold the findings' : outcome ? told.words : 'Nothing worked out'}
        </span>
        {!unfolded &&
          (['fails', 'watch', 'holds'] as const).map(
            (state) =>
              count(state) > 0 && (
                <span key={state} title={STATE_WORDS[state].word}>
                  <Mark state={state} /> {count(state)}
                </span>
              ),
          )}
      </button>
      <div className={`rail-verdict ${dragged ? '' : told.state}`}>
        <h2>{outcome ? (dragged ? 'While you drag' : told.words) : 'Nothing worked out'}</h2>
        <p className="tally" data-fails={count('fails')}>
          {outcome &&
            (['fails', 'watch', 'holds', 'unknown'] as const).map((state) => (
              <span key={state}>
                {count(state) > 0 && <Mark state={state} />} {count(state)}{' '}
                {{ fails: 'fail', watch: 'to watch', holds: 'hold', unknown: 'not known' }[state]}
              </span>
            ))}
        </p>
      </div>
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
      {GROUPS.map(([state, words]) => {
        const items = list((f) => f.state === state && !f.caution);
        return (
          items.length > 0 && (
            <section key={state} aria-label={words ?? 'Fails'}>
              {words && <h3 className="finding-group">{words}</h3>}
              <ul className="finding-list">{items}</ul>
            </section>
          )
        );
      })}
      {count('holds') > 0 && (
        <button type="button" className="fold" aria-expanded={showHolding} onClick={() => setShowHolding(!showHolding)}>
          {showHolding ? 'Hide' : 'Show'} the {count('holds')} that hold
        </button>
      )}
      {showHolding && <ul className="finding-list">{list((f) => f.state === 'holds')}</ul>}
      <section className="caution" aria-label="Cautions">
        <h3>Whatever the design</h3>
        <ul className="finding-list">{cautions}</ul>
        Keep a prop in until the strut is proven. Never work under a lid that a strut alone holds. Never open, heat or
        drill a gas spring.
      </section>
    </aside>
  );
}
