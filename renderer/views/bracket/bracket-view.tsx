/*
 * SVG, not the canvas of the lid's views: a bracket is a few dozen lines, they follow the theme through the style sheet, each can be found by a
 * reader, and the whole view is drawn again at every move without costing the drag anything.
 */
import { useEffect, useMemo, useRef, useState } from 'react';
import {
  ballOf,
  boxOf,
  bracketSpecOf,
  type BracketSpec,
  type Dim,
  edgeDistancesMm,
  type Face,
  farEnd,
  type Handle,
  handlesOf,
  linesOf,
  type Point2,
  type ViewLines,
} from '../../../core/bracket';
import { attempt, describeIssue } from '../../../core/error';
import { formatQuantity, type ShownUnits } from '../../../core/quantity';
import { bracketStore, chosenBracket, showFace } from '../../state/bracket-store';
import { select } from '../../state/session';
import { edit } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { useSize } from '../../ui/use-size';
import { DimLine } from './dims';
import { dragHandle, handleIn, lower } from './drag';
import { type Fit, pathOf, toPx } from './paths';
import './bracket-view.css';

const FACES: readonly (readonly [Face, string, string])[] = [
  ['top', 'Above', 'The base with its fixings, from above'],
  ['side', 'Side', 'The bracket from its side'],
  ['front', 'Front', 'The upright with its stud, from the front'],
  ['flat', 'Flat', 'The blank before it is bent'],
];
/** Room beside the drawing; above it for the view's title, and below for what the held handle says. */
const MARGIN_PX = 46;
const HEAD_PX = 42;
const FOOT_PX = 48;

/** Which face is shown, and the way back to the lid. */
export function FaceChoice({ face }: { face: Face }): React.JSX.Element {
  return (
    <span className="bv-faces" role="group" aria-label="Face of the bracket">
      {FACES.map(([name, words, title]) => (
        <button key={name} type="button" aria-pressed={face === name} title={title} onClick={() => showFace(name)}>
          {words}
        </button>
      ))}
    </span>
  );
}

/** The face's lines, or why there are none: the bracket can't be made as it stands. */
function drawn(spec: BracketSpec, face: Face): { lines: readonly ViewLines[] | null; why: string } {
  const { value, error } = attempt(() => linesOf(spec, face));
  return { lines: value, why: error ? describeIssue(error) : '' };
}

function edgeWords(spec: BracketSpec, handle: Handle, units: ShownUnits): string[] {
  if (handle.shape !== 'hole') return [];
  const found = attempt(() => edgeDistancesMm(spec)).value;
  const at = found?.get(handle.id) ?? found?.get('pin-near');
  if (!at) return [];
  const length = (mm: number): string => formatQuantity(mm, 'length', units);
  return [`nearest edge ${length(at.edgeMm)}`, ...(at.bendMm === null ? [] : [`bend ${length(at.bendMm)}`])];
}

const keepWords = (keep: { mirrored?: boolean; fromEnd?: boolean; edgeMm?: number }, length: (mm: number) => string) =>
  [
    keep.mirrored ? 'holes mirrored' : '',
    keep.fromEnd ? 'holes go with their end' : '',
    keep.edgeMm === undefined ? '' : `${length(keep.edgeMm)} to every edge`,
  ].filter(Boolean);

