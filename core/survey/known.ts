import type { Job, KnownKind, ResolvedJob } from '../job';
import {
  type Vec3,
  add,
  angleBetween,
  distance,
  dot,
  mirrorPoint,
  norm,
  scale,
  sin,
  sub,
  toDeg,
  toRad,
  unit,
} from '../space';
import type { NewReading } from './entry';

/** Something known of a lid without a tape, in the order it is asked. */
interface KnownAbout {
  readonly words: string;
  /** What its ± is of. */
  readonly sigmaOf: string;
  /** One standard deviation where nobody says otherwise, mm. Common practice, no source. */
  readonly sigmaMm: number;
}

export const KNOWN: Readonly<Record<KnownKind, KnownAbout>> = {
  rectangle: { words: 'The lid is a flat rectangle', sigmaOf: 'a corner off the rectangle', sigmaMm: 2 },
  square: { words: 'Its corners are square', sigmaOf: 'the end of the shorter side off square', sigmaMm: 2 },
  hinge: { words: 'The hinge line is straight and level', sigmaOf: 'a hinge off the line', sigmaMm: 1.5 },
  alike: { words: 'Left and right are alike', sigmaOf: 'a point off its twin’s image', sigmaMm: 2 },
};

/** A corner this near to 90° in the job may be meant square. */
const NEARLY_SQUARE_DEG = 20;
/** A point this near to the hinge line is taken to be another hinge on it; a line this far off level is not called level. */
const BESIDE_LINE_MM = 15;
const NEARLY_LEVEL_DEG = 20;
/** Twins lie this near to each other's image: a start is no measurement. Share of the distance between them, and least, mm. */
const TWIN_SHARE = 0.1;
const TWIN_LEAST_MM = 25;

/** What follows from something known, as readings without a value; or why nothing does, in a sentence. */
export function knownReadings(
  job: ResolvedJob,
  what: KnownKind,
): { readonly readings: readonly NewReading[] } | { readonly why: string } {
  const at = new Map(job.points.map((p) => [p.id, p.at]));
  const { outline, hinge } = job;
  const [a, b] = [at.get(hinge.a)!, at.get(hinge.b)!];
  const reading = (
    kind: NewReading['kind'],
    points: readonly string[],
    more: Partial<NewReading> = {},
  ): NewReading => ({
    kind,
    points: [...points],
    known: what,
    ...more,
  });
  switch (what) {
    case 'rectangle':
      return outline.length === 4
        ? { readings: [reading('rectangle', outline)] }
        : { why: `The outline has ${outline.length} corners; a rectangle has 4.` };
    case 'square': {
      if (job.observations.some((o) => o.known === 'rectangle')) return { why: 'The flat rectangle says so already.' };
      const n = outline.length;
      const corners = outline.flatMap((id, i) => {
        const [before, after] = [outline[(i + n - 1) % n]!, outline[(i + 1) % n]!];
        const legs = [before, after].map((leg) => sub(at.get(leg)!, at.get(id)!)) as [Vec3, Vec3];
        const square = n > 2 && Math.abs(toDeg(angleBetween(...legs)) - 90) < NEARLY_SQUARE_DEG;
        return square ? [reading('square-corner', [id, before, after])] : [];
      });
      return corners.length > 0 ? { readings: corners } : { why: 'No corner of the outline is near to square.' };
    }
    case 'hinge': {
      const along = unit(sub(b, a));
      if (Math.abs(along[2]) > sin(toRad(NEARLY_LEVEL_DEG)))
        return { why: 'This hinge line is far from level. Hold it under What must hold, as plumb for a door.' };
      const ends = endsOf(job);
      const others = job.points.filter((p) => {
        if (p.id === hinge.a || p.id === hinge.b || p.on === 'lid' || ends.has(p.id)) return false;
        const r = sub(p.at, a);
        return norm(sub(r, scale(along, dot(r, along)))) < BESIDE_LINE_MM;
      });
      return {
        readings: [
          reading('height-difference', [hinge.a, hinge.b], { valueMm: 0 }),
          ...others.map((p) => reading('on-line', [p.id, hinge.a, hinge.b])),
        ],
      };
    }
    case 'alike': {
      const middle = scale(add(a, b), 0.5);
      const across = unit(sub(b, a));
      const ends = endsOf(job);
      const list = job.points.filter((p) => p.id !== hinge.a && p.id !== hinge.b && !ends.has(p.id));
      const taken = new Set<string>();
      const pairs = list.flatMap((p) => {
        if (taken.has(p.id)) return [];
        const image = mirrorPoint(p.at, middle, across);
        const reach = Math.max(TWIN_LEAST_MM, TWIN_SHARE * distance(p.at, image));
        if (distance(p.at, image) < 2 * reach) return [];
        const near = list
          .filter((q) => q.id !== p.id && q.on === p.on && !taken.has(q.id))
          .map((q) => ({ q, off: distance(q.at, image) }))
          .sort((one, other) => one.off - other.off)[0];
        if (!near || near.off > reach) return [];
        taken.add(p.id).add(near.q.id);
        return [reading('mirror-twin', [p.id, near.q.id])];
      });
      return pairs.length > 0
        ? { readings: pairs }
        : { why: 'No two points lie like images of each other about the middle of the hinges.' };
    }
  }
}

/** Centres of mass and the ends of struts and springs: nobody's twin, and nothing that a tape is laid to before they are chosen. */
export function endsOf(job: Pick<ResolvedJob, 'masses' | 'struts' | 'springs'>): ReadonlySet<string> {
  const ends = [...job.struts, ...job.springs].flatMap(({ base, lid }) => [base, lid]);
  return new Set([...job.masses.map((m) => m.at), ...ends].filter((id) => id !== undefined));
}

/** Whether a job holds something for known. */
export const isKnown = (job: Pick<Job, 'observations'>, what: KnownKind): boolean =>
  (job.observations ?? []).some((o) => o.known === what);
