import '../../style/photos.css';
import { useEffect, useState } from 'react';
import type { Host } from '../../host/host';
import { onFlatReady } from '../../photo/flat';
import { useBench } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { PhotoItem } from './photos/photo-item';

/** The photos laid under the views: where each lies, what its marks come to. */
export function PhotosPart({ host }: { host: Host }): React.JSX.Element {
  const photos = useBench((s) => s.history.present.photos) ?? [];
  const [, redraw] = useState(0);
  // a failed flat picture is told in its row
  useEffect(() => onFlatReady(() => redraw((n) => n + 1)), []);
  return (
    <Part title="Photos">
      {photos.map((photo, i) => (
        <PhotoItem key={photo.id} photo={photo} index={i} host={host} />
      ))}
      <p className="hint">
        A phone photo is not square to every depth: trust it only in the plane of its scale marks, or set it square by
        four.
      </p>
    </Part>
  );
}
