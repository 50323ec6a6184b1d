import { useMemo, useRef } from 'react';
import { demandText, type Finding, factorText, settingsOf } from '../../../core/findings';
import { setValue } from '../../../core/job';
import { formatQuantity } from '../../../core/quantity';
import { type Assessment, type LoadSample, type StrengthResult, WATCH_FACTOR } from '../../../core/strength';
import type { Workings } from '../../../core/workings';
import { showCase } from '../../state/session';
import { edit, setAngle } from '../../state/store';
import { useTold } from '../../state/told';
import { Part } from '../../ui/fields';
import { giveMount } from '../../state/mount-tool';

const SENSE: Record<LoadSample['sense'], string> = {
  extending: 'the strut extending',
  compressing: 'the strut being pressed in',
  stop: 'the lid resting on the strut',
  'hand on stop': 'a hand pressing the lid on against the strut',
};

/** The last full assessment of a bracket; while another is being worked out it stays as it was. */
export function useAssessment(id: string): { found: Assessment | null; outcome: Workings | null; stale: boolean } {
  const outcome = useTold((s) => s.outcome);
  const found = useTold((s) =>
    s.outcome?.job.brackets.some((b) => b.id === id) ? s.outcome.knownAssessment(id) : null,
  );
  const last = useRef<{ id: string; found: Assessment | null; outcome: Workings | null }>({
    ...{ id: '', found: null, outcome: null },
  });
  return useMemo(() => {
    if (outcome && found !== undefined) {
      last.current = { id, found, outcome };
      return { found, outcome, stale: false };
    }
    const same = last.current.id === id;
    return { found: same ? last.current.found : null, outcome: same ? last.current.outcome : null, stale: true };
  }, [outcome, found, id]);
}

/** Word and sign of a reserve; fails only where failing is what a reserve under 1 means. */
export function standing({ safetyFactor, gravity }: StrengthResult): 'fails' | 'watch' | 'holds' {
  if (safetyFactor < 1) return gravity;
  return safetyFactor < WATCH_FACTOR ? 'watch' : 'holds';
}
const SIGN = { fails: '✕', watch: '△', holds: '✓' } as const;

const caseName = (outcome: Workings, id: string): string => outcome.job.loadCases.find((c) => c.id === id)?.name ?? id;
const deg = (value: number): string => `${Number(value.toFixed(1))}°`;

function Line(props: { result: StrengthResult; outcome: Workings; cure: Finding | undefined }): React.JSX.Element {
  const { result, outcome, cure } = props;
  const { governing, formula, source, capacitySource, notes } = result;
  const state = standing(result);
  const proposal = cure?.proposal;
  return (
    <li>
      <details
        className={`strength-line ${state}`}
        data-check={result.id}
        data-reserve={Number.isFinite(result.safetyFactor) ? result.safetyFactor.toFixed(4) : 'none'}
        data-state={state}
      >
        <summary>
          <span className="strength-name">
            <span aria-label={state}>{SIGN[state]}</span> {result.name}
          </span>
          <strong>{Number.isFinite(result.safetyFactor) ? factorText(result.safetyFactor) : 'no load'}</strong>
          <span className="strength-of">{demandText(result)}</span>
        </summary>
        <dl>
          <dt>Worst</dt>
          <dd>
            {caseName(outcome, governing.caseId)} at {deg(governing.angleDeg)}, {SENSE[governing.sense]}.{' '}
            <button
              type="button"
              className="link"
              onClick={() => {
                showCase(governing.caseId);
                setAngle(governing.angleDeg);
              }}
            >
              Show it there
            </button>
          </dd>
          <dt>Formula</dt>
          <dd>
            {formula}
            <br />
            <span className="soft">{source}</span>
          </dd>
          <dt>Capacity from</dt>
          <dd>{capacitySource}</dd>
          {notes.length > 0 && (
            <>
              <dt>Note</dt>
              <dd>{notes.join(' ')}</dd>
            </>
          )}
        </dl>
        {cure && <p className="hint">{cure.advice}</p>}
      </details>
      {proposal && (
        <button
          type="button"
          className="cure"
          onClick={() =>
            edit(proposal.label, (job) => settingsOf(proposal).reduce((next, set) => setValue(next, set), job))
          }
        >
          {proposal.label}
        </button>
      )}
    </li>
  );
}

