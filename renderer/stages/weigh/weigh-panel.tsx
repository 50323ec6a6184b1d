import '../../style/weigh.css';
import { useMade } from '../../state/use-bench';
import { Part } from '../../ui/fields';
import { PointTable } from '../point-table';
import { CasesPart } from '../strut/cases-part';
import { LiftedPart } from './lifted-part';
import { NeedPart } from './need-part';
import { PullsPart } from './pulls-part';

/** Weigh: what a scale said, and where each mass is. */
export function WeighPanel(): React.JSX.Element {
  const places = useMade((s) => [...new Set(s.history.present.masses.map((m) => m.at))]);
  return (
    <>
      <p className="hint">
        A level, uniform panel hinged at one edge needs half its weight at the other (common practice): a 25 kg panel
        about 12 kgf.
      </p>
      <PullsPart />
      <LiftedPart />
      <Part title="Where each mass is" folded>
        <PointTable only={places} />
      </Part>
      <CasesPart folded />
      <NeedPart />
      <p className="caution">
        On a road vehicle, a boat or a machine at work, follow local rules for lifting and holding loads, and leave to a
        licensed person what is theirs.
      </p>
    </>
  );
}
