import { type EndName, type Job, type JobBracket, type JobEnd, type Spec, freshId, usesOfPoint } from '../job';
import type { Vec3 } from '../space';

/** How one end of a place is fixed: on its zone, and the stem in whole degrees on it. */
export interface PlaceEnd {
  readonly zoneId: string;
  readonly fitting: string;
  readonly rangeDeg: number;
  readonly normal: Vec3;
  readonly reference: Vec3;
  readonly azimuthDeg: number;
  readonly tiltDeg: number;
  /** Unit, base axes, lid closed. */
  readonly stem: Vec3;
}

/** What is fitted: enough to put it into the job. Balls in base axes, lid closed, mm. */
export interface Fitted {
  readonly base: Vec3;
  readonly lid: Vec3;
  readonly quantity: 1 | 2;
  /** How far the lid may open, degrees. */
  readonly openDeg: number;
  readonly spec: Spec;
  readonly ends: Readonly<Record<EndName, PlaceEnd>>;
  /** First brackets, where zones say what they are made of; their ids and their strut are found when they are fitted. */
  readonly brackets?: Partial<Readonly<Record<EndName, JobBracket>>>;
}

/** A point of the strut at a new place; one that something else stands on stays, and the strut gets its own. */
function withPoint(job: Job, strutIndex: number, end: EndName, at: Vec3): Job {
  const id = job.struts[strutIndex]![end];
  const point = job.points.find((p) => p.id === id);
  if (point && usesOfPoint(job, id).length <= 1)
    return { ...job, points: job.points.map((p) => (p.id === id ? { ...p, at } : p)) };
  const fresh = freshId(job, 'points', id);
  return {
    ...job,
    points: [...job.points, { ...(point ?? {}), id: fresh, on: end, at }],
    struts: job.struts.map((s, i) => (i === strutIndex ? { ...s, [end]: fresh } : s)),
  };
}

/** A bracket at a strut's end: in place of the first that holds it, else a new one. */
function withBracket(job: Job, strut: string, end: EndName, bracket: JobBracket): Job {
  const brackets = job.brackets ?? [];
  const own = brackets.findIndex((b) => b.strut === strut && b.end === end);
  if (own >= 0)
    return { ...job, brackets: brackets.map((b, i) => (i === own ? { ...bracket, id: b.id, strut, end } : b)) };
  return { ...job, brackets: [...brackets, { ...bracket, id: freshId(job, 'brackets', 'b1'), strut, end }] };
}

/** Fits a place to a strut of the job document (its index): points, spec, quantity, ends, first brackets and how far the lid opens, one edit. */
export function applyPlace(job: Job, args: { readonly strutIndex: number; readonly place: Fitted }): Job {
  const { strutIndex, place } = args;
  const moved = withPoint(withPoint(job, strutIndex, 'base', place.base), strutIndex, 'lid', place.lid);
  const endOf = (end: EndName): JobEnd => {
    // a bare stem and a middle of its swing were for the old place
    const { stem: _stem, swingMiddle: _middle, ...kept } = job.struts[strutIndex]!.ends[end];
    const { fitting, rangeDeg, normal, reference, azimuthDeg, tiltDeg } = place.ends[end];
    const range = fitting === kept.fitting ? kept.rangeDeg : rangeDeg;
    return { ...kept, fitting, rangeDeg: range, mount: { ...kept.mount, normal, reference }, azimuthDeg, tiltDeg };
  };
  const fitted: Job = {
    ...moved,
    travel: { ...moved.travel, openDeg: place.openDeg },
    struts: moved.struts.map((strut, i) => {
      if (i !== strutIndex) return strut;
      const { assumed: _assumed, listedMm: _listed, ...spec } = strut.spec;
      const { unstated: _unstated, ...fitted } = place.spec;
      return {
        ...strut,
        quantity: place.quantity,
        spec: { ...spec, ...fitted },
        ends: { base: endOf('base'), lid: endOf('lid') },
      };
    }),
  } as Job;
  return (['base', 'lid'] as const).reduce<Job>((now, end) => {
    const bracket = place.brackets?.[end];
    return bracket ? withBracket(now, job.struts[strutIndex]!.id, end, bracket) : now;
  }, fitted);
}
