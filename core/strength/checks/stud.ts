import { hardwareOf, isPinned } from '../../bracket';
import { type Vec3, dot, norm } from '../../space';
import { type Check, type Part, lacks } from '../check';
import { GAMMA_M2, TABLE_3_4, TEAR_OUT, bearingByParts, bearingN, boxDistances, stripN, tearOutN } from '../holes';
import { largerStud, strongerStud, thicker, wider } from '../repair-changes';
import { hubStress } from '../plate';
import { DEFAULTS } from '../model';
import { noClass } from '../property-classes';
import { uprightWidthMm } from '../shape';
import { roundStress } from '../stress';

const BEAM = 'beam theory; von Mises (distortion energy)';

/** Parts of a force along and square to the stem, N. */
const split = (force: Vec3, stem: Vec3): { along: number; across: number } => {
  const along = dot(force, stem);
  return { along, across: Math.sqrt(Math.max(0, dot(force, force) - along * along)) };
};

/** The ball's stud, or a channel's pin, at its thread's root. */
export const stud: Part = ({ stud, spec, stem }) => {
  const pin = isPinned(spec);
  const id = pin ? 'pin' : 'stud';
  const name = pin ? 'Pin, bending and double shear' : 'Stud, bending at its root';
  if (!stud) {
    const why = `no thread of M4 to M16 goes through a hole of ${spec.studHole.diameterMm} mm`;
    return lacks(id, name, why, 'Name the stud’s thread.', 'stud', 'thread');
  }
  const { class: cls, thread } = stud;
  if (!cls) return lacks(id, name, ...noClass(stud.className), 'stud', 'propertyClass');
  const armMm = pin ? (spec.gapMm + spec.thicknessMm) / 4 : spec.ballOffsetMm;
  return [
    {
      id,
      name,
      unit: 'N/mm²',
      formula: pin
        ? 'M = F⊥·(gap + t)/4, V = F⊥/2 a plane; σ = 32M/(π·d₃³), τ = 4V/(π·d₃²), √(σ² + 3τ²)'
        : 'σ = 32·F⊥·a/(π·d₃³) + 4·|N|/(π·d₃²), τ = 4·F⊥/(π·d₃²), √(σ² + 3τ²)',
      source: BEAM,
      capacitySource: `yield of ${cls.source} (${cls.provenance})`,
      notes: [
        pin
          ? 'The joint’s load counts as one point in the middle of the pin, the thread’s root as the pin’s section.'
          : `Arm a = ${Number(armMm.toFixed(1))} mm, from the plate to the ball’s centre.`,
      ],
      repairs: [strongerStud, largerStud],
      demand: (force) => {
        const { across, along } = split(force, stem);
        return roundStress(thread.rootDiameterMm, across * armMm, along, across / (pin ? 2 : 1)).equivalent;
      },
      capacity: cls.yieldMPa,
    },
  ];
};

/** The thread on the rod that the joint is screwed on. */
export const rod: Part = ({ rod: { thread, ballMm, pinned } }) => {
  const rootMm = thread.diameterMm - (17 / 12) * ((Math.sqrt(3) / 2) * thread.pitchMm);
  const frictionArmMm = (DEFAULTS.jointFriction * ballMm) / 2;
  return [
    {
      id: 'rod-thread',
      name: 'Rod’s end thread',
      unit: 'N/mm²',
      formula: 'σ = 4F/(π·d₃²) + 32·μ·F·r/(π·d₃³)',
      source: `${BEAM}; friction of the ${pinned ? 'pin' : 'ball'} bends the rod, μ ${DEFAULTS.jointFriction} (common practice, no source)`,
      capacitySource: `yield ${DEFAULTS.rodYieldMPa} N/mm² taken for a rod’s end (common practice, no source)`,
      notes: [
        `Thread ${thread.name}.`,
        'A joint that leaves its working range bends the rod far more than this: see the findings on joints.',
      ],
      demand: (force) => roundStress(rootMm, norm(force) * frictionArmMm, norm(force), 0).equivalent,
      capacity: DEFAULTS.rodYieldMPa,
    },
  ];
};

