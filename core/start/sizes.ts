import { LidwrightError, type Issue } from '../error';
import { applyPlace, fieldOf, search } from '../find';
import { type Job, numbered, resolveJob, usualCases } from '../job';
import { type Vec3, add, cross, scale, tan, toRad } from '../space';
import { type Workings, workings } from '../workings';
import { BALL_STUD, USUAL_GAS } from './strut';

/** One layer of a lid, from its inside outwards. */
export interface Layer {
  readonly name: string;
  readonly thicknessMm: number;
  readonly densityKgM3: number;
}

/** Something that is fixed to a lid, or lies on it. */
export interface Thing {
  readonly name: string;
  readonly kg: number;
  /** Its centre: from the hinge line towards the free edge; over the lid's outer face; to the left of the middle, mm. */
  readonly outMm: number;
  readonly overMm?: number;
  readonly leftMm?: number;
  readonly comesOff?: boolean;
}

/** How a lid lies when it is shut, and which way it goes from there. */
export const LIES = {
  'opens-up': { words: 'lies level, opens up', along: [-1, 0, 0], out: [0, 0, 1] },
  'opens-down': { words: 'lies level overhead, opens down', along: [-1, 0, 0], out: [0, 0, -1] },
  flap: { words: 'hangs upright from its upper edge, opens up', along: [0, 0, -1], out: [-1, 0, 0] },
  ramp: { words: 'stands upright on its lower edge, opens down', along: [0, 0, 1], out: [-1, 0, 0] },
  'door-left': { words: 'a door, hinges at its left', along: [0, -1, 0], out: [-1, 0, 0] },
  'door-right': { words: 'a door, hinges at its right', along: [0, 1, 0], out: [-1, 0, 0] },
} as const satisfies Record<string, { words: string; along: Vec3; out: Vec3 }>;
export type Lie = keyof typeof LIES;

/**
 * What a tape tells of a lid: enough for a whole live job. Sizes that are left out are taken from SIZES_TAKEN and
 * marked as assumed in the job.
 */
export interface LidSizes {
  readonly title?: string;
  /** Along the hinge line; from the hinged to the free edge, mm. */
  readonly widthMm: number;
  readonly depthMm: number;
  readonly layers: readonly Layer[];
  /** Mass of the lid alone as weighed; from its layers where not given. */
  readonly kg?: number;
  readonly lies?: Lie;
  /** From the hinged edge to the hinge line, mm. */
  readonly insetMm?: number;
  /** Room below the lid (behind it, above it) that a strut may use: of a level lid the hinge's height over the floor, mm. */
  readonly heightMm?: number;
  readonly openDeg?: number;
  /** Turn of the hinge line away from the hinged edge, in the lid's plane, degrees. */
  readonly skewDeg?: number;
  /** Three at most. */
  readonly things?: readonly Thing[];
  readonly quantity?: 1 | 2;
  readonly coldC?: number;
  readonly hotC?: number;
  /** Of the ground, any way, degrees. */
  readonly slopeDeg?: number;
  /** Most at the grip to lift, and to shut, N. */
  readonly handOpenN?: number;
  readonly handCloseN?: number;
  /** Most energy that the lid may throw itself open or shut with, J; no limit where not given. */
  readonly letGoJ?: number;
  readonly seal?: { readonly forceN: number; readonly overMm: number };
}

/** Taken where nobody says otherwise. Common practice, no source; all marked as assumed. */
export const SIZES_TAKEN = {
  insetMm: 0,
  heightMm: 400,
  openDeg: 75,
  coldC: -20,
  hotC: 50,
  slopeDeg: 5,
  handOpenN: 150,
  handCloseN: 150,
} as const;
/** A lid wider than this gets a pair of struts, mm. Common practice, no source. */
const PAIR_FROM_MM = 700;
export const MOST_THINGS = 3;
/** How far a strut is set in from the side of the lid, mm. */
const SIDE_MM = 40;

const RANGES = {
  widthMm: ['the width', 50, 10_000, 'mm'],
  depthMm: ['the depth', 50, 10_000, 'mm'],
  kg: ['the mass of the lid', 0.01, 5000, 'kg'],
  insetMm: ['the hinge inset', 0, 5000, 'mm'],
  heightMm: ['the height of the hinge', 20, 5000, 'mm'],
  openDeg: ['the opening angle', 5, 180, '°'],
  skewDeg: ['the skew of the hinge line', -60, 60, '°'],
  coldC: ['the lowest temperature', -60, 60, '°C'],
  hotC: ['the highest temperature', -20, 120, '°C'],
  slopeDeg: ['the slope', 0, 45, '°'],
  handOpenN: ['the most hand force to open', 1, 5000, 'N'],
  handCloseN: ['the most hand force to shut', 1, 5000, 'N'],
  letGoJ: ['the most energy when let go', 0, 10_000, 'J'],
} as const satisfies Partial<Record<keyof LidSizes, readonly [string, number, number, string]>>;

