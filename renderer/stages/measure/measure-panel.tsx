import type { Host } from '../../host/host';
import { Part, TextField } from '../../ui/fields';
import { PointTable } from '../point-table';
import { GivensPart } from './givens-part';
import { PhotosPart } from './photos-part';
import { ToolAsks } from './photos/tool-asks';
import { KnownPart } from './readings/known-part';
import { ReadingsPart } from './readings/readings-part';
import { RelationsPart } from './relations/relations-part';

/** Measure: what a tool asks, what the readings come to, photos, conditions, every point's coordinates, givens. */
export function MeasurePanel({ host }: { host: Host }): React.JSX.Element {
  return (
    <>
      <ToolAsks />
      <TextField label="Title" path={['title']} />
      <KnownPart />
      <ReadingsPart />
      <PhotosPart host={host} />
      <RelationsPart />
      <Part title="Points">
        <p className="hint">X forward, Y left, Z up; the lid closed. Drag them in the views, or type.</p>
        <PointTable />
      </Part>
      <GivensPart />
    </>
  );
}
