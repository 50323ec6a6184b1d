import { type Job, type JobLoadCase, type JobStrut, resolveJob } from '../../core/job';
import { type Plan, makeFrame, makePlan } from '../../core/travel';

export type V3 = readonly [number, number, number];

export interface StrutParts {
  readonly id?: string;
  readonly base: V3;
  readonly lid: V3;
  readonly quantity?: 1 | 2;
  readonly spec?: Partial<JobStrut['spec']>;
  readonly baseStem?: V3;
  readonly lidStem?: V3;
  readonly rangeDeg?: number;
}

export interface LidParts {
  readonly a: V3;
  readonly b: V3;
  readonly grip: V3;
  readonly masses: readonly { readonly kg: number; readonly at: V3 }[];
  readonly struts?: readonly StrutParts[];
  readonly opens?: 'up' | 'down';
  readonly frictionNm?: number;
  readonly openDeg?: number;
  readonly stop?: 'lid' | 'strut';
  readonly cases?: readonly Partial<JobLoadCase>[];
  readonly limits?: Job['limits'];
}

/** A strut of one constant force: no gas law to speak of at 20 °C (ratio 1, no friction). */
export const constantForce = (forceN: number, extendedMm: number, strokeMm: number): StrutParts['spec'] => ({
  forceN,
  extendedMm,
  strokeMm,
  ratio: 1,
  frictionN: 0,
});

/** A job document from bare numbers: what tests vary is given, the rest is plain. */
export function lid(parts: LidParts): Job {
  const points: Job['points'][number][] = [
    { id: 'A', on: 'base', at: parts.a },
    { id: 'B', on: 'base', at: parts.b },
    { id: 'grip', on: 'lid', at: parts.grip },
  ];
  parts.masses.forEach((m, i) => points.push({ id: `m${i}`, on: 'lid', at: m.at }));
  (parts.struts ?? []).forEach((s, i) =>
    points.push({ id: `s${i}-base`, on: 'base', at: s.base }, { id: `s${i}-lid`, on: 'lid', at: s.lid }),
  );
  return {
    format: 'lidwright-job',
    version: 1,
    title: 'A test lid',
    points,
    hinge: { a: 'A', b: 'B', opens: parts.opens ?? 'up', frictionNm: parts.frictionNm ?? 0 },
    travel: { openDeg: parts.openDeg ?? 90, stop: parts.stop ?? 'lid' },
    grip: 'grip',
    masses: parts.masses.map((m, i) => ({ id: `mass${i}`, kg: m.kg, at: `m${i}` })),
    struts: (parts.struts ?? []).map((s, i) => ({
      id: s.id ?? `s${i}`,
      base: `s${i}-base`,
      lid: `s${i}-lid`,
      quantity: s.quantity ?? 1,
      spec: {
        extendedMm: 700,
        strokeMm: 300,
        forceN: 400,
        ratio: 1.3,
        rodMm: 8,
        tubeMm: 18,
        frictionN: 30,
        toleranceN: [-20, 20],
        ...s.spec,
      },
      ends: {
        base: { fitting: 'ball-stud', rangeDeg: s.rangeDeg ?? 18, stem: s.baseStem ?? [0, 1, 0] },
        lid: { fitting: 'ball-stud', rangeDeg: s.rangeDeg ?? 18, stem: s.lidStem ?? [0, 1, 0] },
      },
    })),
    loadCases: (parts.cases ?? [{}]).map((c, i) => ({ id: `case${i}`, ...c })),
    ...(parts.limits ? { limits: parts.limits } : {}),
  } as Job;
}

/** The plan of one load case of a job. */
export function planOf(job: Job, index = 0): Plan {
  const resolved = resolveJob(job);
  return makePlan(makeFrame(resolved), resolved.loadCases[index]!.id);
}
