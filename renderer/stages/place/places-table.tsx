import { bracketLines, decidedBy, failWords, relaxWords, strutWords } from '../../../core/find';
import { type Dimension, formatQuantity } from '../../../core/quantity';
import { choosePlace, forgetPlaces, keepPlace, fitPlace, usePlaces } from '../../state/places';
import { useBench } from '../../state/use-bench';

/** What was found: a row a place, a press looks at one, a button fits it. */
export function PlacesTable(): React.JSX.Element | null {
  const { places, answer, share, chosen, tookS, job, fittedJob } = usePlaces((s) => s);
  const present = useBench((s) => s.history.present);
  const resolved = useBench((s) => s.resolved);
  const units = useBench((s) => s.units);
  if (places.length === 0 && (answer === null || share !== null)) return null;
  const f = (v: number | null, d: Dimension, digits?: number): string => v === null ? 'not known' : formatQuantity(v, d, units, digits); // prettier-ignore
  const mm = (v: number): string => formatQuantity(v, 'length', units, 0).replace(/ mm$/, '');
  const look = chosen === null ? undefined : places[chosen];
  const hand = (v: number | null): string => (v !== null && v <= 0 ? 'none' : f(v, 'force'));
  const stale = present !== job && present !== fittedJob;
  const n = (v: number): string => v.toLocaleString('en');
  const near = answer?.relaxed?.place ?? answer?.nearest?.place;
  return (
    <section className={stale ? 'places stale' : 'places'} aria-label="Places found">
      <header className="row">
        <h3>
          {places.length === 0
            ? 'No place works'
            : `${places.length === 1 ? 'One place works' : `${places.length} places work`}${share === null ? '' : ' so far'}`}
        </h3>
        <span className="hint" role="status">
          {answer &&
            `${n(answer.tried.pairs)} pairs of places and ${n(answer.tried.struts)} struts looked at in ${tookS.toFixed(1)} s.`}
          {stale ? ' The job has changed since: search again.' : ''}
        </span>
        {look && (
          <>
            <button type="button" className="strong" disabled={stale} onClick={() => fitPlace(look)}>
              Use place {chosen! + 1}
            </button>
            <button type="button" disabled={stale} onClick={() => keepPlace(look, `Place ${chosen! + 1}`)}>
              Keep it to compare
            </button>
          </>
        )}
        <button type="button" onClick={forgetPlaces}>
          Back to the map
        </button>
      </header>
      {places.length === 0 && near && answer && (
        <>
          <p>
            The nearest is {strutWords(near, units)}, drawn dashed. It fails{' '}
            {(answer.relaxed?.fails ?? []).map((x) => failWords(resolved, x, units)).join('; ') ||
              answer.nearest?.refused.map((x) => x.text).join(' ')}
            .
          </p>
          <p>
            {answer.relaxed
              ? `A place appears if you ${answer.relaxed.relax.map((x) => relaxWords(resolved, x, units)).join(' and ')}.`
              : 'Nothing that was tried to relax makes a place appear: draw other zones, or choose another list.'}
          </p>
        </>
      )}
      {look?.brackets && <p>Fitted with it: {bracketLines(look, units).join(' ')}</p>}
      {places.length > 0 && (
        <table>
          <thead>
            <tr>
              <th>Place</th>
              <th title="Share of the tightest limit that is left">Spare</th>
              <th title="Both balls may be off their marks by this much, in any direction, and everything still holds">
                Play
              </th>
              <th>Strut</th>
              <th>Force</th>
              <th>Hinge</th>
              <th>Lift</th>
              <th>Shut</th>
              <th>Decided by</th>
            </tr>
          </thead>
          <tbody>
            {places.map((place, i) => (
              <tr key={i} aria-selected={chosen === i} data-place={i + 1} onClick={() => choosePlace(i)}>
                <th>
                  <button type="button" className="link" onFocus={() => choosePlace(i)} onClick={() => choosePlace(i)}>
                    {i + 1}
                  </button>
                </th>
                <td>{place.spare.toFixed(2)}</td>
                <td>± {f(place.playMm, 'length', 1)}</td>
                <td className="words">
                  {place.quantity === 2 ? '2 × ' : ''}
                  {mm(place.spec.extendedMm)} long, {mm(place.spec.strokeMm)} stroke
                </td>
                <td>{f(place.spec.forceN, 'force')}</td>
                <td>{f(place.greatestHingeN, 'force')}</td>
                <td>{hand(place.liftN)}</td>
                <td>{hand(place.pullN)}</td>
                <td className="words">
                  {decidedBy(resolved, place)}
                  {place.openDeg === resolved.travel.openDeg ? '' : `; opens ${f(place.openDeg, 'angle')}`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
