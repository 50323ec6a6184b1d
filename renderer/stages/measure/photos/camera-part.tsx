import { marksOn, unmarkOnPhoto } from '../../../../core/survey';
import { filmMmOfFocal, focalFromFilm, knowOnPhoto, setCamera } from '../../../../core/photo';
import { type Photo, setPhoto } from '../../../../core/job';
import { formatQuantity } from '../../../../core/quantity';
import { takeTool } from '../../../state/photo-tools';
import { leaveTool } from '../../../state/session';
import { edit } from '../../../state/store';
import { useSurvey } from '../../../state/survey';
import { useBench } from '../../../state/use-bench';
import { NumberField } from '../../../ui/number-field';
import { Typed } from '../../../ui/typed';

function Focal({ photo }: { photo: Photo }): React.JSX.Element {
  const mm = photo.focal ? filmMmOfFocal(photo.focal.px, photo) : null;
  return (
    <>
      <Typed
        label="Focal length as on 35 mm film"
        value={mm}
        dimension="number"
        sign="mm"
        onValue={(v) => {
          if (v === mm || (v !== null && !(v > 0))) return;
          const focal = v === null ? undefined : focalFromFilm(v, photo);
          edit('Set the focal length', (job) => setPhoto(job, { id: photo.id, patch: { focal } }));
        }}
      />
      <p className="hint">
        {photo.focal
          ? photo.focal.from === 'exif'
            ? 'From the photo’s own notes. A cropped picture gives a wrong one.'
            : 'As typed, good to about 3 %.'
          : 'Not known: it is found from the marks alone.'}
      </p>
    </>
  );
}

