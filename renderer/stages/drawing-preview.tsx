import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { writeSvg, type Sheet } from '../../core/drawing';
import { LidwrightError, describeIssue } from '../../core/error';
import type { Bracket, ResolvedJob } from '../../core/job';
import { useCalmBench } from '../state/use-bench';
import { drawBracket } from './drawing';

/** A sheet of the present job, or why it can't be drawn. */
export function useSheet(draw: (job: ResolvedJob) => Sheet | null): { sheet: Sheet | null; why: string } {
  const job = useCalmBench((s) => s.resolved);
  return useMemo(() => {
    try {
      return { sheet: draw(job), why: '' };
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      return { sheet: null, why: error.issues.map(describeIssue).join(' ') };
    }
  }, [job, draw]);
}

/** A bracket's drawing, or why it can't be drawn. */
export function useBracketSheet(bracket: Bracket | undefined): { sheet: Sheet | null; why: string } {
  return useSheet(useCallback((job: ResolvedJob) => (bracket ? drawBracket(job, bracket) : null), [bracket]));
}

/** The sheet as it will print; a click shows it large. */
export function DrawingPreview({ sheet }: { sheet: Sheet }): React.JSX.Element {
  const box = useRef<HTMLDivElement>(null);
  const [large, setLarge] = useState(false);
  useEffect(() => {
    const svg = new DOMParser().parseFromString(writeSvg(sheet), 'image/svg+xml').documentElement;
    svg.removeAttribute('width');
    svg.removeAttribute('height');
    box.current?.replaceChildren(document.importNode(svg, true));
  }, [sheet, large]);
  useEffect(() => {
    if (!large) return;
    const key = (e: KeyboardEvent): void => {
      if (e.key === 'Escape') setLarge(false);
    };
    window.addEventListener('keydown', key);
    return () => window.removeEventListener('keydown', key);
  }, [large]);
  return (
    <div className={large ? 'drawing large' : 'drawing'}>
      <button
        type="button"
        onClick={() => setLarge(!large)}
        aria-label={large ? 'Show the drawing small again' : 'Show the drawing large'}
      >
        <div className="drawing-paper" ref={box} />
      </button>
    </div>
  );
}
