import { chooseFor, showStroke, useChooser } from '../../state/chooser';
import { useBench, useMade } from '../../state/use-bench';
import { Segment, StageHead } from '../../ui/stage-head';
import { shownUnit, toShown } from '../../../core/quantity';
import { useAnswer } from '../answers';
import { useChoice, usePicked, useSearch } from './choosing';
import { FoundTable } from './found-table';
import { PlaneView } from './plane';

/** How many of the list do it here, and what of what is fitted. */
function useFoundWords(): string {
  const { ranking, share } = useChooser();
  const fitted = useAnswer('strut');
  if (!ranking) return share === null ? fitted : `Searching, ${Math.round(share * 100)} %. ${fitted}`;
  const { does, tried } = ranking;
  return `${does === 0 ? 'None' : does} of ${tried} in the list do${does === 1 ? 'es' : ''} it here. ${fitted}`;
}

/** Strut: where in length and force a strut does it, what the list has there, and why not the others. */
export function StrutMiddle(): React.JSX.Element {
  const { strutId, list } = useChoice();
  const { planes, strokeMm, share, list: searched } = useChooser();
  const picked = usePicked();
  const units = useBench((s) => s.units);
  const struts = useMade((s) => s.resolved.struts.map(({ id, name }, i) => [id, name ?? `Strut ${i + 1}`] as const));
  useSearch(strutId, list.entries);
  const shown = strokeMm ?? (picked ? searched[picked.entry]?.strokeMm : undefined);
  const plane = planes.find((p) => p.strokeMm === shown) ?? planes[0];
  return (
    <>
      <StageHead question="Which strut does it?" answer={useFoundWords()}>
        {struts.length > 1 && strutId !== null && (
          <Segment label="Strut" options={struts} value={strutId} onChoose={chooseFor} />
        )}
        {plane && (
          <>
            <span className="acts-word">Stroke, {shownUnit('length', units).sign}</span>
            <Segment
              label="Stroke"
              options={planes.map((p) => [
                p.strokeMm,
                String(Number(toShown(p.strokeMm, 'length', units).toFixed(units.length === 'in' ? 2 : 1))),
              ])}
              value={plane.strokeMm}
              onChoose={showStroke}
            />
          </>
        )}
      </StageHead>
      <div className="strut-middle">
        {plane ? (
          <PlaneView plane={plane} />
        ) : (
          <p className="pane empty" role="status">
            {strutId === null
              ? 'There is no strut yet: place one first.'
              : share === null
                ? 'Press “Find struts that do it” to search the list.'
                : `Searching, ${Math.round(share * 100)} %.`}
          </p>
        )}
        <FoundTable />
      </div>
    </>
  );
}
