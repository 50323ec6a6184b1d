import { useEffect } from 'react';
import type { Answers } from '../../../core/choose';
import { formatQuantity } from '../../../core/quantity';
import { watchAssumed } from '../../state/aside';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';

const NAMES = { ratio: 'Force ratio', frictionN: 'Friction band', toleranceN: 'Tolerance' } as const;

/** Numbers that nobody stated, and what the answers would be at the ends of what is usual. */
export function AssumedPart(): React.JSX.Element | null {
  useEffect(() => watchAssumed(), []);
  const outcome = useTold((s) => s.outcome);
  const units = useBench((s) => s.units);
  const assumed = useBench((s) => s.assumed);
  if (!outcome?.job.struts.some((s) => s.spec.assumed?.length)) return null;
  if (assumed?.outcome === outcome && assumed.spread.length === 0) return null;
  if (assumed?.outcome !== outcome)
    return (
      <Part title="Assumed, not stated">
        <p className="hint" role="status">
          Being worked out: what they may change …
        </p>
      </Part>
    );
  const n = (v: number | null): string => (v === null ? 'not known' : formatQuantity(v, 'force', units));
  const say = (a: Answers): string =>
    `lift ${n(a.liftN)}, shut ${n(a.pullN)}, held open with ${a.holdNm === null ? 'not known' : formatQuantity(a.holdNm, 'moment', units)}${a.fails.length > 0 ? `; ${a.fails.length} fail` : ''}`;
  return (
    <Part title="Assumed, not stated">
      {assumed.spread.map((s) => {
        const value = (v: number): string => (s.key === 'ratio' ? v.toFixed(2) : formatQuantity(v, 'force', units));
        return (
          <div key={`${s.strutId}:${s.key}`} className="item">
            <strong>
              {NAMES[s.key]}: {value(s.used)}
            </strong>{' '}
            by common practice{s.decides ? ' — it decides: ask your supplier' : ''}
            <ul className="refused">
              {s.ends.map((e) => (
                <li key={e.value}>
                  if it is {value(e.value)}: {say(e.answers)}
                </li>
              ))}
              <li>as assumed: {say(s.now)}</li>
            </ul>
          </div>
        );
      })}
    </Part>
  );
}
