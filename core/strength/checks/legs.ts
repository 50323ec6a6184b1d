import { type Vec3, cross, sub } from '../../space';
import { type Check, type Part, lacks } from '../check';
import { liftForces } from '../group';
import { unknownMaterial } from '../materials';
import { LEG_REPAIRS } from '../repair-changes';
import type { BoltedDown, StrengthModel } from '../model';
import { effectiveWidthMm } from '../plate';
import { halfWidthMm, uprightWidthMm } from '../shape';
import { type Section, type SectionForces, plateSection, ribbedSection, sectionStress } from '../stress';

type Through = (force: Vec3) => SectionForces;

/** A leg cut through somewhere: the section there, and how a force at the ball shows up in it. */
interface Cut extends Pick<Check, 'id' | 'name' | 'notes' | 'applies'> {
  readonly section: Section;
  readonly through: Through;
}

/** The row of fixings nearest to the stud: its x, and what it takes out of the width. */
interface Row {
  readonly xMm: number;
  readonly holes: readonly { readonly atMm: number; readonly diameterMm: number }[];
}

/** Bend lines, legs and plates. */
export const legs: Part = (model) => {
  const { material, spec, bolts } = model;
  if (!material) {
    const why = unknownMaterial(spec.material.name, spec.thicknessMm);
    return spec.uprightLegMm > 0
      ? lacks('upright', 'Bend line and legs', ...why, 'material', 'yieldMPa')
      : lacks('plate-at-fixings', 'Plate', ...why, 'material', 'yieldMPa');
  }
  const leg = { unit: 'N/mm²', capacitySource: `yield of ${material.source}`, repairs: LEG_REPAIRS };
  if (spec.kind === 'wedge-plate') return bolts ? [{ ...leg, ...wedgePlate(model, bolts, material.yieldMPa) }] : [];
  const cutsOf = { channel: channelCuts, 'flat-tab': tabCuts, 'bent-angle': angleCuts, 'gusset-angle': angleCuts };
  return cutsOf[spec.kind](model, rowNear(model, 0)).map(({ section, through, ...cut }) => ({
    ...leg,
    ...cut,
    formula: 'σ = N/A + M_weak/W + M_strong/W, τ = V/A + T/W_t, √(σ² + 3τ²)',
    source: 'beam theory, torsion of a rectangle after Saint-Venant; von Mises (distortion energy)',
    demand: (force) => sectionStress(section, through(force)),
    capacity: material.yieldMPa,
  }));
};

/** The row nearest to a line across the leg; null where nothing is bolted. */
function rowNear({ bolts, fixings, centreYMm }: StrengthModel, lineMm: number): Row | null {
  if (!bolts) return null;
  const xMm = fixings.map((f) => f.centreMm[0]).reduce((a, b) => (Math.abs(b - lineMm) < Math.abs(a - lineMm) ? b : a));
  const holes = fixings
    .filter((f) => Math.abs(f.centreMm[0] - xMm) < f.diameterMm / 2 + f.slotMm / 2)
    // a slot across takes its whole length out of the section
    .map((f) => ({ atMm: f.centreMm[1] - centreYMm, diameterMm: f.diameterMm + f.slotMm * Math.abs(f.slotAxis[1]) }));
  return { xMm, holes };
}

/** Width of the leg that bends between a row of fixings and where the moment comes from, mm; all of it where nothing is bolted. */
const workingMm = ({ bolts }: StrengthModel, row: Row | null, lineMm: number, halfLegMm: number): number =>
  bolts && row
    ? effectiveWidthMm(
        row.holes.map(({ atMm }) => ({ atMm, lengthMm: Math.abs(row.xMm - lineMm) })),
        bolts.washerMm,
        halfLegMm,
      )
    : 2 * halfLegMm;

/** For the notes of a section beside fixings. */
const STRIP =
  'Out of its plane only the width bends that a load spread at 45° from the washers’ edges reaches (the angle not checked against a text).';

/** Through a section square to z (an upright, its thickness along x), cut at a place. */
const acrossZ =
  (ball: Vec3, at: Vec3): Through =>
  (f) => {
    const m = cross(sub(ball, at), f);
    return { axialN: f[2], shearN: Math.hypot(f[0], f[1]), weakNmm: m[1], strongNmm: m[0], torsionNmm: m[2] };
  };

/** Through a section square to x (a leg on the mount, its thickness along z), cut at a place. */
const acrossX =
  (ball: Vec3, at: Vec3): Through =>
  (f) => {
    const m = cross(sub(ball, at), f);
    return { axialN: f[0], shearN: Math.hypot(f[1], f[2]), weakNmm: m[1], strongNmm: m[2], torsionNmm: m[0] };
  };

