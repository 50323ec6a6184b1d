import { type CauseFound, takeIntoJob } from '../../../core/prove';
import { formatQuantity } from '../../../core/quantity';
import { dimensionOf } from '../../../core/prove';
import { bench, edit, notify } from '../../state/store';
import { useBench } from '../../state/use-bench';
import type { ProveAnswer } from '../../../core/prove';

/** Causes shown at first. */
const FEW = 3;

function take(cause: CauseFound): void {
  const { resolved } = bench.getState();
  if (edit(`Take in: ${cause.text}`, (job) => takeIntoJob(job, { resolved, change: cause.change })))
    notify('Taken into the job. One undo takes it back. Look at the findings and prove it again.');
}

/** Likelihood in words: a share of the evidence is no exact thing. */
function likely(share: number): string {
  const percent = Math.round(share * 100);
  return percent >= 99 ? 'over 99 in 100' : percent < 1 ? 'under 1 in 100' : `about ${percent} in 100`;
}

function CauseItem({ cause, first, stale }: { cause: CauseFound; first: boolean; stale: boolean }): React.JSX.Element {
  return (
    <li className={first ? 'cause first' : 'cause'} data-cause={cause.id}>
      <strong>{cause.text}</strong> {cause.plusMinus && <span className="pm">{cause.plusMinus}</span>}
      <span className="hint">
        {' '}
        Likelihood {likely(cause.share)}
        {cause.explains ? '' : '; does not explain all of it'}. {cause.look}
      </span>
      {cause.takes ? (
        <button type="button" disabled={stale} onClick={() => take(cause)}>
          Apply it to the job
        </button>
      ) : (
        cause.kind === 'lost' && <span className="hint"> Not for the job: have the strut replaced.</span>
      )}
    </li>
  );
}

/** The likely causes, best first, and what to measure to be surer. */
export function CausesPart({ answer, stale }: { answer: ProveAnswer; stale: boolean }): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const { proof } = answer;
  const { state, causes, next, apart } = proof;
  if (state !== 'off' && state !== 'doubtful') return null;
  const shown = causes.slice(0, FEW);
  const more = causes.slice(FEW);
  const say = (v: number): string => formatQuantity(v, dimensionOf(next!.item.probe.what), units);
  return (
    <section aria-label="Likely causes">
      <h3>Likely causes</h3>
      {causes.length === 0 && <p className="hint">A few more readings are needed to look for a cause.</p>}
      {causes.length > 0 && !apart && (
        <p className="ask">
          These readings don’t tell the first causes apart. Don’t change anything on the first alone.
        </p>
      )}
      <ol className="causes">
        {shown.map((c, i) => (
          <CauseItem key={c.id} cause={c} first={i === 0} stale={stale} />
        ))}
      </ol>
      {next && (
        <p className="next">
          <strong>Measure next:</strong> {next.item.what}. With the first cause it reads {say(next.first)}, with the
          second {say(next.second)}.
          {next.item.probe.strutsOff && ' Only with the lid propped and a second person: it falls without its strut.'}
        </p>
      )}
      {!next && causes.length > 1 && !apart && (
        <p className="next">No further reading of these kinds would tell the first two apart. Look at both.</p>
      )}
      {more.length > 0 && (
        <details>
          <summary>{more.length} that explain it worse</summary>
          <ol className="causes" start={FEW + 1}>
            {more.map((c) => (
              <CauseItem key={c.id} cause={c} first={false} stale={stale} />
            ))}
          </ol>
        </details>
      )}
      <p className="hint">
        Causes are tried one at a time and two at once, which is rarer. Ranked by how well they explain all readings
        together, less a price for every number that has to be tuned to do so.
      </p>
    </section>
  );
}
