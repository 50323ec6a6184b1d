import { bracketSpecOf } from '../bracket';
import { attempt } from '../error';
import { type Bracket, type Strut, setValue } from '../job';
import type { Plan, TravelTable } from '../travel';
import { type Assessment, WATCH_RESERVE, resultsOf, worstOf } from './assess';
import { isUnchecked } from './check';
import { checkLines } from './checks';
import { bracketLoads } from './loads';
import type { Change } from './mend-changes';
import { type StrengthModel, strengthModel } from './model';
import type { CheckId, LoadSample, StrengthResult } from './types';

/** A change that was tried and mends a check. */
export interface Mend extends Change {
  /** Reserve of the check after it. */
  readonly reserve: number;
}

/** A bracket after a change: the few forces that nearly always govern, and all that can. */
interface Tried {
  readonly model: StrengthModel;
  readonly few: readonly LoadSample[];
  readonly all: readonly LoadSample[];
}

/**
 * Finds the cheapest change that mends a check, by trying: each is made, the bracket must still be makeable as drawn, the check
 * must come to a reserve of 1.5 (1 where nothing reaches that), and no check that held before may fail after. Null where
 * nothing tried does it. Changes of the joint itself, of the strut and of its place are not tried.
 */
export function mender(
  plans: readonly Plan[],
  tables: readonly TravelTable[],
  bracket: Bracket,
  strut: Strut,
  assessment: Assessment,
): (id: CheckId) => Mend | null {
  const { loads, results } = assessment;
  if (!loads || results.length === 0) return () => null;
  const model = strengthModel(bracket, strut);
  // the forces that govern now nearly always govern after too; the change chosen is tried with all of them
  const few = [...new Set(results.map((r) => r.governing))];
  const before = new Map(results.map((r) => [r.id, r.reserve]));
  const known = new Map<string, Tried | null>();

  const made = (change: Change): Tried | null => {
    const next = change.settings.reduce(setValue, bracket);
    return attempt(() => {
      const after = strengthModel(next, strut);
      if (!change.settings.some((s) => s.path[0] === 'ballSide')) return { model: after, few, all: loads.governing };
      const moved = bracketLoads(plans, tables, next, bracketSpecOf(next), loads.shockFactor)!;
      return { model: after, few: moved.governing, all: moved.governing };
    }).value;
  };
  const make = (change: Change): Tried | null => {
    const key = JSON.stringify(change.settings);
    if (!known.has(key)) known.set(key, made(change));
    return known.get(key)!;
  };
  const reserveOf = (id: CheckId, change: Change): number => {
    const after = make(change);
    if (!after) return 0;
    const line = checkLines(after.model).find((l) => l.id === id);
    if (!line) return Infinity;
    return isUnchecked(line) ? Infinity : (worstOf(line, after.few)?.reserve ?? 0);
  };
  const spoiled = ({ id, gravity, reserve }: StrengthResult): boolean => {
    const was = before.get(id);
    return gravity === 'fails' && reserve < 1 && (was === undefined || (was >= 1 && reserve < was - 1e-9));
  };
  const verified = (id: CheckId, change: Change, wanted: number): Mend | null => {
    const after = make(change)!;
    const { results: now } = resultsOf(after.model, after.all);
    const reserve = now.find((r) => r.id === id)?.reserve ?? Infinity;
    return reserve >= wanted && !now.some(spoiled) ? { ...change, reserve } : null;
  };
  return (id) => {
    // what only gets from watched to watched is no mending
    const least = (before.get(id) ?? 0) >= 1 ? WATCH_RESERVE : 1;
    const mends = checkLines(model).flatMap((line) => (line.id === id && !isUnchecked(line) ? line.mends : []));
    const changes = mends.flatMap((changesOf) => changesOf(bracket, model)).sort((a, b) => a.effort - b.effort);
    const second: Change[] = [];
    for (const change of changes) {
      const reserve = reserveOf(id, change);
      const mend = reserve >= WATCH_RESERVE ? verified(id, change, WATCH_RESERVE) : null;
      if (mend) return mend;
      if (reserve >= least && reserve < WATCH_RESERVE) second.push(change);
    }
    for (const change of second) {
      const mend = verified(id, change, least);
      if (mend) return mend;
    }
    return null;
  };
}