/** Beyond the heel a push cannot bend the leg further: the mount presses back there. A pull does. */
const beyondHeel =
  (heel: Through, here: Through): Through =>
  (f) => {
    const own = here(f);
    const weak = Math.abs(heel(f).weakNmm);
    return { ...own, weakNmm: f[2] > 0 ? Math.max(weak, Math.abs(own.weakNmm)) : weak };
  };

function angleCuts(model: StrengthModel, row: Row | null): Cut[] {
  const { spec, ballMm, centreYMm: cy } = model;
  const { thicknessMm: t, insideRadiusMm: r, baseWidthMm: b, gusset, studHole } = spec;
  const takes = t + r;
  const high = studHole.heightMm;
  const upright = (zMm: number): Through => acrossZ(ballMm, [-t / 2, cy, zMm]);
  const base = (xMm: number): Through => acrossX(ballMm, [xMm, cy, t / 2]);
  const beyond = (xMm: number): Through => beyondHeel(base(-takes), base(xMm));
  // the gusset at the end of the bend: its height there, from its sharp corner
  const atBend = (leg: 'alongMm' | 'upMm', other: 'alongMm' | 'upMm'): Section =>
    gusset
      ? ribbedSection(t, b, gusset.thicknessMm, gusset[other] * Math.max(0, 1 - r / gusset[leg]), gusset.count)
      : plateSection(t, b);
  const up = t + (gusset?.upMm ?? 0);
  const along = -(t + (gusset?.alongMm ?? 0));
  const bend = gusset ? 'bend, with its gusset' : 'bend line';
  // fixings beside a gusset are bent from the bend line: it is not counted there
  const working = workingMm(model, row, gusset && row && row.xMm < along ? along : -takes, b / 2);
  return [
    { id: 'upright', name: `Upright at the ${bend}`, section: atBend('upMm', 'alongMm'), through: upright(takes) },
    {
      id: 'base-leg',
      name: `Base leg at the ${bend}`,
      notes: gusset ? [] : [STRIP],
      section: gusset ? atBend('alongMm', 'upMm') : plateSection(t, b, [], working),
      through: base(-takes),
    },
    {
      id: 'upright-at-stud',
      name: 'Upright beside the stud’s hole',
      section: plateSection(t, uprightWidthMm(spec, high), [holeOf(studHole)]),
      through: upright(high),
    },
    {
      id: 'upright-above-gusset',
      name: 'Upright above its gusset',
      applies: gusset !== null && up < high,
      section: plateSection(t, uprightWidthMm(spec, up)),
      through: upright(up),
    },
    {
      id: 'base-leg-beyond-gusset',
      name: 'Base leg beyond its gusset',
      applies: gusset !== null && along > (row?.xMm ?? -spec.baseLegMm),
      notes: [STRIP],
      section: plateSection(t, b, [], working),
      through: beyond(along),
    },
    {
      id: 'base-leg-at-fixings',
      name: 'Base leg at its nearest fixings (net section)',
      notes: ['The mount presses back at the heel; a gusset is not counted here.', STRIP],
      applies: row !== null,
      section: plateSection(t, b, row?.holes, working),
      through: beyond(row?.xMm ?? 0),
    },
  ];
}

const holeOf = ({ acrossMm, diameterMm }: StrengthModel['spec']['studHole']) => ({ atMm: acrossMm, diameterMm });

function tabCuts(model: StrengthModel, row: Row | null): Cut[] {
  const { spec, ballMm, centreYMm, footprint } = model;
  const t = spec.thicknessMm;
  const xMm = row?.xMm ?? footprint.xMaxMm;
  const through = (x: number): Through => acrossX(ballMm, [x, centreYMm, t / 2]);
  return [
    {
      id: 'plate-at-fixings',
      name: row ? 'Tab at its nearest fixings (net section)' : 'Tab at the edge of its mount',
      notes: row ? [STRIP] : [],
      section: plateSection(
        t,
        2 * halfWidthMm(model, xMm),
        row?.holes,
        workingMm(model, row, 0, halfWidthMm(model, xMm)),
      ),
      through: through(xMm),
    },
    {
      id: 'upright-at-stud',
      name: 'Tab beside the stud’s hole',
      section: plateSection(t, spec.topWidthMm, [holeOf(spec.studHole)]),
      through: through(0),
    },
  ];
}

