import { useEffect } from 'react';
import { ASSUMED_WORDS } from '../../../core/strut';
import { watchPulls } from '../../state/aside';
import { useMade } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { SpringsPart } from '../springs-part';
import { AssumedPart } from './assumed-part';
import { BehaviourPart } from './behaviour-part';
import { CasesPart } from './cases-part';
import { BestPart, ListPart } from './choose-part';
import { ComparePart } from './compare-part';
import { MatrixPart } from './matrix-part';
import { NeedsPart } from './needs-part';
import { OwnStrutPart } from './own-strut-part';

/** Strut: what is needed, what is fitted, which one to buy, and what it does in every load case. */
export function StrutPanel(): React.JSX.Element {
  const struts = useMade((s) =>
    s.history.present.struts.map(({ id, name, spec: { assumed = [] } }) => ({ id, name, assumed })),
  );
  useEffect(watchPulls, []);
  return (
    <>
      <BestPart />
      {struts.map((strut, i) => {
        const spec = (key: string, ...rest: number[]): (string | number)[] => ['struts', i, 'spec', key, ...rest];
        const { assumed } = strut;
        return (
          <div key={strut.id}>
            {struts.length > 1 && <h3>{strut.name ?? `Strut ${i + 1}`}</h3>}
            <NeedsPart strutId={strut.id} />
            <Part title="What is fitted">
              <NumberField label="Extended length" path={spec('extendedMm')} dimension="length" />
              <NumberField label="Stroke" path={spec('strokeMm')} dimension="length" />
              <NumberField label="Force F1" path={spec('forceN')} dimension="force" />
              <NumberField label="Force ratio F2/F1" path={spec('ratio')} dimension="number" />
              <NumberField label="Friction band" path={spec('frictionN')} dimension="force" fallback={0} />
              <NumberField label="Tolerance, lower" path={spec('toleranceN', 0)} dimension="force" fallback={0} />
              <NumberField label="Tolerance, upper" path={spec('toleranceN', 1)} dimension="force" fallback={0} />
              <NumberField label="Rod" path={spec('rodMm')} dimension="length" />
              <NumberField label="Tube" path={spec('tubeMm')} dimension="length" />
              {assumed.length > 0 && (
                <p className="hint">
                  Assumed by common practice, not stated by anybody:{' '}
                  {assumed.map((key) => ASSUMED_WORDS[key]).join(', ')}.
                </p>
              )}
            </Part>
          </div>
        );
      })}
      <ListPart />
      <OwnStrutPart />
      <AssumedPart />
      <SpringsPart />
      <CasesPart />
      <MatrixPart />
      <BehaviourPart />
      <ComparePart />
      <Part title="Limits">
        <NumberField label="Lift at most" path={['limits', 'handOpenN']} dimension="force" fallback={150} />
        <NumberField label="Pull shut at most" path={['limits', 'handCloseN']} dimension="force" fallback={200} />
        <NumberField label="Stroke reserve" path={['limits', 'reserveMm']} dimension="length" fallback={5} />
        <NumberField label="Held open with" path={['limits', 'holdOpenNm']} dimension="moment" fallback={5} />
        <NumberField label="Let go, energy at most" path={['limits', 'letGoJ']} dimension="energy" optional />
        <NumberField label="Unlatched, push at most" path={['limits', 'letGoN']} dimension="force" optional />
        <p className="hint">
          Without a limit of yours, letting go is watched from 10 J and 75 N on: figures for powered guards with a wide
          edge and no shear point (EN 953 5.2.5.2), a measure, not a limit for a lid moved by hand.
        </p>
      </Part>
    </>
  );
}
