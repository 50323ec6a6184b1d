import { type JobPhoto, removePhoto } from '../../../../core/job';
import { mmPerPixel } from '../../../../core/photo';
import { formatQuantity } from '../../../../core/quantity';
import type { Host } from '../../../host/host';
import { photoImage } from '../../../photo/images';
import { takePhotosIn } from '../../../state/files';
import { leaveTool, setTool } from '../../../state/session';
import { edit } from '../../../state/store';
import { useBench } from '../../../state/use-bench';
import { ChoiceField } from '../../../ui/fields';
import { NumberField } from '../../../ui/number-field';
import { CameraPart } from './camera-part';
import { SquareResult } from './square-result';

/** One photo: where it lies, how it is scaled or set square, what is read off it. */
export function PhotoItem({ photo, index, host }: { photo: JobPhoto; index: number; host: Host }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const points = useBench((s) => s.resolved.points);
  const resolved = useBench((s) => s.resolved.photos[index]);
  const token = useBench((s) => s.file.photosFrom);
  const tool = useBench((s) => s.tool);
  const loaded = photoImage(photo, host, token);
  const inside = 'inside' in photo.source;
  const where =
    'inside' in photo.source
      ? `inside the job, ${((photo.source.inside.length * 0.75) / 1e6).toFixed(1)} MB`
      : `beside the job: ${photo.source.beside}`;
  const scale = resolved?.scale ? mmPerPixel(resolved.scale.from, resolved.scale.to, resolved.scale.lengthMm) : null;
  const flat = photo.rectify !== undefined;
  const mine = tool?.photoId === photo.id ? tool : null;
  return (
    <div className="item" data-photo={photo.id}>
      <div className="item-head">
        <strong>{photo.name ?? photo.id}</strong>
        <button
          type="button"
          onClick={() => {
            if (mine) leaveTool();
            edit('Remove the photo', (job) => removePhoto(job, { id: photo.id }));
          }}
        >
          Remove
        </button>
      </div>
      <p className="hint">
        {where}
        {!inside && (
          <button type="button" className="link" onClick={() => void takePhotosIn()}>
            Put it in the job
          </button>
        )}
      </p>
      {loaded.state === 'missing' && (
        <p className="wrong" role="alert">
          {loaded.why}
        </p>
      )}
      <ChoiceField
        label="Under view"
        path={['photos', index, 'view']}
        options={[
          ['side', 'side'],
          ['top', 'top'],
          ['front', 'from behind'],
        ]}
      />
      {!flat && (
        <>
          <NumberField label="Rotation" path={['photos', index, 'rotationDeg']} dimension="angle" fallback={0} />
          <p className="hint">
            {resolved?.scale && scale
              ? `Scale: ${formatQuantity(resolved.scale.lengthMm, 'length', units)} between the marks, ${scale.toFixed(3)} mm a pixel.`
              : 'No scale yet: shown 1500 mm wide.'}
          </p>
          {resolved?.scale && (
            <NumberField
              label="Length between marks"
              path={['photos', index, 'scale', 'lengthMm']}
              dimension="length"
            />
          )}
        </>
      )}
      <div className="row">
        <select
          aria-label="Line up the photo with a point"
          value={mine?.kind === 'anchor' ? mine.pointId : ''}
          onChange={(e) =>
            setTool(e.target.value ? { kind: 'anchor', photoId: photo.id, pointId: e.target.value } : null)
          }
        >
          <option value="">Line up with…</option>
          {points.map((p) => (
            <option key={p.id} value={p.id}>
              {p.name ?? p.id}
            </option>
          ))}
        </select>
      </div>
      {resolved && (
        <>
          <SquareResult photo={resolved} index={index} />
          <CameraPart photo={resolved} index={index} />
        </>
      )}
    </div>
  );
}
