import { freeSpot, addFixing, freeToPattern, patternToFree, removeFixing } from '../../../core/bracket';
import { setValue } from '../../../core/job';
import { edit } from '../../state/store';
import { Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { type One } from './context';
import { CountField } from './count-field';

const words = (n: number): string => (n === 0 ? 'none' : n === 1 ? 'one' : String(n));

/** The holes for the fixings: a pattern, or each by itself. */
export function FixingsPart({ one }: { one: One }): React.JSX.Element {
  const { raw, spec, at } = one;
  const free = raw.fixings !== undefined;
  const add = (): void => {
    edit('Add a fixing', (job) => addFixing(job, { id: raw.id, ...freeSpot(spec) }));
  };
  return (
    <Part title={`Fixings: ${words(spec.fixings.length)}`}>
      <div className="row" role="group" aria-label="How the holes are placed">
        <button
          type="button"
          aria-pressed={!free && raw.baseHole !== undefined}
          disabled={!raw.baseHole}
          title={raw.baseHole ? 'Rows of holes, symmetric about the centre line' : 'This bracket has no pattern'}
          onClick={() => free && edit('Fixings in a pattern', (job) => freeToPattern(job, { id: raw.id }))}
        >
          Pattern
        </button>
        <button
          type="button"
          aria-pressed={free}
          disabled={spec.fixings.length === 0}
          title="Each hole has a place of its own"
          onClick={() => !free && edit('Fixings placed freely', (job) => patternToFree(job, { id: raw.id }))}
        >
          Each by itself
        </button>
        <button type="button" disabled={spec.fixings.length >= 6} onClick={add}>
          Add a hole
        </button>
      </div>
      {free ? (
        raw.fixings.map((f, i) => <Hole key={f.id} one={one} i={i} />)
      ) : raw.baseHole ? (
        <Pattern one={one} />
      ) : (
        <p className="hint">No holes: it is welded all round.</p>
      )}
      {!free && raw.baseHole && spec.attachedBy === 'weld' && (
        <button
          type="button"
          onClick={() =>
            edit('Take the holes away', (job) => setValue(job, { path: at('baseHole'), value: undefined }))
          }
        >
          Take the holes away
        </button>
      )}
    </Part>
  );
}

function Pattern({ one: { raw, at } }: { one: One }): React.JSX.Element {
  const pattern = raw.baseHole!;
  const slot = pattern.slotMm !== undefined && pattern.slotMm !== 0;
  return (
    <>
      <CountField label="Holes in a row" path={at('baseHole', 'across')} most={3} fallback={2} />
      <CountField label="Rows" path={at('baseHole', 'rows')} most={3} />
      <NumberField label="Base holes ⌀" path={at('baseHole', 'diameterMm')} dimension="length" />
      {pattern.across !== 1 && (
        <NumberField label="Base holes apart" path={at('baseHole', 'spacingMm')} dimension="length" />
      )}
      {(pattern.rows ?? 1) > 1 && (
        <NumberField
          label="Rows apart"
          path={at('baseHole', 'rowSpacingMm')}
          dimension="length"
          {...(typeof pattern.spacingMm === 'number' ? { fallback: pattern.spacingMm } : {})}
          optional
        />
      )}
      <NumberField label="Base holes from end" path={at('baseHole', 'fromEndMm')} dimension="length" />
      <NumberField label="Slot, 0 for round" path={at('baseHole', 'slotMm')} dimension="length" fallback={0} optional />
      {slot && (
        <NumberField
          label="Slot’s way (0 along, 90 across)"
          path={at('baseHole', 'slotDeg')}
          dimension="angle"
          fallback={0}
          optional
        />
      )}
    </>
  );
}

function Hole({ one: { raw, spec, at }, i }: { one: One; i: number }): React.JSX.Element {
  const hole = raw.fixings![i]!;
  const path = (key: string) => at('fixings', i, key);
  const slot = hole.slotMm !== undefined && hole.slotMm !== 0;
  const last = spec.fixings.length === 1 && spec.attachedBy !== 'weld';
  return (
    <fieldset className="fixing">
      <legend>
        Fixing {i + 1}{' '}
        <button
          type="button"
          className="link"
          disabled={last}
          title={last ? 'A bolted bracket needs one at least' : `Remove fixing ${i + 1}`}
          aria-label={`Remove fixing ${i + 1}`}
          onClick={() => edit(`Remove fixing ${i + 1}`, (job) => removeFixing(job, { id: raw.id, fixing: hole.id }))}
        >
          remove
        </button>
      </legend>
      <NumberField compact label="⌀" path={path('diameterMm')} dimension="length" />
      <NumberField compact label="across" path={path('acrossMm')} dimension="length" />
      <NumberField compact label="from end" path={path('fromEndMm')} dimension="length" />
      <NumberField compact label="slot" path={path('slotMm')} dimension="length" fallback={0} optional />
      {slot && <NumberField compact label="slot °" path={path('slotDeg')} dimension="angle" fallback={0} optional />}
    </fieldset>
  );
}
