import { type Vec3, cross, sub } from '../space';
import { liftForces } from './group';
import type { StrengthModel } from './model';
import { type Section, type SectionForces, plateSection, ribbedSection, sectionStress } from './stress';
import type { CheckId, CheckLine, Unchecked } from './types';

const SOURCE = 'beam theory, torsion of a rectangle after Saint-Venant; von Mises (distortion energy)';
const FORMULA = 'σ = N/A + M_weak/W + M_strong/W, τ = V/A + T/W_t, √(σ² + 3τ²)';

/** What is cut through: where, and how a force at the ball shows up there. */
interface Cut {
  readonly id: CheckId;
  readonly name: string;
  readonly section: Section;
  readonly through: (force: Vec3) => SectionForces;
  readonly notes?: readonly string[];
}

/** Through a section whose plane is square to z (an upright). The plate's thickness lies along x. */
const acrossZ =
  (ball: Vec3, at: Vec3) =>
  (f: Vec3): SectionForces => {
    const m = cross(sub(ball, at), f);
    return { axialN: f[2], shearN: Math.hypot(f[0], f[1]), weakNmm: m[1], strongNmm: m[0], torsionNmm: m[2] };
  };

/** Through a section whose plane is square to x (a leg on the mount). The plate's thickness lies along z. */
const acrossX =
  (ball: Vec3, at: Vec3) =>
  (f: Vec3): SectionForces => {
    const m = cross(sub(ball, at), f);
    return { axialN: f[0], shearN: Math.hypot(f[1], f[2]), weakNmm: m[1], strongNmm: m[2], torsionNmm: m[0] };
  };

/** Beyond the heel a push cannot bend the leg further: the mount presses back there. A pull does. */
const beyondHeel =
  (heel: (f: Vec3) => SectionForces, here: (f: Vec3) => SectionForces) =>
  (f: Vec3): SectionForces => {
    const own = here(f);
    const weak = Math.abs(heel(f).weakNmm);
    return { ...own, weakNmm: f[2] > 0 ? Math.max(weak, Math.abs(own.weakNmm)) : weak };
  };

/** Bend lines, legs and plates. */
export function legLines(model: StrengthModel): (CheckLine | Unchecked)[] {
  const { material, spec } = model;
  if (!material)
    return [
      {
        id: spec.uprightLegMm > 0 ? 'upright' : 'plate-at-fixings',
        name: spec.uprightLegMm > 0 ? 'Bend line and legs' : 'Plate',
        why: `the strength of “${spec.material.name}” at ${spec.thicknessMm} mm is in no table`,
        advice: 'Type its yield strength and its tensile strength.',
        path: ['material', 'yieldMPa'],
      },
    ];
  const cuts =
    spec.kind === 'channel'
      ? channelCuts(model)
      : spec.uprightLegMm > 0
        ? angleCuts(model)
        : spec.kind === 'flat-tab'
          ? tabCuts(model)
          : [];
  const lines = cuts.map((cut): CheckLine => ({
    id: cut.id,
    name: cut.name,
    unit: 'N/mm²',
    formula: FORMULA,
    source: SOURCE,
    capacitySource: `yield of ${material.source}`,
    gravity: 'fails',
    notes: cut.notes ?? [],
    at: (force) => ({ demand: sectionStress(cut.section, cut.through(force)), capacity: material.yieldMPa }),
  }));
  return spec.kind === 'wedge-plate' && model.bolts
    ? [...lines, wedgeLine(model, material.yieldMPa, material.source)]
    : lines;
}

/** The row of fixings nearest to the stud: its x, and what it takes out of the width. */
function nearestRow(model: StrengthModel): { xMm: number; holes: { atMm: number; diameterMm: number }[] } | null {
  if (!model.bolts || model.fixings.length === 0) return null;
  const xMm = Math.max(...model.fixings.map((f) => f.centreMm[0]));
  const holes = model.fixings
    .filter((f) => Math.abs(f.centreMm[0] - xMm) < f.diameterMm / 2 + f.slotMm / 2)
    // a slot across takes its whole length out of the section
    .map((f) => ({
      atMm: f.centreMm[1] - model.centreYMm,
      diameterMm: f.diameterMm + f.slotMm * Math.abs(f.slotAxis[1]),
    }));
  return { xMm, holes };
}

