import { fail } from '../error';
import type { Vec3 } from '../space';
import type { Num } from './number-field';
import type { EndName, Job, JobBracket, JobLoadCase, JobPhoto, JobPoint, JobSpring, JobStrut } from './types';

export type Path = readonly (string | number)[];

/** The value at a path, or undefined. */
export function valueAt(job: Job, path: Path): unknown {
  let value: unknown = job;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<string | number, unknown>)[key];
  }
  return value;
}

function setIn(node: unknown, path: Path, value: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return value;
  const holder = (node ?? {}) as Record<string | number, unknown>;
  const next = setIn(holder[key], rest, value);
  if (Object.is(next, holder[key]) && (next !== undefined || !(key in holder))) return node;
  if (Array.isArray(node)) {
    const copy = [...(node as unknown[])];
    copy[key as number] = next;
    return copy;
  }
  const copy = { ...holder };
  if (next === undefined) delete copy[key];
  else copy[key] = next;
  return copy;
}

/** Puts a value at a path of a job, or of a part of one (undefined takes the key away); the same when nothing changes. */
export const setValue = <T = Job>(whole: T, args: { path: Path; value: unknown }): T =>
  setIn(whole, args.path, args.value) as T;

/** Puts several values at their paths as one edit: what a finding proposes. @internal for tests */
export const setValues = (
  job: Job,
  args: { settings: readonly { readonly path: Path; readonly value: unknown }[] },
): Job => args.settings.reduce((next, setting) => setValue(next, setting), job);

export type Section =
  | 'points'
  | 'masses'
  | 'struts'
  | 'springs'
  | 'loadCases'
  | 'photos'
  | 'brackets'
  | 'obstacles'
  | 'observations'
  | 'relations'
  | 'zones';

/** Index of an item of a section; throws when the id isn't there. */
export function indexOf(job: Job, section: Section, id: string): number {
  const i = ((job[section] ?? []) as readonly { id: string }[]).findIndex((item) => item.id === id);
  return i >= 0 ? i : fail(`there is no "${id}" in ${section}`, [section], 'It may have been removed meanwhile.');
}

/** An id that the section doesn't have yet: "mass", "mass2", … */
export function freshId(job: Job, section: Section, stem: string): string {
  const taken = new Set(((job[section] ?? []) as readonly { id: string }[]).map((item) => item.id));
  if (!taken.has(stem)) return stem;
  let n = 2;
  while (taken.has(`${stem}${n}`)) n++;
  return `${stem}${n}`;
}

export const append = (job: Job, section: Section, item: unknown): Job =>
  ({ ...job, [section]: [...((job[section] ?? []) as readonly unknown[]), item] }) as Job;

export const removeFrom = (job: Job, section: Section, id: string): Job => {
  const i = indexOf(job, section, id);
  return { ...job, [section]: ((job[section] ?? []) as readonly unknown[]).filter((_, k) => k !== i) } as Job;
};

/**
 * Moves a point to `at` (mm, base frame, lid closed). A coordinate that a given or an expression holds stays held:
 * it is changed at its source. Coordinates are kept to 1e-3 mm, finer than any tape; `fine` keeps them to 1e-7 mm, so that
 * relations that a solver has met still hold in the file.
 */
export function movePoint(job: Job, args: { id: string; at: Vec3; fine?: boolean }): Job {
  const i = indexOf(job, 'points', args.id);
  const old = (job.points[i] as JobPoint).at;
  const next = old.map((raw, k) => {
    if (typeof raw !== 'number') return raw;
    const value = args.at[k] as number;
    if (!Number.isFinite(value))
      return fail('a point can only be moved to finite numbers', ['points', i, 'at', k], 'Type a length.');
    const parts = args.fine ? 1e7 : 1e3;
    return Math.abs(value - raw) < (args.fine ? 2e-8 : 5e-7) ? raw : Math.round(value * parts) / parts;
  });
  return next.every((v, k) => v === old[k])
    ? job
    : carryBodies(setValue(job, { path: ['points', i, 'at'], value: next }), args.id, old, next);
}

/** Sets one coordinate of a point as typed, mm or an expression; the body of a mass there goes along by what is a number. */
export function setPointCoordinate(job: Job, args: { id: string; component: 0 | 1 | 2; value: Num }): Job {
  const i = indexOf(job, 'points', args.id);
  const old = job.points[i]!.at;
  const next = setValue(job, { path: ['points', i, 'at', args.component], value: args.value });
  return carryBodies(next, args.id, old, next.points[i]!.at);
}

