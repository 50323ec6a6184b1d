import { type SpareScale, demandOf } from '../demands';
import { wordsOf } from '../error';
import type { Spec } from '../job';
import {
  ATMOSPHERE_MPA,
  BUCKLING_FACTOR,
  type StrutBuckling,
  gasBody,
  specIssues,
  strutBuckling,
  usualBody,
} from '../strut';
import type { Geometry, Reach } from './geometry';

/** One demand held against a strut, in its worst load case. Values as in the findings: mm, N, N·m, °, ×. */
export interface Measured {
  /** Of the one list of demands; a finding's id. */
  readonly id: string;
  /** Which bracket, obstacle, strut … where the demand is not the strut's own. */
  readonly subject?: string;
  /** null where the load case makes no difference. */
  readonly caseId: string | null;
  /** null where it can't be told (another strut can't be there). */
  readonly value: number | null;
  readonly limit: number;
  readonly unit: string;
}

/** Why a strut is refused: the first demand it fails, in that demand's worst case. */
export interface Refusal extends Measured {
  /** For a body that no strut has: what is wrong with it. */
  readonly text?: string;
}

/** How a strut that meets all demands does. Shares are 1 or less: 0 is at the limit, 1 is far from it. */
export interface Merits {
  /** The demand with least to spare. */
  readonly tightest: Measured & { readonly share: number };
  /** Greatest pull at the grip to lift, to shut; 0 or less: none. */
  readonly liftN: Measured;
  readonly pullN: Measured;
  readonly holdNm: Measured;
  readonly closedReserveMm: number;
  readonly openReserveMm: number;
  readonly openDeg: number;
  /** As a stepped column; only looked at where the plain rule does not hold it, null else. */
  readonly buckling: number | null;
}

export type Verdict = { readonly refused: Refusal } | { readonly refused: null; readonly merits: Merits };

const shareOf = (m: Measured, scale: SpareScale): number => demandOf(m.id)!.share(m.value!, m.limit, scale);

/** Options of judging. */
export interface JudgeOptions {
  /** Where the strut stops the lid: the least it must open, degrees. */
  readonly leastOpenDeg: number;
}

/** What a body's two lengths alone decide, before any force: a refusal, or null. */
export function judgeLengths(g: Geometry, reach: Reach, options: JudgeOptions): Refusal | null {
  const limit = g.job.limits.reserveMm;
  const mm = { caseId: null, unit: 'mm' } as const;
  if (reach.outsideMm > 0) return { ...mm, id: 'strut-fits', value: reach.outsideMm, limit: 0 };
  if (reach.closedReserveMm < limit) return { ...mm, id: 'closed-reserve', value: reach.closedReserveMm, limit };
  const openLimit = reach.isStop ? 0 : limit;
  if (reach.openReserveMm < openLimit - 1e-6)
    return { ...mm, id: 'open-reserve', value: reach.openReserveMm, limit: openLimit };
  if (g.job.travel.stop === 'strut' && reach.openDeg < options.leastOpenDeg)
    return { id: 'opening-angle', caseId: null, value: reach.openDeg, limit: options.leastOpenDeg, unit: '°' };
  return null;
}

let factors = new Float64Array(512);

/**
 * Holds one strut against every demand in every load case that must hold, over the whole travel: the same verdict as
 * working the job out with that spec and reading its findings, from flat arrays. `bears` saves the column sums where
 * a body is tried with many forces.
 */
