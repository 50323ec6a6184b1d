import { useState } from 'react';
import { type Bound, type ForcePlane, type Refused, boundWords, refusalWords } from '../../../core/choose';
import { demandOf } from '../../../core/demands';
import { formatQuantity, shownUnit, toShown } from '../../../core/quantity';
import { pick, useChooser } from '../../state/chooser';
import { useTold } from '../../state/told';
import { useBench } from '../../state/use-bench';
import { useSize } from '../../ui/use-size';
import { ticksOf } from '../../ui/ticks';
import { usePicked } from './choosing';
import { ALONG, type PlaneName, beside, placedNames } from './plane-names';

const PAD = { left: 58, right: 16, top: 8, bottom: 40 } as const;

/** What is in the way at an edge of lengths, in the fewest words. */
const SIDES: Readonly<Record<string, string>> = {
  'open-reserve': 'too short when open',
  'opening-angle': 'opens too little',
  'closed-reserve': 'too long when closed',
};
const side = (b: Bound): string => SIDES[b.id] ?? boundWords(b);
/** Where longer ones lack the reserve, because the lid's own most stops them before their end. */
const longer = (b: Bound): string => (b.id === 'open-reserve' ? 'too long to be the stop' : side(b));
/** What bounds the force, with its load case where there is room for it, px. */
const LIMITS: Readonly<Record<string, string>> = {
  'hand-opening': 'lifting',
  'hand-closing': 'pulling shut',
  'stays-open': 'holding open',
  'rod-buckling': 'rod may buckle',
};
function limitWords(b: Bound, room: number): string {
  const words = LIMITS[b.id] ?? demandOf(b.id)?.words ?? b.id;
  const long = b.caseName === null ? words : `${words}, ${b.caseName}`;
  return long.length * 6.4 <= room ? long : words;
}

/** Lengths and forces that are shown: what does it, with as much about it as tells where the struts beside it lie. */
function shownRange(
  { regions, length }: ForcePlane,
  marks: readonly (readonly [mm: number, n: number])[],
): { x: [number, number]; y: [number, number] } {
  const edge = regions.flatMap((r) => r.edge);
  const lengths =
    edge.length > 0 ? [length.fromMm, length.toMm, ...edge.map((e) => e.extendedMm)] : marks.map(([mm]) => mm);
  const forces =
    edge.length > 0
      ? edge.flatMap((e) => [e.least?.forceN ?? 0, e.most?.forceN ?? NaN]).filter(Number.isFinite)
      : marks.map(([, n]) => n);
  const air = (values: readonly number[], share: number, least: number): [number, number] => {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const pad = Math.max((high - low) * share, least);
    return Number.isFinite(low) ? [low - pad, high + pad] : [0, 1];
  };
  const [y0, y1] = air(forces, 0.4, 60);
  return { x: air(lengths, 0.55, 22), y: [Math.max(0, y0), y1] };
}

interface MarkAt {
  readonly entry: number;
  readonly forceN: number;
  readonly mm: number;
  readonly refused: Refused | null;
}

