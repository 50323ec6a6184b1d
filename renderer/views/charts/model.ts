import type { HandBand, HandProof } from './types';
import { letGoVerb } from '../../../core/findings';
import { type Dimension, type ShownUnits, formatQuantity, shownUnit, toShown } from '../../../core/quantity';
import { valueOfRow } from '../../../core/travel';
import type { Workings } from '../../../core/workings';
import type { ChartKind, ChartState } from './types';

/** Solid, dashed and dotted, so that lines are told apart without colour; px drawn, px left out. */
export const DASHES = { solid: [], dashed: [7, 4], dotted: [1.5, 3.5] } as const;
type DashName = keyof typeof DASHES;

/** One line of a chart; values in the units shown, null where it can't exist. */
export interface ChartLine {
  /** Load case it belongs to; null where the case makes no difference. */
  readonly caseId: string | null;
  /** The number or letter that stands at the line's end. */
  readonly tag: string;
  /** What the tag stands for. */
  readonly name: string;
  /** What this line is among those of its tag, such as "opening". */
  readonly role: string;
  readonly dash: DashName;
  readonly values: (number | null)[];
  /** False for a line that may run to infinity and must not set the scale. */
  readonly scales: boolean;
}

/** A shaded band or, where both ends are the same, a limit line; in the units shown. */
export interface ChartBand {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** A stretch of the travel under one of the lines, shaded down to zero. */
interface ChartArea {
  /** Index of the line. */
  readonly line: number;
  readonly fromDeg: number;
  readonly toDeg: number;
  readonly text: string;
}

/** A reading beside the lines, with two standard deviations of its tool either way; in the units shown. */
interface ChartMark {
  readonly angleDeg: number;
  readonly way: 'opening' | 'closing';
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface ChartModel {
  /** Same key, same lines: only their values differ. */
  readonly key: string;
  readonly kind: ChartKind;
  readonly title: string;
  readonly dimension: Dimension;
  /** Of the unit shown. */
  readonly sign: string;
  readonly angleDeg: number[];
  readonly lines: readonly ChartLine[];
  readonly bands: readonly ChartBand[];
  readonly areas: readonly ChartArea[];
  readonly marks: readonly ChartMark[];
  readonly minY: number;
  readonly maxY: number;
}

const TITLES: Record<ChartKind, string> = {
  hand: 'Hand force at the handle',
  force: 'Strut force',
  length: 'Strut length',
  joint: 'Joint angle, ball stud axis to strut',
};
const DIMENSIONS: Record<ChartKind, Dimension> = { hand: 'force', force: 'force', length: 'length', joint: 'angle' };

/** Copies a row into shown units; NaN turns to null, which is drawn as a gap. */
export function fillShown(
  row: ArrayLike<number>,
  dimension: Dimension,
  units: ShownUnits,
  into: (number | null)[],
): (number | null)[] {
  into.length = row.length;
  for (let i = 0; i < row.length; i++) {
    const value = row[i]!;
    into[i] = Number.isFinite(value) ? toShown(value, dimension, units) : null;
  }
  return into;
}

type Row = Omit<ChartLine, 'values'> & { readonly row: ArrayLike<number> };

const strutLabel = (outcome: Workings, k: number): string =>
  outcome.job.struts[k]?.name ?? (outcome.job.struts.length > 1 ? `Strut ${k + 1}` : 'The strut');

function rowsOf(outcome: Workings, kind: ChartKind): Row[] {
  const { tables, job } = outcome;
  const many = (tables[0]?.struts.length ?? 0) > 1;
  const perCase = (line: (c: number, common: { caseId: string; tag: string; name: string; scales: true }) => Row[]) =>
    tables.flatMap((table, c) =>
      line(c, { caseId: table.caseId, tag: String(c + 1), name: job.loadCases[c]?.name ?? table.caseId, scales: true }),
    );
  if (kind === 'hand')
    return perCase((c, common) => [
      { ...common, role: 'opening', dash: 'solid', row: tables[c]!.handOpeningN },
      { ...common, role: 'closing', dash: 'dashed', row: tables[c]!.handClosingN },
    ]);
  if (kind === 'force')
    return perCase((c, common) =>
      tables[c]!.struts.flatMap((strut, k): Row[] => {
        const own = many
          ? { ...common, tag: `${common.tag}${letterOf(k)}`, name: `${common.name}, ${strutLabel(outcome, k)}` }
          : common;
        return [
          { ...own, role: 'extending', dash: 'solid', row: strut.extendingN },
          { ...own, role: 'compressing', dash: 'dashed', row: strut.compressingN },
          { ...own, role: 'balance', dash: 'dotted', row: strut.balanceForceN, scales: false },
        ];
      }),
    );
  // geometry: the same in every load case
  return (tables[0]?.struts ?? []).flatMap((strut, k): Row[] => {
    const common = {
      caseId: null,
      tag: many ? letterOf(k) : '',
      name: strutLabel(outcome, k),
      scales: true,
    } as const;
    return kind === 'length'
      ? [{ ...common, role: 'length', dash: many && k % 2 === 1 ? 'dashed' : 'solid', row: strut.lengthMm }]
      : [
          { ...common, role: 'base', dash: 'solid', row: strut.baseJointDeg },
          { ...common, role: 'lid', dash: 'dashed', row: strut.lidJointDeg },
        ];
  });
}

/** A row of another table at these angles, straight between its own; NaN outside it and where it can't exist. */
function atAngles(from: ArrayLike<number>, row: ArrayLike<number>, angles: ArrayLike<number>): number[] {
  return Array.from(angles, (a) => valueOfRow(from, row, a) ?? NaN);
}

/** Lines of kept variants, in the load case that is shown strongest (else the first), tagged A, B, … */
function variantRows(
  outcome: Workings,
  kind: ChartKind,
  variants: NonNullable<ChartState['variants']>,
  caseId: string | null,
): Row[] {
  const angles = outcome.tables[0]?.angleDeg ?? [];
  return variants.flatMap(({ name, outcome: other }, v): Row[] => {
    const table = other.tables.find((t) => t.caseId === caseId) ?? other.tables[0];
    if (!table) return [];
    const common = { caseId: null, tag: letterOf(v).toUpperCase(), name, dash: 'dotted', scales: true } as const;
    const line = (role: string, row: ArrayLike<number>): Row => ({
      ...common,
      role,
      row: atAngles(table.angleDeg, row, angles),
    });
    if (kind === 'hand') return [line('opening', table.handOpeningN), line('closing', table.handClosingN)];
    return table.struts.flatMap((strut): Row[] =>
      kind === 'force'
        ? [line('extending', strut.extendingN), line('compressing', strut.compressingN)]
        : kind === 'length'
          ? [line('length', strut.lengthMm)]
          : [line('base', strut.baseJointDeg), line('lid', strut.lidJointDeg)],
    );
  });
}

/** The hand force's band over what may be off, as its four edges. */
function bandRows(outcome: Workings, kind: ChartKind, band: HandBand | null): Row[] {
  if (kind !== 'hand' || !band) return [];
  const angles = outcome.tables[0]?.angleDeg ?? [];
  const edge = (tag: string, name: string, role: string, row: Float64Array): Row => ({
    caseId: band.caseId,
    tag,
    name,
    role,
    dash: 'dotted',
    scales: true,
    row: atAngles(band.angleDeg, row, angles),
  });
  const [weak, strong] = band.words ?? ['weakest it may be', 'strongest it may be'];
  return [
    edge('w', weak, 'opening', band.openingWeakN),
    edge('w', weak, 'closing', band.closingWeakN),
    edge('s', strong, 'opening', band.openingStrongN),
    edge('s', strong, 'closing', band.closingStrongN),
  ];
}

/** The hand force as the first cause of a fit-up that differs would have it. */
function causeRows(outcome: Workings, kind: ChartKind, proof: HandProof | null): Row[] {
  if (kind !== 'hand' || !proof?.withCause) return [];
  const { angleDeg, openingN, closingN } = proof.withCause;
  const line = (role: string, row: Float64Array): Row => ({
    ...{ caseId: null, tag: '?', name: 'with the first cause', role, dash: 'dotted', scales: true },
    row: atAngles(angleDeg, row, outcome.tables[0]?.angleDeg ?? []),
  });
  return [line('opening', openingN), line('closing', closingN)];
}

const marksOf = (kind: ChartKind, units: ShownUnits, proof: HandProof | null): ChartMark[] =>
  kind !== 'hand' || !proof
    ? []
    : proof.readings.map(({ angleDeg, way, value, sigma }) => ({
        ...{ angleDeg, way },
        value: toShown(value, 'force', units),
        low: toShown(value - 2 * sigma, 'force', units),
        high: toShown(value + 2 * sigma, 'force', units),
      }));

/** a, b, …, z, aa, ab, … */
export const letterOf = (k: number): string =>
  (k >= 26 ? letterOf(Math.floor(k / 26) - 1) : '') + String.fromCharCode(97 + (k % 26));

function bandsOf(outcome: Workings, kind: ChartKind, units: ShownUnits): ChartBand[] {
  const { job } = outcome;
  const many = job.struts.length > 1;
  const band = (low: number, high: number, dimension: Dimension, text: string): ChartBand => ({
    from: toShown(low, dimension, units),
    to: toShown(high, dimension, units),
    text,
  });
  const f = (value: number, dimension: Dimension): string => formatQuantity(value, dimension, units);
  if (kind === 'hand') {
    const { handOpenN, handCloseN } = job.limits;
    return [
      band(handOpenN, handOpenN, 'force', `lifting, at most ${f(handOpenN, 'force')}`),
      band(-handCloseN, -handCloseN, 'force', `pulling shut, at most ${f(handCloseN, 'force')}`),
    ];
  }
  if (kind === 'length')
    return job.struts.map(({ spec }, k) => {
      const compressed = spec.extendedMm - spec.strokeMm;
      const who = many ? `${letterOf(k)}: ` : '';
      return band(
        compressed,
        spec.extendedMm,
        'length',
        `${who}stroke, ${f(compressed, 'length')} compressed to ${f(spec.extendedMm, 'length')} extended`,
      );
    });
  if (kind !== 'joint') return [];
  const bands = new Map<number, string[]>();
  job.struts.forEach((strut, k) => {
    for (const end of ['base', 'lid'] as const) {
      const who = many ? `${letterOf(k)} ${end}` : end;
      bands.set(strut.ends[end].rangeDeg, [...(bands.get(strut.ends[end].rangeDeg) ?? []), who]);
    }
  });
  return [...bands].map(([range, who]) =>
    band(90 - range, 90 + range, 'angle', `range ${who.join(', ')}: 90° ± ${range}°`),
  );
}

/** Less energy than this is not shown, J. */
const LEAST_SHOWN_J = 0.5;

/** What the lid gains by itself when it is let go, as areas under the hand force: of the chosen load case, else of the worst. */
function areasOf(outcome: Workings, kind: ChartKind, units: ShownUnits, caseId: string | null): ChartArea[] {
  if (kind !== 'hand') return [];
  const { letGos, job } = outcome;
  const chosen = job.loadCases.findIndex((c) => c.id === caseId);
  return (['opening', 'shutting'] as const).flatMap((way, role) => {
    const energy = (c: number): number => letGos[c]![way]?.energyJ ?? 0;
    const c = chosen >= 0 ? chosen : letGos.reduce((worst, _, i) => (energy(i) > energy(worst) ? i : worst), 0);
    const { fromDeg = null, toDeg = null } = letGos[c]?.[way] ?? {};
    if (fromDeg === null || toDeg === null || energy(c) < LEAST_SHOWN_J) return [];
    const [gains, over] = [formatQuantity(energy(c), 'energy', units), [fromDeg, toDeg].map((d) => `${d.toFixed(0)}°`)];
    return {
      line: 2 * c + role,
      fromDeg: Math.min(fromDeg, toDeg),
      toDeg: Math.max(fromDeg, toDeg),
      text: `${c + 1} let go: ${letGoVerb(job.hinge, outcome.frame.axis, way)} with ${gains}, ${over.join(' to ')}`,
    };
  });
}

/** Lowest and highest value that the scale must hold, with air above and below. */
export function rangeOf(lines: readonly ChartLine[], bands: readonly ChartBand[], withZero: boolean): [number, number] {
  let low = withZero ? 0 : Infinity;
  let high = withZero ? 0 : -Infinity;
  const take = (v: number): void => {
    low = Math.min(low, v);
    high = Math.max(high, v);
  };
  for (const line of lines) if (line.scales) for (const v of line.values) if (v !== null) take(v);
  for (const { from, to } of bands) {
    take(from);
    take(to);
  }
  // lines that may run away come in as far as they stay near the others
  const reach = Math.max(high - low, 0) * 0.35;
  const [least, most] = [low - reach, high + reach];
  for (const line of lines)
    if (!line.scales) for (const v of line.values) if (v !== null && v >= least && v <= most) take(v);
  if (!(high >= low)) return [0, 1];
  const air = high > low ? (high - low) * 0.06 : Math.max(Math.abs(high) * 0.1, 1);
  return [low === 0 && withZero ? 0 : low - air, high + air];
}

/**
 * Everything a chart draws, in the units shown. `reuse` lends its arrays when it has the same lines (a drag), so that
 * nothing but numbers changes.
 */
export function chartModel(
  outcome: Workings,
  kind: ChartKind,
  units: ShownUnits,
  reuse?: ChartModel,
  variants: NonNullable<ChartState['variants']> = [],
  caseId: string | null = null,
  band: HandBand | null = null,
  proof: HandProof | null = null,
): ChartModel {
  const dimension = DIMENSIONS[kind];
  const rows = [
    ...rowsOf(outcome, kind),
    ...variantRows(outcome, kind, variants, caseId),
    ...bandRows(outcome, kind, band),
    ...causeRows(outcome, kind, proof),
  ];
  const sign = shownUnit(dimension, units).sign;
  const key = JSON.stringify([kind, sign, rows.map((r) => [r.caseId, r.tag, r.name, r.role])]);
  const lent = reuse?.key === key ? reuse : null;
  const lines = rows.map(({ row, ...line }, i): ChartLine => ({
    ...line,
    values: fillShown(row, dimension, units, lent?.lines[i]?.values ?? []),
  }));
  const bands = bandsOf(outcome, kind, units);
  const angles = outcome.tables[0]?.angleDeg ?? new Float64Array([0, outcome.frame.openDeg]);
  const angleDeg = lent?.angleDeg ?? [];
  angleDeg.length = angles.length;
  for (let i = 0; i < angles.length; i++) angleDeg[i] = angles[i]!;
  const marks = marksOf(kind, units, proof);
  const reach = marks.map(({ low, high }) => ({ from: low, to: high, text: '' }));
  const [minY, maxY] = rangeOf(lines, [...bands, ...reach], kind === 'hand' || kind === 'force');
  return {
    key,
    kind,
    title: TITLES[kind],
    dimension,
    sign,
    angleDeg,
    lines,
    bands,
    areas: areasOf(outcome, kind, units, caseId),
    marks,
    minY,
    maxY,
  };
}
