import { useState } from 'react';
import type { Photo } from '../../../../core/job';
import { formatQuantity } from '../../../../core/quantity';
import { PROJECTIONS } from '../../../state/planes';
import { lengthOfTool, takeTool } from '../../../state/photo-tools';
import { leaveTool } from '../../../state/session';
import { useBench } from '../../../state/use-bench';
import { Typed } from '../../../ui/typed';

/** What can be read off a photo: a length, and where a point is seen. */
export function PhotoUses({ photo }: { photo: Photo }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const points = useBench((s) => s.resolved.points);
  const tool = useBench((s) => s.tool);
  const [off, setOff] = useState(0);
  const mine = tool?.photoId === photo.id ? tool : null;
  const length = mine?.kind === 'length' ? lengthOfTool(mine) : null;
  return (
    <>
      <div className="row">
        <button
          type="button"
          aria-pressed={mine?.kind === 'length'}
          onClick={() =>
            mine?.kind === 'length'
              ? leaveTool()
              : takeTool({ kind: 'length', photoId: photo.id, from: null, to: null })
          }
        >
          Length on the photo
        </button>
        <select
          aria-label={`Put a point where ${photo.name ?? photo.id} shows it`}
          value={mine?.kind === 'put' ? mine.pointId : ''}
          onChange={(e) =>
            e.target.value
              ? takeTool({ kind: 'put', photoId: photo.id, pointId: e.target.value, offMm: off })
              : leaveTool()
          }
        >
          <option value="">Put a point…</option>
          {points.map((p) => (
            <option key={p.id} value={p.id}>
              {p.name ?? p.id}
            </option>
          ))}
        </select>
      </div>
      {mine?.kind === 'length' && (
        <p className="ask" role="status" data-length={length?.lengthMm.toFixed(2)}>
          {length
            ? `${formatQuantity(length.lengthMm, 'length', units, 1)}${length.sigmaMm === null ? '' : ` ± ${length.sigmaMm.toFixed(1)} mm`}${photo.rectify ? ', for things in the marked plane' : ', as far as the photo is square to the view'}.`
            : mine.from
              ? 'Click its other end.'
              : 'Click one end.'}
        </p>
      )}
      {mine?.kind === 'put' && (
        <div className="ask">
          <p role="status">
            Click where that point is on the photo.
            {photo.rectify?.depthMm !== undefined &&
              ` Its ${'XYZ'[PROJECTIONS[photo.view].depth]} comes from the plane’s.`}
          </p>
          {photo.rectify && (
            <Typed
              label="It stands off the plane, towards the camera, by"
              value={mine.offMm}
              dimension="length"
              onValue={(v) => {
                setOff(v ?? 0);
                takeTool({ ...mine, offMm: v ?? 0 });
              }}
            />
          )}
          <button type="button" onClick={leaveTool}>
            Cancel
          </button>
        </div>
      )}
    </>
  );
}
