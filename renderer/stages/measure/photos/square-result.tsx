import { attempt } from '../../../../core/error';
import { useState } from 'react';
import { setPhoto, type Photo } from '../../../../core/job';
import { cameraOfPhoto, parallaxNote, placeOnView } from '../../../../core/photo';
import { formatQuantity } from '../../../../core/quantity';
import { PROJECTIONS } from '../../../state/planes';
import { flatOf, flatTrouble } from '../../../photo/flat';
import { takeTool } from '../../../state/photo-tools';
import { edit } from '../../../state/store';
import { useBench } from '../../../state/use-bench';
import { NumberField } from '../../../ui/number-field';
import { offPlaneWords } from './off-plane';
import { Typed } from '../../../ui/typed';

const signed = (v: number, digits: number): string => `${v < 0 ? '−' : '+'}${Math.abs(v).toFixed(digits)}`;

/** How a flat photo's marks fit, what is cut off, and how wrong things off its plane are shown. */
export function SquareResult({ photo, index }: { photo: Photo; index: number }): React.JSX.Element | null {
  const units = useBench((s) => s.units);
  const points = useBench((s) => s.resolved.points);
  const [offPlane, setOffPlane] = useState<number>(50);
  const held = useBench((s) => s.history.present.photos?.[index]?.rectify);
  if (!photo.rectify) return null;
  const place = placeOnView(photo);
  const again = (): void =>
    takeTool({
      kind: 'square',
      photoId: photo.id,
      // as the job holds them: a place that a given makes stays one
      marks: photo.rectify!.marks.map((m, i) => ({ ...m, held: held?.marks[i]?.planeMm })),
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
  const nameOf = (i: number): string => photo.rectify!.marks[i]!.name ?? `Mark ${i + 1}`;
  const camera = cameraOfPhoto(photo, place);
  const flat = flatOf(plane, photo);
  const trouble = flatTrouble(photo.id);
  const { depth } = PROJECTIONS[photo.view];
  const note = attempt(() => parallaxNote(camera, plane.marks, offPlane));
  const deepest = offPlaneWords(photo, points, units);
  const worst = `Worst: ${nameOf(plane.worst)}, ${plane.marks[plane.worst]!.missPx.toFixed(1)} px.`;
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
            <tr
              key={i}
              data-mark={i}
              className={plane.suspect === i ? 'suspicious' : ''}
              data-off-px={m.missPx.toFixed(3)}
            >
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
      <p className={plane.agree ? 'hint' : 'ask'} role="status">
        {plane.spare === 0
          ? 'Four marks leave nothing over: a slip in one of them would not show. A fifth checks them.'
          : plane.agree
            ? `${worst} The marks agree.`
            : plane.suspect === null
              ? `${worst} The marks do not agree, and five can’t tell which is wrong. Check the places, or mark a sixth.`
              : `${nameOf(plane.suspect)} does not fit the others. Check its place, or click it again.`}
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
      <NumberField
        label={`${'XYZ'[depth]} of the plane`}
        path={['photos', index, 'rectify', 'depthMm']}
        dimension="length"
      />
      <p className="hint" data-plane-depth={photo.id}>
        {deepest ??
          `How deep the marked plane lies in the view. Then points put by the photo get their ${'XYZ'[depth]} from it.`}
      </p>
      <Typed
        label="Off the plane by"
        value={offPlane}
        dimension="length"
        onValue={(v) => v !== null && setOffPlane(v)}
      />
      <p className="hint" data-parallax={photo.id}>
        {note.error?.message ?? note.value}
        {camera?.focalFrom === 'plane'
          ? ' (The camera’s distance is told by the slant of the plane; the focal length makes it surer.)'
          : ''}
        {camera ? ` The camera stood ${formatQuantity(camera.distanceMm, 'length', units, 0)} off the plane.` : ''}
      </p>
    </div>
  );
}
