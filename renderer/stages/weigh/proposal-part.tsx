import { useState } from 'react';
import { attempt, type Issue, wordsOf } from '../../../core/error';
import { type Job, type Mass, type ResolvedJob, resolveJob } from '../../../core/job';
import { formatQuantity, shownUnit } from '../../../core/quantity';
import { type Vec3, dot } from '../../../core/space';
import {
  type MassProposal,
  allItems,
  applyMassProposal,
  closedMoment,
  weightMomentNm,
  type WeighWay,
  chooseWeighed,
} from '../../../core/weigh';
import { edit } from '../../state/store';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';

interface Props {
  readonly way: WeighWay;
  readonly item: Mass | null;
  readonly proposal: MassProposal | null;
  readonly trouble: readonly Issue[];
}

/** The job with what was weighed put in; a new item is then the one that is weighed, so that a second time corrects it. */
function withItem(job: Job, way: WeighWay, item: Mass | null, proposal: MassProposal, name: string): Job {
  if (item) return applyMassProposal(job, { proposal, massId: item.id });
  const next = applyMassProposal(job, { proposal, name });
  return chooseWeighed(next, { way, of: next.masses.at(-1)!.id });
}

/** What the lid becomes with it, or why it can't. */
function outcomeOf(run: () => Job): { readonly job: ResolvedJob | null; readonly why: string } {
  const { value, error } = attempt(() => resolveJob(run()));
  return { job: value, why: error ? wordsOf(error) : '' };
}

/** Before and after, and the button that puts it in: one undo step. */
export function ProposalPart({ way, item, proposal, trouble }: Props): React.JSX.Element {
  const job = useTold((s) => s.history.present);
  const resolved = useTold((s) => s.resolved);
  const outcome = useTold((s) => s.outcome);
  const units = useBench((s) => s.units);
  const [typed, setTyped] = useState('');
  const name = typed.trim() || 'Weighed lid';
  if (!proposal)
    return (
      <>
        {trouble.map((t) => (
          <p key={t.what} className="wrong" role="status">
            {t.what[0]!.toUpperCase() + t.what.slice(1)}. {t.advice}
          </p>
        ))}
      </>
    );
  const { job: after, why } = outcomeOf(() => withItem(job, way, item, proposal, name));
  const at = item ? resolved.points.find((p) => p.id === item.at)?.at : undefined;
  const bare = (text: string): string => text.replace(/ .*/, '');
  const length = (v: number): string => bare(formatQuantity(v, 'length', units));
  const opening = outcome?.frame.axis.opening ?? null;
  const same = (a: string, b: string): React.JSX.Element => <td>{a === b ? 'as it was' : b}</td>;
  const moment = (j: ResolvedJob): string =>
    formatQuantity(weightMomentNm(closedMoment(j, allItems(j)) ?? NaN), 'moment', units);
  const title = item ? (item.name ?? item.id) : name;
  return (
    <>
      <table className="needs proposal" aria-label={`What was weighed: ${title}`}>
        <caption>{title}</caption>
        <thead>
          <tr>
            <th></th>
            <th scope="col">Now</th>
            <th scope="col">Weighed</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">Mass</th>
            <td>{item ? formatQuantity(item.kg, 'mass', units, 1) : '–'}</td>
            <td>
              {bare(formatQuantity(proposal.kg, 'mass', units, 1))} ±{' '}
              {formatQuantity(proposal.sigma.kg, 'mass', units, 1)}
            </td>
          </tr>
          {(['X', 'Y', 'Z'] as const).map((axis, k) => {
            const sigma = proposal.sigma.atMm[k]!;
            return (
              <tr key={axis}>
                <th scope="row">
                  {axis}, {shownUnit('length', units).sign}
                </th>
                <td>{at ? length(at[k]!) : '–'}</td>
                {sigma < 0.05 ? (
                  same(at ? length(at[k]!) : '', length(proposal.at[k]!))
                ) : (
                  <td>
                    {length(proposal.at[k]!)} ± {length(sigma)}
                  </td>
                )}
              </tr>
            );
          })}
          {after && (
            <tr>
              <th scope="row">Whole lid, closed</th>
              <td>{moment(resolved)}</td>
              <td>{moment(after)}</td>
            </tr>
          )}
        </tbody>
      </table>
      {proposal.assumed.length > 0 && (
        <p className="hint">
          {item ? 'Kept as it was' : 'Taken from the middle of the outline'}, not measured:{' '}
          {proposal.assumed.map((d) => directionWords(d, opening)).join(', ')}.
        </p>
      )}
      {!item && (
        <div className="field">
          <label htmlFor={`weighed-name-${way}`}>Call it</label>
          <span className="entry">
            <input
              id={`weighed-name-${way}`}
              className="wide"
              value={typed}
              placeholder="Weighed lid"
              maxLength={200}
              onChange={(e) => setTyped(e.target.value)}
            />
          </span>
        </div>
      )}
      {why && <p className="wrong">{why}</p>}
      <button
        type="button"
        className="strong"
        disabled={after === null}
        onClick={() =>
          edit(item ? `Correct ${title} as weighed` : `Add ${title} as weighed`, (now) =>
            withItem(now, way, item, proposal, name),
          )
        }
      >
        {item ? `Correct ${title}` : 'Add as a mass item'}
      </button>
    </>
  );
}

/** A direction that was not measured, in words. */
function directionWords(d: Vec3, opening: Vec3 | null): string {
  if (opening && Math.abs(dot(d, opening)) > 0.9) return 'its place along the hinge';
  return Math.abs(d[2]) > 0.7 ? 'its height' : 'how far out it lies';
}
