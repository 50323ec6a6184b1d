import type { Host } from '../host/host';
import { useBench } from '../state/use-bench';
import { BracketPanel } from './bracket/bracket-panel';
import { JointsPanel } from './joints-panel';
import { MeasurePanel } from './measure/measure-panel';
import { PapersPanel } from './papers-panel';
import { PlacePanel } from './place-panel';
import { ProvePanel } from './prove/prove-panel';
import { StrutPanel } from './strut/strut-panel';
import { WeighPanel } from './weigh/weigh-panel';
import { WizardPanel } from './wizard-panel';

/** The panel of the present stage; while a lid is traced from a photo, the panel of that. */
export function StagePanel({ host }: { host: Host }): React.JSX.Element {
  const stage = useBench((s) => s.stage);
  const wizard = useBench((s) => s.wizard);
  if (wizard) return <WizardPanel wizard={wizard} />;
  switch (stage) {
    case 'measure':
      return <MeasurePanel host={host} />;
    case 'weigh':
      return <WeighPanel />;
    case 'place':
      return <PlacePanel />;
    case 'strut':
      return <StrutPanel />;
    case 'joints':
      return <JointsPanel />;
    case 'bracket':
      return <BracketPanel />;
    case 'papers':
      return <PapersPanel />;
    case 'prove':
      return <ProvePanel />;
  }
}
