import fc from 'fast-check';
import { type BracketSpec, bracketSpecOf, checkBracket } from '../../../core/bracket';
import { type Bracket, type BracketKind } from '../../../core/job';

const between = (low: number, high: number) =>
  fc.integer({ min: 0, max: 10_000 }).map((n) => Math.round((low + ((high - low) * n) / 10_000) * 100) / 100);

const two = (x: number): number => Math.round(x * 100) / 100;
const makeable = (spec: BracketSpec): boolean => !checkBracket(spec).some((issue) => issue.severity === 'fails');

const body = {
  t: between(1, 10),
  ratio: between(0.3, 6),
  base: between(15, 180),
  upright: between(15, 260),
  width: between(20, 160),
  taper: fc.oneof(fc.constant(1), between(0.35, 1.3)),
  baseCorner: fc.oneof(fc.constant(0), between(0, 0.5)),
  topCorner: fc.oneof(fc.constant(0), between(0, 0.5)),
  hole: between(3, 16),
  spacing: between(0.2, 0.85),
  fromEnd: between(0.15, 0.8),
  stud: between(4, 16),
  height: between(0.3, 0.9),
  density: between(1500, 8900),
};

/** Any plain bent angle with one pair of holes that can be made: drawn freely, then kept when no check fails. */
export const makeableAngle: fc.Arbitrary<BracketSpec> = fc
  .record(body)
  .map((r) => {
    const topWidthMm = two(r.width * r.taper);
    return bracketSpecOf({
      ...{ id: 'r', name: 'Random', kind: 'bent-angle', strut: 's1', end: 'base' },
      thicknessMm: r.t,
      insideRadiusMm: two(r.t * r.ratio),
      baseLegMm: r.base,
      uprightLegMm: r.upright,
      baseWidthMm: r.width,
      topWidthMm,
      baseCornerRadiusMm: two(r.width * r.baseCorner),
      topCornerRadiusMm: two(topWidthMm * r.topCorner),
      baseHole: { diameterMm: r.hole, spacingMm: two(r.width * r.spacing), fromEndMm: two(r.base * r.fromEnd) },
      studHole: { diameterMm: r.stud, heightMm: two(r.upright * r.height) },
      ballOffsetMm: 12,
      material: { name: 'Sheet', densityKgM3: r.density },
    });
  })
  .filter(makeable);

/** Any bracket of a kind that can be made: free or patterned holes, round or slotted, ball inside or outside, stud off the middle. */
export const makeableOf = (kind: BracketKind): fc.Arbitrary<BracketSpec> =>
  fc
    .record({
      ...body,
      across: fc.constantFrom(1, 2, 3),
      rows: fc.constantFrom(1, 1, 2),
      rowPitch: between(12, 60),
      slot: fc.oneof(fc.constant(0), between(1, 12)),
      slotDeg: fc.constantFrom(0, 90, 30, -45),
      free: fc.array(
        fc.record({ x: between(-0.45, 0.45), y: between(0.08, 0.92), d: between(3, 12), s: between(0, 8) }),
        {
          maxLength: 6,
        },
      ),
      inside: fc.boolean(),
      studAcross: fc.oneof(fc.constant(0), between(-12, 12)),
      offset: between(5, 40),
      gap: between(12, 80),
      gussetT: between(1, 8),
      along: between(0.2, 0.9),
      up: between(0.2, 0.9),
      count: fc.constantFrom(1 as const, 2 as const),
      gussetAcross: between(0.1, 0.5),
      tilt: between(0, 40),
      direction: fc.constantFrom(0, 90, 180, 37, -120),
      studEnd: between(0.08, 0.5),
    })
    .map((r) => {
      const topWidthMm = two(r.width * r.taper);
      const channel = kind === 'channel';
      const leg = channel ? r.gap + 2 * r.t : r.base;
      const bracket: Bracket = {
        ...{ id: 'r', name: 'Random', kind, strut: 's1', end: 'base' },
        thicknessMm: r.t,
        insideRadiusMm: two(r.t * (channel ? Math.min(r.ratio, 1.5) : r.ratio)),
        baseLegMm: r.base,
        uprightLegMm: r.upright,
        baseWidthMm: r.width,
        topWidthMm,
        baseCornerRadiusMm: two(r.width * r.baseCorner),
        topCornerRadiusMm: two(topWidthMm * r.topCorner),
        ...(r.free.length > 0
          ? {
              fixings: r.free.map((f, i) => ({
                id: `f${i}`,
                acrossMm: two(f.x * r.width),
                fromEndMm: two(f.y * leg),
                diameterMm: f.d,
                slotMm: f.s < 3 ? 0 : f.s,
                slotDeg: r.slotDeg,
              })),
            }
          : {
              baseHole: {
                diameterMm: r.hole,
                spacingMm: two((r.width * r.spacing) / Math.max(1, r.across - 1)),
                fromEndMm: two(leg * (channel ? 0.5 : r.fromEnd)),
                ...{ across: r.across, rows: r.rows, rowSpacingMm: r.rowPitch, slotMm: r.slot, slotDeg: r.slotDeg },
              },
            }),
        studHole: {
          diameterMm: r.stud,
          heightMm: two(r.upright * r.height),
          fromEndMm: two(r.base * r.studEnd),
          acrossMm: r.studAcross,
        },
        ballOffsetMm: r.offset,
        ballSide: r.inside && kind !== 'wedge-plate' ? 'inside' : 'outside',
        gapMm: r.gap,
        gusset: {
          ...{ thicknessMm: r.gussetT, count: r.count, acrossMm: two(r.width * r.gussetAcross) },
          alongMm: two(r.base * r.along),
          upMm: two(r.upright * r.up),
        },
        wedge: { tiltDeg: r.tilt, directionDeg: r.direction },
        attach: { by: r.free.length === 1 ? 'both' : 'bolts' },
        material: { name: 'Sheet', densityKgM3: r.density },
      };
      return bracketSpecOf(bracket);
    })
    .filter(makeable);