/** Where the camera stood, from marks of known points; other marked points are found from two photos or more. */
export function CameraPart({ photo, index }: { photo: Photo; index: number }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const points = useBench((s) => s.resolved.points);
  const tool = useBench((s) => s.tool);
  const job = useBench((s) => s.history.present);
  const result = useSurvey((s) => s.answer?.result ?? null);
  const marks = marksOn(job, photo.id);
  const camera = result?.cameras.find((c) => c.photo === photo.id) ?? null;
  const tested = new Map((result?.readings ?? []).map((r) => [r.id, r]));
  const known = new Set(photo.camera?.known ?? []);
  const marking = tool?.kind === 'mark' && tool.photoId === photo.id ? tool.pointId : '';
  const nameOf = (id: string): string => points.find((p) => p.id === id)?.name ?? id;
  const least = marks.filter((o) => known.has(o.points[0]!)).length;
  const found = new Set(marks.filter((o) => !known.has(o.points[0]!)).map((o) => o.points[0]!));
  return (
    <details className="item" open={marks.length > 0}>
      <summary>Points from photos</summary>
      <p className="hint">
        Mark six points or more whose places are known, spread in depth; then mark others here and in a second photo
        taken from the side: their places come out together with the tape readings.
      </p>
      <label className="field">
        Mark a point
        <select
          aria-label={`Mark a point on ${photo.name ?? photo.id}`}
          value={marking}
          onChange={(e) =>
            e.target.value ? takeTool({ kind: 'mark', photoId: photo.id, pointId: e.target.value }) : leaveTool()
          }
        >
          <option value="">choose…</option>
          {points.map((p) => (
            <option key={p.id} value={p.id}>
              {p.name ?? p.id}
            </option>
          ))}
        </select>
      </label>
      {marking && (
        <p className="ask" role="status">
          Click {nameOf(marking)} on the photo. Zoom in first: a pixel counts.
        </p>
      )}
      {marks.length > 0 && (
        <table className="marks">
          <caption>Marks on this photo</caption>
          <thead>
            <tr>
              <th scope="col">Point</th>
              <th scope="col">Known</th>
              <th scope="col">Off, px</th>
              <th scope="col">
                <span className="unseen">Remove</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {marks.map((o) => {
              const id = o.points[0]!;
              const off = camera?.residualsPx.get(o.id);
              const doubt = tested.get(o.id)?.verdict === 'suspicious';
              return (
                <tr key={o.id} data-marked={id} className={doubt ? 'suspicious' : ''}>
                  <th scope="row">
                    <button
                      type="button"
                      className="link"
                      title="Mark it again"
                      onClick={() => takeTool({ kind: 'mark', photoId: photo.id, pointId: id })}
                    >
                      {nameOf(id)}
                    </button>
                  </th>
                  <td>
                    <input
                      type="checkbox"
                      aria-label={`The place of ${nameOf(id)} is known`}
                      checked={known.has(id)}
                      onChange={(e) =>
                        edit(e.target.checked ? 'Take the place as known' : 'Let the photos find the place', (j) =>
                          knowOnPhoto(j, { photo: photo.id, point: id, known: e.target.checked }),
                        )
                      }
                    />
                  </td>
                  <td>
                    {o.use === false
                      ? 'off'
                      : off
                        ? `${off[0].toFixed(1)}, ${off[1].toFixed(1)}`.replaceAll('-', '−')
                        : '—'}
                    {doubt ? ' in doubt' : ''}
                  </td>
                  <td>
                    <button
                      type="button"
                      className="link"
                      aria-label={`Take the mark of ${nameOf(id)} off`}
                      onClick={() => edit('Take the mark off', (j) => unmarkOnPhoto(j, { photo: photo.id, point: id }))}
                    >
                      ×
                    </button>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      <Focal photo={photo} />
      {photo.focal && (
        <label className="check">
          <input
            type="checkbox"
            checked={photo.camera?.solveFocal === true}
            onChange={(e) =>
              edit('Set how the focal length is found', (j) =>
                setCamera(j, { photo: photo.id, patch: { solveFocal: e.target.checked ? true : undefined } }),
              )
            }
          />{' '}
          Find it from the marks alone
        </label>
      )}
      <label className="check">
        <input
          type="checkbox"
          checked={photo.camera?.radial === true}
          onChange={(e) =>
            edit('Set the lens’s bend', (j) =>
              setCamera(j, { photo: photo.id, patch: { radial: e.target.checked ? true : undefined } }),
            )
          }
        />{' '}
        Find how the lens bends straight lines too (one radial term; mark nine points or more)
      </label>
      {photo.camera && (
        <NumberField
          label="Lid stood open at"
          path={['photos', index, 'camera', 'atDeg']}
          dimension="angle"
          fallback={0}
        />
      )}
      {camera?.camera && (
        <p className="sum" role="status" data-camera={photo.id} data-rms={camera.rmsPx!.toFixed(3)}>
          The camera stood at{' '}
          {camera.camera.eyeMm.map((v, k) => `${'XYZ'[k]} ${formatQuantity(v, 'length', units, 0)}`).join(', ')} (±{' '}
          {camera.sigmaEyeMm!.map((v) => v.toFixed(0)).join(', ')} mm). Focal length {camera.camera.focalPx.toFixed(0)}{' '}
          px ± {camera.sigmaFocalPx!.toFixed(0)}
          {photo.camera?.radial ? `, radial term ${camera.camera.k1.toFixed(3)}` : ''}. Marks fit to{' '}
          {camera.rmsPx!.toFixed(1)} px.
        </p>
      )}
      {camera?.problem && marks.length > 0 && (
        <p className="hint" role="status" data-camera-problem={photo.id}>
          {camera.problem} ({least} known so far.)
        </p>
      )}
      {camera?.camera &&
        (result?.points ?? [])
          .filter((p) => found.has(p.id))
          .map((p) => (
            <p className="hint" key={p.id} data-found={p.id} data-at={p.at.map((v) => v.toFixed(2)).join(' ')}>
              {p.name}:{' '}
              {p.canMove.length > 0
                ? 'seen along one line only; mark it in a second photo from the side.'
                : `${p.at.map((v, k) => `${'XYZ'[k]} ${formatQuantity(v, 'length', units, 1)}`).join(', ')} (± ${p.sigmaMm.map((v) => (v ?? 0).toFixed(1)).join(', ')} mm), ${formatQuantity(p.movedMm, 'length', units, 1)} from where the job has it. Move it there under Readings.`}
            </p>
          ))}
    </details>
  );
}