/** The job with the bodies of masses at a point moved as it was. */
function carryBodies(job: Job, point: string, before: readonly Num[], after: readonly Num[]): Job {
  const by = after.map((v, k) => (typeof v === 'number' && typeof before[k] === 'number' ? v - before[k] : 0));
  if (!job.masses.some((m) => m.at === point && m.body)) return job;
  const moved = (place: readonly Num[]): Num[] =>
    place.map((v, k) => (typeof v === 'number' ? Math.round((v + by[k]!) * 1e7) / 1e7 : v));
  return {
    ...job,
    masses: job.masses.map((m) => {
      if (m.at !== point || !m.body) return m;
      const { box, cylinder } = m.body;
      return {
        ...m,
        body: {
          ...m.body,
          ...(box ? { box: { ...box, centre: moved(box.centre) } } : {}),
          ...(cylinder ? { cylinder: { ...cylinder, from: moved(cylinder.from), to: moved(cylinder.to) } } : {}),
        },
      };
    }) as Job['masses'],
  };
}

/** Which coordinates of a point are held by a given or an expression. */
export const heldCoordinates = (point: JobPoint): readonly [boolean, boolean, boolean] => {
  const held = point.at.map((raw) => typeof raw !== 'number');
  return [held[0]!, held[1]!, held[2]!];
};

export function addPoint(
  job: Job,
  args: { id: string; name: string; on: 'base' | 'lid'; at: readonly [Num, Num, Num] },
): Job {
  return append(job, 'points', args);
}

/** Everything that uses a point, in words; empty when it can go. */
export function usesOfPoint(job: Job, id: string): string[] {
  const uses: string[] = [];
  if (job.hinge.a === id || job.hinge.b === id) uses.push('the hinge');
  if (job.grip === id) uses.push('the grip');
  if (job.latch?.at === id) uses.push('the latch');
  if ((job.outline ?? []).includes(id)) uses.push('the outline');
  for (const m of job.masses) if (m.at === id) uses.push(`mass "${m.name ?? m.id}"`);
  for (const s of job.struts) if (s.base === id || s.lid === id) uses.push(`strut "${s.name ?? s.id}"`);
  for (const s of job.springs ?? []) if (s.base === id || s.lid === id) uses.push(`spring "${s.name ?? s.id}"`);
  for (const o of job.observations ?? []) if (o.points.includes(id)) uses.push(`reading "${o.name ?? o.id}"`);
  for (const r of job.relations ?? []) if (r.points?.includes(id)) uses.push(`the condition "${r.name ?? r.id}"`);
  for (const [i, w] of (job.weighings?.lifted?.readings ?? []).entries())
    if (w.between.includes(id)) uses.push(`weighing ${i + 1} of the lifted lid`);
  for (const e of job.papers?.edges ?? []) if (e.from === id || e.to === id) uses.push(`the edge "${e.name}"`);
  return uses;
}

/** Removes a point that nothing uses; otherwise throws and says what uses it. */
export function removePoint(job: Job, args: { id: string }): Job {
  const uses = usesOfPoint(job, args.id);
  const i = indexOf(job, 'points', args.id);
  if (uses.length > 0)
    return fail(`the point "${args.id}" is used by ${uses.join(', ')}`, ['points', i], 'Remove that first.');
  return removeFrom(job, 'points', args.id);
}

/** Adds a mass item with a lid point of its own, closed position `at`. */
export function addMass(job: Job, args: { name: string; kg: Num; at: Vec3 }): Job {
  const id = freshId(job, 'masses', 'mass');
  const pointId = freshId(job, 'points', `cg-${id}`);
  const withPoint = addPoint(job, { id: pointId, name: `Centre of ${args.name}`, on: 'lid', at: args.at });
  return append(withPoint, 'masses', { id, name: args.name, kg: args.kg, at: pointId });
}

