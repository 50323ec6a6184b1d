import { attempt } from '../error';
import type { Finding } from '../findings';
import { DEFAULT_LIMITS, type Job, resolveJob } from '../job';
import { METRIC } from '../quantity';
import { workingsOf } from '../workings';
import { applyPlace } from './apply';
import { type Field, type FieldOptions, fieldOf } from './field';
import type { Place } from './place';
import { type Progress, type SearchOptions, moved, searchSteps } from './search';
import { ballAt, grown, missOf, siteOf } from './site';
import { judged } from './verdict';

/** One thing made easier, and by how much: limits.KEY, base-joint or lid-joint, zone:ID (its edges outward) or zone:ID:off. */
export interface Relaxed {
  readonly what: string;
  readonly by: number;
  readonly unit: 'N' | 'N·m' | 'mm' | 'J' | '°';
}

/** What stands against a place in the job as it is. */
export interface Fails {
  readonly id: string;
  readonly case: string | null;
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: string;
}

/** The nearest miss: a place that works as soon as all of `relax` is done, and what it fails without. */
export interface Nearest {
  readonly place: Place;
  readonly fails: readonly Fails[];
  /** Empty where nothing that may be relaxed makes a place appear. */
  readonly relax: readonly Relaxed[];
}

type LimitKey = 'handOpenN' | 'handCloseN' | 'holdOpenNm' | 'reserveMm' | 'clearanceMm' | 'letGoJ' | 'letGoN';
const LIMIT_UNITS: Readonly<Record<LimitKey, Relaxed['unit']>> = {
  handOpenN: 'N',
  handCloseN: 'N',
  holdOpenNm: 'N·m',
  reserveMm: 'mm',
  clearanceMm: 'mm',
  letGoJ: 'J',
  letGoN: 'N',
};
/** Limits that get easier as they fall. */
const FALLING = new Set<string>(['holdOpenNm', 'reserveMm', 'clearanceMm']);
/** No joint is said to lean further than this, degrees. */
const MOST_RANGE_DEG = 80;

/** The job with everything relaxed that is listed. */
export function relaxedJob(raw: Job, items: readonly Relaxed[]): Job {
  const job = resolveJob(raw);
  return items.reduce((now, { what, by }): Job => {
    const [head, id, off] = what.split(':');
    if (head === 'zone') {
      const zone = job.zones.find((z) => z.id === id);
      if (!zone) return now;
      const old = (now.zones ?? []).find((z) => z.id === id)!;
      const site = siteOf(zone);
      const next = off
        ? { ...old, offMm: [Math.max(0, zone.offMm[0] - by), zone.offMm[1] + by] }
        : { ...old, corners: grown(site.corners, by).map(([x, y]) => ballAt(site, x, y, 0)) };
      return { ...now, zones: now.zones!.map((z) => (z.id === id ? next : z)) } as Job;
    }
    if (what === 'base-joint' || what === 'lid-joint') {
      const end = what === 'base-joint' ? 'base' : 'lid';
      const rangeDeg = job.struts[0]!.ends[end].rangeDeg + by;
      const wider = (s: Job['struts'][number]): Job['struts'][number] => ({
        ...s,
        ends: { ...s.ends, [end]: { ...s.ends[end], rangeDeg } },
      });
      return { ...now, struts: now.struts.map((s, i) => (i === 0 ? wider(s) : s)) };
    }
    const key = what.replace('limits.', '') as LimitKey;
    const before = job.limits[key] ?? 0;
    const value = FALLING.has(key) ? Math.max(0, before - by) : before + by;
    return { ...now, limits: { ...DEFAULT_LIMITS, ...now.limits, [key]: value } };
  }, raw);
}

/** What might be relaxed, each as far as anybody might go; what is tried first stands first. */
function relaxations({ job, ends }: Field): Relaxed[][] {
  const { limits, zones } = job;
  const limit = (key: LimitKey): Relaxed[] => {
    const now = limits[key];
    if (now === undefined) return [];
    // what falls can fall to nothing, what rises may come to three times as much
    const by = FALLING.has(key) ? now : Math.max(2 * now, 20);
    return by > 0 ? [{ what: `limits.${key}`, by, unit: LIMIT_UNITS[key] }] : [];
  };
  const singles = (['handCloseN', 'handOpenN', 'holdOpenNm', 'reserveMm', 'clearanceMm', 'letGoJ', 'letGoN'] as const)
    .map(limit)
    .filter((w) => w.length > 0);
  const fitting = job.find?.fitting;
  const joints = (['base', 'lid'] as const).flatMap((end): Relaxed[] => {
    const own = job.struts[0]!.ends[end];
    // where another fitting is wished for, its table says its range
    if (fitting !== undefined && fitting !== own.fitting) return [];
    const by = Math.min(25, MOST_RANGE_DEG - ends[end].rangeDeg);
    return by > 0 ? [{ what: `${end}-joint`, by, unit: '°' }] : [];
  });
  const grow = (by: number): Relaxed[] => zones.map(({ id }): Relaxed => ({ what: `zone:${id}`, by, unit: 'mm' }));
  const off = (by: number): Relaxed[] => zones.map(({ id }): Relaxed => ({ what: `zone:${id}:off`, by, unit: 'mm' }));
  const hands = [...limit('handOpenN'), ...limit('handCloseN')];
  const all = singles.flat();
  return [
    ...singles,
    ...(joints.length > 0 ? [joints] : []),
    hands,
    all,
    [...all, ...joints],
    grow(150),
    [...grow(300), ...off(50)],
    [...grow(300), ...off(50), ...all, ...joints],
    [...grow(800), ...off(200), ...all, ...joints],
  ].filter((w) => w.length > 0);
}

