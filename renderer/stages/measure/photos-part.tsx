import { useRef, useState } from 'react';
import { LidwrightError } from '../../../core/error';
import { type JobPhoto, removePhoto, setPhoto } from '../../../core/job';
import { evaluateQuantity, formatQuantity, shownUnit } from '../../../core/quantity';
import { mmPerPixel } from '../../../core/photo';
import type { Host } from '../../host/host';
import { takePhotosIn } from '../../state/files';
import { finishScale, layPhoto } from '../../state/photo-actions';
import { photoImage } from '../../photo/images';
import { type Plane, bench, edit } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { ChoiceField, Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';

function ScaleEntry(): React.JSX.Element | null {
  const tool = useBench((s) => s.tool);
  const units = useBench((s) => s.units);
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  if (tool?.kind !== 'scale') return null;
  const ready = tool.from !== null && tool.to !== null;
  const commit = (): void => {
    try {
      const lengthMm = evaluateQuantity(text, 'length', new Map(), shownUnit('length', units).unit);
      if (!(lengthMm > 0))
        throw new LidwrightError({
          what: 'a length between two marks is more than nothing',
          where: [],
          advice: 'Type it again.',
        });
      finishScale(lengthMm);
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      setWrong(`${error.what}. ${error.advice}`);
    }
  };
  return (
    <div className="ask" role="status">
      {tool.from === null
        ? 'Click one mark on the photo.'
        : tool.to === null
          ? 'Click the other mark.'
          : 'Type the length between the marks.'}
      {ready && (
        <div className="field">
          <label>
            Length between the marks
            <span className="entry">
              <input
                aria-label="Length between the marks"
                value={text}
                autoFocus
                onChange={(e) => setText(e.target.value)}
                onKeyDown={(e) => e.key === 'Enter' && commit()}
              />
              <span className="unit">{shownUnit('length', units).sign}</span>
            </span>
          </label>
          <button type="button" className="strong" onClick={commit}>
            Set the scale
          </button>
          {wrong && (
            <span className="wrong" role="alert">
              {wrong}
            </span>
          )}
        </div>
      )}
      <button type="button" onClick={() => bench.setState({ tool: null })}>
        Leave it
      </button>
    </div>
  );
}

function PhotoItem({ photo, index, host }: { photo: JobPhoto; index: number; host: Host }): React.JSX.Element {
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
  return (
    <div className="item" data-photo={photo.id}>
      <div className="item-head">
        <strong>{photo.name ?? photo.id}</strong>
        <button type="button" onClick={() => edit('Remove the photo', (job) => removePhoto(job, { id: photo.id }))}>
          Remove
        </button>
      </div>
      <p className="hint">
        {where}
        {!inside && (
          <button type="button" className="link" onClick={() => void takePhotosIn()}>
            Take it in
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
      <div className="field">
        <label>
          Strength
          <input
            type="range"
            min={0}
            max={1}
            step={0.05}
            aria-label={`Strength of ${photo.name ?? photo.id}`}
            value={photo.opacity ?? 0.6}
            onChange={(e) =>
              edit('Set the photo’s strength', (job) =>
                setPhoto(job, { id: photo.id, patch: { opacity: Number(e.target.value) } }),
              )
            }
          />
        </label>
      </div>
      <NumberField label="Turned" path={['photos', index, 'rotationDeg']} dimension="angle" fallback={0} />
      <p className="hint">
        {resolved?.scale && scale
          ? `Scale: ${formatQuantity(resolved.scale.lengthMm, 'length', units)} between the marks, ${scale.toFixed(3)} mm a pixel.`
          : 'No scale yet: shown 1500 mm wide.'}
      </p>
      {resolved?.scale && (
        <NumberField label="Length between marks" path={['photos', index, 'scale', 'lengthMm']} dimension="length" />
      )}
      <div className="row">
        <button
          type="button"
          aria-pressed={tool?.kind === 'scale' && tool.photoId === photo.id}
          onClick={() =>
            bench.setState({
              tool: { kind: 'scale', photoId: photo.id, from: null, to: null },
              selection: { kind: 'photo', id: photo.id },
            })
          }
        >
          Set scale
        </button>
        <select
          aria-label="Line up the photo with a point"
          value={tool?.kind === 'anchor' && tool.photoId === photo.id ? tool.pointId : ''}
          onChange={(e) =>
            bench.setState({
              tool: e.target.value ? { kind: 'anchor', photoId: photo.id, pointId: e.target.value } : null,
            })
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
      {tool?.kind === 'anchor' && tool.photoId === photo.id && (
        <p className="ask">Click where that point is on the photo.</p>
      )}
    </div>
  );
}

/** The photos laid under the views: scale, place, strength. */
export function PhotosPart({ host }: { host: Host }): React.JSX.Element {
  const photos = useBench((s) => s.history.present.photos) ?? [];
  const picker = useRef<HTMLInputElement>(null);
  const [view, setView] = useState<Plane>('side');
  return (
    <Part title="Photos">
      <ScaleEntry />
      {photos.map((photo, i) => (
        <PhotoItem key={photo.id} photo={photo} index={i} host={host} />
      ))}
      <div className="row">
        <button type="button" onClick={() => picker.current?.click()}>
          Lay a photo under
        </button>
        <select aria-label="View for the new photo" value={view} onChange={(e) => setView(e.target.value as Plane)}>
          <option value="side">side</option>
          <option value="top">top</option>
          <option value="front">from behind</option>
        </select>
        <input
          ref={picker}
          type="file"
          hidden
          aria-label="Photo to lay under"
          accept="image/jpeg,image/png,image/webp"
          onChange={(e) => {
            const file = e.target.files?.[0];
            e.target.value = '';
            if (file) void layPhoto(file, view);
          }}
        />
      </div>
      <p className="hint">
        Or drop a picture on a view. A phone photo is not square to every depth: trust it only in the plane of its scale
        marks.
      </p>
    </Part>
  );
}
