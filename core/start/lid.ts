import { type Job, type JobPhoto, numbered } from '../job';
import type { ViewMm } from '../photo';
import { STANDARD_GRAVITY } from '../quantity';
import { type Vec3, distance, rotatePoint, toRad } from '../space';
import { BALL_STUD, USUAL_GAS } from './strut';

/** What a lid can't be without, in the order a person is asked for it. */
export const PLACES = ['hinge', 'edge', 'grip', 'base', 'lid', 'mass'] as const;
export type PlaceName = (typeof PLACES)[number];

/** A lid as seen from its side, lid closed: what little it takes to begin a job. */
export interface SeenLid {
  readonly title: string;
  /** X forward and Z up, mm. */
  readonly places: Readonly<Record<PlaceName, ViewMm>>;
  /** Hinge to hinge, mm. */
  readonly widthMm: number;
  readonly kg: number;
  readonly openDeg: number;
  readonly photos: JobPhoto[];
  /** What nobody stated of it, as the job's `assumed` names it. */
  readonly assumed?: readonly string[];
}

/** How far a strut is set in from the side of a new lid, mm. */
const INSET_MM = 40;

/** A strut whose lengths and force fit its pivots roughly, so that every result of a new job is live. */
function usualSpec({ places, kg, openDeg }: SeenLid): Job['struts'][number]['spec'] {
  const inPlane = ([x, z]: ViewMm): Vec3 => [x, 0, z];
  const [hinge, base, lid] = [inPlane(places.hinge), inPlane(places.base), inPlane(places.lid)];
  const opening: Vec3 = places.edge[0] >= places.hinge[0] ? [0, -1, 0] : [0, 1, 0];
  const closedMm = distance(lid, base);
  const openMm = distance(rotatePoint(lid, hinge, opening, toRad(openDeg)), base);
  const strokeMm = Math.max(20, Math.ceil((Math.abs(openMm - closedMm) + 16) / 5) * 5);
  const extendedMm = Math.max(Math.ceil(Math.max(openMm, closedMm)) + 8, 2 * strokeMm + 60);
  const [rx, rz] = [lid[0] - hinge[0], lid[2] - hinge[2]];
  const turning = Math.abs(rx * (base[2] - hinge[2]) - rz * (base[0] - hinge[0]));
  const armMm = Math.max(30, turning / Math.max(closedMm, 1));
  const momentNmm = kg * STANDARD_GRAVITY * Math.abs(places.mass[0] - hinge[0]);
  const forceN = Math.min(5000, Math.max(100, Math.round((1.15 * momentNmm) / armMm / 50) * 50));
  return { extendedMm, strokeMm, forceN, ...USUAL_GAS };
}

/** The whole job of a lid seen from its side: hinges and corners at both sides of its width, one strut, two load cases. */
export function jobOfLid(seen: SeenLid): Job {
  const { places, widthMm, kg, openDeg } = seen;
  const half = widthMm / 2;
  const side = -Math.round(half - INSET_MM);
  const point = (id: string, name: string, on: 'base' | 'lid', place: PlaceName, y: number): Job['points'][number] => ({
    id,
    name,
    on,
    at: [places[place][0], y, places[place][1]],
  });
  return numbered({
    format: 'lidwright-job',
    version: 1,
    title: seen.title,
    points: [
      point('hingeA', 'Left hinge', 'base', 'hinge', half),
      point('hingeB', 'Right hinge', 'base', 'hinge', -half),
      point('c1', 'Corner at left hinge', 'lid', 'hinge', half),
      point('c2', 'Corner at left edge', 'lid', 'edge', half),
      point('c3', 'Corner at right edge', 'lid', 'edge', -half),
      point('c4', 'Corner at right hinge', 'lid', 'hinge', -half),
      point('grip', 'Grip', 'lid', 'grip', 0),
      point('s1-base', 'Strut, base end', 'base', 'base', side),
      point('s1-lid', 'Strut, lid end', 'lid', 'lid', side),
      point('cg-lid', 'Centre of mass', 'lid', 'mass', 0),
    ],
    hinge: { a: 'hingeA', b: 'hingeB', opens: 'up', frictionNm: 0 },
    travel: { openDeg, stop: 'lid' },
    grip: 'grip',
    outline: ['c1', 'c2', 'c3', 'c4'],
    masses: [{ id: 'lid', name: 'Lid', kg, at: 'cg-lid' }],
    struts: [
      {
        id: 's1',
        name: 'The strut',
        base: 's1-base',
        lid: 's1-lid',
        quantity: 1,
        spec: usualSpec(seen),
        ends: { base: BALL_STUD, lid: BALL_STUD },
      },
    ],
    loadCases: [
      { id: 'normal', off: [], pitchDeg: 0, rollDeg: 0, tempC: 20, force: 'nominal' },
      { id: 'cold', off: [], pitchDeg: 0, rollDeg: 0, tempC: -10, force: 'low' },
    ],
    limits: { handOpenN: 150, handCloseN: 200, reserveMm: 5, holdOpenNm: 5 },
    photos: seen.photos,
    ...(seen.assumed && seen.assumed.length > 0 ? { assumed: [...seen.assumed] } : {}),
  });
}
