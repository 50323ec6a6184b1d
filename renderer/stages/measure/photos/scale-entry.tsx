import { useState } from 'react';
import { attempt, fail, wordsOf } from '../../../../core/error';
import { evaluateQuantity, shownUnit } from '../../../../core/quantity';
import { finishScale } from '../../../state/photo-tools';
import { leaveTool } from '../../../state/session';
import { useBench } from '../../../state/use-bench';

/** What the scale tool asks for next. */
export function ScaleEntry(): React.JSX.Element | null {
  const tool = useBench((s) => s.tool);
  const units = useBench((s) => s.units);
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState('');
  if (tool?.kind !== 'scale') return null;
  const ready = tool.from !== null && tool.to !== null;
  const commit = (): void => {
    const { error } = attempt(() => {
      const lengthMm = evaluateQuantity(text, 'length', new Map(), shownUnit('length', units).unit);
      if (!(lengthMm > 0)) fail('a length between two marks is more than nothing', [], 'Type it again.');
      finishScale(lengthMm);
    });
    if (error) setWrong(wordsOf(error));
  };
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
                aria-label="Length between the marks"
                value={text}
                autoFocus
                onChange={(e) => setText(e.target.value)}
                onKeyDown={(e) => e.key === 'Enter' && commit()}
              />
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
        Leave it
      </button>
    </div>
  );
}