/** Every check of the bracket's strength, worst first, with what mends it; and what was not checked, with why. */
export function StrengthPart({ id }: { id: string }): React.JSX.Element {
  const { found, outcome, stale } = useAssessment(id);
  const findings = useTold((s) => s.findings);
  if (!found || !outcome)
    return (
      <Part title="Strength">
        <p className="hint">{stale ? 'Being worked out …' : 'Nothing to work out yet.'}</p>
      </Part>
    );
  const { results, unchecked, unknown, loads, assumptions, cautions } = found;
  const cureOf = (check: string): Finding | undefined =>
    findings.find((f) => f.subject === id && f.id === `bracket-strength-${check}`);
  // all that is weak stands open; where nothing is, the three nearest to it
  const weak = results.filter((r) => standing(r) !== 'holds');
  const first = weak.length > 0 ? weak : results.slice(0, 3);
  const strong = results.filter((r) => !first.includes(r));
  const rows = (list: readonly StrengthResult[]): React.JSX.Element[] =>
    list.map((r) => <Line key={r.id} result={r} outcome={outcome} cure={cureOf(r.id)} />);
  const largest = loads?.largest;
  return (
    <Part title="Strength">
      <div className={stale ? 'strength stale' : 'strength'} data-strength={id}>
        {unknown && <Unknown id={id} why={unknown.why} advice={unknown.advice} outcome={outcome} />}
        {largest && results.length > 0 && (
          <p className="hint">
            Largest force {formatQuantity(Math.abs(largest.pushN), 'force', outcome.units)}{' '}
            {largest.pushN < 0 ? 'pulling' : 'pushing'}, {caseName(outcome, largest.caseId)} at {deg(largest.angleDeg)};
            times {loads.shockFactor} for shocks. Reserve is what it bears over what it must bear: 1 is the limit.
          </p>
        )}
        <ul className="strength-list">{rows(first)}</ul>
        {strong.length > 0 && (
          <details className="strength-rest">
            <summary>
              {strong.length} more with a reserve of {WATCH_FACTOR} or over
            </summary>
            <ul className="strength-list">{rows(strong)}</ul>
          </details>
        )}
        {unchecked.length > 0 && (
          <>
            <h3>Not checked</h3>
            <ul className="strength-list">
              {unchecked.map((u) => (
                <li key={u.id} className="unchecked" data-unchecked={u.id}>
                  <strong>? {u.name}</strong>: {u.why}. {u.advice}
                </li>
              ))}
            </ul>
          </>
        )}
        {assumptions.length > 0 && (
          <details className="strength-rest">
            <summary>Assumed values ({assumptions.length})</summary>
            <ul className="plain">
              {assumptions.map((text) => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </details>
        )}
        <details className="strength-rest">
          <summary>Cautions</summary>
          <ul className="plain">
            {cautions.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </details>
        <p className="hint">{cautions[0]}</p>
      </div>
    </Part>
  );
}

function Unknown(props: { id: string; why: string; advice: string; outcome: Workings }): React.JSX.Element {
  const { job } = props.outcome;
  const bracket = job.brackets.find((b) => b.id === props.id);
  const strut = job.struts.findIndex((s) => s.id === bracket?.strut);
  const bare = bracket && strut >= 0 && !job.struts[strut]!.ends[bracket.end].mount;
  return (
    <div className="strength-unknown">
      <p>
        <strong>? Not known</strong>: {props.why}. {props.advice}
      </p>
      {bare && (
        <button type="button" className="strong" onClick={() => giveMount(bracket.strut, bracket.end)}>
          Give the {bracket.end} end a mount
        </button>
      )}
    </div>
  );
}
