import { useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import { writeSvg, type Sheet } from '../../core/drawing';
import { attempt, describeIssue } from '../../core/error';
import { useRest } from '../state/told';
import { drawBracket } from './drawing';

/** The drawing of a bracket of the job, or why it can't be drawn; as it was before a drag while that goes on, and after the numbers. */
export function BracketDrawing({ id }: { id: string }): React.JSX.Element {
  const job = useDeferredValue(useRest((s) => s.resolved));
  const { sheet, why } = useMemo(() => {
    const bracket = job.brackets.find((b) => b.id === id);
    const { value, error } = attempt(() => (bracket ? drawBracket(job, bracket) : null));
    return { sheet: value, why: error?.issues.map(describeIssue).join(' ') ?? '' };
  }, [job, id]);
  return sheet ? (
    <DrawingPreview sheet={sheet} />
  ) : (
    <p className="wrong" role="alert">
      {why}
    </p>
  );
}

/** The sheet as it will print; a click shows it large. */
function DrawingPreview({ sheet }: { sheet: Sheet }): React.JSX.Element {
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