/** Removes a mass, its mention in load cases and weighings, and its point if nothing else uses it. */
export function removeMass(job: Job, args: { id: string }): Job {
  const mass = job.masses[indexOf(job, 'masses', args.id)]!;
  let next = removeFrom(job, 'masses', args.id);
  next = {
    ...next,
    loadCases: next.loadCases.map((c) =>
      c.off?.includes(args.id) ? { ...c, off: c.off.filter((m) => m !== args.id) } : c,
    ),
  };
  for (const way of ['pulls', 'lifted'] as const) {
    const { of, off } = next.weighings?.[way] ?? {};
    if (of === args.id) next = setValue(next, { path: ['weighings', way, 'of'], value: undefined });
    if (off?.includes(args.id))
      next = setValue(next, { path: ['weighings', way, 'off'], value: off.filter((m) => m !== args.id) });
    (next.weighings?.[way]?.readings ?? []).forEach(({ on }, i) => {
      if (on?.includes(args.id))
        next = setValue(next, {
          path: ['weighings', way, 'readings', i, 'on'],
          value: on.filter((m) => m !== args.id),
        });
    });
  }
  return usesOfPoint(next, mass.at).length === 0 ? removeFrom(next, 'points', mass.at) : next;
}

export function addLoadCase(job: Job, args: Omit<JobLoadCase, 'id'>): Job {
  return append(job, 'loadCases', { id: freshId(job, 'loadCases', 'case'), ...args });
}

export function removeLoadCase(job: Job, args: { id: string }): Job {
  if (job.loadCases.length <= 1)
    return fail('the last load case must stay', ['loadCases'], 'Change it, or add another first.');
  let next = removeFrom(job, 'loadCases', args.id);
  // what was measured in it stays, but is left out: in another case it would mislead
  const own = next.proof?.loadCase === args.id;
  if (own) next = setValue(next, { path: ['proof', 'loadCase'], value: undefined });
  if (next.proof?.readings)
    next = setValue(next, {
      path: ['proof', 'readings'],
      value: next.proof.readings.map((r) => {
        if (r.loadCase === undefined ? !own : r.loadCase !== args.id) return r;
        const { loadCase: _gone, ...rest } = r;
        return { ...rest, use: false };
      }),
    });
  return next;
}

/** Switches a mass on or off in a load case. */
export function setMassOff(job: Job, args: { loadCase: string; mass: string; off: boolean }): Job {
  const i = indexOf(job, 'loadCases', args.loadCase);
  const others = (job.loadCases[i]!.off ?? []).filter((m) => m !== args.mass);
  return setValue(job, { path: ['loadCases', i, 'off'], value: args.off ? [...others, args.mass] : others });
}

export function addStrut(job: Job, args: { strut: JobStrut }): Job {
  return append(job, 'struts', args.strut);
}

/** Adds a spring with an id of its own: a coil between two points that are there, or a torsion spring round the hinge. */
export function addSpring(job: Job, args: { spring: Omit<JobSpring, 'id'> }): Job {
  return append(job, 'springs', { id: freshId(job, 'springs', 'spring'), ...args.spring });
}

/** Removes a spring, and its end points that nothing else uses. */
export function removeSpring(job: Job, args: { id: string }): Job {
  const spring = job.springs?.[indexOf(job, 'springs', args.id)];
  let next = removeFrom(job, 'springs', args.id);
  for (const point of [spring?.base, spring?.lid])
    if (point && next.points.some((p) => p.id === point) && usesOfPoint(next, point).length === 0)
      next = removeFrom(next, 'points', point);
  return next;
}

/** Removes a strut, its brackets, the relations about its length, and the end points that nothing else uses. */
export function removeStrut(job: Job, args: { id: string }): Job {
  const strut = job.struts[indexOf(job, 'struts', args.id)]!;
  let next = removeFrom(job, 'struts', args.id);
  next = {
    ...next,
    loadCases: next.loadCases.map((c) =>
      c.lost?.includes(args.id) ? { ...c, lost: c.lost.filter((lost) => lost !== args.id) } : c,
    ),
  };
  if (next.proof?.readings?.some((r) => r.strut === args.id))
    next = setValue(next, {
      path: ['proof', 'readings'],
      value: next.proof.readings.filter((r) => r.strut !== args.id),
    });
  if (next.brackets) next = { ...next, brackets: next.brackets.filter((b) => b.strut !== args.id) };
  if (next.relations) next = { ...next, relations: next.relations.filter((r) => r.strut !== args.id) };
  for (const point of [strut.base, strut.lid])
    if (next.points.some((p) => p.id === point) && usesOfPoint(next, point).length === 0)
      next = removeFrom(next, 'points', point);
  return next;
}

