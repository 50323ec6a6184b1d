import { type Known, bandOf, forStrut, weightNm } from './doubts';
import type { Trial } from './trial';
import type { Change, Reading } from './types';

export type CauseKind =
  | 'mass'
  | 'mass-item'
  | 'centre'
  | 'force'
  | 'hinge-friction'
  | 'strut-friction'
  | 'base-pivot'
  | 'lid-pivot'
  | 'extended'
  | 'lost'
  | 'pair';

/** One thing that may be wrong. Its numbers are in `unit`, 0 as entered. */
export interface Cause {
  /** kind, or kind:strut or mass id. */
  readonly id: string;
  readonly kind: CauseKind;
  readonly strut?: string;
  readonly mass?: string;
  /** The two that a pair is made of; its numbers are theirs, one after the other. */
  readonly both?: readonly [Cause, Cause];
  /** How far off it usually is when it is off: one standard deviation of each of its numbers; empty for a cause without any. */
  readonly widths: readonly number[];
  readonly unit: 'share' | 'mm' | 'N·m' | 'N' | 'kg' | '';
  readonly change: (values: ArrayLike<number>) => Change;
}

/**
 * How far off each thing usually is when it is off: one standard deviation. Common practice, no source. A cause found
 * further out than this is still named, but has to explain more for it.
 */
export const USUALLY_OFF = {
  /** The whole lid's mass, as a share: paint, fittings, water, a load nobody weighed. */
  massShare: 0.15,
  /** Common centre of mass along the lid, as a share of the distance from hinge to grip. */
  centreShare: 0.06,
  /** Strut force, as a share: another filling, an old strut, a wrong one. */
  forceShare: 0.15,
  /** Hinge and seal friction: this share of the closed weight's moment. */
  hingeOfWeight: 0.06,
  /** Friction band of a strut: so many times what is entered or usual. */
  strutFrictionTimes: 1.5,
  /** Each component of a pivot, mm. */
  pivotMm: 12,
  /** Extended length, mm: another end fitting, another strut. */
  extendedMm: 10,
} as const;

/**
 * Everything that may be wrong with a lid, one thing at a time. Single mass items are causes of their own only where the
 * readings were taken with different items on: otherwise no reading tells them apart from the whole.
 */
export function causesOf(trial: Trial, readings: readonly Pick<Reading, 'loadCase'>[], _known: Known = {}): Cause[] {
  const { job, frame } = trial;
  const weight = weightNm(job, trial);
  const offs = new Set(
    readings.map((r) => [...(job.loadCases.find((c) => c.id === r.loadCase)?.off ?? [])].sort().join('|')),
  );
  return [
    { id: 'mass', kind: 'mass', widths: [USUALLY_OFF.massShare], unit: 'share', change: (v) => ({ massShare: v[0]! }) },
    ...(offs.size > 1 ? job.masses : []).map((m): Cause => ({
      id: `mass-item:${m.id}`,
      kind: 'mass-item',
      mass: m.id,
      widths: [Math.max(USUALLY_OFF.massShare * m.kg, 0.5)],
      unit: 'kg',
      change: (v) => ({ massKg: { [m.id]: v[0]! } }),
    })),
    {
      id: 'centre',
      kind: 'centre',
      widths: [USUALLY_OFF.centreShare * frame.gripRadiusMm],
      unit: 'mm',
      change: (v) => ({ centreMm: [v[0]!, 0] }),
    },
    {
      id: 'hinge-friction',
      kind: 'hinge-friction',
      widths: [USUALLY_OFF.hingeOfWeight * weight],
      unit: 'N·m',
      change: (v) => ({ hingeNm: v[0]! }),
    },
    ...job.struts.flatMap((strut): Cause[] => {
      const { id, quantity } = strut;
      const pivot = USUALLY_OFF.pivotMm;
      const of = (kind: CauseKind, unit: Cause['unit'], widths: number[], change: Cause['change']): Cause => ({
        id: `${kind}:${id}`,
        kind,
        strut: id,
        widths,
        unit,
        change,
      });
      return [
        of('force', 'share', [USUALLY_OFF.forceShare], (v) => forStrut(id, { forceFactor: Math.max(0, 1 + v[0]!) })),
        of('strut-friction', 'N', [USUALLY_OFF.strutFrictionTimes * bandOf(strut)], (v) =>
          forStrut(id, { frictionN: v[0]! }),
        ),
        of('base-pivot', 'mm', [pivot, pivot], (v) => forStrut(id, { baseMm: [v[0]!, v[1]!] })),
        of('lid-pivot', 'mm', [pivot, pivot], (v) => forStrut(id, { lidMm: [v[0]!, v[1]!] })),
        of('extended', 'mm', [USUALLY_OFF.extendedMm], (v) => forStrut(id, { extendedMm: v[0]! })),
        of('lost', '', [], () => forStrut(id, { working: quantity === 2 ? 1 : 0 })),
      ];
    }),
  ];
}
