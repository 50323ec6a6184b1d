import { attempt, wordsOf } from '../../../core/error';
import { formatQuantity } from '../../../core/quantity';
import { BENCH_SAFETY, type StrutOnBench, type StrutReading, measuredStrut } from '../../../core/weigh';
import {
  type OwnRow as Row,
  type OwnSizes as Sizes,
  addOwnRow,
  setOwn,
  setOwnRow,
  setOwnSize,
  useOwn,
} from '../../state/own-strut';
import { keepOwnStrut } from '../../state/strut-lists';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { Typed } from '../../ui/typed';
import { whole } from '../../ui/whole';

/** The strut upright on a scale: rod down, in a guide, pressed from above, the person beside it. */
const Stand = (): React.JSX.Element => (
  <svg
    className="bench-stand"
    viewBox="0 0 150 130"
    role="img"
    aria-label="Strut upright on a scale, rod down, in a guide; the person stands beside it"
  >
    <path d="M5 125H145M30 125v-8h44v8M52 117V82M46 82h12V28H46ZM36 95V45M68 95V45M36 95h8M68 95h-8M28 24h92M120 24l10-8" />
    <circle cx="122" cy="66" r="7" />
    <path d="M122 73v28M122 101l-7 22M122 101l7 22M122 80l-8-12M122 80l8 12" />
    <path d="M52 8v14M48 17l4 5 4-5" />
  </svg>
);

/** What a strut is that one already has, from a scale: F1, ratio and friction with ±; it joins a list of one's own. */
export function OwnStrutPart(): React.JSX.Element {
  const units = useBench((s) => s.units);
  const { name, sizes, tempC, rows } = useOwn();
  const { extendedMm, strokeMm, rodMm, tubeMm, labelN } = sizes;
  const size = (key: keyof Sizes, label: string, dimension: 'length' | 'force' = 'length') => (
    <Typed label={label} value={sizes[key] ?? null} dimension={dimension} onValue={(v) => setOwnSize(key, v)} />
  );
  const readings = rows.filter(
    (r): r is StrutReading => r.lengthMm !== null && r.forceN !== null && r.plusMinusN !== null,
  );
  const whatFor: StrutOnBench | null =
    extendedMm && strokeMm && rodMm && tubeMm && readings.length > 0
      ? {
          name: name.trim() || 'My strut',
          extendedMm,
          strokeMm,
          rodMm,
          tubeMm,
          tempC,
          labelN: labelN ?? null,
          readings,
        }
      : null;
  const found = whatFor && attempt(() => measuredStrut(whatFor));
  const f = (v: number): string => formatQuantity(v, 'force', units);
  return (
    <Part title="A strut you already have" folded>
      <Stand />
      {BENCH_SAFETY.map((line) => (
        <p key={line} className="hint">
          {line}
        </p>
      ))}
      <div className="field">
        <label>
          Its name{' '}
          <input
            value={name}
            autoComplete="off"
            {...whole}
            onChange={(e) => setOwn({ name: e.target.value.slice(0, 100) })}
          />
        </label>
      </div>
      {size('extendedMm', 'Length, let out')}
      {size('strokeMm', 'Stroke')}
      {size('rodMm', 'Rod')}
      {size('tubeMm', 'Tube')}
      {size('labelN', 'F1 on its label, if any', 'force')}
      <Typed label="Temperature" value={tempC} dimension="temperature" onValue={(v) => setOwn({ tempC: v ?? 20 })} />
      {rows.map((r, i) => (
        <div key={i} className="group" role="group" aria-label={`Scale reading ${i + 1}`}>
          <div className="field">
            <label>
              {i + 1}. Just pressed{' '}
              <select value={r.way} onChange={(e) => setOwnRow(i, { way: e.target.value as Row['way'] })}>
                <option value="in">in</option>
                <option value="out">out again</option>
              </select>
            </label>
          </div>
          <Typed
            label={`Length at reading ${i + 1}`}
            shown="Length then"
            value={r.lengthMm}
            dimension="length"
            onValue={(lengthMm) => setOwnRow(i, { lengthMm })}
          />
          <Typed
            label={`Scale at reading ${i + 1}`}
            shown="Scale showed"
            value={r.forceN}
            dimension="force"
            onValue={(forceN) => setOwnRow(i, { forceN })}
          />
          <Typed
            label={`± of reading ${i + 1}`}
            shown="give or take"
            value={r.plusMinusN}
            dimension="force"
            onValue={(plusMinusN) => setOwnRow(i, { plusMinusN })}
          />
        </div>
      ))}
      <button type="button" onClick={addOwnRow}>
        One more reading
      </button>
      {!found && (
        <p className="hint">Its four sizes, and readings both ways at two lengths at least, say what it is.</p>
      )}
      {found?.error && <p className="hint">{wordsOf(found.error)}</p>}
      {found?.value && (
        <>
          <p data-own-strut>
            F1 {f(found.value.forceN.value)} ± {f(found.value.forceN.plusMinus)}, ratio{' '}
            {found.value.ratio.value.toFixed(2)} ± {found.value.ratio.plusMinus.toFixed(2)}, friction{' '}
            {f(found.value.frictionN.value)} ± {f(found.value.frictionN.plusMinus)} (95 %).
          </p>
          {found.value.label !== '' && <p className="caution">{found.value.label}</p>}
          {found.value.unchecked && <p className="hint">Nothing checks these readings yet: take one more.</p>}
          {found.value.doubtful.length > 0 && (
            <p className="caution">
              Reading {found.value.doubtful.map((i) => rows.indexOf(readings[i]! as Row) + 1).join(', ')}:{' '}
              {found.value.doubtful.length === 1 ? 'it does' : 'one at least does'} not fit the others. Read again.
            </p>
          )}
          <button type="button" className="strong" onClick={() => void keepOwnStrut(found.value.entry)}>
            Put it into my own list
          </button>
        </>
      )}
    </Part>
  );
}