/** Width of the upright at a height over the mount, mm: tapers straight from the bend to the top. */
function widthAtMm(model: StrengthModel, heightMm: number): number {
  const { baseWidthMm, topWidthMm, uprightLegMm, thicknessMm, insideRadiusMm } = model.spec;
  const from = thicknessMm + insideRadiusMm;
  const share = Math.min(1, Math.max(0, (heightMm - from) / Math.max(uprightLegMm - from, 1e-9)));
  return baseWidthMm + (topWidthMm - baseWidthMm) * share;
}

function angleCuts(model: StrengthModel): Cut[] {
  const { spec, ballMm, centreYMm: cy } = model;
  const { thicknessMm: t, insideRadiusMm: r, baseWidthMm: b, gusset, studHole } = spec;
  const takes = t + r;
  const rib = (depth: number): Section =>
    gusset ? ribbedSection(t, b, gusset.thicknessMm, depth, gusset.count) : plateSection(t, b);
  // the gusset at the end of the bend: its height there, from its sharp corner
  const upright = rib(gusset ? gusset.alongMm * Math.max(0, 1 - r / gusset.upMm) : 0);
  const base = rib(gusset ? gusset.upMm * Math.max(0, 1 - r / gusset.alongMm) : 0);
  const heel = acrossX(ballMm, [-takes, cy, t / 2]);
  const cuts: Cut[] = [
    {
      id: 'upright',
      name: gusset ? 'Upright at the bend, with its gusset' : 'Upright at the bend line',
      section: upright,
      through: acrossZ(ballMm, [-t / 2, cy, takes]),
    },
    {
      id: 'base-leg',
      name: gusset ? 'Base leg at the bend, with its gusset' : 'Base leg at the bend line',
      section: base,
      through: heel,
    },
  ];
  const at = studHole.heightMm;
  const hole = { atMm: studHole.acrossMm, diameterMm: studHole.diameterMm };
  cuts.push({
    id: 'upright-at-stud',
    name: 'Upright beside the stud’s hole',
    section: plateSection(t, widthAtMm(model, at), [hole]),
    through: acrossZ(ballMm, [-t / 2, cy, at]),
  });
  const row = nearestRow(model);
  if (gusset) {
    const up = t + gusset.upMm;
    if (up < at)
      cuts.push({
        id: 'upright-above-gusset',
        name: 'Upright above its gusset',
        section: plateSection(t, widthAtMm(model, up)),
        through: acrossZ(ballMm, [-t / 2, cy, up]),
      });
    const along = -(t + gusset.alongMm);
    if (along > (row?.xMm ?? -spec.baseLegMm))
      cuts.push({
        id: 'base-leg-beyond-gusset',
        name: 'Base leg beyond its gusset',
        section: plateSection(t, b),
        through: beyondHeel(heel, acrossX(ballMm, [along, cy, t / 2])),
      });
  }
  if (row)
    cuts.push({
      id: 'base-leg-at-fixings',
      name: 'Base leg at its nearest fixings (net section)',
      section: plateSection(t, b, row.holes),
      through: beyondHeel(heel, acrossX(ballMm, [row.xMm, cy, t / 2])),
      notes: ['The mount presses back at the heel; a gusset is not counted here.'],
    });
  return cuts;
}

function tabCuts(model: StrengthModel): Cut[] {
  const { spec, ballMm, centreYMm: cy, footprint } = model;
  const t = spec.thicknessMm;
  const row = nearestRow(model);
  const xMm = row?.xMm ?? footprint.xMaxMm;
  const share = (xMm - model.plate.xMinMm) / spec.baseLegMm;
  const width = spec.baseWidthMm + (spec.topWidthMm - spec.baseWidthMm) * share;
  return [
    {
      id: 'plate-at-fixings',
      name: row ? 'Tab at its nearest fixings (net section)' : 'Tab at the edge of its mount',
      section: plateSection(t, width, row?.holes ?? []),
      through: acrossX(ballMm, [xMm, cy, t / 2]),
    },
    {
      id: 'upright-at-stud',
      name: 'Tab beside the stud’s hole',
      section: plateSection(t, spec.topWidthMm, [
        { atMm: spec.studHole.acrossMm, diameterMm: spec.studHole.diameterMm },
      ]),
      through: acrossX(ballMm, [0, cy, t / 2]),
    },
  ];
}

