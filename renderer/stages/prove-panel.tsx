import { formatQuantity } from '../../core/quantity';
import { useBench, useCalmBench } from '../state/use-bench';

/** Prove: what the fitted lid must show when it is tried, and how to try it safely. */
export function ProvePanel(): React.JSX.Element {
  const outcome = useCalmBench((s) => s.outcome);
  const caseId = useBench((s) => s.caseId);
  const units = useBench((s) => s.units);
  const index = Math.max(0, outcome?.plans.findIndex((p) => p.caseId === caseId) ?? 0);
  const table = outcome?.tables[index];
  return (
    <>
      <h2>Prove</h2>
      <p className="hint">
        Try the fitted lid against these figures, a prop standing by. Measure at the grip, square to its arm. Entering
        what was measured is not part of this version yet.
      </p>
      {outcome && table && (
        <table className="needs">
          <caption>{outcome.job.loadCases[index]!.name}</caption>
          <thead>
            <tr>
              <th>Lid at</th>
              <th>Opening</th>
              <th>Shutting</th>
              {table.struts.map((s) => (
                <th key={s.id}>Pivots apart</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {[0, 0.25, 0.5, 0.75, 1].map((share) => {
              const i = Math.round(share * (table.angleDeg.length - 1));
              const hand = (v: number): string => (Number.isNaN(v) ? 'not known' : formatQuantity(v, 'force', units));
              return (
                <tr key={share}>
                  <th>{table.angleDeg[i]!.toFixed(0)}°</th>
                  <td>{hand(table.handOpeningN[i]!)}</td>
                  <td>{hand(table.handClosingN[i]!)}</td>
                  {table.struts.map((s) => (
                    <td key={s.id}>{formatQuantity(s.lengthMm[i]!, 'length', units)}</td>
                  ))}
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      <p className="hint">Positive: push the way it opens. Negative: it opens by itself, pull to hold or shut it.</p>
      <ul className="cautions">
        <li>Keep a prop in until the strut is proven; never work under a lid that a strut alone holds.</li>
        <li>
          Fit the strut before the load, and take the strut off before taking the load off where the lid would fly open
          without it.
        </li>
        <li>Never open, heat, drill or weld near a gas spring: it stays under pressure for life.</li>
        <li>Work each joint by hand through the whole travel, slowly, before the lid’s weight is on it.</li>
        <li>
          On a road vehicle or a vessel, brackets and welds fall under local rules and a licensed person’s judgement.
        </li>
      </ul>
    </>
  );
}