/** A channel: each upright takes half of what is square to the pin, one of them all that is along it. */
function channelCuts(model: StrengthModel, first: Row | null): Cut[] {
  const { spec, fixings } = model;
  const { thicknessMm: t, insideRadiusMm: r, baseWidthMm: b, baseLegMm, studHole } = spec;
  const takes = t + r;
  const h = studHole.heightMm;
  const off = Math.abs(studHole.acrossMm);
  const leg =
    (z: number): Through =>
    (f) => ({
      axialN: f[2] / 2,
      shearN: Math.hypot(f[0], f[1] / 2),
      weakNmm: f[0] * (h - z),
      strongNmm: (Math.abs(f[1]) * (h - z) + Math.abs(f[2]) * off) / 2,
      torsionNmm: Math.abs(f[0]) * off,
    });
  // from the upright's middle plane to the nearest fixings, along the base
  const reach = Math.min(...fixings.map(({ centreMm: [x] }) => Math.min(-x, baseLegMm + x)));
  const base =
    (arm: number): Through =>
    (f) => ({
      axialN: f[0],
      shearN: Math.hypot(f[1], f[2]) / 2,
      weakNmm: Math.abs(f[0]) * (h - t / 2) + (Math.max(f[2], 0) / 2) * Math.max(0, arm - t / 2),
      strongNmm: (Math.abs(f[1]) / 2) * arm,
      torsionNmm: (Math.abs(f[1]) / 2) * (h - t / 2),
    });
  // the upright whose fixings bend less of the base
  const [working, row] = [-takes, takes - baseLegMm]
    .map((lineMm) => {
      const near = first && rowNear(model, lineMm);
      return [workingMm(model, near, lineMm, b / 2), near] as const;
    })
    .reduce((a, b) => (b[0] < a[0] ? b : a));
  const whole = plateSection(t, b);
  const atStud = plateSection(t, uprightWidthMm(spec, h), [holeOf(studHole)]);
  const cuts: Cut[] = [
    { id: 'upright', name: 'Uprights at the bend line', section: whole, through: leg(takes) },
    { id: 'upright-at-stud', name: 'Uprights beside the pin’s hole', section: atStud, through: leg(h) },
    { id: 'base-leg', name: 'Base at the bend line', section: plateSection(t, b, [], working), through: base(takes) },
    {
      id: 'base-leg-at-fixings',
      name: 'Base at its nearest fixings (net section)',
      applies: row !== null,
      section: plateSection(t, b, row?.holes, working),
      through: base(reach),
    },
  ];
  const note =
    'Each upright takes half of what is square to the pin, and either of them all that is along it (on the safe side).';
  return cuts.map((cut) => ({ ...cut, notes: [note] }));
}

/** A wedge plate between its fixings and the stud: a beam at its thinnest, net of the stud's hole. */
function wedgePlate(model: StrengthModel, bolts: BoltedDown, yieldMPa: number) {
  const { spec, ballMm, fixings, footprint, plate, centreYMm } = model;
  const { thicknessMm: t, baseWidthMm, topWidthMm, baseLegMm } = spec;
  const group = fixings.map((f) => ({ xMm: f.centreMm[0], yMm: f.centreMm[1] }));
  const across = { toMm: 0, middleMm: centreYMm, wideMm: Math.min(baseWidthMm, topWidthMm) };
  const along = { toMm: centreYMm, middleMm: (plate.xMinMm + plate.xMaxMm) / 2, wideMm: baseLegMm };
  /** Fixings on one side of the stud: their arms to it, and what bends between them and it. */
  const side = (on: 'xMm' | 'yMm', sign: number) => {
    const { toMm, middleMm, wideMm } = on === 'xMm' ? across : along;
    const arms = group.map((g) => Math.max(0, sign * (g[on] - toMm)));
    const strips = group.flatMap((g, i) =>
      arms[i]! > 0 ? [{ atMm: (on === 'xMm' ? g.yMm : g.xMm) - middleMm, lengthMm: arms[i]! }] : [],
    );
    const working = effectiveWidthMm(strips, bolts.washerMm, wideMm / 2);
    const { weakMm3 } = plateSection(t, wideMm, on === 'xMm' ? [holeOf(spec.studHole)] : [], working);
    return { arms, weakMm3: Math.max(0, weakMm3) };
  };
  const sides = [side('xMm', 1), side('xMm', -1), side('yMm', 1), side('yMm', -1)];
  return {
    id: 'plate-at-fixings' as const,
    name: 'Wedge plate between its fixings and the stud',
    formula: 'M = Σ T_i·l_i on one side of the stud, σ = M/W at the thinnest place, net of the stud’s hole',
    source: 'beam theory, simple bending',
    notes: [STRIP],
    places: (force: Vec3) => {
      const m = cross(ballMm, force);
      const lift = liftForces(group, footprint, force[2], m[0], m[1]);
      if (!lift) return [{ demand: 1, capacity: 0 }];
      return sides.map(({ arms, weakMm3 }) => {
        const moment = arms.reduce((sum, arm, i) => sum + lift.tensionN[i]! * arm, 0);
        return { demand: moment > 0 ? moment / weakMm3 : 0, capacity: yieldMPa };
      });
    },
  };
}