/** Every size that no lid has, in words; nothing is thrown. */
export function sizeIssues(sizes: LidSizes): Issue[] {
  const issues: Issue[] = [];
  const held = (
    where: (string | number)[],
    [name, least, most, unit]: readonly [string, number, number, string],
    value?: number,
  ) => {
    if (value !== undefined && !(value >= least && value <= most))
      issues.push({
        what: `${name} is ${value} ${unit}`,
        where,
        advice: `It must be ${least} to ${most} ${unit}.`,
      });
  };
  for (const key of Object.keys(RANGES) as (keyof typeof RANGES)[]) held([key], RANGES[key], sizes[key]);
  if (sizes.layers.length === 0)
    issues.push({
      what: 'the lid has no layer',
      where: ['layers'],
      advice: 'Give a thickness and what it is made of.',
    });
  sizes.layers.forEach((layer, i) => {
    held(['layers', i, 'thicknessMm'], [`the thickness of "${layer.name}"`, 0.1, 1000, 'mm'], layer.thicknessMm);
    held(['layers', i, 'densityKgM3'], [`the density of "${layer.name}"`, 1, 25_000, 'kg/m³'], layer.densityKgM3);
  });
  const things = sizes.things ?? [];
  if (things.length > MOST_THINGS)
    issues.push({
      what: `there are ${things.length} things on the lid`,
      where: ['things'],
      advice: `Give the heaviest ${MOST_THINGS} here; add the others to the job.`,
    });
  things.forEach((thing, i) => held(['things', i, 'kg'], [`the mass of "${thing.name}"`, 0, 5000, 'kg'], thing.kg));
  if ((sizes.insetMm ?? 0) >= sizes.depthMm)
    issues.push({
      what: 'the hinge line lies beyond the free edge',
      where: ['insetMm'],
      advice: 'The inset runs from the hinged edge to the hinge line: it is smaller than the depth.',
    });
  return issues;
}

/** Mass, kg, and height of the centre over the inside face, mm, of a plate of layers. */
export function plateOf({ widthMm, depthMm, layers }: Pick<LidSizes, 'widthMm' | 'depthMm' | 'layers'>): {
  readonly kg: number;
  readonly centreMm: number;
  readonly thicknessMm: number;
} {
  let [kg, moment, thicknessMm] = [0, 0, 0];
  for (const layer of layers) {
    const own = widthMm * depthMm * layer.thicknessMm * layer.densityKgM3 * 1e-9;
    moment += own * (thicknessMm + layer.thicknessMm / 2);
    kg += own;
    thicknessMm += layer.thicknessMm;
  }
  return { kg, centreMm: kg > 0 ? moment / kg : thicknessMm / 2, thicknessMm };
}

/** A lid's own axes: where a spot so far out from the hinge, over the inside face and to the left lies, mm. */
export interface LidAxes {
  readonly along: Vec3;
  readonly out: Vec3;
  readonly left: Vec3;
  readonly spot: (outMm: number, overMm: number, leftMm: number, perMm?: number) => Vec3;
}

const round = (p: Vec3, to = 1000): Vec3 => [
  Math.round(p[0] * to) / to + 0,
  Math.round(p[1] * to) / to + 0,
  Math.round(p[2] * to) / to + 0,
];

/** The axes of a lid that lies so. */
export function lidAxes(lie: Lie): LidAxes {
  const { along, out }: { along: Vec3; out: Vec3 } = LIES[lie];
  // seen by somebody who stands at the free edge, or before the door with its upper end to the left
  const left: Vec3 = lie.startsWith('door') ? [0, 0, 1] : [0, 1, 0];
  const spot = (outMm: number, overMm: number, leftMm: number, perMm = 1000): Vec3 =>
    round(add(add(scale(along, outMm), scale(out, overMm)), scale(left, leftMm)), perMm);
  return { along, out, left, spot };
}

/** "up" or "down" so that the lid opens outwards: by its centre of mass, the grip where that neither rises nor falls. */
function opensOf({ along, out }: LidAxes, centre: Vec3, grip: Vec3): 'up' | 'down' {
  const axis = cross(along, out);
  // an upright hinge: anticlockwise seen from above is "up"
  if (Math.abs(axis[2]) > 0.5) return axis[2] > 0 ? 'up' : 'down';
  const rise = (p: Vec3): number => cross(axis, p)[2];
  return (Math.abs(rise(centre)) > 1e-6 ? rise(centre) : rise(grip)) > 0 ? 'up' : 'down';
}

/** What its sides are called. */
const sidesOf = (lie: Lie): readonly [string, string] =>
  lie.startsWith('door') ? ['Upper', 'Lower'] : ['Left', 'Right'];

