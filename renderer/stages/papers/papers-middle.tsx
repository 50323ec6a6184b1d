import { useEffect, useMemo, useRef, useState } from 'react';
import { type Sheet, writeSvg } from '../../../core/drawing';
import { describeIssue } from '../../../core/error';
import { sheetsOf } from '../../../core/papers';
import { MM_OF } from '../../../core/quantity';
import { turnPage } from '../../state/session';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { Segment, StageHead } from '../../ui/stage-head';
import { useAnswer } from '../answers';
import { allPapers } from '../drawing';
import './papers.css';

/** CSS pixels a millimetre: what a browser takes for true size. */
const PX_PER_MM = 96 / MM_OF.in;
const STEP = 1.25;
const ZOOM = { least: 0.2, most: 6 } as const;

/** A sheet as it will print: fitted to the room there is, or so many times its true size. */
function SheetShown({ sheet, zoom }: { sheet: Sheet; zoom: number | null }): React.JSX.Element {
  const paper = useRef<HTMLDivElement>(null);
  const { widthMm, heightMm } = sheet;
  useEffect(() => {
    const svg = new DOMParser().parseFromString(writeSvg(sheet), 'image/svg+xml').documentElement;
    for (const size of ['width', 'height']) svg.removeAttribute(size);
    paper.current?.replaceChildren(document.importNode(svg, true));
  }, [sheet]);
  const size =
    zoom === null
      ? { aspectRatio: `${widthMm} / ${heightMm}`, '--wide': widthMm / heightMm }
      : { width: widthMm * PX_PER_MM * zoom, height: heightMm * PX_PER_MM * zoom, flex: 'none' };
  return (
    // it scrolls, so it must be reached by keyboard
    <div
      className={zoom === null ? 'sheet-room whole' : 'sheet-room'}
      tabIndex={0}
      role="region"
      aria-label="The sheet"
    >
      <div className="sheet-paper" ref={paper} style={size as React.CSSProperties} />
    </div>
  );
}

/** Papers: the chosen paper's sheet, large, with its pages and how large it is shown. */
export function PapersMiddle(): React.JSX.Element {
  const job = useTold((s) => s.resolved);
  const outcome = useTold((s) => s.outcome);
  const pending = useTold((s) => s.pending.length > 0);
  const papers = useMemo(() => allPapers(job, outcome), [job, outcome]);
  const wanted = useBench((s) => s.paper);
  const turned = useBench((s) => s.page);
  const paper = papers.find((p) => p.id === wanted) ?? papers[0];
  const { sheets, why } = useMemo(
    () => (paper && !pending ? sheetsOf(paper) : { sheets: [], why: null }),
    [paper, pending],
  );
  /** Null: the whole sheet; else times its true size. */
  const [zoom, setZoom] = useState<number | null>(null);
  const page = Math.min(turned, sheets.length - 1);
  const sheet = sheets[page];
  const by = (factor: number): void =>
    setZoom((now) => Math.min(Math.max((now ?? 0.8) * factor, ZOOM.least), ZOOM.most));
  return (
    <>
      <StageHead question="What goes to the workshop?" answer={useAnswer('papers')} />
      {sheet ? (
        <SheetShown sheet={sheet} zoom={zoom} />
      ) : (
        <div className="sheet-room whole">
          <p className={why ? 'wrong' : 'hint'} role={why ? 'alert' : 'status'}>
            {why
              ? why.issues.map(describeIssue).join(' ')
              : pending
                ? 'Being worked out …'
                : 'No paper can be drawn yet: the findings say what is missing.'}
          </p>
        </div>
      )}
      {sheet && (
        <div className="pager">
          <span role="group" aria-label="Pages">
            <button type="button" aria-label="Page before" disabled={page === 0} onClick={() => turnPage(page - 1)}>
              Back
            </button>
            <span aria-live="polite">
              Page {page + 1} of {sheets.length}
            </span>
            <button
              type="button"
              aria-label="Next page"
              disabled={page === sheets.length - 1}
              onClick={() => turnPage(page + 1)}
            >
              Next
            </button>
          </span>
          <span className="pager-name">
            <b>{paper!.title}</b> {Math.round(sheet.widthMm)} × {Math.round(sheet.heightMm)} mm
          </span>
          <span className="segment">
            <button type="button" aria-label="Smaller" onClick={() => by(1 / STEP)}>
              −
            </button>
            <Segment
              label="Size shown"
              options={[
                ['whole', 'Whole sheet'],
                ['true', 'True size'],
              ]}
              value={zoom === null ? 'whole' : zoom === 1 ? 'true' : 'other'}
              onChoose={(how) => setZoom(how === 'whole' ? null : 1)}
            />
            <button type="button" aria-label="Larger" onClick={() => by(STEP)}>
              +
            </button>
          </span>
        </div>
      )}
    </>
  );
}
