import { addZone, insideOfLid, moveZone, removeZone, sideWalls, turnZone } from '../../../core/find';
import { zonePlane } from '../../../core/job';
import { dot } from '../../../core/space';
import { edit } from '../../state/store';
import { useMade } from '../../state/use-bench';
import { closeZone, drawZone, leaveZone, useZoneTool } from '../../state/zone-tool';
import { ChoiceField, TextField } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';

const AXES = ['X', 'Y', 'Z'] as const;
const LOOKS = [
  ['forward', 'backward'],
  ['left', 'right'],
  ['up', 'down'],
] as const;

/** Which way a surface looks, in a word. */
const looks = (normal: readonly number[]): string => {
  const k = normal.map(Math.abs).indexOf(Math.max(...normal.map(Math.abs)));
  return LOOKS[k]![normal[k]! > 0 ? 0 : 1];
};

/** One zone: its name, what it is on, its reach, what it is made of, its corners. */
function ZoneItem({ index: i }: { index: number }): React.JSX.Element {
  const zone = useMade((s) => {
    const found = s.resolved.zones[i]!;
    const { normal, middle } = zonePlane(found);
    const { id, name, on, corners, offMm } = found;
    return { id, on, offMm, name: name ?? `Zone ${i + 1}`, count: corners.length, looks: looks(normal), at: dot(normal, middle) }; // prettier-ignore
  });
  const at = ['zones', i] as const;
  return (
    <details className="item" data-zone={zone.id}>
      <summary>
        {zone.name}{' '}
        <span className="hint">
          on the {zone.on}, ball {zone.offMm[0]}–{zone.offMm[1]} mm off
        </span>
      </summary>
      <TextField label="Name" path={[...at, 'name']} />
      <ChoiceField
        label="On"
        path={[...at, 'on']}
        options={[
          ['base', 'the base'],
          ['lid', 'the lid'],
        ]}
      />
      <NumberField label="Ball off it, least" path={[...at, 'offMm', 0]} dimension="length" />
      <NumberField label="Ball off it, most" path={[...at, 'offMm', 1]} dimension="length" />
      <ChoiceField
        label="To fasten to"
        path={[...at, 'strength']}
        fallback="plain"
        options={[
          ['plain', 'plain: a skin or panel'],
          ['strong', 'strong: a rib or frame'],
        ]}
      />
      <TextField label="Made of" path={[...at, 'material']} placeholder="not stated" />
      <NumberField label="Thickness" path={[...at, 'thicknessMm']} dimension="length" optional />
      <div className="row">
        <span>It looks {zone.looks}</span>
        <button type="button" onClick={() => edit(`Turn ${zone.name} round`, (job) => turnZone(job, { id: zone.id }))}>
          Turn it round
        </button>
      </div>
      <div className="row">
        <span>Its surface</span>
        {([-10, -1, 1, 10] as const).map((byMm) => (
          <button
            key={byMm}
            type="button"
            aria-label={`Shift the surface ${Math.abs(byMm)} mm ${byMm > 0 ? 'the way it looks' : 'back'}`}
            onClick={() => edit(`Shift ${zone.name}`, (job) => moveZone(job, { id: zone.id, byMm }))}
          >
            {byMm > 0 ? `+${byMm}` : `−${-byMm}`}
          </button>
        ))}
      </div>
      {Array.from({ length: zone.count }, (_, k) => (
        <fieldset key={k} className="point">
          <legend>Corner {k + 1}</legend>
          {AXES.map((axis, c) => (
            <NumberField key={axis} compact label={axis} path={[...at, 'corners', k, c]} dimension="length" />
          ))}
        </fieldset>
      ))}
      <button type="button" onClick={() => edit(`Remove ${zone.name}`, (job) => removeZone(job, { id: zone.id }))}>
        Remove
      </button>
    </details>
  );
}

/** What the next click does while a zone is drawn. */
function Drawing(): React.JSX.Element | null {
  const count = useZoneTool((draft) => draft?.corners.length ?? -1);
  if (count < 0) return null;
  return (
    <div className="tool-help" role="status">
      <p>
        {count === 0
          ? 'Click the first corner in any view; it lies in the surface that the strut’s ball stands over.'
          : count < 3
            ? `${count} of 3 corners at least. Go on in the same view.`
            : 'Click the first corner again to close it, or:'}
      </p>
      <div className="row">
        <button type="button" className="strong" disabled={count < 3} onClick={closeZone}>
          Close the zone
        </button>
        <button type="button" onClick={leaveZone}>
          Cancel
        </button>
      </div>
    </div>
  );
}

/** Zones: where a mount could be fastened. */
export function ZonesPart(): React.JSX.Element {
  const ids = useMade((s) => s.resolved.zones.map((z) => z.id));
  const drawing = useZoneTool((draft) => draft !== null);
  return (
    <>
      {ids.map((id, i) => (
        <ZoneItem key={id} index={i} />
      ))}
      {drawing ? (
        <Drawing />
      ) : (
        <div className="row">
          <button type="button" onClick={() => drawZone('base')}>
            Draw a zone on the base
          </button>
          <button type="button" onClick={() => drawZone('lid')}>
            Draw one on the lid
          </button>
          <button
            type="button"
            title="All of the lid’s inside less 20 mm at its edge"
            onClick={() => edit('Add the inside of the lid', (job) => addZone(job, { zone: insideOfLid(job) }))}
          >
            Whole inside of the lid
          </button>
          <button
            type="button"
            title="Two walls under the lid’s edges, seen from inside: correct them where yours are elsewhere"
            onClick={() =>
              edit('Add side walls', (job) => sideWalls(job).reduce((now, zone) => addZone(now, { zone }), job))
            }
          >
            Both side walls
          </button>
        </div>
      )}
    </>
  );
}