/** The chosen bracket large, in a frame of its own: edges and holes can be dragged, or nudged from the keyboard. */
export function BracketView({
  index,
  face,
  still = false,
}: {
  index: number;
  face: Face;
  /** To look at: nothing of it is dragged. */
  still?: boolean;
}): React.JSX.Element {
  const bracket = useBench((s) => s.resolved.brackets[index])!;
  const units = useBench((s) => s.units);
  const drag = useBench((s) => (s.drag?.kind === 'bracket' ? s.drag : null));
  const [box, size] = useSize();
  const [focused, setFocused] = useState<string | null>(null);
  const [refused, setRefused] = useState('');
  const spec = useMemo(() => bracketSpecOf(bracket), [bracket]);
  const { lines, why } = useMemo(() => drawn(spec, face), [spec, face]);
  const last = useRef<{ key: string; lines: readonly ViewLines[] }>({ key: '', lines: [] });
  const key = `${bracket.id} ${face}`;
  const shown = useMemo(() => {
    if (lines) last.current = { key, lines };
    return last.current.key === key ? last.current.lines : [];
  }, [lines, key]);
  const handles = useMemo(() => handlesOf(spec, face), [spec, face]);
  const ball = ballOf(spec, face);

  // the sheet stands still while something is dragged, and fits again afterwards
  const rest = useRef<{ fit: Fit; far: Point2 } | null>(null);
  const fitted = useMemo((): Fit => {
    const bounds = boxOf(shown, [...handles.map((h) => h.at), ...(ball ? [ball.at] : [])]) ?? [-30, 0, 30, 60];
    const [x0, y0, x1, y1] = bounds;
    const pxPerMm = Math.max(
      0.05,
      Math.min(
        (size.width - 2 * MARGIN_PX) / Math.max(x1 - x0, 5),
        (size.height - HEAD_PX - FOOT_PX) / Math.max(y1 - y0, 5),
        12,
      ),
    );
    return { pxPerMm, centreMm: [(x0 + x1) / 2, (y0 + y1) / 2 + (HEAD_PX - FOOT_PX) / 2 / pxPerMm], ...size };
  }, [shown, handles, ball, size]);
  if (!drag || !rest.current) rest.current = { fit: fitted, far: farEnd(spec, face) };
  const held = handles.find((h) => h.id === (drag?.handle ?? focused));
  let fit = rest.current.fit;
  if (drag && held?.stays === 'far') {
    const now = farEnd(spec, face);
    const { far } = rest.current;
    fit = { ...fit, centreMm: [fit.centreMm[0] + now[0] - far[0], fit.centreMm[1] + now[1] - far[1]] };
  }
  const length = (mm: number): string => formatQuantity(mm, 'length', units);

  const nudge = (e: React.KeyboardEvent, handle: Handle): void => {
    const way = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key] as
      | Point2
      | undefined;
    if (!way) return;
    e.preventDefault();
    e.stopPropagation();
    const mm = e.shiftKey ? 10 : e.altKey ? 0.1 : 1;
    edit(
      `Nudge the ${lower(handle.name)}`,
      (job) =>
        handleIn(job, bracket.id, face, handle.id)?.move(job, [way[0] * mm, way[1] * mm], (value) => value) ?? job,
    );
  };

  const kept = keepWords((bracket.keep ?? {}) as { mirrored?: boolean; fromEnd?: boolean; edgeMm?: number }, length);
  const told = held ? edgeWords(spec, held, units) : [];
  const drawing = (
    <>
      {(face === 'side' || face === 'front') && <Mount fit={fit} />}
      <g className={lines ? undefined : 'bv-stale'}>
        {shown.map((part, i) => (
          <path key={i} className={`bv-${part.role}`} d={pathOf(part.segments, part.closed, fit)} />
        ))}
      </g>
      {face === 'flat' && <BendWords spec={spec} fit={fit} />}
      {ball && <Ball ball={ball} fit={fit} />}
      <g className="bv-rest">
        {!held &&
          apart(
            handles.flatMap((h) => h.dims),
            length,
            fit,
          ).map((dim, i) => <DimLine key={i} dim={dim} text={length(dim.mm)} fit={fit} />)}
      </g>
    </>
  );
  if (still)
    return (
      <div className="view-paper bv" ref={box}>
        <svg width={size.width} height={size.height} role="img" aria-label={`${spec.name}, ${faceWords(face)}, small`}>
          {drawing}
        </svg>
        <p className="bv-face">{FACES.find(([name]) => name === face)![1]}</p>
      </div>
    );
  return (
    <div className="view-paper bv" ref={box} data-view="bracket" data-face={face}>
      <svg width={size.width} height={size.height} role="img" aria-label={`${spec.name}, ${faceWords(face)}`}>
        {drawing}
        {handles.map((h) => (
          <Mark key={h.id} handle={h} fit={fit} held={h === held} />
        ))}
        {held?.dims.map((dim, i) => (
          <DimLine key={i} dim={dim} text={length(dim.mm)} fit={fit} />
        ))}
      </svg>
      <div className="bv-keys">
        {handles.map((h) => {
          const [x, y] = toPx(fit, h.at);
          return (
            <button
              key={h.id}
              type="button"
              data-handle={h.id}
              className={h.ways.length === 2 ? 'both' : h.ways[0]}
              style={{ transform: `translate(${(x - 11).toFixed(2)}px, ${(y - 11).toFixed(2)}px)` }}
              aria-label={`${h.name}: drag it, or arrow keys move it 1 mm, with Shift 10, with Alt 0.1`}
              title={h.name}
              onFocus={() => setFocused(h.id)}
              onBlur={() => setFocused(null)}
              onKeyDown={(e) => nudge(e, h)}
              onPointerDown={(e) => {
                if (e.button !== 0) return;
                select({ kind: 'bracket', id: bracket.id });
                dragHandle(e, {
                  ...{ bracketId: bracket.id, handle: h, face },
                  pxPerMm: fit.pxPerMm,
                  refused: setRefused,
                });
              }}
            />
          );
        })}
      </div>
      {(refused || why) && (
        <p className="bv-refused" role="alert">
          {refused || `Can’t be made so: ${why}`}
        </p>
      )}
      {held && (
        <p className="bv-told">
          <strong>{held.name}</strong>: {[...held.dims.map((d) => `${length(d.mm)} ${d.words}`), ...told].join(', ')}.
        </p>
      )}
      {!held && kept.length > 0 && <p className="bv-kept">Kept while dragging: {kept.join(', ')}.</p>}
    </div>
  );
}