/** Zones of a box below the lid: its two side walls, and the lid's inside less 20 mm all round. */
function zonesOf(sizes: LidSizes, axes: LidAxes, heightMm: number, insetMm: number): NonNullable<Job['zones']> {
  const { spot, left, out } = axes;
  const [half, reach] = [sizes.widthMm / 2, sizes.depthMm - insetMm];
  const edge = Math.min(20, sizes.depthMm / 10, sizes.widthMm / 10);
  const [near, far] = [Math.min(0, -insetMm) + edge, reach - edge];
  const [deep, shallow] = [-heightMm + Math.min(20, heightMm / 10), -Math.min(20, heightMm / 10)];
  const wall = (id: string, name: string, side: 1 | -1): NonNullable<Job['zones']>[number] => ({
    ...{ id, name, on: 'base' },
    corners: [
      spot(near, deep, side * half),
      spot(far, deep, side * half),
      spot(far, shallow, side * half),
      spot(near, shallow, side * half),
    ],
    faces: round(scale(left, -side)),
    offMm: [15, 60],
    strength: 'plain',
  });
  const [first, second] = sidesOf(axes.left[2] === 1 ? 'door-left' : 'opens-up');
  return [
    wall('wall-left', `${first} wall`, 1),
    wall('wall-right', `${second} wall`, -1),
    {
      ...{ id: 'inside', name: 'Inside of the lid', on: 'lid' },
      corners: [
        spot(near, 0, half - edge),
        spot(far, 0, half - edge),
        spot(far, 0, -half + edge),
        spot(near, 0, -half + edge),
      ],
      faces: round(scale(out, -1)),
      offMm: [15, 60],
      strength: 'plain',
    },
  ];
}

/**
 * A live job from a lid's sizes: points, masses, zones, load cases, limits, and a strut that nobody has chosen yet.
 * Origin in the middle of the hinge line; X away from whoever opens it, Y to his left, Z up. Throws a LidwrightError
 * with every size that no lid has.
 */
export function lidOfSizes(sizes: LidSizes): Job {
  const [first, ...also] = sizeIssues(sizes);
  if (first) throw new LidwrightError(first, also);
  const lie = sizes.lies ?? 'opens-up';
  const given = {
    ...SIZES_TAKEN,
    ...Object.fromEntries(Object.entries(sizes).filter(([, v]) => v !== undefined)),
  } as LidSizes & typeof SIZES_TAKEN;
  const { insetMm, heightMm, openDeg, skewDeg = 0, things = [] } = given;
  const axes = lidAxes(lie);
  const { spot } = axes;
  const plate = plateOf(sizes);
  const half = sizes.widthMm / 2;
  const reach = sizes.depthMm - insetMm;
  const middle = plate.thicknessMm / 2;
  const lean = half * tan(toRad(skewDeg));
  const pair = (sizes.quantity ?? (sizes.widthMm > PAIR_FROM_MM ? 2 : 1)) === 2;
  const [one, other] = sidesOf(lie);
  const point = (id: string, name: string, on: 'base' | 'lid', at: Vec3): Job['points'][number] => ({
    id,
    name,
    on,
    at,
  });
  const kg = sizes.kg ?? plate.kg;
  const centre = spot(reach - sizes.depthMm / 2, plate.centreMm, 0, 1e12);
  const masses = [
    { kg, at: centre },
    ...things.map((t) => ({ kg: t.kg, at: spot(t.outMm, plate.thicknessMm + (t.overMm ?? 0), t.leftMm ?? 0) })),
  ];
  const all = masses.reduce((sum, m) => sum + m.kg, 0);
  const common = masses.reduce<Vec3>((sum, m) => add(sum, scale(m.at, m.kg / all)), [0, 0, 0]);
  const grip = spot(reach, middle, 0);
  const thingIds = things.map((_, i) => `thing${i + 1}`);
  const bare: Job = {
    format: 'lidwright-job',
    version: 1,
    title: sizes.title ?? 'My lid',
    points: [
      point('hingeA', `${one} hinge`, 'base', spot(lean, 0, half)),
      point('hingeB', `${other} hinge`, 'base', spot(-lean, 0, -half)),
      point('c1', `${one} hinged corner`, 'lid', spot(-insetMm, middle, half)),
      point('c2', `${one} free corner`, 'lid', spot(reach, middle, half)),
      point('c3', `${other} free corner`, 'lid', spot(reach, middle, -half)),
      point('c4', `${other} hinged corner`, 'lid', spot(-insetMm, middle, -half)),
      point('grip', 'Grip', 'lid', grip),
      point('s1-base', 'Strut, base end', 'base', spot(reach / 2, -heightMm / 2, -half + SIDE_MM)),
      point('s1-lid', 'Strut, lid end', 'lid', spot(reach / 2, -25, -half + SIDE_MM)),
      point('cg-lid', 'Centre of the lid', 'lid', centre),
      ...things.map((t, i) => point(`cg-thing${i + 1}`, `Centre of ${t.name}`, 'lid', masses[i + 1]!.at)),
    ],
    hinge: { a: 'hingeA', b: 'hingeB', opens: opensOf(axes, common, grip), frictionNm: 0 },
    travel: { openDeg, stop: 'lid' },
    grip: 'grip',
    outline: ['c1', 'c2', 'c3', 'c4'],
    panel: { thicknessMm: plate.thicknessMm, layers: sizes.layers.map((l) => ({ ...l })) },
    masses: [
      { id: 'lid', name: 'Lid', kg: Math.round(kg * 1e12) / 1e12, at: 'cg-lid' },
      ...things.map((t, i) => ({ id: thingIds[i]!, name: t.name, kg: t.kg, at: `cg-thing${i + 1}` })),
    ],
    struts: [
      {
        ...{
          id: 's1',
          name: pair ? 'The struts' : 'The strut',
          base: 's1-base',
          lid: 's1-lid',
          quantity: pair ? 2 : 1,
        },
        spec: { extendedMm: 500, strokeMm: 200, forceN: 300, ...USUAL_GAS },
        ends: { base: { ...BALL_STUD, stem: axes.left }, lid: { ...BALL_STUD, stem: axes.left } },
      },
    ],
    loadCases: [{ id: 'as-used' }],
    limits: {
      ...{ handOpenN: given.handOpenN, handCloseN: given.handCloseN, reserveMm: 5, holdOpenNm: 5 },
      ...(sizes.letGoJ === undefined ? {} : { letGoJ: sizes.letGoJ }),
    },
    ...(sizes.seal ? { seal: sizes.seal } : {}),
    zones: zonesOf(sizes, axes, heightMm, insetMm),
    find: { quantity: pair ? 'pair' : 'one' },
  };
  const { coldC, hotC, slopeDeg } = given;
  const loadCases = usualCases(resolveJob(bare), {
    ...{ coldC, hotC, noseDeg: slopeDeg, off: thingIds.filter((_, i) => things[i]!.comesOff) },
    // to the side a level lid's weight hardly changes
    sideDeg: lie.startsWith('door') ? slopeDeg : 0,
  });
  return numbered({ ...bare, loadCases, assumed: assumedOf(sizes, loadCases) });
}

