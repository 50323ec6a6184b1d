import { useEffect, useState } from 'react';
import { setValue } from '../../../core/job';
import type { StrutListEntry } from '../../../core/strut';
import { findPlaces, stopSearch, usePlaces } from '../../state/places';
import { edit } from '../../state/store';
import { loadLists, useLists } from '../../state/strut-lists';
import { useMade } from '../../state/use-bench';
import { mapList } from '../../state/works-map';
import { ChoiceField, Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { ZonesPart } from './zones-part';

/** Index of the job's own list among those offered. */
const OF_JOB = 'the list in this job';

/** The list that places are looked for with; null: the one that the job says. */
function useSearchList(): {
  readonly names: readonly string[];
  readonly name: string;
  readonly choose: (name: string) => void;
  readonly entries: readonly StrutListEntry[] | null;
} {
  const lists = useLists();
  const own = useMade((s) => typeof s.resolved.find?.list === 'object');
  const [chosen, setChosen] = useState('');
  useEffect(() => void loadLists(), []);
  const names = [...(own ? [OF_JOB] : []), ...lists.map((l) => l.name)];
  const name = names.includes(chosen) ? chosen : names[0]!;
  const entries = lists.find((l) => l.name === name)?.entries ?? null;
  useEffect(() => {
    if (entries) mapList(entries);
  }, [entries]);
  return { names, name, choose: setChosen, entries };
}

/** Where a mount could be fastened, what is tried there, and the search. */
export function FindPart(): React.JSX.Element {
  const { names, name, choose, entries } = useSearchList();
  const share = usePlaces((s) => s.share);
  const count = usePlaces((s) => s.places.length);
  const missing = useMade(({ resolved: { zones } }) => (['base', 'lid'] as const).filter((on) => !zones.some((z) => z.on === on))); // prettier-ignore
  const range = useMade((s) => s.resolved.find?.openDeg !== undefined);
  const openDeg = useMade((s) => s.resolved.travel.openDeg);
  return (
    <Part title="Find places">
      <p className="hint">
        Say where a mount could be fastened; the search tries every strut of the list there, against every demand.
      </p>
      <ZonesPart />
      <div className="field">
        <label>
          Struts to try
          <select aria-label="Struts to try" title={name} value={name} onChange={(e) => choose(e.target.value)}>
            {names.map((n) => (
              <option key={n}>{n}</option>
            ))}
          </select>
        </label>
      </div>
      <ChoiceField
        label="One or a pair"
        path={['find', 'quantity']}
        fallback="either"
        options={[
          ['one', 'one'],
          ['pair', 'a pair'],
          ['either', 'one or a pair'],
        ]}
      />
      {range ? (
        <>
          <NumberField label="Opens at least" path={['find', 'openDeg', 0]} dimension="angle" />
          <NumberField label="Opens at most" path={['find', 'openDeg', 1]} dimension="angle" />
          <button
            type="button"
            onClick={() =>
              edit('Keep the opening', (job) => setValue(job, { path: ['find', 'openDeg'], value: undefined }))
            }
          >
            Only as far as it opens now
          </button>
        </>
      ) : (
        <button
          type="button"
          onClick={() =>
            edit('Let the opening vary', (job) =>
              setValue(job, { path: ['find', 'openDeg'], value: [Math.max(1, openDeg - 5), openDeg + 5] }),
            )
          }
        >
          Let the opening angle vary
        </button>
      )}
      <div className="row">
        <button
          type="button"
          className="strong"
          disabled={share !== null || missing.length > 0}
          title={missing.length > 0 ? `There is no zone on the ${missing.join(' and none on the ')} yet.` : undefined}
          onClick={() => void findPlaces(entries)}
        >
          Find places
        </button>
        {share !== null && (
          <>
            <progress aria-label="Search for places" value={share} max={1} />
            <button type="button" onClick={stopSearch}>
              Stop
            </button>
          </>
        )}
        <span role="status" className="hint">
          {share !== null
            ? `Searching, ${Math.round(share * 100)} %, ${count} found`
            : missing.length > 0
              ? `First draw a zone on the ${missing.join(' and one on the ')}.`
              : ''}
        </span>
      </div>
    </Part>
  );
}