/** Extended length against force for one stroke: the region in which every demand of the strut is met, and what the list has. */
export function PlaneView({ plane }: { plane: ForcePlane }): React.JSX.Element {
  const [box, { width, height }] = useSize();
  const [under, setUnder] = useState<MarkAt | null>(null);
  const { list, ranking, others, job, strutId } = { ...useChooser(), strutId: useChooser().ranking?.strutId };
  const picked = usePicked();
  const units = useBench((s) => s.units);
  const fitted = useTold((s) => s.resolved.struts.find((x) => x.id === strutId)?.spec);
  const fails = useTold((s) => s.findings.some((f) => f.state === 'fails' && f.subject === strutId));
  const mark = (refused: Refused | null, { entry, forceN }: { entry: number; forceN: number }): MarkAt => ({
    ...{ entry, forceN, refused },
    mm: list[entry]!.extendedMm,
  });
  const all = [...others.map((r) => mark(r, r)), ...(ranking?.ranked ?? []).map((r) => mark(null, r))].filter(
    (m) => list[m.entry]!.strokeMm === plane.strokeMm,
  );
  const own = fitted && fitted.strokeMm === plane.strokeMm ? fitted : null;
  const range = shownRange(plane, [
    ...all.map((m) => [m.mm, m.forceN] as const),
    ...(own ? [[own.extendedMm, own.forceN] as const] : []),
  ]);
  const [w, h] = [Math.max(width, 160), Math.max(height, 140)];
  const x = (mm: number): number =>
    PAD.left + ((mm - range.x[0]) / (range.x[1] - range.x[0])) * (w - PAD.left - PAD.right);
  const y = (n: number): number =>
    h - PAD.bottom - ((n - range.y[0]) / (range.y[1] - range.y[0])) * (h - PAD.top - PAD.bottom);
  const inside = (mm: number, n: number): boolean =>
    mm >= range.x[0] && mm <= range.x[1] && n >= range.y[0] && n <= range.y[1];
  const top = range.y[1];
  const { regions, length } = plane;
  const drawn = regions.map(({ from, to, edge }) => {
    const upper = edge.map((e) => [x(e.extendedMm), y(Math.min(e.most?.forceN ?? top, top))] as const);
    const lower = edge.map((e) => [x(e.extendedMm), y(Math.max(e.least?.forceN ?? 0, range.y[0]))] as const);
    return { from, to, upper, lower, middle: edge[Math.floor(edge.length / 2)]! };
  });
  const say = (v: number, dimension: 'length' | 'force'): string =>
    formatQuantity(v, dimension, units, dimension === 'length' && units.length === 'in' ? 2 : 0);
  const bare = (v: number, dimension: 'length' | 'force'): string =>
    String(Number(toShown(v, dimension, units).toPrecision(6)));
  const ticks = (low: number, high: number, dimension: 'length' | 'force', most: number): number[] =>
    ticksOf(toShown(low, dimension, units), toShown(high, dimension, units), most).map(
      (v) => v / toShown(1, dimension, units),
    );
  const frame = { left: PAD.left, top: PAD.top, right: w - PAD.right, bottom: h - PAD.bottom };
  const along = (line: readonly (readonly [number, number])[], dy: number): PlaneName['places'] =>
    [dy, 2.2 * dy].flatMap((off) =>
      ALONG.map((share) => line[Math.round(share * (line.length - 1))]!).map(([px, py]) => [px, py + off] as const),
    );
  const besideEdge = (high: readonly number[], low: readonly number[], out: number): PlaneName['places'] =>
    [out, 2.2 * out].flatMap((off) =>
      ALONG.map((share) => [high[0]! + off, high[1]! + share * (low[1]! - high[1]!)] as const),
    );
  const names: PlaneName[] = [];
  const chosen = picked && list[picked.entry]?.strokeMm === plane.strokeMm ? list[picked.entry]!.extendedMm : null;
  if (chosen !== null && inside(chosen, picked!.forceN)) {
    const text = `${say(chosen, 'length')} long, ${say(picked!.forceN, 'force')}`;
    const places = beside(x(chosen), y(picked!.forceN), text, true);
    names.push({ text, places, className: 'picked-name', must: true });
  }
  if (own && inside(own.extendedMm, own.forceN)) {
    const text = 'fitted now';
    const places = beside(x(own.extendedMm), y(own.forceN), text);
    names.push({ text, places, className: fails ? 'fitted-name fails' : 'fitted-name', must: true });
  }
  for (const [i, { from, to, upper, lower, middle }] of drawn.entries()) {
    const [room, className, turned] = [w - PAD.left - PAD.right, 'edge-name', true];
    if (i === 0) names.push({ text: side(from), places: besideEdge(upper[0]!, lower[0]!, -12), turned, className });
    names.push({ text: longer(to), places: besideEdge(upper.at(-1)!, lower.at(-1)!, 12), turned, className });
    if (middle.most) names.push({ text: limitWords(middle.most, room), places: along(upper, -14), className });
    if (middle.least) names.push({ text: limitWords(middle.least, room), places: along(lower, 14), className });
  }
  const words = (m: MarkAt): string =>
    `${say(m.mm, 'length')} long, ${say(m.forceN, 'force')}: ${m.refused ? refusalWords(job!, m.refused.why, units) : 'does it.'}`;
  const does = all.filter((m) => !m.refused).length;
  return (
    <section className="pane plane" aria-label="Length against force">
      <header>
        <b>Stroke {say(plane.strokeMm, 'length')}</b>
        {under ? (
          <span className="plane-under">{words(under)}</span>
        ) : (
          <>
            <span>
              <i className="dot does" /> in the list and does it
            </span>
            <span>
              <i className="dot" /> does not
            </span>
          </>
        )}
      </header>
      <div className="plane-box" ref={box}>
        <svg
          width={w}
          height={h}
          role="img"
          aria-label={`Extended length against force for a stroke of ${say(plane.strokeMm, 'length')}: ${does} of ${all.length} of the list do it.`}
        >
          <defs>
            <pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <path d="M0 0V6" className="hatch-line" />
            </pattern>
          </defs>
          <rect
            x={PAD.left}
            y={PAD.top}
            width={w - PAD.left - PAD.right}
            height={h - PAD.top - PAD.bottom}
            fill="url(#hatch)"
            className="plane-frame"
          />
          {drawn.map(({ from, upper, lower }) => (
            <path
              key={from.id}
              d={`M${[...upper, ...lower.toReversed()].map((at) => at.map((v) => v.toFixed(1)).join(' ')).join('L')}Z`}
              className="plane-region"
            />
          ))}
          {ticks(range.x[0], range.x[1], 'length', 6).map((mm) => (
            <g key={mm} className="axis">
              <path d={`M${x(mm)} ${h - PAD.bottom}v4`} />
              <text x={x(mm)} y={h - PAD.bottom + 17} textAnchor="middle">
                {bare(mm, 'length')}
              </text>
            </g>
          ))}
          {ticks(range.y[0], range.y[1], 'force', 6).map((n) => (
            <g key={n} className="axis">
              <path d={`M${PAD.left} ${y(n)}h-4`} />
              <text x={PAD.left - 8} y={y(n) + 4} textAnchor="end">
                {bare(n, 'force')}
              </text>
            </g>
          ))}
          <text className="axis-name" x={(PAD.left + w - PAD.right) / 2} y={h - 8} textAnchor="middle">
            length, extended, {shownUnit('length', units).sign}
          </text>
          <text className="axis-name" transform={`translate(14 ${h / 2}) rotate(-90)`} textAnchor="middle">
            force F1, {shownUnit('force', units).sign}
          </text>
          {all
            .filter((m) => inside(m.mm, m.forceN))
            .map((m) => {
              const chosen = picked?.entry === m.entry && picked.forceN === m.forceN;
              return (
                <circle
                  key={`${m.entry}:${m.forceN}`}
                  className={`mark-at ${m.refused ? '' : 'does'} ${chosen ? 'chosen' : ''}`}
                  cx={x(m.mm)}
                  cy={y(m.forceN)}
                  r={chosen ? 6.5 : m.refused ? 3 : 4}
                  onPointerEnter={() => setUnder(m)}
                  onPointerLeave={() => setUnder(null)}
                  onClick={() => !m.refused && pick({ entry: m.entry, forceN: m.forceN })}
                >
                  <title>{words(m)}</title>
                </circle>
              );
            })}
          {own && inside(own.extendedMm, own.forceN) && (
            <g className={fails ? 'fitted fails' : 'fitted'}>
              <rect x={x(own.extendedMm) - 5} y={y(own.forceN) - 5} width="10" height="10" />
            </g>
          )}
          {placedNames(names, frame).map(({ text, className, turned, at: [px, py] }) => (
            <text
              key={`${className} ${text} ${px}`}
              className={className}
              transform={turned ? `translate(${px + 4} ${py}) rotate(-90)` : `translate(${px} ${py + 4})`}
              textAnchor="middle"
            >
              {text}
            </text>
          ))}
          {regions.length === 0 && (
            <text className="edge-name" x={(PAD.left + w - PAD.right) / 2} y={PAD.top + 24} textAnchor="middle">
              {length.empty
                ? `No length does it: it takes a stroke of ${say(length.leastStrokeMm, 'length')} or more.`
                : 'No force does it with this stroke.'}
            </text>
          )}
        </svg>
      </div>
    </section>
  );
}
