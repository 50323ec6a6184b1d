import type { StrutSpec } from './gas';
import { USUAL_BODIES, usualBody, usualToleranceN } from './usual';

/** One line of a strut list: a body that is sold with a range of forces. */
export interface StrutListEntry {
  /** Order name. */
  readonly name: string;
  readonly extendedMm: number;
  readonly strokeMm: number;
  readonly rodMm: number;
  readonly tubeMm: number;
  readonly forceMinN: number;
  readonly forceMaxN: number;
  /** Forces come in steps of this from forceMinN; 0 where there is one force only. */
  readonly forceStepN: number;
  readonly ratio?: number;
  readonly frictionN?: number;
  /** Either side of the nominal force, N. */
  readonly toleranceN?: number;
  readonly endThread?: string;
}

/** Numbers of a spec that nobody stated: taken from common practice. */
export type AssumedKey = 'ratio' | 'frictionN' | 'toleranceN';

/** Most forces that one entry is tried with. */
const MOST_STEPS = 400;

/** The nominal forces that an entry can be had with, N, ascending; forceMaxN is always one of them. */
export function forcesOf(entry: Pick<StrutListEntry, 'forceMinN' | 'forceMaxN' | 'forceStepN'>): number[] {
  const { forceMinN: low, forceMaxN: high, forceStepN: step } = entry;
  if (!(step > 0) || high <= low) return high > low ? [low, high] : [low];
  const count = Math.min(Math.floor((high - low) / step + 1e-9), MOST_STEPS);
  const forces = Array.from({ length: count + 1 }, (_, i) => low + i * step);
  if (high - (forces.at(-1) as number) > 1e-6 * step) forces.push(high);
  return forces;
}

/** What the numbers that may be assumed are called. */
export const ASSUMED_WORDS = { ratio: 'force ratio', frictionN: 'friction', toleranceN: 'tolerance' } as const;

/** Which numbers of an entry are assumed. */
export const assumedOf = (entry: StrutListEntry): AssumedKey[] =>
  (['ratio', 'frictionN', 'toleranceN'] as const).filter((key) => entry[key] === undefined);

/** An entry with one of its forces as a spec; what the list doesn't say is what is usual for its rod and tube. */
export function specOf(entry: StrutListEntry, forceN: number): StrutSpec {
  const usual = usualBody(entry.rodMm, entry.tubeMm);
  return {
    extendedMm: entry.extendedMm,
    strokeMm: entry.strokeMm,
    forceN,
    ratio: entry.ratio ?? usual.ratio.usual,
    rodMm: entry.rodMm,
    tubeMm: entry.tubeMm,
    frictionN: entry.frictionN ?? usual.frictionN.usual,
    toleranceN: entry.toleranceN === undefined ? usualToleranceN(usual, forceN) : [-entry.toleranceN, entry.toleranceN],
  };
}

/** Strokes of the generic list, mm. */
const STROKES_MM = [20, 40, 60, 80, 100, 120, 140, 150, 160, 180, 200, 220, 250, 275, 300, 350, 400, 450, 500];

/**
 * A metric list of our own, by rule: every usual rod and tube, each stroke it is made in, extended = 2 × stroke + the
 * end allowance, forces in steps of 50 N from its least. Nobody's catalogue; common practice, no source.
 */
export function genericMetricList(): StrutListEntry[] {
  return USUAL_BODIES.flatMap((body) =>
    STROKES_MM.filter((s) => s >= body.strokeMm.low && s <= body.strokeMm.high).map((strokeMm): StrutListEntry => {
      const extendedMm = 2 * strokeMm + body.endAllowanceMm;
      return {
        name: `${extendedMm} long, ${strokeMm} stroke, rod ${body.rodMm}`,
        extendedMm,
        strokeMm,
        rodMm: body.rodMm,
        tubeMm: body.tubeMm,
        forceMinN: body.forceN.low,
        forceMaxN: body.forceN.high,
        forceStepN: body.forceN.low < 100 ? 25 : 50,
        endThread: body.endThread,
      };
    }),
  );
}
