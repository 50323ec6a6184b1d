import { bracketSpecOf } from '../bracket';
import { attempt } from '../error';
import { type Bracket, type Strut, setValue } from '../job';
import type { Plan, TravelTable } from '../travel';
import { type Assessment, WATCH_FACTOR, resultsOf, worstOf } from './assess';
import { isUnchecked } from './check';
import { checkLines } from './checks';
import { bracketLoads } from './loads';
import type { Change } from './repair-changes';
import { type StrengthModel, strengthModel } from './model';
import type { CheckId, LoadSample, StrengthResult } from './types';

/** A change that was tried and repairs a check. */
export interface Repair extends Change {
  /** Reserve of the check after it. */
  readonly safetyFactor: number;
}

/** A bracket after a change: the few forces that nearly always govern, and all that can. */
interface Tried {
  readonly model: StrengthModel;
  readonly few: readonly LoadSample[];
  readonly all: readonly LoadSample[];
}

/**
 * Finds the cheapest change that repairs a check, by trying: each is made, the bracket must still be makeable as drawn, the check
 * must come to a safety factor of 1.5 (1 where nothing reaches that), and no check that held before may fail after. Null where
 * nothing tried does it. Changes of the joint itself, of the strut and of its place are not tried, nor what `may` refuses.
 */
export function repairer(
  plans: readonly Plan[],
  tables: readonly TravelTable[],
  bracket: Bracket,
  strut: Strut,
  assessment: Assessment,
  may: (change: Change) => boolean = () => true,
): (id: CheckId) => Repair | null {
  const { loads, results } = assessment;
  if (!loads || results.length === 0) return () => null;
  const model = strengthModel(bracket, strut);
  // the forces that govern now nearly always govern after too; the change chosen is tried with all of them
  const few = [...new Set(results.map((r) => r.governing))];
  const before = new Map(results.map((r) => [r.id, r.safetyFactor]));
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
  const factorWith = (id: CheckId, change: Change): number => {
    const after = make(change);
    if (!after) return 0;
    const line = checkLines(after.model).find((l) => l.id === id);
    if (!line) return Infinity;
    return isUnchecked(line) ? Infinity : (worstOf(line, after.few)?.safetyFactor ?? 0);
  };
  const spoiled = ({ id, gravity, safetyFactor }: StrengthResult): boolean => {
    const was = before.get(id);
    return gravity === 'fails' && safetyFactor < 1 && (was === undefined || (was >= 1 && safetyFactor < was - 1e-9));
  };
  const verified = (id: CheckId, change: Change, wanted: number): Repair | null => {
    const after = make(change)!;
    const { results: now } = resultsOf(after.model, after.all);
    const safetyFactor = now.find((r) => r.id === id)?.safetyFactor ?? Infinity;
    return safetyFactor >= wanted && !now.some(spoiled) ? { ...change, safetyFactor } : null;
  };
  return (id) => {
    // what only gets from watched to watched is no mending
    const least = (before.get(id) ?? 0) >= 1 ? WATCH_FACTOR : 1;
    const repairs = checkLines(model).flatMap((line) => (line.id === id && !isUnchecked(line) ? line.repairs : []));
    const changes = repairs
      .flatMap((changesOf) => changesOf(bracket, model))
      .filter(may)
      .sort((a, b) => a.effort - b.effort);
    const second: Change[] = [];
    for (const change of changes) {
      const safetyFactor = factorWith(id, change);
      const repair = safetyFactor >= WATCH_FACTOR ? verified(id, change, WATCH_FACTOR) : null;
      if (repair) return repair;
      if (safetyFactor >= least && safetyFactor < WATCH_FACTOR) second.push(change);
    }
    for (const change of second) {
      const repair = verified(id, change, least);
      if (repair) return repair;
    }
    return null;
  };
}
