import { useState } from 'react';
import { setPhoto, type Photo } from '../../../../core/job';
import { parallaxNote, photoPlace } from '../../../../core/photo';
import { formatQuantity } from '../../../../core/quantity';
import { PROJECTIONS } from '../../../bench/sheet/projection';
import { flatOf, flatTrouble } from '../../../photo/flat';
import { cameraOfPhoto, takeTool } from '../../../state/photo-tools';
import { edit } from '../../../state/store';
import { useBench } from '../../../state/use-bench';
import { Typed } from './typed';

const signed = (v: number, digits: number): string => `${v < 0 ? '−' : '+'}${Math.abs(v).toFixed(digits)}`;

/** How a flat photo's marks fit, what is cut off, and how wrong things off its plane are shown. */
export function SquareResult({ photo }: { photo: Photo }): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const [depth, setDepth] = useState<number>(50);
  if (!photo.rectify) return null;
  const { rightSign } = PROJECTIONS[photo.view];
  const place = photoPlace(photo, rightSign);
  const again = (): void =>
    takeTool({
      kind: 'square',
      photoId: photo.id,
      marks: photo.rectify!.marks.map((m) => ({ ...m, px: m.px, planeMm: m.planeMm })),
      redo: null,
    });
  const buttons = (
    <div className="row">
      <button type="button" onClick={again}>
        Change the marks
      </button>
      <button
        type="button"
        onClick={() =>
          edit('Take the square setting away', (job) => setPhoto(job, { id: photo.id, patch: { rectify: undefined } }))
        }
      >
        Take the square setting away
      </button>
    </div>
  );
  const { plane } = place;
  if (!plane)
    return (
      <>
        <p className="wrong" role="alert">
          {place.trouble}
        </p>
        {buttons}
      </>
    );
  const off = plane.marks.map((m) => Math.hypot(...m.offPx));
  const worst = off.indexOf(Math.max(...off));
  const nameOf = (i: number): string => photo.rectify!.marks[i]!.name ?? `mark ${i + 1}`;
  const camera = cameraOfPhoto(photo, place);
  const flat = flatOf(plane, photo);
  const trouble = flatTrouble(photo.id);
  return (
    <div role="group" aria-label={`Set square: ${photo.name ?? photo.id}`}>
      <table className="marks">
        <caption>Laid flat by {plane.marks.length} marks: fitted less marked</caption>
        <thead>
          <tr>
            <th scope="col">Mark</th>
            <th scope="col">px</th>
            <th scope="col">mm</th>
          </tr>
        </thead>
        <tbody>
          {plane.marks.map((m, i) => (
            <tr key={i} data-mark={i} data-off-px={off[i]!.toFixed(3)}>
              <th scope="row">{nameOf(i)}</th>
              <td>
                {signed(m.offPx[0], 1)}, {signed(m.offPx[1], 1)}
              </td>
              <td>
                {signed(m.offMm[0], 1)}, {signed(m.offMm[1], 1)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className={plane.suspect === null ? 'hint' : 'ask'} role="status">
        {plane.spare === 0
          ? 'Four marks leave nothing over: a slip in one of them would not show. A fifth checks them.'
          : plane.suspect === null
            ? `Worst: ${nameOf(worst)}, ${off[worst]!.toFixed(1)} px. The marks agree.`
            : `${nameOf(plane.suspect)} fits worst: ${off[plane.suspect]!.toFixed(1)} px. Check its place, or click it again.`}
      </p>
      {buttons}
      {trouble && (
        <p className="wrong" role="alert">
          {trouble}
        </p>
      )}
      {flat?.cut && (
        <p className="hint">Towards the plane’s horizon the photo is cut off: it would be drawn out beyond use.</p>
      )}
      <Typed label="Off the plane by" value={depth} dimension="length" onValue={(v) => v !== null && setDepth(v)} />
      <p className="hint" data-parallax={photo.id}>
        {noteOf()}
        {camera?.focalFrom === 'plane'
          ? ' (The camera’s distance is told by the slant of the plane; the focal length makes it surer.)'
          : ''}
        {camera ? ` The camera stood ${formatQuantity(camera.distanceMm, 'length', units, 0)} off the plane.` : ''}
      </p>
    </div>
  );

  function noteOf(): string {
    try {
      return parallaxNote(camera, plane!.marks, depth);
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    }
  }
}
