import { USUAL_SIGMA } from '../../../../core/survey';
import { takeReadings } from '../../../state/tables';
import { useBench } from '../../../state/use-bench';
import { ENTRY, clearEntry, focusOn, setEntry, takeEntry, useReadings } from '../../../state/readings-store';
import { ReadingFields } from './reading-fields';
import './readings.css';
import { ReadingTable } from './reading-table';

/** Readings with tape, level and gauge: a table filled by keyboard alone. */
export function ReadingsPane(): React.JSX.Element {
  const entry = useReadings((s) => s.entry);
  const again = useReadings((s) => s.lastFrom);
  const refusal = useReadings((s) => s.refusal);
  const focus = useReadings((s) => s.focus);
  const said = useReadings((s) => s.said);
  const last = useBench((s) => s.history.present.observations?.at(-1)?.id);
  return (
    <section className="pane readings" aria-label="Readings of tape, level and gauge">
      {last === undefined && (
        <p className="hint">
          What tape, rule, level or gauge read between the points below. The points come out of it with their ±, and a
          wrong reading is found.
        </p>
      )}
      <ReadingTable />
      <div className="entry-row" data-entry>
        <ReadingFields
          label="Next reading"
          draft={entry}
          again={again}
          refusal={refusal?.row === ENTRY ? refusal : null}
          focus={focus?.row === ENTRY ? focus : null}
          onDraft={setEntry}
          onWhole={takeEntry}
          onLeave={clearEntry}
          onUp={(cell) => last && focusOn(last, cell === 'value' ? 2 : cell === 'sigma' ? 3 : 1)}
          onPasteTable={(text) => {
            void takeReadings('what was pasted', new Blob([text]));
            return true;
          }}
        />
        <p className="hint">
          Enter goes to the next empty cell and takes the reading when it is whole. Up goes to the readings; there Enter
          changes one, Delete removes it.
        </p>
        <p className="hint">
          ±: two readings in three lie within it. Left empty, the usual one for: {USUAL_SIGMA[entry.kind].tool}.
        </p>
      </div>
      <p className="unseen" role="status">
        {said}
      </p>
    </section>
  );
}
