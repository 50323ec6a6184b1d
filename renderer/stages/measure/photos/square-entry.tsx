import { useState } from 'react';
import { photoPlace, rectanglePlaces } from '../../../../core/photo';
import { PROJECTIONS } from '../../../state/planes';
import type { PhotoTool, SquareMark } from '../../../photo/tool';
import { finishSquare } from '../../../state/photo-tools';
import { leaveTool, setTool } from '../../../state/session';
import { orSay } from '../../../state/store';
import { useBench } from '../../../state/use-bench';
import { Typed } from '../../../ui/typed';

type Square = Extract<PhotoTool, { kind: 'square' }>;
const AXES = ['X', 'Y', 'Z'] as const;

const setMarks = (tool: Square, marks: readonly SquareMark[], redo: number | null = tool.redo): void =>
  setTool({ ...tool, marks, redo });
const place = (tool: Square, i: number, planeMm: SquareMark['planeMm'], name?: string): void =>
  setMarks(
    tool,
    tool.marks.map((m, k) => {
      if (k !== i) return m;
      const same = (axis: 0 | 1) => (planeMm[axis] === m.planeMm[axis] ? m.held?.[axis] : undefined);
      const held = [same(0) ?? planeMm[0] ?? 0, same(1) ?? planeMm[1] ?? 0] as const;
      return { px: m.px, planeMm, ...(name ? { name } : {}), ...(m.held ? { held: [...held] } : {}) };
    }),
  );

/** Four marks that are a rectangle's corners: two sides say it all. */
function RectangleWay({ tool }: { tool: Square }): React.JSX.Element {
  const photo = useBench((s) => s.resolved.photos.find((p) => p.id === tool.photoId));
  const [width, setWidth] = useState<number | null>(null);
  const [height, setHeight] = useState<number | null>(null);
  const take = (): void => {
    if (!photo || width === null || height === null) return;
    const { rightSign } = PROJECTIONS[photo.view];
    const lay = photoPlace(photo, rightSign);
    orSay(() => {
      const px = tool.marks.map((m) => m.px);
      // it stays about where it lies: the lower corner on the left keeps its place to a whole mm
      const lower = px.reduce((best, p) => (p[1] - p[0] > best[1] - best[0] ? p : best));
      const [x, y] = lay.toMm(lower);
      const places = rectanglePlaces(px, {
        widthMm: width,
        heightMm: height,
        cornerMm: [Math.round(rightSign * x), Math.round(y)],
        rightSign,
      });
      setMarks(
        tool,
        tool.marks.map(({ px }, i) => ({ px, planeMm: places[i]! })),
      );
    });
  };
  return (
    <fieldset className="mark-place">
      <legend>The four corners of a rectangle?</legend>
      <Typed label="Width" value={width} dimension="length" onValue={setWidth} />
      <Typed label="Height" value={height} dimension="length" onValue={setHeight} />
      <button type="button" disabled={width === null || height === null} onClick={take}>
        Fill in the places
      </button>
    </fieldset>
  );
}

/** Marks on one plane, each with its place: the photo is laid flat by them. */
export function SquareEntry(): React.JSX.Element | null {
  const tool = useBench((s) => s.tool);
  const photos = useBench((s) => s.resolved.photos);
  const points = useBench((s) => s.resolved.points);
  if (tool?.kind !== 'square') return null;
  const photo = photos.find((p) => p.id === tool.photoId);
  if (!photo) return null;
  const { right, up } = PROJECTIONS[photo.view];
  const { marks } = tool;
  const placed = marks.every((m) => m.planeMm[0] !== null && m.planeMm[1] !== null);
  return (
    <div className="ask" role="group" aria-label="Set square">
      <p role="status" data-square={marks.length}>
        {tool.redo !== null
          ? `Click mark ${tool.redo + 1} again.`
          : marks.length < 4
            ? `Click mark ${marks.length + 1} on the photo: things in one plane, far apart, whose places you know.`
            : placed
              ? 'Lay it flat, or click more marks to check it.'
              : 'Say where each mark is, or click more marks.'}
      </p>
      {marks.length === 4 && <RectangleWay tool={tool} />}
      {marks.map((m, i) => (
        <fieldset className="mark-place" key={i} aria-label={`Mark ${i + 1}`}>
          <legend>Mark {i + 1}</legend>
          <Typed
            label={`${AXES[right]} of mark ${i + 1}`}
            shown={AXES[right]}
            value={m.planeMm[0]}
            dimension="length"
            onValue={(v) => place(tool, i, [v, m.planeMm[1]], m.name)}
          />
          <Typed
            label={`${AXES[up]} of mark ${i + 1}`}
            shown={AXES[up]}
            value={m.planeMm[1]}
            dimension="length"
            onValue={(v) => place(tool, i, [m.planeMm[0], v], m.name)}
          />
          <span className="row">
            <select
              aria-label={`Mark ${i + 1} is the point`}
              value=""
              onChange={(e) => {
                const p = points.find((q) => q.id === e.target.value);
                if (p) place(tool, i, [p.at[right], p.at[up]], (p.name ?? p.id).slice(0, 200));
              }}
            >
              <option value="">{m.name ?? 'as point…'}</option>
              {points.map((p) => (
                <option key={p.id} value={p.id}>
                  {p.name ?? p.id}
                </option>
              ))}
            </select>
            <button type="button" aria-label={`Click mark ${i + 1} again`} onClick={() => setMarks(tool, marks, i)}>
              Redo
            </button>
            <button
              type="button"
              aria-label={`Take mark ${i + 1} away`}
              onClick={() =>
                setMarks(
                  tool,
                  marks.filter((_, k) => k !== i),
                  null,
                )
              }
            >
              ×
            </button>
          </span>
        </fieldset>
      ))}
      <div className="row">
        <button type="button" className="strong" disabled={marks.length < 4 || !placed} onClick={finishSquare}>
          Lay it flat
        </button>
        <button type="button" onClick={leaveTool}>
          Cancel
        </button>
      </div>
    </div>
  );
}
