import { KNOWN_KINDS, type KnownKind } from '../../../../core/job';
import { KNOWN, isKnown, knownReadings, setKnown, sigmaOf } from '../../../../core/survey';
import { goTo } from '../../../state/session';
import { edit } from '../../../state/store';
import { useTold } from '../../../state/told';
import { Part } from '../../../ui/fields';
import { Typed } from '../../../ui/typed';

/** One thing that a person may know of the lid, with its ± once it is taken. */
function Known({ what }: { what: KnownKind }): React.JSX.Element {
  const job = useTold((s) => s.resolved);
  const { words, sigmaOf: of } = KNOWN[what];
  const on = isKnown(job, what);
  const found = knownReadings(job, what);
  const first = job.observations.find((o) => o.known === what);
  return (
    <div className="known" data-known={what}>
      <label className="check">
        <input
          type="checkbox"
          checked={on}
          disabled={!on && 'why' in found}
          onChange={(e) => {
            const { checked } = e.target;
            edit(checked ? 'Take it as known' : 'Take back what is known', (j) => setKnown(j, { what, on: checked }));
          }}
        />{' '}
        {words}
      </label>
      {first && (
        <Typed
          label={`${words}: ± of ${of}`}
          shown={`± of ${of}`}
          value={sigmaOf(first).value}
          dimension="length"
          over0
          onValue={(sigmaMm) =>
            edit('Change how sure it is', (j) => setKnown(j, { what, on: true, sigmaMm: sigmaMm ?? undefined }))
          }
        />
      )}
      {!on && 'why' in found && <p className="hint">{found.why}</p>}
    </div>
  );
}

/** What one knows of the lid before measuring: it counts with the readings, and is doubted like them. */
export const KnownPart = (): React.JSX.Element => (
  <Part title="What you know of the lid">
    <p className="hint">Each counts as a reading with a ±: fewer tapes to take, and more that checks them.</p>
    {KNOWN_KINDS.map((what) => (
      <Known key={what} what={what} />
    ))}
    <button type="button" onClick={() => goTo('papers', 'sketch')}>
      What to measure, as a sketch to print
    </button>
  </Part>
);