/** A channel: each upright takes half of what is square to the pin, one of them all that is along it. */
function channelCuts(model: StrengthModel): Cut[] {
  const { spec } = model;
  const { thicknessMm: t, insideRadiusMm: r, baseWidthMm: b, baseLegMm, studHole } = spec;
  const takes = t + r;
  const h = studHole.heightMm;
  const off = Math.abs(studHole.acrossMm);
  const leg =
    (z: number) =>
    (f: Vec3): SectionForces => ({
      axialN: f[2] / 2,
      shearN: Math.hypot(f[0], f[1] / 2),
      weakNmm: f[0] * (h - z),
      strongNmm: (Math.abs(f[1]) * (h - z) + Math.abs(f[2]) * off) / 2,
      torsionNmm: Math.abs(f[0]) * off,
    });
  const row = nearestRow(model);
  // from the upright's middle plane to the nearest fixings, along the base
  const reach = row
    ? Math.min(...model.fixings.map((f) => Math.min(-f.centreMm[0], baseLegMm + f.centreMm[0])))
    : takes;
  const base =
    (arm: number) =>
    (f: Vec3): SectionForces => ({
      axialN: f[0],
      shearN: Math.hypot(f[1], f[2]) / 2,
      weakNmm: Math.abs(f[0]) * (h - t / 2) + (Math.max(f[2], 0) / 2) * Math.max(0, arm - t / 2),
      strongNmm: (Math.abs(f[1]) / 2) * arm,
      torsionNmm: (Math.abs(f[1]) / 2) * (h - t / 2),
    });
  const notes = [
    'Each upright takes half of what is square to the pin, and either of them all that is along it (on the safe side).',
  ];
  const cuts: Cut[] = [
    { id: 'upright', name: 'Uprights at the bend line', section: plateSection(t, b), through: leg(takes), notes },
    {
      id: 'upright-at-stud',
      name: 'Uprights beside the pin’s hole',
      section: plateSection(t, widthAtMm(model, h), [{ atMm: studHole.acrossMm, diameterMm: studHole.diameterMm }]),
      through: leg(h),
      notes,
    },
    { id: 'base-leg', name: 'Base at the bend line', section: plateSection(t, b), through: base(takes), notes },
  ];
  if (row)
    cuts.push({
      id: 'base-leg-at-fixings',
      name: 'Base at its nearest fixings (net section)',
      section: plateSection(t, b, row.holes),
      through: base(reach),
      notes,
    });
  return cuts;
}

/** A wedge plate between its fixings and the stud: a beam at its thinnest, net of the stud's hole. */
function wedgeLine(model: StrengthModel, yieldMPa: number, source: string): CheckLine {
  const { spec, ballMm, fixings, footprint, centreYMm } = model;
  const width = Math.min(spec.baseWidthMm, spec.topWidthMm);
  const section = plateSection(spec.thicknessMm, width, [
    { atMm: spec.studHole.acrossMm, diameterMm: spec.studHole.diameterMm },
  ]);
  const group = fixings.map((f) => ({ xMm: f.centreMm[0], yMm: f.centreMm[1] }));
  const width2 = plateSection(spec.thicknessMm, spec.baseLegMm);
  return {
    id: 'plate-at-fixings',
    name: 'Wedge plate between its fixings and the stud',
    unit: 'N/mm²',
    formula: 'M = Σ T_i·l_i on one side of the stud, σ = M/W at the thinnest place, net of the stud’s hole',
    source: 'beam theory, simple bending',
    capacitySource: `yield of ${source}`,
    gravity: 'fails',
    notes: [],
    at: (force) => {
      const m = cross(ballMm, force);
      const lift = liftForces(group, footprint, force[2], m[0], m[1]);
      if (!lift) return { demand: Math.hypot(m[0], m[1]) / section.weakMm3, capacity: 0 };
      const side = (axis: 'xMm' | 'yMm', from: number, sign: number): number =>
        group.reduce((sum, g, i) => sum + lift.tensionN[i]! * Math.max(0, sign * (g[axis] - from)), 0);
      const along = Math.max(side('xMm', 0, 1), side('xMm', 0, -1)) / section.weakMm3;
      const across = Math.max(side('yMm', centreYMm, 1), side('yMm', centreYMm, -1)) / width2.weakMm3;
      return { demand: Math.max(along, across), capacity: yieldMPa };
    },
  };
}