/** The stud's hole in its plate, or its thread in a wedge plate. */
export const studHole: Part = ({ spec, stud, material, stem, studHole }) => {
  if (!stud?.class || !material) return [];
  const { thread, class: cls } = stud;
  const { ultimateMPa, yieldMPa } = material;
  const hole = { unit: 'N', capacitySource: `f_u of ${material.source}` };
  const { thicknessMm, kind, ballOffsetMm } = spec;
  if (kind === 'wedge-plate') {
    const depthMm = Math.min(studHole.thicknessMm, 2 * thread.diameterMm);
    return [
      {
        ...hole,
        id: 'stud-thread',
        name: 'Stud’s thread in the plate',
        formula: 'N + F⊥·a/(d/2) ≤ 0.6·0.9·min(π·d·(m/P)·(P/2 + (d − d₂)·tan 30°)·R_m, …)/γ_M2',
        source:
          'thread shear areas as VDI 2230 (not checked against the standard’s text); the stud’s bending as a couple over half its diameter, on the safe side',
        notes: [`Thread engaged over ${Number(depthMm.toFixed(1))} mm.`],
        demand: (force) => {
          const { along, across } = split(force, stem);
          return Math.max(0, along) + (across * ballOffsetMm) / (thread.diameterMm / 2);
        },
        capacity: stripN(thread, depthMm, ultimateMPa, cls.tensileMPa) / GAMMA_M2,
      },
    ];
  }
  const tab = kind === 'flat-tab';
  const what = kind === 'channel' ? 'pin' : 'stud';
  const { acrossMm, heightMm, fromEndMm, diameterMm: holeMm } = spec.studHole;
  const half = (tab ? spec.topWidthMm : uprightWidthMm(spec, heightMm)) / 2;
  // first coordinate: along the plate towards its end, second: across
  const a = tab ? [-spec.baseLegMm, fromEndMm] : [-heightMm, spec.uprightLegMm - heightMm];
  const box = { a, b: [-half - acrossMm, half - acrossMm] };
  const share = kind === 'channel' ? 0.5 : 1;
  const inPlate = (force: Vec3): [number, number] => [share * force[tab ? 0 : 2], share * force[1]];
  const place = { thicknessMm, boltMm: thread.diameterMm, holeMm, pitchMm: Infinity };
  const repairs: Check['repairs'] = [thicker, wider];
  const hubMm = hardwareOf(thread.name).acrossFlatsMm / 2;
  // one plate on one side of the force: the stud tilts in its hole
  const tilts = kind !== 'channel';
  const mostN = tilts ? (1.5 * ultimateMPa * thread.diameterMm * thicknessMm) / GAMMA_M2 : Infinity;
  return [
    {
      ...hole,
      id: 'stud-bearing',
      name: `Bearing of the ${what} in its hole`,
      formula: `F ≤ k₁·α_b·f_u·d·t/γ_M2${tilts ? ', at most 1.5·f_u·d·t/γ_M2' : ''}`,
      source: tilts
        ? `${TABLE_3_4} and 3.6.1(10), a single bolt in a single lap (not checked against the standard’s text)`
        : TABLE_3_4,
      repairs,
      places: (force) =>
        bearingByParts(inPlate(force), box, (to) =>
          Math.min(mostN, bearingN({ ...place, ...to }, ultimateMPa, cls.tensileMPa)),
        ),
    },
    {
      id: 'stud-couple',
      name: 'Stud’s couple, borne by the plate round its nut',
      unit: 'N/mm²',
      formula: 'σ = 3·F⊥·a/(π·b·t²), b half the nut’s width across flats',
      source:
        'bending of a plate round a stiff hub under a couple (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells; not checked against its text)',
      capacitySource: `yield of ${material.source}`,
      notes: [
        `b = ${hubMm} mm, a = ${Number(ballOffsetMm.toFixed(1))} mm. Where the plate is narrow, the section beside the hole decides.`,
      ],
      applies: tilts,
      repairs: [thicker, largerStud],
      demand: (force) => hubStress(split(force, stem).across * ballOffsetMm, hubMm, thicknessMm),
      capacity: yieldMPa,
    },
    {
      ...hole,
      id: 'stud-tear-out',
      name: `Tear-out at the ${what}’s hole`,
      formula: 'F ≤ 2·t·(e₁ − d₀/2)·f_u/(√3·γ_M2)',
      source: TEAR_OUT,
      repairs,
      places: (force) => {
        const { endMm } = boxDistances(box, inPlate(force));
        return [{ demand: Math.hypot(...inPlate(force)), capacity: tearOutN(thicknessMm, endMm, holeMm, ultimateMPa) }];
      },
    },
  ];
};
