import { hasPlate, setValue } from '../../../core/job';
import { beaufort } from '../../../core/quantity';
import { edit } from '../../state/store';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { NumberField } from '../../ui/number-field';

const AHEAD = [1, 0, 0] as const;

/** Where the wind of a load case blows: with the lid's own normal either way, or in a direction of the base. */
function Towards({ index }: { index: number }): React.JSX.Element {
  const path = ['loadCases', index, 'wind', 'towards'];
  const towards = useBench((s) => s.history.present.loadCases[index]?.wind?.towards);
  const given = typeof towards === 'object';
  return (
    <>
      <div className="field">
        <label>
          It blows
          <select
            aria-label="Wind blows"
            value={given ? 'along' : towards}
            onChange={(e) => {
              const { value } = e.target;
              edit('Turn the wind', (j) => setValue(j, { path, value: value === 'along' ? AHEAD : value }));
            }}
          >
            <option value="open">so that it opens the lid</option>
            <option value="shut">so that it shuts the lid</option>
            <option value="along">in a direction of the base</option>
          </select>
        </label>
      </div>
      {given && (
        <fieldset className="point">
          <legend>Toward</legend>
          {(['X', 'Y', 'Z'] as const).map((axis, k) => (
            <NumberField key={axis} compact label={axis} path={[...path, k]} dimension="number" />
          ))}
        </fieldset>
      )}
    </>
  );
}

/** What presses on the lid in one load case beside its weight: the base's acceleration and the wind. */
export function CaseLoads({ index }: { index: number }): React.JSX.Element {
  const path = ['loadCases', index];
  const wind = useBench((s) => s.history.present.loadCases[index]?.wind);
  const ms = useTold((s) => s.resolved.loadCases[index]?.wind?.ms);
  const pressable = useTold((s) => hasPlate(s.resolved));
  return (
    <>
      <fieldset className="point">
        <legend>Base accelerates, g (braking: X under 0)</legend>
        {(['X', 'Y', 'Z'] as const).map((axis, k) => (
          <NumberField
            key={axis}
            compact
            label={axis}
            path={[...path, 'accelG', k]}
            dimension="number"
            fallback={0}
            ensure={(j) =>
              j.loadCases[index]?.accelG ? j : setValue(j, { path: [...path, 'accelG'], value: [0, 0, 0] })
            }
          />
        ))}
      </fieldset>
      {wind ? (
        <>
          <NumberField label="Wind, m/s" path={[...path, 'wind', 'ms']} dimension="number" />
          {ms !== undefined && <p className="hint">Beaufort {beaufort(ms)}, as a mean; gusts are faster.</p>}
          <Towards index={index} />
          <NumberField
            label="Force coefficient"
            path={[...path, 'wind', 'coefficient']}
            dimension="number"
            fallback={2}
            optional
          />
        </>
      ) : (
        !pressable && <p className="hint">Wind needs the lid’s corners (Place).</p>
      )}
      <div className="row">
        <button
          type="button"
          disabled={!wind && !pressable}
          onClick={() =>
            edit(wind ? 'Remove the wind' : 'Add wind', (j) =>
              setValue(j, { path: [...path, 'wind'], value: wind ? undefined : { ms: 10, towards: 'shut' } }),
            )
          }
        >
          {wind ? 'Remove the wind' : 'Add wind'}
        </button>
      </div>
    </>
  );
}
