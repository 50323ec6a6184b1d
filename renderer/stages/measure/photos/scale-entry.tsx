import { useState } from 'react';
import { attempt, fail, wordsOf } from '../../../../core/error';
import { evaluateQuantity, formatExact, shownUnit } from '../../../../core/quantity';
import { finishScale } from '../../../state/photo-tools';
import { leaveTool } from '../../../state/session';
import { useBench } from '../../../state/use-bench';
import { ReadAs, useHeldForm } from '../../../ui/entry';

/** What the scale tool asks for next. */
export function ScaleEntry(): React.JSX.Element | null {
  const tool = useBench((s) => s.tool);
  const units = useBench((s) => s.units);
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  const read = (typed: string): number => evaluateQuantity(typed, 'length', new Map(), shownUnit('length', units).unit);
  const commit = (): boolean => {
    const { error } = attempt(() => {
      const lengthMm = read(text);
      if (!(lengthMm > 0)) fail('a length between two marks is more than nothing', [], 'Type it again.');
      finishScale(lengthMm);
    });
    setWrong(error ? wordsOf(error) : '');
    if (!error) setText('');
    return !error;
  };
  const ready = tool?.kind === 'scale' && tool.from !== null && tool.to !== null;
  const field = useHeldForm('Length between the marks', !ready || text.trim() === '', commit);
  if (tool?.kind !== 'scale') return null;
  return (
    <div className="ask" role="status">
      {tool.from === null
        ? 'Click one mark on the photo.'
        : tool.to === null
          ? 'Click the other mark.'
          : 'Type the length between the marks.'}
      {ready && (
        <div className="field">
          <label>
            Length between the marks
            <span className="entry">
              <input
                ref={field}
                aria-label="Length between the marks"
                aria-describedby="scale-read"
                value={text}
                autoFocus
                onChange={(e) => setText(e.target.value)}
                onKeyDown={(e) => {
                  if (e.key === 'Enter') commit();
                  else if (e.key === 'Escape') setText('');
                }}
              />
              <ReadAs id="scale-read" text={text} words={(typed) => formatExact(read(typed), 'length', units)} />
              <span className="unit">{shownUnit('length', units).sign}</span>
            </span>
          </label>
          <button type="button" className="strong" onClick={commit}>
            Set the scale
          </button>
          {wrong && (
            <span className="wrong" role="alert">
              {wrong}
            </span>
          )}
        </div>
      )}
      <button type="button" onClick={leaveTool}>
        Cancel
      </button>
    </div>
  );
}
