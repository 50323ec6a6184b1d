import { sampleOf } from '../../../core/bracket/examples';
import { ballOf, boxOf, KINDS, linesOf, setBracketKind } from '../../../core/bracket';
import { BRACKET_KINDS, type BracketKind } from '../../../core/job';
import { pathOf, toPx } from '../../views/bracket/paths';
import { edit } from '../../state/store';

const SAMPLES = new Map(BRACKET_KINDS.map((kind) => [kind, sampleOf(kind)]));
const WIDTH = 70;
const HEIGHT = 48;

/** A small side view of a sample of the kind, with the surface it stands on and its ball. */
function Thumb({ kind }: { kind: BracketKind }): React.JSX.Element {
  const spec = SAMPLES.get(kind)!;
  const lines = linesOf(spec, 'side').filter((part) => part.role === 'visible' || part.role === 'hidden');
  const ball = ballOf(spec, 'side')!;
  const [x0, y0, x1, y1] = boxOf(lines, [ball.at, [0, 0]])!;
  const pxPerMm = Math.min((WIDTH - 14) / (x1 - x0), (HEIGHT - 12) / (y1 - y0));
  const fit = { pxPerMm, centreMm: [(x0 + x1) / 2, (y0 + y1) / 2] as const, width: WIDTH, height: HEIGHT };
  const [bx, by] = toPx(fit, ball.at);
  const ground = toPx(fit, [0, 0])[1];
  // a tab stands out over the edge of its mount
  const right = kind === 'flat-tab' ? WIDTH : WIDTH - 2;
  const left = kind === 'flat-tab' ? toPx(fit, [(spec.baseLegMm * 3) / 5, 0])[0] : 2;
  return (
    <svg width={WIDTH} height={HEIGHT} aria-hidden="true">
      <line className="thumb-ground" x1={left} x2={right} y1={ground + 1.5} y2={ground + 1.5} />
      {lines.map((part, i) => (
        <path key={i} className={`thumb-${part.role}`} d={pathOf(part.segments, part.closed, fit)} />
      ))}
      <circle cx={bx} cy={by} r={3.6} />
    </svg>
  );
}

/** The choice of a bracket's kind by pictures of our own samples. */
export function KindChoice({ id, kind }: { id: string; kind: BracketKind }): React.JSX.Element {
  return (
    <fieldset className="kinds">
      <legend>Kind</legend>
      {BRACKET_KINDS.map((k) => (
        <label key={k} title={KINDS[k].use} data-chosen={k === kind}>
          <input
            type="radio"
            name={`kind-${id}`}
            value={k}
            checked={k === kind}
            onChange={() =>
              edit(`Make it a ${KINDS[k].name.toLowerCase()}`, (job) => setBracketKind(job, { id, kind: k }))
            }
          />
          <Thumb kind={k} />
          <span>{KINDS[k].name}</span>
        </label>
      ))}
      <p className="hint">{KINDS[kind].use}</p>
    </fieldset>
  );
}
