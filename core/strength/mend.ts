import { bracketSpecOf } from '../bracket';
import { LidwrightError } from '../error';
import type { Bracket, Strut } from '../job';
import type { Plan, TravelTable } from '../travel';
import { type Assessment, WATCH_RESERVE, checkLines, resultsOf, worstOf } from './assess';
import { bracketLoads } from './loads';
import * as tries from './mend-changes';
import { type StrengthModel, strengthModel } from './model';
import type { CheckId, LoadSample, StrengthResult } from './types';

/** A change that was tried and mends a check. */
export interface Mend extends tries.Change {
  /** Reserve of the check after it. */
  readonly reserve: number;
}

/** Changes that can help a check, in no order. */
function changesFor(id: CheckId, b: Bracket, m: StrengthModel): tries.Change[] {
  const { stud, bolts, weld, spec, seat } = m;
  const hole = m.fixings[0]?.diameterMm ?? 0;
  const legs = (): tries.Change[] => {
    const first = [...tries.ballInside(b), ...tries.thicker(b), ...tries.wider(b), ...tries.gussets(b)];
    const pairs = [
      ...tries.wider(b).flatMap((w) => tries.thicker(b).map((t) => tries.together(t, w))),
      ...tries.gussets(b).flatMap((g) => tries.thicker(b).map((t) => tries.together(t, g))),
    ];
    return [...first, ...tries.lowerBall(b), ...pairs];
  };
  switch (id) {
    case 'stud':
    case 'pin':
      return stud
        ? [
            ...tries.strongerStud(b, stud.className),
            ...['8.8', '10.9'].flatMap((c) => tries.largerStud(b, stud.thread.name, c)),
          ]
        : [];
    case 'upright':
    case 'upright-above-gusset':
    case 'base-leg':
    case 'base-leg-beyond-gusset':
    case 'base-leg-at-fixings':
    case 'plate-at-fixings':
    case 'upright-at-stud':
      return legs();
    case 'bearing':
    case 'tear-out':
      return [...tries.thicker(b), ...tries.wider(b), ...tries.moreFixings(b, hole)];
    case 'stud-bearing':
    case 'stud-tear-out':
      return [...tries.thicker(b), ...tries.wider(b)];
    case 'fixings':
    case 'slip':
    case 'spin':
    case 'seat-pull-through':
    case 'seat-bearing':
    case 'insert':
    case 'thread-strip':
      return bolts
        ? [
            ...(id === 'spin' || id === 'slip' || id === 'fixings' ? tries.ballInside(b) : []),
            ...(bolts.into === 'insert' ? [] : tries.strongerFixings(b, bolts.className)),
            ...(bolts.into === 'insert' ? [] : tries.largerFixings(b, bolts.thread.name)),
            ...tries.moreFixings(b, hole),
            ...(id === 'thread-strip'
              ? tries.deeperThread(b, bolts.thread.name, bolts.engagementMm ?? 0, seat?.thicknessMm ?? 0)
              : []),
            ...(id === 'seat-pull-through' ? [...tries.thicker(b), ...tries.spreaders(b)] : []),
            ...tries
              .moreFixings(b, hole)
              .flatMap((n) => tries.largerFixings(b, bolts.thread.name).map((l) => tries.together(n, l))),
          ]
        : [];
    case 'weld':
    case 'weld-simple':
      return weld ? [...tries.thickerWeld(weld.throatMm), ...tries.allEdges(b), ...tries.wider(b)] : [];
    case 'gusset-weld':
      return [...tries.thickerGussetWeld(b, spec.gusset?.weldThroatMm ?? 0), ...tries.thicker(b)];
    case 'seat-bending':
    case 'seat-collapse':
      return [
        ...tries.ballInside(b),
        ...tries.spreaders(b),
        ...tries.spreaders(b).flatMap((s) => tries.lowerBall(b).map((l) => tries.together(s, l))),
      ];
    default:
      return [];
  }
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
  const known = new Map<
    string,
    { model: StrengthModel; few: readonly LoadSample[]; all: readonly LoadSample[] } | null
  >();

  const make = (change: tries.Change) => {
    const key = JSON.stringify(change.settings);
    if (!known.has(key)) known.set(key, made(change));
    return known.get(key)!;
  };
  const made = (change: tries.Change) => {
    const next = tries.changed(bracket, change);
    try {
      const after = strengthModel(next, strut);
      if (!change.settings.some((s) => s.path[0] === 'ballSide')) return { model: after, few, all: loads.governing };
      const moved = bracketLoads(plans, tables, next, bracketSpecOf(next), loads.shockFactor)!;
      return { model: after, few: moved.governing, all: moved.governing };
    } catch (error) {
      if (error instanceof LidwrightError) return null;
      throw error;
    }
  };
  const reserveOf = (id: CheckId, change: tries.Change): number => {
    const after = make(change);
    if (!after) return 0;
    const line = checkLines(after.model).find((l) => l.id === id && 'at' in l);
    return (line && 'at' in line && worstOf(line, after.few)?.reserve) || (line ? 0 : Infinity);
  };
  const verified = (id: CheckId, change: tries.Change, wanted: number): Mend | null => {
    const after = make(change)!;
    const { results: now } = resultsOf(after.model, after.all);
    const own = now.find((r) => r.id === id);
    const reserve = own?.reserve ?? Infinity;
    const spoiled = (r: StrengthResult): boolean =>
      r.gravity === 'fails' &&
      r.reserve < 1 &&
      r.reserve < (before.get(r.id) ?? Infinity) - 1e-9 &&
      (before.get(r.id) ?? 1) >= 1;
    return reserve >= wanted && !now.some(spoiled) ? { ...change, reserve } : null;
  };
  return (id) => {
    // what only gets from watched to watched is no mending
    const least = (before.get(id) ?? 0) >= 1 ? WATCH_RESERVE : 1;
    const second: tries.Change[] = [];
    for (const change of changesFor(id, bracket, model).sort((a, b) => a.effort - b.effort)) {
      const reserve = reserveOf(id, change);
      if (reserve >= WATCH_RESERVE) {
        const mend = verified(id, change, WATCH_RESERVE);
        if (mend) return mend;
      } else if (reserve >= least) second.push(change);
    }
    for (const change of second) {
      const mend = verified(id, change, least);
      if (mend) return mend;
    }
    return null;
  };
}