/** What nobody stated of a job from sizes, as `assumed` names it. */
function assumedOf(sizes: LidSizes, loadCases: Job['loadCases']): string[] {
  const cases = (key: 'tempC' | 'pitchDeg' | 'rollDeg', ...values: number[]): string[] =>
    loadCases.filter((c) => values.includes(c[key] as number)).map((c) => `loadCases.${c.id}.${key}`);
  const { coldC, hotC, slopeDeg } = SIZES_TAKEN;
  const names: Partial<Record<keyof LidSizes, readonly string[]>> = {
    kg: ['masses.lid.kg'],
    openDeg: ['travel.openDeg'],
    handOpenN: ['limits.handOpenN'],
    handCloseN: ['limits.handCloseN'],
    coldC: cases('tempC', coldC),
    hotC: cases('tempC', hotC),
    slopeDeg: [...cases('pitchDeg', slopeDeg, -slopeDeg), ...cases('rollDeg', slopeDeg, -slopeDeg)],
  };
  return [
    ...['hinge.frictionNm', 'limits.reserveMm', 'limits.holdOpenNm'],
    ...Object.entries(names).flatMap(([key, own]) => (sizes[key as keyof LidSizes] === undefined ? own : [])),
  ];
}

/** Share of a search's usual work that a first place gets. */
const FIRST_EFFORT = 0.3;

/**
 * The same with a strut of the generic list at a place that was found in its zones: of those found, the one of which least is
 * to be watched, and that pushes least. Where none works, the nearest, and its findings say what fails.
 */
export function jobOfSizes(sizes: LidSizes): Job {
  const job = lidOfSizes(sizes);
  const { places, nearest } = search(fieldOf(job), { effort: FIRST_EFFORT })!;
  const open = ({ findings }: Workings): number => findings.filter((f) => f.state !== 'holds' && !f.caution).length;
  const looked = (places.length > 0 ? places : nearest ? [nearest.place] : []).map((place) => {
    const made = applyPlace(job, { strutIndex: 0, place });
    return { made, lines: open(workings(resolveJob(made))), pushN: place.greatestForceN ?? 0 };
  });
  // of places alike the one that pushes least: what is nearest to the hinge has the most to spare on paper only
  looked.sort((a, b) => a.lines - b.lines || a.pushN - b.pushN);
  return looked[0]?.made ?? job;
}
