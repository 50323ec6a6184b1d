import type { LineRole } from '../drawing';
import type { TravelTable } from '../travel';
import type { Workings } from '../workings';
import type { ChartArea, ChartSeries, ChartSpec } from './chart';
import { figure, strutTitle } from './report-tables';

/** Up to so many load cases each have their own line; more are drawn as their highest and lowest. */
const MOST_LINES = 3;
/** Less energy than this is not shown, J. */
const LEAST_SHOWN_J = 0.5;
const ROLES: readonly LineRole[] = ['visible', 'narrow', 'phantom'];

type Read = (table: TravelTable) => ArrayLike<number>;

/** Highest and lowest of several tables at each angle; angles where no case has a value are gaps. */
function envelope(tables: readonly TravelTable[], read: Read, pick: (...v: number[]) => number): number[] {
  const n = tables[0]!.angleDeg.length;
  return Array.from({ length: n }, (_, i) => {
    const values = tables.map((t) => read(t)[i]!).filter((v) => Number.isFinite(v));
    return values.length > 0 ? pick(...values) : NaN;
  });
}

function lines(outcome: Workings, read: Read): ChartSeries[] {
  const { tables, job } = outcome;
  if (tables.length <= MOST_LINES)
    return tables.map((t, i) => ({ name: job.loadCases[i]!.name, role: ROLES[i]!, x: t.angleDeg, y: read(t) }));
  const x = tables[0]!.angleDeg;
  return [
    { name: job.loadCases[0]!.name, role: 'visible', x, y: read(tables[0]!) },
    { name: `highest of ${tables.length} load cases`, role: 'narrow', x, y: envelope(tables, read, Math.max) },
    { name: `lowest of ${tables.length} load cases`, role: 'hidden', x, y: envelope(tables, read, Math.min) },
  ];
}

/** The moments left over in the load cases that gain most when the lid is let go, what is gained hatched; none where nothing is. */
function letGoChart({ tables, letGos, job }: Workings, xTitle: string): ChartSpec[] {
  const worst = (way: 'opening' | 'shutting'): number =>
    letGos.reduce((c, l, i) => ((l[way]?.energyJ ?? 0) > (letGos[c]![way]?.energyJ ?? 0) ? i : c), 0);
  const series: ChartSeries[] = [];
  const areas: ChartArea[] = [];
  for (const way of ['opening', 'shutting'] as const) {
    const c = worst(way);
    const { energyJ = 0, fromDeg = null, toDeg = null } = letGos[c]![way] ?? {};
    if (fromDeg === null || toDeg === null || energyJ < LEAST_SHOWN_J) continue;
    const table = tables[c]!;
    areas.push({ series: series.length, from: Math.min(fromDeg, toDeg), to: Math.max(fromDeg, toDeg) });
    series.push({
      name: `${way}, ${figure(energyJ, 0)} J: ${job.loadCases[c]!.name}`,
      role: way === 'opening' ? 'visible' : 'hidden',
      x: table.angleDeg,
      y: way === 'opening' ? table.openingMomentNm : table.closingMomentNm,
    });
  }
  const yTitle = 'Moment left over, N·m; hatched: what the lid gains when it is let go, undamped';
  return series.length === 0 ? [] : [{ name: 'let-go', xTitle, yTitle, series, areas }];
}

/** Hand force, moment and joint angles over the travel. */
export function reportCharts(outcome: Workings): ChartSpec[] {
  const xTitle = 'opening angle, °';
  const first = outcome.tables[0];
  if (!first) return [];
  const ends = [first.angleDeg[0]!, first.angleDeg[first.angleDeg.length - 1]!];
  const flat = (name: string, value: number): ChartSeries => ({ name, role: 'centre', x: ends, y: [value, value] });
  const { limits } = outcome.job;
  return [
    {
      name: 'hand-opening',
      xTitle,
      yTitle: 'Hand force while opening, N (over 0: lift)',
      series: [...lines(outcome, (t) => t.handOpeningN), flat(`limit ${limits.handOpenN} N`, limits.handOpenN)],
    },
    {
      name: 'hand-closing',
      xTitle,
      yTitle: 'Hand force while closing, N (under 0: pull down)',
      series: [...lines(outcome, (t) => t.handClosingN), flat(`limit −${limits.handCloseN} N`, -limits.handCloseN)],
    },
    {
      name: 'moment',
      xTitle,
      yTitle: 'Moment about the hinge while opening, N·m (over 0: opens by itself)',
      series: lines(outcome, (t) => t.openingMomentNm),
    },
    ...letGoChart(outcome, xTitle),
    ...first.struts.map((s, i): ChartSpec => {
      const strut = outcome.job.struts.find((one) => one.id === s.id)!;
      const ranges = [...new Set([strut.ends.base.rangeDeg, strut.ends.lid.rangeDeg])];
      const which = (deg: number): string =>
        ranges.length === 1
          ? 'working range'
          : deg === strut.ends.base.rangeDeg
            ? 'base end’s range'
            : 'lid end’s range';
      return {
        name: `joint-${i + 1}`,
        xTitle,
        yTitle: `${strutTitle(strut, i, first.struts.length)}: angle between ball stud and strut, °`,
        withZero: false,
        series: [
          { name: 'base end', role: 'visible', x: first.angleDeg, y: s.baseJointDeg },
          { name: 'lid end', role: 'narrow', x: first.angleDeg, y: s.lidJointDeg },
          ...ranges.flatMap((deg) => [
            flat(`${which(deg)}, at most ${90 + deg}°`, 90 + deg),
            flat(`${which(deg)}, at least ${90 - deg}°`, 90 - deg),
          ]),
        ],
      };
    }),
  ];
}
