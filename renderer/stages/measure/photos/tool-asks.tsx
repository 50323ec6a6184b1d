import { formatQuantity } from '../../../../core/quantity';
import { lengthOfTool, takeTool } from '../../../state/photo-tools';
import { PROJECTIONS } from '../../../state/planes';
import { leaveTool } from '../../../state/session';
import { useBench } from '../../../state/use-bench';
import { Typed } from '../../../ui/typed';
import { ScaleEntry } from './scale-entry';
import { SquareEntry } from './square-entry';

/** What the tool in hand asks for next, and what it gives. */
export function ToolAsks(): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const tool = useBench((s) => s.tool);
  const photo = useBench((s) => s.resolved.photos.find((p) => p.id === s.tool?.photoId));
  if (!tool || !photo) return null;
  switch (tool.kind) {
    case 'scale':
      return <ScaleEntry />;
    case 'square':
      return <SquareEntry />;
    case 'level':
      return (
        <p className="ask" role="status">
          {tool.from
            ? 'Click the other mark.'
            : `Click one of two marks that are ${tool.along} with each other, far apart.`}
        </p>
      );
    case 'length': {
      const length = lengthOfTool(tool);
      return (
        <p className="ask" role="status" data-length={length?.lengthMm.toFixed(2)}>
          {length
            ? `${formatQuantity(length.lengthMm, 'length', units, 1)}${length.sigmaMm === null ? '' : ` ± ${formatQuantity(length.sigmaMm, 'length', units, 1)}`}${photo.rectify ? ', for things in the marked plane' : ', as far as the photo is square to the view'}.`
            : tool.from
              ? 'Click its other end.'
              : 'Click one end.'}
        </p>
      );
    }
    case 'put':
      return (
        <div className="ask">
          <p role="status">
            Click where that point is on the photo.
            {photo.rectify?.depthMm !== undefined &&
              ` Its ${'XYZ'[PROJECTIONS[photo.view].depth]} comes from the plane’s.`}
          </p>
          {photo.rectify && (
            <Typed
              label="It stands off the plane, towards the camera, by"
              value={tool.offMm}
              dimension="length"
              onValue={(v) => takeTool({ ...tool, offMm: v ?? 0 })}
            />
          )}
          <button type="button" onClick={leaveTool}>
            Cancel
          </button>
        </div>
      );
    case 'anchor':
      return <p className="ask">Click where that point is on the photo.</p>;
    case 'mark':
      return null;
  }
}