/** Sets the azimuth (and tilt) of a strut end that stands on a mount. */
export function turnMount(job: Job, args: { strut: string; end: EndName; azimuthDeg: Num; tiltDeg?: Num }): Job {
  const i = indexOf(job, 'struts', args.strut);
  const end = job.struts[i]!.ends[args.end];
  if (!end.mount)
    return fail('this end has no mount to turn', ['struts', i, 'ends', args.end], 'Give it a mount first.');
  const next = {
    ...end,
    azimuthDeg: args.azimuthDeg,
    ...(args.tiltDeg === undefined ? {} : { tiltDeg: args.tiltDeg }),
  };
  return setValue(job, { path: ['struts', i, 'ends', args.end], value: next });
}

/** Puts a strut end on a mount instead of a bare stem; azimuth and tilt are degrees. */
export function standOnMount(
  job: Job,
  args: { strut: string; end: EndName; normal: Vec3; reference: Vec3; azimuthDeg: number; tiltDeg: number },
): Job {
  const i = indexOf(job, 'struts', args.strut);
  const { stem: _stem, ...rest } = job.struts[i]!.ends[args.end];
  const next = {
    ...rest,
    mount: { normal: args.normal, reference: args.reference },
    azimuthDeg: args.azimuthDeg,
    tiltDeg: args.tiltDeg,
  };
  return setValue(job, { path: ['struts', i, 'ends', args.end], value: next });
}

/** Gives a strut end a bare stem direction instead of a mount. */
export function useBareStem(job: Job, args: { strut: string; end: EndName; stem: Vec3 }): Job {
  const i = indexOf(job, 'struts', args.strut);
  const { mount: _mount, azimuthDeg: _azimuth, tiltDeg: _tilt, ...rest } = job.struts[i]!.ends[args.end];
  return setValue(job, { path: ['struts', i, 'ends', args.end], value: { ...rest, stem: args.stem } });
}

export function addPhoto(job: Job, args: { photo: JobPhoto }): Job {
  const rest = (job.photos ?? []).filter((p) => p.id !== args.photo.id);
  return { ...job, photos: [...rest, args.photo] };
}

/** Removes a photo and the marks on it. */
export function removePhoto(job: Job, args: { id: string }): Job {
  const next = removeFrom(job, 'photos', args.id);
  const kept = next.observations?.filter((o) => o.kind !== 'photo-mark' || o.photo !== args.id);
  return kept && kept.length < next.observations!.length ? { ...next, observations: kept } : next;
}

/** Changes keys of a photo; undefined takes a key away. */
export function setPhoto(job: Job, args: { id: string; patch: Partial<JobPhoto> }): Job {
  const i = indexOf(job, 'photos', args.id);
  const next = { ...job.photos![i]!, ...args.patch };
  for (const key of Object.keys(args.patch) as (keyof JobPhoto)[]) if (next[key] === undefined) delete next[key];
  return setValue(job, { path: ['photos', i], value: next });
}

export function addBracket(job: Job, args: { bracket: JobBracket }): Job {
  return append(job, 'brackets', args.bracket);
}

export function removeBracket(job: Job, args: { id: string }): Job {
  return removeFrom(job, 'brackets', args.id);
}

/** Says why a question of a finding need not be asked, or, without a reason, asks it again. */
export function dismiss(job: Job, args: { finding: string; about?: string | undefined; reason?: string }): Job {
  const { finding, about, reason } = args;
  const others = (job.dismissed ?? []).filter((d) => d.finding !== finding || d.about !== about);
  const dismissed =
    reason === undefined ? others : [...others, { finding, ...(about === undefined ? {} : { about }), reason }];
  return setValue(job, { path: ['dismissed'], value: dismissed.length > 0 ? dismissed : undefined });
}

/** Adds a latch with a base point of its own, closed position `at`; the same where there is one. */
export function addLatch(job: Job, args: { at: Vec3 }): Job {
  if (job.latch) return job;
  const id = freshId(job, 'points', 'latch');
  return { ...addPoint(job, { id, name: 'Latch', on: 'base', at: args.at }), latch: { at: id } };
}

/** Removes the latch, and its point if nothing else uses it. */
export function removeLatch(job: Job): Job {
  const { latch, ...rest } = job;
  if (!latch) return job;
  return usesOfPoint(rest, latch.at).length === 0 ? removeFrom(rest, 'points', latch.at) : rest;
}

/** Replaces all givens; fields that refer to a name that is gone are reported by resolveJob, never changed here. */
export const setGivens = (job: Job, args: { givens: NonNullable<Job['givens']> }): Job => ({
  ...job,
  givens: args.givens,
});
