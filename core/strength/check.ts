import type { Vec3 } from '../space';
import type { ChangesOf } from './repair-changes';
import type { StrengthModel } from './model';
import type { CheckId, CheckTexts, DemandCapacity, Unchecked } from './types';

/** One check as a row: what it says of itself, what a force at the ball (N, bracket's frame) asks, and what is borne. */
export type Check = Omit<CheckTexts, 'gravity' | 'notes'> & {
  /** "fails" where not given. */
  readonly gravity?: CheckTexts['gravity'];
  readonly notes?: readonly string[];
  /** True where not given. */
  readonly applies?: boolean;
  /** What may repair it; what stands first is tried first where two are as much work. */
  readonly repairs?: readonly ChangesOf[];
} & (
    | { readonly demand: (force: Vec3) => number; readonly capacity: number }
    /** Places that each bear something of their own: the worst counts. */
    | { readonly places: (force: Vec3) => readonly DemandCapacity[] }
  );

/** The checks of one part of a bracket, or what is lacking for them; none where a bracket has no such part. */
export type Part = (model: StrengthModel) => readonly (Check | Unchecked)[];

/** A row ready to be asked for any force. */
export interface CheckLine extends CheckTexts {
  readonly repairs: readonly ChangesOf[];
  readonly at: (force: Vec3) => DemandCapacity;
}

/** The row of a check that can't be made: why, what to do, and the key into the bracket of what is lacking. */
export const lacks = (id: CheckId, name: string, why: string, advice: string, ...path: string[]): Unchecked[] => [
  { id, name, why, advice, path },
];

/** True for what could not be checked, with the reason. */
export const isUnchecked = (row: object): row is Unchecked => 'why' in row;

/** Share of its capacity that is used; 1 is the limit. */
export const useOf = ({ demand, capacity }: DemandCapacity): number => (demand === 0 ? 0 : demand / capacity);

const worst = (each: readonly DemandCapacity[]): DemandCapacity => each.reduce((a, b) => (useOf(b) > useOf(a) ? b : a));

/** A check’s row as a line that gives demand and capacity for any force; of several places the most used one. */
export function lineOf({ applies: _, gravity = 'fails', notes = [], repairs = [], ...row }: Check): CheckLine {
  const texts = { ...row, gravity, notes, repairs };
  if ('places' in texts) {
    const { places, ...line } = texts;
    return { ...line, at: (force) => worst(places(force)) };
  }
  const { demand, capacity, ...line } = texts;
  return { ...line, at: (force) => ({ demand: demand(force), capacity }) };
}