/** Room that a number takes, px. */
const WORD_PX = [44, 15] as const;

/** The lengths of a face that can be told at once: the longer ones first, none whose number would lie on another's. */
function apart(dims: readonly Dim[], length: (mm: number) => string, fit: Fit): Dim[] {
  const middles: Point2[] = [];
  const said = new Set<string>();
  return [...dims]
    .sort((a, b) => b.mm - a.mm)
    .filter(({ from, to, mm }) => {
      const [a, b] = [toPx(fit, from), toPx(fit, to)];
      const at: Point2 = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const key = `${length(mm)} ${Math.abs(b[1] - a[1]) > Math.abs(b[0] - a[0]) ? 'up' : 'across'}`;
      const free = middles.every((m) => Math.abs(m[0] - at[0]) > WORD_PX[0] || Math.abs(m[1] - at[1]) > WORD_PX[1]);
      if (!free || said.has(key) || Math.hypot(b[0] - a[0], b[1] - a[1]) < 18) return false;
      said.add(key);
      middles.push(at);
      return true;
    });
}

const faceWords = (face: Face): string => FACES.find(([name]) => name === face)![2].toLowerCase();

/** The mount's surface, hatched as ground is. */
function Mount({ fit }: { fit: Fit }): React.JSX.Element {
  const y = toPx(fit, [0, 0])[1];
  const ticks = Array.from({ length: Math.ceil(fit.width / 14) }, (_, i) => `M${14 * i + 8} ${y}l-7 7`).join('');
  return (
    <g className="bv-mount">
      <line x1={0} x2={fit.width} y1={y} y2={y} />
      <path d={ticks} />
    </g>
  );
}

function Ball({ ball, fit }: { ball: { at: Point2; stem: Point2 }; fit: Fit }): React.JSX.Element {
  const [x, y] = toPx(fit, ball.at);
  return (
    <g className="bv-ball">
      <circle cx={x} cy={y} r={7} />
      <path d={`M${x - 11} ${y}h22M${x} ${y - 11}v22`} />
    </g>
  );
}

/** Each bend line's place in the order, its angle and its inside radius, at its right end. */
function BendWords({ spec, fit }: { spec: BracketSpec; fit: Fit }): React.JSX.Element {
  const units = useBench((s) => s.units);
  const { lines } = drawn(spec, 'flat');
  if (!lines) return <></>;
  const middles = lines.filter((part) => part.role === 'centre');
  return (
    <>
      {middles.map((part, i) => {
        const s = part.segments[0]!;
        if (s.kind !== 'line') return null;
        const right = s.from[0] > s.to[0] ? s.from : s.to;
        const [x, y] = toPx(fit, right);
        return (
          <text key={part.of} className="bv-bend-words" x={x + 9} y={y + 4}>
            bend {i + 1}: up 90°, inside R {formatQuantity(spec.insideRadiusMm, 'length', units)}
          </text>
        );
      })}
    </>
  );
}

/** What marks a handle: a bar across the way an edge goes, a ring round a hole. */
function Mark({ handle, fit, held }: { handle: Handle; fit: Fit; held: boolean }): React.JSX.Element {
  const [x, y] = toPx(fit, handle.at);
  const className = `bv-mark${held ? ' held' : ''}`;
  if (handle.shape !== 'edge') return <circle className={className} cx={x} cy={y} r={held ? 6 : 3.5} />;
  const wide = handle.ways[0] === 'across';
  const d = wide ? `M${x - 2} ${y - 8}v16M${x + 2} ${y - 8}v16` : `M${x - 8} ${y - 2}h16M${x - 8} ${y + 2}h16`;
  return <path className={className} d={d} />;
}

/** Shows the chosen bracket in place of the view from behind; takes the fit of the lid's views no heed. */
export function useBracketView(): { index: number; face: Face; offered: boolean } {
  const stage = useBench((s) => s.stage);
  const count = useBench((s) => s.history.present.brackets?.length ?? 0);
  const brackets = useBench((s) => s.resolved.brackets);
  const [store, setStore] = useState(bracketStore.getState);
  useEffect(() => bracketStore.subscribe(setStore), []);
  const offered = stage === 'bracket' && count > 0 && brackets.length > 0;
  const found = chosenBracket(brackets, store.bracketId);
  return { index: offered && store.shown ? found : -1, face: store.face, offered };
}
