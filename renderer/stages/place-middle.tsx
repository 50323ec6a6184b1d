import type { EndName } from '../../core/job';
import type { Host } from '../host/host';
import { useMade } from '../state/use-bench';
import { type MapMode, showMap, showMapOf, useWorksMap } from '../state/works-map';
import { StageHead } from '../ui/stage-head';
import { SheetViews } from '../views/sheet-views';
import { useAnswer } from './answers';
import { PlacesTable } from './place/places-table';

const MODES: readonly (readonly [MapMode, string])[] = [
  ['none', 'none'],
  ['present', 'this strut'],
  ['best', 'best of the list'],
];
const ENDS: readonly (readonly [EndName, string])[] = [
  ['base', 'base ball'],
  ['lid', 'lid ball'],
];

/** Which works map is drawn, and of which ball. */
function MapChoice(): React.JSX.Element {
  const mode = useWorksMap((s) => s.mode);
  const end = useWorksMap((s) => s.end);
  const drawn = useWorksMap((s) => s.drawn);
  const trouble = useWorksMap((s) => s.trouble);
  return (
    <>
      <span id="map-choice">Works map</span>
      <span className="segment" role="group" aria-labelledby="map-choice" data-maps={drawn}>
        {MODES.map(([value, words]) => (
          <button key={value} type="button" aria-pressed={mode === value} onClick={() => showMap(value)}>
            {words}
          </button>
        ))}
      </span>
      {mode !== 'none' && trouble && <span role="status">{trouble}</span>}
      {mode !== 'none' && (
        <span className="segment" role="group" aria-label="Of which ball">
          {ENDS.map(([value, words]) => (
            <button key={value} type="button" aria-pressed={end === value} onClick={() => showMapOf(value)}>
              {words}
            </button>
          ))}
        </span>
      )}
    </>
  );
}

/** Place: the lid from three sides and in space, where its points are dragged; the works map, and the places found. */
export function PlaceMiddle({ host }: { host: Host }): React.JSX.Element {
  const struts = useMade((s) => s.resolved.struts.length > 0);
  return (
    <>
      <StageHead question="Where may the strut go?" answer={useAnswer('place')}>
        {struts && <MapChoice />}
      </StageHead>
      <SheetViews host={host} />
      <PlacesTable />
    </>
  );
}
