import { type Issue, LidwrightError } from '../error';
import { DIN6935_LEAST_RATIO, LEAST_RATIO_WITH_MEANING } from './bend';
import { cornerTangentMm, depthInContourMm, type Point2 } from './contour';
import { blankHoles, blankLayout, blankOutline, topTurnRad } from './layout';
import type { BentAngle } from './spec';

/** One thing about a bracket: `fails` cannot be made or has no number; `watch` can be made, with care. */
export interface BracketIssue extends Issue {
  readonly id: string;
  readonly severity: 'fails' | 'watch';
  /** What the workshop should read on the drawing, when there is something to say. */
  readonly shopNote?: string;
}

/** Lengths over this are taken for a slip of the keyboard, mm. */
const LONGEST_MM = 5000;
const mm = (value: number): string => `${Number(value.toFixed(2))} mm`;

const POSITIVE: readonly [readonly string[], string, (s: BentAngle) => number][] = [
  [['thicknessMm'], 'thickness', (s) => s.thicknessMm],
  [['insideRadiusMm'], 'inside bend radius', (s) => s.insideRadiusMm],
  [['baseLegMm'], 'base leg', (s) => s.baseLegMm],
  [['uprightLegMm'], 'upright leg', (s) => s.uprightLegMm],
  [['baseWidthMm'], 'base width', (s) => s.baseWidthMm],
  [['topWidthMm'], 'top width', (s) => s.topWidthMm],
  [['baseHole', 'diameterMm'], 'base hole diameter', (s) => s.baseHole.diameterMm],
  [['baseHole', 'spacingMm'], 'base hole spacing', (s) => s.baseHole.spacingMm],
  [['baseHole', 'fromEndMm'], 'base hole distance from the end', (s) => s.baseHole.fromEndMm],
  [['studHole', 'diameterMm'], 'stud hole diameter', (s) => s.studHole.diameterMm],
  [['studHole', 'heightMm'], 'stud hole height', (s) => s.studHole.heightMm],
];

function checkNumbers(spec: BentAngle): BracketIssue[] {
  const issues: BracketIssue[] = [];
  const no = (where: readonly string[], what: string, advice: string): void => {
    issues.push({ id: 'number', severity: 'fails', where, what, advice });
  };
  for (const [where, name, read] of POSITIVE) {
    const value = read(spec);
    if (!Number.isFinite(value) || value <= 0 || value > LONGEST_MM)
      no(where, `The ${name} is ${value} mm.`, `Give a length over 0, up to ${LONGEST_MM} mm.`);
  }
  for (const key of ['baseCornerRadiusMm', 'topCornerRadiusMm'] as const)
    if (!Number.isFinite(spec[key]) || spec[key] < 0 || spec[key] > LONGEST_MM)
      no([key], `The corner radius is ${spec[key]} mm.`, 'Give 0 for a sharp corner, or a radius.');
  const density = spec.material.densityKgM3;
  if (!Number.isFinite(density) || density <= 0 || density > 30000)
    no(['material', 'densityKgM3'], `The density is ${density} kg/m³.`, 'Steel is about 7850, aluminium about 2700.');
  return issues;
}

function checkBend(spec: BentAngle): BracketIssue[] {
  const { thicknessMm: t, insideRadiusMm: r } = spec;
  const ratio = r / t;
  const shown = `r/t = ${Number(ratio.toFixed(2))}`;
  if (ratio < LEAST_RATIO_WITH_MEANING)
    return [
      {
        id: 'bend-ratio',
        severity: 'fails',
        where: ['insideRadiusMm'],
        what: `The bend is so tight (${shown}) that the DIN 6935 allowance has no meaning: there is no blank length to give.`,
        advice: `Make the inside radius at least ${mm(LEAST_RATIO_WITH_MEANING * t)}, better ${mm(t)} or more.`,
      },
    ];
  const issues: BracketIssue[] = [];
  if (ratio < DIN6935_LEAST_RATIO)
    issues.push({
      id: 'bend-ratio',
      severity: 'watch',
      where: ['insideRadiusMm'],
      what: `${shown} is tighter than DIN 6935 gives its allowance for (about ${DIN6935_LEAST_RATIO} and up).`,
      advice: 'Bend a trial piece and correct the blank, or use a larger inside radius.',
      shopNote: `Tight bend (${shown}): bend a trial piece first and correct the blank length.`,
    });
  if (ratio < 1)
    issues.push({
      id: 'bend-crack',
      severity: 'watch',
      where: ['insideRadiusMm'],
      // Common practice for cold bending of steel; tables per grade and rolling direction exist.
      what: `The inside radius (${mm(r)}) is under the thickness (${mm(t)}): the outside of the bend may crack.`,
      advice: `Use ${mm(t)} or more, or bend across the rolling direction and look at the outside of the bend.`,
    });
  return issues;
}

