import { useCallback } from 'react';
import type { Sheet } from '../../core/drawing';
import type { ResolvedJob } from '../../core/job';
import { useBench } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { drawPurchase, exportPdf, exportSvg } from './drawing';
import { DrawingPreview, useBracketSheet, useSheet } from './drawing-preview';

/** One sheet: how it will print, and its files. */
function SheetPart({ title, sheet, why }: { title: string; sheet: Sheet | null; why: string }): React.JSX.Element {
  return (
    <Part title={title}>
      {sheet ? (
        <>
          <DrawingPreview sheet={sheet} />
          <div className="row">
            <button type="button" className="strong" onClick={() => void exportPdf(sheet)}>
              Export PDF
            </button>
            <button type="button" className="strong" onClick={() => void exportSvg(sheet)}>
              Export SVG
            </button>
          </div>
        </>
      ) : (
        <p className="wrong" role="alert">
          {why}
        </p>
      )}
    </Part>
  );
}

function BracketSheet({ index }: { index: number }): React.JSX.Element | null {
  const bracket = useBench((s) => s.resolved.brackets[index]);
  const drawn = useBracketSheet(bracket);
  return bracket ? <SheetPart title={`Drawing: ${bracket.name ?? bracket.id}`} {...drawn} /> : null;
}

function PurchaseSheet({ strutId, title }: { strutId: string; title: string }): React.JSX.Element {
  const drawn = useSheet(useCallback((job: ResolvedJob) => drawPurchase(job, strutId), [strutId]));
  return <SheetPart title={title} {...drawn} />;
}

/** Papers: what goes to the workshop. */
export function PapersPanel(): React.JSX.Element {
  const brackets = useBench((s) => s.resolved.brackets);
  const struts = useBench((s) => s.resolved.struts);
  return (
    <>
      <h2>Papers</h2>
      {brackets.length === 0 && (
        <p className="hint">There is no bracket yet: add one under Bracket, and its drawing lies here.</p>
      )}
      {brackets.map((b, i) => (
        <BracketSheet key={b.id} index={i} />
      ))}
      {struts.map((s, i) => (
        <PurchaseSheet
          key={s.id}
          strutId={s.id}
          title={`To order: ${s.name ?? (struts.length > 1 ? `strut ${i + 1}` : 'the strut')}`}
        />
      ))}
      <Part title="On every sheet">
        <ChoiceField
          label="Paper"
          path={['papers', 'paper']}
          fallback="A4"
          options={[
            ['A4', 'A4'],
            ['A3', 'A3'],
          ]}
        />
        <ChoiceField
          label="Projection"
          path={['papers', 'projection']}
          fallback="first"
          options={[
            ['first', 'first angle'],
            ['third', 'third angle'],
          ]}
        />
        <TextField label="Owner" path={['papers', 'owner']} />
        <TextField label="Drawn by" path={['papers', 'creator']} />
        <TextField label="Approved by" path={['papers', 'approver']} />
        <TextField label="Number" path={['papers', 'number']} placeholder="LW" />
      </Part>
      <p className="hint">Print at 100 %, not “fit to page”, and measure the 100 mm bar on the paper before you cut.</p>
    </>
  );
}
