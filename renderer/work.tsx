import { FindingsPanel } from './bench/findings-panel';
import { NextStage, StageStrip } from './bench/stage-strip';
import type { Host } from './host/host';
import { StagePanel } from './stages';
import { StageMiddle } from './stages/middle';
import { useBench } from './state/use-bench';

/** All that is there once a job is open: stages, panel, middle, findings. */
export function Work({ host }: { host: Host }): React.JSX.Element {
  const stage = useBench((s) => s.stage);
  const tracing = useBench((s) => s.wizard !== null);
  return (
    <>
      {!tracing && <StageStrip />}
      <main className="work">
        <aside key={tracing ? 'tracing' : stage} className="panel" aria-label={`${stage} panel`}>
          <StagePanel host={host} />
          {!tracing && <NextStage />}
        </aside>
        <StageMiddle host={host} />
        {!tracing && <FindingsPanel />}
      </main>
    </>
  );
}