export function judge(g: Geometry, reach: Reach, spec: Spec, options: JudgeOptions, bears?: StrutBuckling): Verdict {
  const [bad] = specIssues(spec);
  if (bad)
    return {
      refused: {
        id: 'no-such-strut',
        caseId: null,
        value: null,
        limit: 0,
        unit: '',
        text: wordsOf(bad),
      },
    };
  const lengths = judgeLengths(g, reach, options);
  if (lengths) return { refused: lengths };

  const { limits } = g.job;
  const radius = g.frame.gripRadiusMm;
  const body = gasBody(spec, 'nominal');
  const { rodAreaMm2: area, fillPerMm: fill, halfFrictionN: half } = body;
  // friction that is assumed holds nothing open, and the gas pushes no harder for it
  const held = spec.assumed?.includes('frictionN') ? gasBody({ ...spec, frictionN: 0 }, 'nominal') : body;
  const heldFactor = (1 - 5 * held.fillPerMm) / (1 - held.fillPerMm * reach.lastCompressionMm);
  const n = reach.count;
  if (factors.length <= n) factors = new Float64Array(2 * n + 2);
  let most = 0;
  for (let i = 0; i <= n; i++) {
    const raw = spec.extendedMm - g.lengthMm[i]!;
    const s = i === n ? reach.lastCompressionMm : raw < 0 ? 0 : raw > spec.strokeMm ? spec.strokeMm : raw;
    const factor = (1 - 5 * fill) / (1 - fill * s);
    factors[i] = factor;
    if (factor > most) most = factor;
  }

  let lift = -Infinity;
  let liftCase = '';
  let liftGap: string | null = null;
  let pull = -Infinity;
  let pullCase = '';
  let hold = Infinity;
  let holdCase = '';
  let holdGap: string | null = null;
  let load = 0;
  let loadCaseId = '';
  for (let c = 0; c < g.cases.length; c++) {
    const grid = g.cases[c]!;
    if (!grid.mustHold) continue;
    const q = grid.quantity;
    const { loadCase, openingNmm, closingNmm } = grid;
    const shift = loadCase.force === 'low' ? spec.toleranceN[0] : loadCase.force === 'high' ? spec.toleranceN[1] : 0;
    // gauge pressure at 5 mm, less what age took, times the temperature
    const ratedWith = (friction: number): number =>
      (((spec.forceN + shift + friction) / area) * (1 - loadCase.ageLossPercent / 100) + ATMOSPHERE_MPA) * grid.heat;
    const rated = ratedWith(half);
    let leastOpening = Infinity;
    let mostClosing = -Infinity;
    let gap = false;
    for (let i = 0; i <= n; i++) {
      const last = i === n;
      const arm = last ? reach.lastArmMm : g.armMm[i]!;
      let opening = last ? reach.lastOpeningNmm[c]! : openingNmm[i]!;
      let closing = last ? reach.lastClosingNmm[c]! : closingNmm[i]!;
      if (q > 0) {
        const gas = (rated * factors[i]! - ATMOSPHERE_MPA) * area;
        const drag = half * Math.abs(arm);
        opening += q * (gas * arm - drag);
        closing += q * (gas * arm + drag);
      }
      if (opening !== opening) gap = true;
      else {
        if (opening < leastOpening) leastOpening = opening;
        if (closing > mostClosing) mostClosing = closing;
      }
    }
    const id = loadCase.id;
    if (gap && liftGap === null) liftGap = id;
    if (-leastOpening / radius > lift) [lift, liftCase] = [-leastOpening / radius, id];
    if (mostClosing / radius > pull) [pull, pullCase] = [mostClosing / radius, id];
    const push = q === 0 ? 0 : (ratedWith(held.halfFrictionN) * heldFactor - ATMOSPHERE_MPA) * area;
    const holds = (reach.lastHoldsNmm[c]! + q * push * reach.lastArmMm) / 1000;
    if (holds !== holds) holdGap ??= id;
    else if (holds < hold) [hold, holdCase] = [holds, id];
    if (q > 0) {
      const push = (rated * most - ATMOSPHERE_MPA) * area + half;
      if (push > load) [load, loadCaseId] = [push, id];
    }
  }

  const liftN: Measured = {
    id: 'hand-opening',
    caseId: lift > limits.handOpenN || liftGap === null ? liftCase : liftGap,
    value: lift > limits.handOpenN || liftGap === null ? lift : null,
    limit: limits.handOpenN,
    unit: 'N',
  };
  if (lift > limits.handOpenN || liftGap !== null) return { refused: liftN };
  const pullN: Measured = { id: 'hand-closing', caseId: pullCase, value: pull, limit: limits.handCloseN, unit: 'N' };
  if (pull > limits.handCloseN) return { refused: pullN };
  const holdNm: Measured = {
    id: 'stays-open',
    caseId: holdGap ?? holdCase,
    value: holdGap === null ? hold : null,
    limit: limits.holdOpenNm,
    unit: 'N·m',
  };
  if (holdGap !== null || hold < limits.holdOpenNm) return { refused: holdNm };

  const column = bears ?? bucklingOf(spec);
  let buckling: number | null = null;
  if (load > 0 && column.plainN / load < BUCKLING_FACTOR) {
    buckling = Math.min(column.steppedN / load, 1e6);
    if (buckling < BUCKLING_FACTOR)
      return {
        refused: { id: 'rod-buckling', caseId: loadCaseId, value: buckling, limit: BUCKLING_FACTOR, unit: '×' },
      };
  }

  const reserve = limits.reserveMm;
  const mm = { caseId: null, unit: 'mm', limit: reserve } as const;
  const measured: Measured[] = [{ ...mm, id: 'closed-reserve', value: reach.closedReserveMm }];
  if (!reach.isStop) measured.push({ ...mm, id: 'open-reserve', value: reach.openReserveMm });
  // with no case that must hold there is no hand force to speak of
  if (liftCase !== '') measured.push(liftN, pullN, holdNm);
  if (buckling !== null)
    measured.push({ id: 'rod-buckling', caseId: loadCaseId, value: buckling, limit: BUCKLING_FACTOR, unit: '×' });
  const scale = { liftNm: (limits.handOpenN * radius) / 1000 };
  const all = measured.map((m) => ({ ...m, share: shareOf(m, scale) }));
  return {
    refused: null,
    merits: {
      tightest: all.reduce((a, b) => (b.share < a.share ? b : a)),
      liftN,
      pullN,
      holdNm,
      closedReserveMm: reach.closedReserveMm,
      openReserveMm: reach.openReserveMm,
      openDeg: reach.openDeg,
      buckling,
    },
  };
}

/** What a spec's rod and tube bear lengthwise; the tube's wall is the usual one. */
export const bucklingOf = (spec: Spec): StrutBuckling =>
  strutBuckling(spec.extendedMm, spec.strokeMm, spec.rodMm, spec.tubeMm, usualBody(spec.rodMm, spec.tubeMm).wallMm);