/** A place must be found with so much to spare before a relaxation counts: a place that is only just one is not found again. */
const CLEAR = 0.02;
/** How hard a relaxed job is looked at while the amounts are still open. */
const QUICK: SearchOptions = { effort: 0.25 };
/** How often amounts are halved: to 2 % of what might be asked. */
const HALVINGS = 6;
/** Singles that are weighed against each other. */
const MOST_WEIGHED = 3;

const scaled = (items: readonly Relaxed[], by: number): Relaxed[] =>
  items.map((item) => ({ ...item, by: Number((item.by * by).toPrecision(3)) }));

/**
 * What would have to be relaxed so that a place appears, and that place. Single limits first: of those that do it alone, the one
 * that has to give least (as a share of what might be asked of it); then joints, hand forces together, all limits, and at last the
 * zones. Amounts are halved down, the place following; what is said is proved by the same search over the relaxed job. Null where nothing does it.
 */
export function* relaxSteps(
  field: Field,
  options: FieldOptions & SearchOptions,
): Generator<Progress, Nearest | null, void> {
  const found = function* (items: readonly Relaxed[], how: SearchOptions): Generator<Progress, Place | null, void> {
    const relaxed = attempt(() => fieldOf(relaxedJob(field.raw, items), options)).value;
    if (!relaxed) return null;
    const steps = searchSteps(relaxed, { ...options, ...how });
    for (;;) {
      const step = steps.next();
      if (step.done) return step.value.places[0] ?? null;
      yield { share: 0.99, best: -0.01 };
    }
  };
  const isClear = (place: Place | null | undefined): place is Place =>
    !!place && place.spare >= CLEAR + field.keepSpare;
  const clear = function* (items: readonly Relaxed[]): Generator<Progress, Place | null, void> {
    const place = yield* found(items, { ...QUICK, most: 1 });
    return isClear(place) ? place : null;
  };
  /** A place that works with more relaxed, moved to where it works with these. */
  const still = (items: readonly Relaxed[], place: Place): Place | null => {
    const tried = attempt(() => moved(fieldOf(relaxedJob(field.raw, items), options), place)).value;
    return tried && tried.refused.length === 0 && isClear(tried.place) ? tried.place : null;
  };
  const all = relaxations(field);
  const singles = all.filter((w) => w.length === 1);
  const able: { items: Relaxed[]; share: number; place: Place }[] = [];
  for (const items of singles) {
    if (able.length >= MOST_WEIGHED) break;
    const place = yield* clear(items);
    if (place) able.push({ items, share: 1, place });
  }
  if (able.length === 0)
    for (const items of all.filter((w) => w.length > 1)) {
      const place = yield* clear(items);
      if (!place) continue;
      able.push({ items, share: 1, place });
      break;
    }
  for (const one of able) {
    let low = 0;
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (low + one.share) / 2;
      const place = still(scaled(one.items, middle), one.place);
      if (place) Object.assign(one, { share: middle, place });
      else low = middle;
      yield { share: 0.99, best: -0.01 };
    }
  }
  able.sort((a, b) => a.share - b.share);
  for (const { items, share } of able)
    for (const more of [1, 1.15, 1.4, 2]) {
      const amounts = scaled(items, Math.min(1, share * more));
      const place = yield* found(amounts, { most: 1 });
      if (place) return nearestOf(field, place, needed(field, place, amounts));
      if (share * more >= 1) break;
    }
  return null;
}

/** Of zones only those that the place stands on are named. */
function needed(field: Field, place: Place, items: readonly Relaxed[]): Relaxed[] {
  const used = new Set([place.ends.base.zoneId, place.ends.lid.zoneId]);
  const misses = new Map(
    field.job.zones.map((zone) => {
      const site = siteOf(zone);
      const on = zone.id === place.ends.base.zoneId ? place.base : zone.id === place.ends.lid.zoneId ? place.lid : null;
      return [zone.id, on ? missOf(site, on) : { footMm: 0, offMm: 0 }] as const;
    }),
  );
  return items.filter(({ what }) => {
    const [head, id, off] = what.split(':');
    if (head !== 'zone') return true;
    if (!used.has(id!)) return false;
    return off ? misses.get(id!)!.offMm > 1e-6 : misses.get(id!)!.footMm > 1e-6;
  });
}

/** A place of a relaxed job against the job as it is. */
function nearestOf(field: Field, place: Place, relax: readonly Relaxed[]): Nearest {
  const { refused } = judged(
    workingsOf(applyPlace(field.raw, { strutIndex: field.strutIndex, place }), METRIC),
    field.strutIndex,
  );
  const outside = (['base', 'lid'] as const).flatMap((end): Fails[] => {
    const zone = field.job.zones.find((z) => z.id === place.ends[end].zoneId)!;
    const { footMm, offMm } = missOf(siteOf(zone), place[end]);
    const miss = (id: string, value: number): Fails[] =>
      value > 1e-6 ? [{ id, case: null, value, limit: 0, unit: 'mm' }] : [];
    return [...miss(`zone:${zone.id}`, footMm), ...miss(`zone:${zone.id}:off`, offMm)];
  });
  return { place, fails: [...refused.map(failOf), ...outside], relax };
}

/** A finding as what stands against a place. */
export const failOf = ({ id, everyCase, case: at, value, limit, unit }: Finding): Fails => ({
  id,
  case: everyCase ? null : at,
  value,
  limit,
  unit,
});
