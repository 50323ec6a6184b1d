import { useEffect, useRef, useState } from 'react';
import { type JobPhoto, setPhoto } from '../../../../core/job';
import type { Host } from '../../../host/host';
import { onPhotoLoaded, photoImage } from '../../../photo/images';
import type { PhotoTool } from '../../../photo/tool';
import { layPhoto } from '../../../state/photo-actions';
import { takeTool } from '../../../state/photo-tools';
import type { Plane } from '../../../state/planes';
import { leaveTool, select, showAlone } from '../../../state/session';
import { useBench } from '../../../state/use-bench';
import { Slider } from '../../../ui/slider';

const THUMB = { width: 52, height: 34 };
const VIEWS: readonly (readonly [Plane, string])[] = [
  ['side', 'side'],
  ['top', 'top'],
  ['front', 'from behind'],
];

/** A photo, small; pressed, its view is shown alone and the tools are for it. */
function Thumb({ photo, chosen, host }: { photo: JobPhoto; chosen: boolean; host: Host }): React.JSX.Element {
  const token = useBench((s) => s.file.photosFrom);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [, redraw] = useState(0);
  useEffect(() => onPhotoLoaded(() => redraw((n) => n + 1)), []);
  const loaded = photoImage(photo, host, token);
  const image = loaded.state === 'ready' ? loaded.image : null;
  useEffect(() => {
    const context = canvas.current?.getContext('2d');
    if (!image || !context) return;
    // all of the small frame is covered, the middle of the picture shown
    const k = Math.max(THUMB.width / image.width, THUMB.height / image.height);
    const [w, h] = [image.width * k, image.height * k];
    context.drawImage(image, (THUMB.width - w) / 2, (THUMB.height - h) / 2, w, h);
  }, [image]);
  const name = photo.name ?? photo.id;
  return (
    <button
      type="button"
      className="thumb"
      aria-pressed={chosen}
      aria-label={`Photo ${name}`}
      title={loaded.state === 'missing' ? loaded.why : `${name}: show it alone, with the tools for it`}
      onClick={() => {
        select({ kind: 'photo', id: photo.id });
        showAlone(photo.view);
      }}
    >
      <canvas ref={canvas} {...THUMB} />
    </button>
  );
}

const TOOLS: readonly (readonly [words: string, title: string, tool: (photoId: string) => PhotoTool])[] = [
  [
    'Scale',
    'Click two marks, type the length between them',
    (photoId) => ({ kind: 'scale', photoId, from: null, to: null }),
  ],
  [
    'Level',
    'Click two marks that are level with each other',
    (photoId) => ({ kind: 'level', photoId, along: 'level', from: null }),
  ],
  [
    'Plumb',
    'Click two marks that are plumb with each other',
    (photoId) => ({ kind: 'level', photoId, along: 'plumb', from: null }),
  ],
  [
    'Square',
    'Click four marks or more in one plane: the photo is laid flat by them',
    (photoId) => ({ kind: 'square', photoId, marks: [], redo: null }),
  ],
  [
    'Length',
    'Click both ends of a length on the photo',
    (photoId) => ({ kind: 'length', photoId, from: null, to: null }),
  ],
];
/** What a photo that lies flat by its marks has no more use for. */
const FLAT_ALREADY = ['Scale', 'Level', 'Plumb', 'Square'];

/** The tools of the chosen photo. */
function PhotoTools({ photo }: { photo: JobPhoto }): React.JSX.Element {
  const points = useBench((s) => s.resolved.points);
  const tool = useBench((s) => (s.tool?.photoId === photo.id ? s.tool : null));
  const name = photo.name ?? photo.id;
  return (
    <>
      <span className="segment" role="group" aria-label={`Tools for ${name}`}>
        {TOOLS.filter(([words]) => !photo.rectify || !FLAT_ALREADY.includes(words)).map(([words, title, taken]) => {
          const wanted = taken(photo.id);
          const held =
            tool?.kind === wanted.kind &&
            (tool.kind !== 'level' || wanted.kind !== 'level' || tool.along === wanted.along);
          return (
            <button
              key={words}
              type="button"
              title={title}
              aria-pressed={held}
              onClick={() => (held ? leaveTool() : takeTool(wanted))}
            >
              {words}
            </button>
          );
        })}
      </span>
      <select
        aria-label={`Put a point where ${name} shows it`}
        value={tool?.kind === 'put' ? tool.pointId : ''}
        onChange={(e) =>
          e.target.value ? takeTool({ kind: 'put', photoId: photo.id, pointId: e.target.value, offMm: 0 }) : leaveTool()
        }
      >
        <option value="">Put a point…</option>
        {points.map((p) => (
          <option key={p.id} value={p.id}>
            {p.name ?? p.id}
          </option>
        ))}
      </select>
      <label className="opacity">
        Opacity
        <Slider
          label={`Opacity of ${name}`}
          min={0}
          max={1}
          step={0.05}
          value={photo.opacity ?? 0.6}
          name="Set the photo’s opacity"
          edit={(job, opacity) => setPhoto(job, { id: photo.id, patch: { opacity } })}
        />
      </label>
    </>
  );
}

/** The photos as a film strip, and what is done on the chosen one. */
export function PhotoBar({ host }: { host: Host }): React.JSX.Element | null {
  const photos = useBench((s) => s.history.present.photos) ?? [];
  const wanted = useBench((s) => s.tool?.photoId ?? (s.selection?.kind === 'photo' ? s.selection.id : null));
  const filled = useBench((s) => s.filled);
  const chosen = photos.find((p) => p.id === wanted) ?? photos.find((p) => p.view === filled) ?? photos[0];
  if (!chosen) return null;
  return (
    <div className="photo-bar">
      {photos.map((photo) => (
        <Thumb key={photo.id} {...{ photo, host }} chosen={photo === chosen} />
      ))}
      <PhotoTools key={chosen.id} photo={chosen} />
    </div>
  );
}

/** One more photo, under a view. */
export function AddPhoto(): React.JSX.Element {
  const picker = useRef<HTMLInputElement>(null);
  const [view, setView] = useState<Plane>('side');
  return (
    <span className="add-photo">
      <button type="button" onClick={() => picker.current?.click()}>
        Add a photo
      </button>
      <select
        aria-label="View for the new photo"
        title="Which view it goes under"
        value={view}
        onChange={(e) => setView(e.target.value as Plane)}
      >
        {VIEWS.map(([plane, words]) => (
          <option key={plane} value={plane}>
            {words}
          </option>
        ))}
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
    </span>
  );
}
