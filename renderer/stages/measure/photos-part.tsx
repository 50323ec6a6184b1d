import type { Plane } from '../../state/planes';
import '../../style/photos.css';
import { useEffect, useRef, useState } from 'react';
import type { Host } from '../../host/host';
import { onFlatReady } from '../../photo/flat';
import { layPhoto } from '../../state/photo-actions';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { PhotoItem } from './photos/photo-item';
import { ScaleEntry } from './photos/scale-entry';
import { SquareEntry } from './photos/square-entry';

/** The photos laid under the views: scale, place, strength. */
export function PhotosPart({ host }: { host: Host }): React.JSX.Element {
  const photos = useBench((s) => s.history.present.photos) ?? [];
  const picker = useRef<HTMLInputElement>(null);
  const [view, setView] = useState<Plane>('side');
  const [, redraw] = useState(0);
  // a failed flat picture is told in its row
  useEffect(() => onFlatReady(() => redraw((n) => n + 1)), []);
  return (
    <Part title="Photos">
      <ScaleEntry />
      <SquareEntry />
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
        marks, or set it square by four.
      </p>
    </Part>
  );
}