function checkLegs(spec: BentAngle): BracketIssue[] {
  const issues: BracketIssue[] = [];
  const no = (id: string, where: readonly string[], what: string, advice: string): void => {
    issues.push({ id, severity: 'fails', where, what, advice });
  };
  const bend = spec.thicknessMm + spec.insideRadiusMm;
  for (const [key, name] of [
    ['baseLegMm', 'base'],
    ['uprightLegMm', 'upright'],
  ] as const)
    if (!(spec[key] > bend))
      no(
        'leg-in-bend',
        [key],
        `The ${name} leg (${mm(spec[key])}) ends inside the bend, which takes ${mm(bend)} of it.`,
        `Make it longer than thickness plus inside radius, or the radius smaller.`,
      );
  if (issues.length > 0) return issues;

  const baseStraight = spec.baseLegMm - bend;
  const baseMost = Math.min(spec.baseWidthMm / 2, baseStraight);
  if (spec.baseCornerRadiusMm > baseMost + 1e-9)
    no(
      'base-corner',
      ['baseCornerRadiusMm'],
      `A corner radius of ${mm(spec.baseCornerRadiusMm)} does not fit on the base leg.`,
      `At most ${mm(baseMost)} here: half the width, and no further than the bend.`,
    );
  const turn = topTurnRad(spec);
  const side = Math.hypot(spec.uprightLegMm - bend, (spec.baseWidthMm - spec.topWidthMm) / 2);
  const topMost = Math.min(spec.topWidthMm / 2, side) / cornerTangentMm(1, turn);
  if (spec.topCornerRadiusMm > topMost + 1e-9)
    no(
      'top-corner',
      ['topCornerRadiusMm'],
      `A corner radius of ${mm(spec.topCornerRadiusMm)} does not fit on the top of the upright.`,
      `At most ${mm(Math.floor(topMost * 100) / 100)} here.`,
    );
  return issues;
}

function checkHoles(spec: BentAngle): BracketIssue[] {
  const issues: BracketIssue[] = [];
  const blank = blankLayout(spec);
  const outline = blankOutline(spec, blank);
  const centres = blankHoles(spec, blank);
  const { baseHole, studHole } = spec;
  const add = (severity: 'fails' | 'watch', id: string, where: string[], what: string, advice: string, note?: string) =>
    issues.push({ id, severity, where, what, advice, ...(note === undefined ? {} : { shopNote: note }) });

  if (baseHole.spacingMm <= baseHole.diameterMm)
    add(
      'fails',
      'holes-meet',
      ['baseHole', 'spacingMm'],
      `The two base holes run into each other: ${mm(baseHole.spacingMm)} apart, ⌀ ${mm(baseHole.diameterMm)}.`,
      'Space them further apart or make them smaller.',
    );
  const one = (name: string, where: string[], centre: Point2, diameterMm: number, toBendMm: number): void => {
    const radius = diameterMm / 2;
    const depth = depthInContourMm(centre, outline);
    if (depth <= radius + 1e-9)
      add(
        'fails',
        `${where[0]}-edge`,
        where,
        `The ${name} breaks out over the edge.`,
        'Move it in, make it smaller, or the plate wider.',
      );
    // Least end distance 1.2·d0: EN 1993-1-8 table 3.3, from memory.
    else if (depth < 1.2 * diameterMm)
      add(
        'watch',
        `${where[0]}-edge`,
        where,
        `The centre of the ${name} is ${mm(depth)} from the edge, under 1.2 hole diameters (${mm(1.2 * diameterMm)}).`,
        'Move it in: a hole so near the edge tears out.',
      );
    if (toBendMm <= radius + 1e-9)
      add(
        'fails',
        `${where[0]}-bend`,
        where,
        `The ${name} runs into the bend.`,
        `Move it ${mm(radius - toBendMm + spec.thicknessMm)} or more away from the bend.`,
      );
    // Two thicknesses from hole edge to bend: common practice, no source.
    else if (toBendMm - radius < 2 * spec.thicknessMm)
      add(
        'watch',
        `${where[0]}-bend`,
        where,
        `The edge of the ${name} is ${mm(toBendMm - radius)} from the bend, under two thicknesses: bending pulls it oval.`,
        'Move it away from the bend, or drill it after bending.',
        `Drill the ${name} after bending: it is close to the bend.`,
      );
  };
  one(
    'base hole',
    ['baseHole', 'fromEndMm'],
    centres.right,
    baseHole.diameterMm,
    blank.bendStartMm - baseHole.fromEndMm,
  );
  one('stud hole', ['studHole', 'heightMm'], centres.stud, studHole.diameterMm, blank.studMm - blank.bendEndMm);
  return issues;
}

/**
 * What stands against making this bracket: `fails` first stage by stage (numbers, then bend and legs, then holes), as a later
 * stage has no meaning before the earlier is right. Empty when there is nothing to say. Each issue names field and cure.
 */
export function checkBracket(spec: BentAngle): BracketIssue[] {
  const numbers = checkNumbers(spec);
  if (numbers.length > 0) return numbers;
  const shape = [...checkBend(spec), ...checkLegs(spec)];
  if (shape.some((issue) => issue.severity === 'fails')) return shape;
  return [...shape, ...checkHoles(spec)];
}

/** Throws a LidwrightError with every failing issue when the bracket cannot be made. */
export function requireMakeable(spec: BentAngle): void {
  const [first, ...rest] = checkBracket(spec).filter((issue) => issue.severity === 'fails');
  if (first) throw new LidwrightError(first, rest);
}
