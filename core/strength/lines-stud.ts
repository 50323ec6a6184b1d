import { type Vec3, dot, norm } from '../space';
import { bearingN, stripN, GAMMA_M2, tearOutN } from './holes';
import { DEFAULTS, type StrengthModel } from './model';
import { bearingByParts, boxDistances } from './places';
import { roundStress } from './stress';
import type { CheckLine, Unchecked } from './types';

const BENDING = 'σ = 32·F⊥·a/(π·d₃³) + 4·|N|/(π·d₃²), τ = 4·F⊥/(π·d₃²), √(σ² + 3τ²)';
const BEAM = 'beam theory; von Mises (distortion energy)';

/** A screw's class, or why there is none. */
export function noClass(id: Unchecked['id'], name: string, typed: string, path: readonly string[]): Unchecked {
  return {
    id,
    name,
    why: `the property class “${typed}” is in no table`,
    advice: 'Give one of ISO 898-1 (4.6 to 12.9) or ISO 3506 (A2-70, A4-70, A4-80).',
    path,
  };
}

/** Parts of a force along and square to the stem, N. */
const split = (force: Vec3, stem: Vec3): { along: number; across: number } => {
  const along = dot(force, stem);
  return { along, across: Math.sqrt(Math.max(0, dot(force, force) - along * along)) };
};

/** The ball's stud, or a channel's pin, at its thread's root. */
export function studLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { stud, spec, stem } = model;
  const pin = spec.kind === 'channel';
  const id: CheckLine['id'] = pin ? 'pin' : 'stud';
  const name = pin ? 'Pin, bending and double shear' : 'Stud, bending at its root';
  if (!stud)
    return [
      {
        id,
        name,
        why: `no thread of M4 to M16 goes through a hole of ${spec.studHole.diameterMm} mm`,
        advice: 'Name the stud’s thread.',
        path: ['stud', 'thread'],
      },
    ];
  if (!stud.class) return [noClass(id, name, stud.className, ['stud', 'propertyClass'])];
  const root = stud.thread.rootDiameterMm;
  const armMm = pin ? (spec.gapMm + spec.thicknessMm) / 4 : spec.ballOffsetMm;
  const common = {
    id,
    name,
    unit: 'N/mm²',
    source: BEAM,
    capacitySource: `yield of ${stud.class.source} (${stud.class.standing})`,
    gravity: 'fails' as const,
  };
  const capacity = stud.class.yieldMPa;
  return pin
    ? [
        {
          ...common,
          formula: 'M = F⊥·(gap + t)/4, V = F⊥/2 a plane; σ = 32M/(π·d₃³), τ = 4V/(π·d₃²), √(σ² + 3τ²)',
          notes: [
            'The joint’s load counts as one point in the middle of the pin, the thread’s root as the pin’s section.',
          ],
          at: (force) => {
            const { across, along } = split(force, stem);
            return { demand: roundStress(root, across * armMm, along, across / 2).equivalent, capacity };
          },
        },
      ]
    : [
        {
          ...common,
          formula: BENDING,
          notes: [`Arm a = ${Number(armMm.toFixed(1))} mm, from the plate to the ball’s centre.`],
          at: (force) => {
            const { across, along } = split(force, stem);
            return { demand: roundStress(root, across * armMm, along, across).equivalent, capacity };
          },
        },
      ];
}

/** The thread on the rod that the joint is screwed on. */
export function rodLines(model: StrengthModel): CheckLine[] {
  const { diameterMm, pitchMm, name } = model.rod.thread;
  const h = (Math.sqrt(3) / 2) * pitchMm;
  const root = diameterMm - (17 / 12) * h;
  const frictionArm = (DEFAULTS.jointFriction * model.rod.ballMm) / 2;
  return [
    {
      id: 'rod-thread',
      name: 'Rod’s end thread',
      unit: 'N/mm²',
      formula: 'σ = 4F/(π·d₃²) + 32·μ·F·r/(π·d₃³)',
      source: `${BEAM}; friction of the ${model.rod.pinned ? 'pin' : 'ball'} bends the rod, μ ${DEFAULTS.jointFriction} (common practice, no source)`,
      capacitySource: `yield ${DEFAULTS.rodYieldMPa} N/mm² taken for a rod’s end (common practice, no source)`,
      gravity: 'fails',
      notes: [
        `Thread ${name}.`,
        'A joint that leaves its working range bends the rod far more than this: see the findings on joints.',
      ],
      at: (force) => {
        const size = norm(force);
        return { demand: roundStress(root, size * frictionArm, size, 0).equivalent, capacity: DEFAULTS.rodYieldMPa };
      },
    },
  ];
}

