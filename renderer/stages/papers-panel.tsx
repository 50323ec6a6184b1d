import { useId, useMemo } from 'react';
import { describeIssue } from '../../core/error';
import type { ResolvedJob } from '../../core/job';
import { type LeftOut, type Paper, boundPapers, boxedLetters, jobNumber, sheetsOf } from '../../core/papers';
import { choosePaper } from '../state/session';
import { notify } from '../state/store';
import { useTold } from '../state/told';
import { useBench } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { allPapers, exportPaper, exportSet } from './drawing';
import { EdgesPart } from './edges-part';

/** The files of a paper. */
function PaperPart({ paper }: { paper: Paper }): React.JSX.Element | null {
  const { sheets } = useMemo(() => sheetsOf(paper), [paper]);
  const page = Math.min(
    useBench((s) => s.page),
    sheets.length - 1,
  );
  // the sheet's place says why it can't be drawn
  if (!sheets[page]) return null;
  const several = sheets.length > 1;
  return (
    <Part title={paper.title}>
      <div className="row">
        {paper.formats.map((format, i) => (
          <button
            key={format}
            type="button"
            className={i === 0 ? 'strong' : undefined}
            onClick={() => void exportPaper(paper, format, page)}
          >
            Export {format.toUpperCase()}
            {several && format !== 'pdf' && format !== 'csv' && ` of page ${page + 1}`}
          </button>
        ))}
      </div>
    </Part>
  );
}

/** All papers in one file; those that can't be drawn are named. */
async function exportAll(job: ResolvedJob, papers: readonly Paper[]): Promise<void> {
  const { bound, leftOut } = boundPapers(job, papers);
  if (leftOut.length < papers.length) await exportPaper(bound, 'pdf');
  tellLeftOut(leftOut);
}

function tellLeftOut(leftOut: readonly LeftOut[]): void {
  if (leftOut.length > 0)
    notify(`Left out, because it can’t be drawn: ${leftOut.map((each) => each.paper.title).join('; ')}.`, 'bad');
}

/** Papers: what goes to the workshop. */
export function PapersPanel(): React.JSX.Element {
  const job = useTold((s) => s.resolved);
  const outcome = useTold((s) => s.outcome);
  const pending = useTold((s) => s.pending.length > 0);
  const papers = useMemo(() => allPapers(job, outcome), [job, outcome]);
  const boxes = useMemo(() => boxedLetters(job), [job]);
  const wanted = useBench((s) => s.paper);
  const chosen = papers.find((paper) => paper.id === wanted) ?? papers[0];
  const id = useId();
  return (
    <>
      {job.brackets.length === 0 && (
        <p className="hint">
          There is no bracket yet: add one under Bracket, and its drawing and drill template lie here.
        </p>
      )}
      {!outcome && (
        <p className="hint">Place sheet, layout, report and checklist come as soon as the job can be worked out.</p>
      )}
      {boxes.length > 0 && (
        <p className="hint" role="status">
          {boxes.map(describeIssue).join(' ')}
        </p>
      )}
      {chosen && (
        <>
          <div className="field">
            <label htmlFor={id}>Paper to make</label>
            <span className="entry">
              <select id={id} name="paper" value={chosen.id} onChange={(e) => choosePaper(e.target.value)}>
                {papers.map((paper) => (
                  <option key={paper.id} value={paper.id}>
                    {paper.title}
                  </option>
                ))}
              </select>
            </span>
          </div>
          {pending ? <p className="hint">Being worked out …</p> : <PaperPart key={chosen.id} paper={chosen} />}
        </>
      )}
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
        <TextField label="Number" path={['papers', 'number']} placeholder={jobNumber(job)} />
        <TextField label="Revision" path={['papers', 'revision']} />
      </Part>
      <EdgesPart />
      {papers.length > 1 && (
        <div className="row">
          <button type="button" disabled={pending} onClick={() => void exportAll(job, papers)}>
            All papers in one PDF
          </button>
          <button type="button" disabled={pending} onClick={() => void exportSet(job, papers).then(tellLeftOut)}>
            All files as a ZIP
          </button>
        </div>
      )}
      <p className="hint">Print at 100 %, not “fit to page”, and measure the 100 mm bar on the paper before you cut.</p>
    </>
  );
}
