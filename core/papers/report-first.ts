import { type Mark, boundsOf, moveMarks } from '../drawing';
import { type Finding, aboutOf, countOf, valueText, verdict, worstFirst } from '../findings';
import { METRIC } from '../quantity';
import type { Workings } from '../workings';
import { CAUTIONS } from './cautions';
import type { Flow } from './flow';
import { layoutScene } from './layout-scene';
import { endOnAxes, layoutView } from './layout-view';
import { shoppingRows } from './parts';
import { figure } from './report-tables';

const SKETCH_MM = 52;
/** What the five numbers are, in this order; of several with one beginning the worst. */
const FIVE: readonly (readonly string[])[] = [
  ['hand-opening'],
  ['hand-closing'],
  ['stays-open'],
  ['base-joint', 'lid-joint', 'base-swing', 'lid-swing'],
  ['bracket-strength', 'closed-reserve'],
];

/** The worst finding that goes by one of these names: a state that is worse, then less to spare for what is allowed. */
function worstOf(findings: readonly Finding[], names: readonly string[]): Finding | null {
  const own = worstFirst(findings).filter(
    (f) => f.value !== null && names.some((n) => f.id === n || f.id.startsWith(`${n}-`)),
  );
  const share = (f: Finding): number => (f.margin ?? Infinity) / Math.max(Math.abs(f.limit ?? 0), 1e-9);
  const first = own[0];
  if (!first) return null;
  return own.filter((f) => f.state === first.state).reduce((p, q) => (share(q) < share(p) ? q : p));
}

/** The lid seen along its hinge, closed and open, as large as its strip on the page. */
function sketch(outcome: Pick<Workings, 'job' | 'frame'>, widthMm: number): Mark[] {
  const scene = layoutScene(outcome);
  const at = (scale: number): Mark[] => layoutView(scene, { axes: endOnAxes(scene), zero: [0, 0], scale });
  const box = boundsOf(at(1));
  const k = Math.min(widthMm / (box.right - box.left), SKETCH_MM / (box.top - box.bottom)) * 0.9;
  const marks = at(k);
  const drawn = boundsOf(marks);
  return moveMarks(
    marks,
    widthMm / 2 - (drawn.left + drawn.right) / 2,
    -SKETCH_MM / 2 - (drawn.bottom + drawn.top) / 2,
  );
}

/** The report's first page: what it is, whether it is ready, the five numbers, what to buy, cautions. The rest begins on a page of its own. */
export function firstPage(flow: Flow, outcome: Workings): void {
  const { job, findings } = outcome;
  const cases = new Map(job.loadCases.map((c) => [c.id, c.name]));
  const count = (state: Finding['state']): number => countOf(findings, state);
  flow.heading(
    `${verdict(findings).words}. ${count('fails')} fail, ${count('unknown')} not known, ${count('watch')} to watch, ${count('holds')} hold.`,
  );
  flow.block({ name: 'sketch', marks: sketch(outcome, flow.widthMm) }, SKETCH_MM);
  flow.text([
    `Seen along the hinge, lid closed and (dashed) open at ${figure(outcome.frame.openDeg, 1)}°. A sketch: sizes are on the layout drawing.`,
  ]);
  flow.table(
    { 'The five numbers': 48, Value: 22, Limit: 22, State: 16, Worst: 60 },
    FIVE.flatMap((names) => {
      const f = worstOf(findings, names);
      if (!f) return [];
      const where = [
        f.everyCase ? '' : (cases.get(f.case) ?? f.case),
        f.worstDeg === null ? '' : `${figure(f.worstDeg, 1)}°`,
      ];
      return [
        [
          aboutOf(f.id).name,
          valueText(f.value!, f.unit, METRIC),
          f.limit === null ? '–' : valueText(f.limit, f.unit, METRIC),
          { fails: 'fails', unknown: 'not known', watch: 'watch', holds: 'holds' }[f.state],
          where.filter((t) => t !== '').join(', '),
        ],
      ];
    }),
  );
  flow.heading('What to buy', 12);
  flow.table(
    { Qty: 9, What: 50, Order: 109 },
    shoppingRows(job).map((r) => [String(r.quantity), r.what, r.order]),
  );
  flow.text(CAUTIONS, { numbered: true });
  flow.need(Infinity);
}