/** The stud's hole in its plate, or its thread in a wedge plate. */
export function studHoleLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { spec, stud, material, stem, studHole } = model;
  if (!stud?.class) return [];
  const bolt = stud.class;
  const pin = spec.kind === 'channel';
  if (!material) return [];
  const capacitySource = `f_u of ${material.source}`;
  if (spec.kind === 'wedge-plate') {
    const depthMm = Math.min(studHole.thicknessMm, 2 * stud.thread.diameterMm);
    const capacity = stripN(stud.thread, depthMm, material.ultimateMPa, bolt.tensileMPa) / GAMMA_M2;
    return [
      {
        id: 'stud-thread',
        name: 'Stud’s thread in the plate',
        unit: 'N',
        formula: 'N + F⊥·a/(d/2) ≤ 0.6·0.9·min(π·d·(m/P)·(P/2 + (d − d₂)·tan 30°)·R_m, …)/γ_M2',
        source:
          'thread shear areas as VDI 2230 (from memory); the stud’s bending as a couple over half its diameter, on the safe side',
        capacitySource,
        gravity: 'fails',
        notes: [`Thread engaged over ${Number(depthMm.toFixed(1))} mm.`],
        at: (force) => {
          const { along, across } = split(force, stem);
          return {
            demand: Math.max(0, along) + (across * spec.ballOffsetMm) / (stud.thread.diameterMm / 2),
            capacity,
          };
        },
      },
    ];
  }
  const tab = spec.kind === 'flat-tab';
  const across = spec.studHole.acrossMm;
  const height = spec.studHole.heightMm;
  const rise = spec.uprightLegMm - spec.thicknessMm - spec.insideRadiusMm;
  const share = tab || rise <= 0 ? 1 : (height - spec.thicknessMm - spec.insideRadiusMm) / rise;
  const half = (tab ? spec.topWidthMm : spec.baseWidthMm + (spec.topWidthMm - spec.baseWidthMm) * share) / 2;
  // first coordinate: along the plate towards its end, second: across
  const box = tab
    ? { a: [-spec.baseLegMm, spec.studHole.fromEndMm], b: [-half - across, half - across] }
    : { a: [-height, spec.uprightLegMm - height], b: [-half - across, half - across] };
  const inPlate = (force: Vec3): [number, number] => {
    const part = pin ? 0.5 : 1;
    return [part * force[tab ? 0 : 2], part * force[1]];
  };
  const { thicknessMm } = spec;
  const holeMm = spec.studHole.diameterMm;
  const bearing = (force: Vec3) =>
    bearingByParts(inPlate(force), box, (endMm, sideMm) =>
      bearingN(
        { thicknessMm, boltMm: stud.thread.diameterMm, holeMm, endMm, sideMm, pitchMm: Infinity },
        material.ultimateMPa,
        bolt.tensileMPa,
      ),
    );
  const tear = (force: Vec3) => {
    const part = inPlate(force);
    const { endMm } = boxDistances(box, part);
    return { demand: Math.hypot(...part), capacity: tearOutN(thicknessMm, endMm, holeMm, material.ultimateMPa) };
  };
  const what = pin ? 'pin' : 'stud';
  return [
    {
      id: 'stud-bearing',
      name: `Bearing of the ${what} in its hole`,
      unit: 'N',
      formula: 'F ≤ k₁·α_b·f_u·d·t/γ_M2',
      source: 'EN 1993-1-8 table 3.4',
      capacitySource,
      gravity: 'fails',
      notes: [],
      at: bearing,
    },
    {
      id: 'stud-tear-out',
      name: `Tear-out at the ${what}’s hole`,
      unit: 'N',
      formula: 'F ≤ 2·t·(e₁ − d₀/2)·f_u/(√3·γ_M2)',
      source: 'plain statics, two shear planes; EN 1993-1-8 3.10.2',
      capacitySource,
      gravity: 'fails',
      notes: [],
      at: tear,
    },
  ];
}
