import {
  type BracketSpec,
  type PlacedHole,
  type Thread,
  ballAt,
  bracketSpecOf,
  coarseThread,
  placedHoles,
  stemOfBracket,
} from '../bracket';
import type { Bracket, Strut } from '../job';
import { type RodThread, fittingKind, sizedFitting } from '../joint';
import type { Vec3 } from '../space';
import type { Footprint } from './group';
import { type MaterialStrength, materialStrength } from './materials';
import { halfWidthMm } from './places';
import { type PropertyClass, propertyClass } from './property-classes';
import type { WeldEdges } from './welds';

/** Where the job says nothing, and what each stands on. */
export const DEFAULTS = {
  /** Common practice, no source. */
  shockFactor: 1.5,
  /** ISO 898-1; common practice for ball studs, no source. */
  studClass: '5.6',
  boltClass: '8.8',
  /** Share of the proof load that a hand with a spanner gives; common practice, no source. */
  preloadShare: 0.6,
  /** Between painted or plain faces; common practice, no source (EN 1090-2 gives 0.2 for untreated ones). */
  friction: 0.15,
  /** In a dry ball joint or on a pin; common practice, no source. */
  jointFriction: 0.15,
  /** Yield of a rod's end, N/mm²: as class 5.6; common practice, no source. */
  rodYieldMPa: 300,
  /** Half the free span of the sheet it sits on, mm: between frames or stiffeners; common practice, no source. */
  panelRadiusMm: 200,
  /** Throat over the thinner part; common practice, no source. */
  throatShare: 0.7,
} as const;

/** A bolt or stud with its class. */
export interface Screw {
  readonly thread: Thread;
  readonly className: string;
  /** Null: the class typed is in no table. */
  readonly class: PropertyClass | null;
}

/** How a bracket is bolted down. */
export interface BoltedDown extends Screw {
  readonly into: 'through' | 'tapped' | 'insert';
  readonly engagementMm: number | null;
  readonly insertPullN: number | null;
  readonly preloadN: number;
  readonly friction: number;
}

/** A bracket as numbers that strength works on, in the bracket's frame. Lengths mm, forces N. */
export interface StrengthModel {
  readonly spec: BracketSpec;
  readonly ballMm: Vec3;
  readonly stem: Vec3;
  /** y of the bracket's centre line. */
  readonly centreYMm: number;
  readonly fixings: readonly PlacedHole[];
  readonly studHole: PlacedHole;
  readonly footprint: Footprint;
  /** The plate of the fixed leg, for edge distances. */
  readonly plate: Footprint;
  readonly material: MaterialStrength | null;
  readonly seat: {
    readonly thicknessMm: number;
    readonly name: string;
    readonly material: MaterialStrength | null;
    readonly spreader: { readonly thicknessMm: number; readonly widthMm: number; readonly lengthMm: number } | null;
  } | null;
  readonly stud: Screw | null;
  /** Null where it is welded, or no thread goes through its holes. */
  readonly bolts: BoltedDown | null;
  readonly weld: { readonly throatMm: number; readonly edges: WeldEdges } | null;
  readonly rod: { readonly thread: RodThread; readonly ballMm: number; readonly pinned: boolean };
  readonly shockFactor: number;
  /** Everything taken where the job says nothing, in words. */
  readonly assumptions: readonly string[];
}

const screw = (thread: Thread['name'], className: string): Screw => {
  const sizes = coarseThread(thread);
  return { thread: sizes, className, class: propertyClass(className, sizes.diameterMm) ?? null };
};

function footprints(spec: BracketSpec, fixings: readonly PlacedHole[]): { plate: Footprint; footprint: Footprint } {
  const { kind, baseLegMm, baseWidthMm, thicknessMm, insideRadiusMm, studHole } = spec;
  const centre = -studHole.acrossMm;
  const bent = spec.uprightLegMm > 0;
  const takes = thicknessMm + insideRadiusMm;
  const half = baseWidthMm / 2;
  const beyond = bent ? 0 : studHole.fromEndMm;
  const plate = { xMinMm: beyond - baseLegMm, xMaxMm: beyond, yMinMm: centre - half, yMaxMm: centre + half };
  if (kind === 'channel') return { plate, footprint: { ...plate, xMinMm: takes - baseLegMm, xMaxMm: -takes } };
  if (bent) return { plate, footprint: { ...plate, xMaxMm: -takes } };
  // a taper: the narrowest part of what lies on the mount
  const narrow = (xMaxMm: number): Footprint => {
    const least = Math.min(half, halfWidthMm({ spec, plate }, xMaxMm));
    return { ...plate, xMaxMm, yMinMm: centre - least, yMaxMm: centre + least };
  };
  if (kind === 'wedge-plate') return { plate, footprint: narrow(plate.xMaxMm) };
  // a tab stands out over the edge of its mount: how far before the stud that edge lies is not in the job
  const row = Math.max(...fixings.map((f) => f.centreMm[0]), plate.xMinMm);
  const hole = fixings[0]?.diameterMm ?? studHole.diameterMm;
  const xMaxMm = fixings.length > 0 ? Math.min(row + 1.5 * hole, row / 2) : -1.5 * hole;
  return { plate, footprint: narrow(Math.max(xMaxMm, row)) };
}

/**
 * What strength works on, from a job's bracket and the strut it holds. Throws a LidwrightError where the bracket can't be
 * made as drawn (`checkBracket`).
 */
export function strengthModel(bracket: Bracket, strut: Strut): StrengthModel {
  const spec = bracketSpecOf(bracket);
  const holes = placedHoles(spec);
  const fixings = holes.filter((h) => h.role === 'fixing');
  const assumptions: string[] = [];
  const taken = <T>(value: T | undefined, otherwise: T, text: string): T => {
    if (value === undefined) assumptions.push(text);
    return value ?? otherwise;
  };
  const shockFactor = taken(
    bracket.shockFactor,
    DEFAULTS.shockFactor,
    `Forces are multiplied by ${DEFAULTS.shockFactor} for shocks (common practice, no source).`,
  );
  const { attach, seat } = bracket;
  const welded = spec.attachedBy !== 'bolts';
  const studName = spec.studThread;
  const stud = studName
    ? screw(
        studName,
        taken(
          bracket.stud?.propertyClass,
          DEFAULTS.studClass,
          `The ${spec.kind === 'channel' ? 'pin' : 'stud'} counts as ${studName}, class ${DEFAULTS.studClass}: nothing is said (common practice, no source).`,
        ),
      )
    : null;
  let bolts: BoltedDown | null = null;
  if (!welded && spec.fixingThread && fixings.length > 0) {
    const base = screw(
      spec.fixingThread,
      taken(
        attach?.propertyClass,
        DEFAULTS.boltClass,
        `The fixings count as ${spec.fixingThread}, class ${DEFAULTS.boltClass}: nothing is said (common practice, no source).`,
      ),
    );
    const usual = base.class ? DEFAULTS.preloadShare * base.class.proofMPa * base.thread.stressAreaMm2 : 0;
    const into = spec.into;
    const pull = attach?.insertPullN ?? null;
    bolts = {
      ...base,
      into,
      engagementMm:
        into === 'tapped'
          ? taken(
              attach?.engagementMm,
              seat?.thicknessMm ?? 0,
              'The thread carries over the whole thickness of the mount: nothing else is said.',
            )
          : (attach?.engagementMm ?? null),
      insertPullN: pull,
      preloadN: taken(
        attach?.preloadN,
        into === 'insert' && pull !== null ? Math.min(usual, pull / 2) : usual,
        into === 'insert'
          ? 'The fixings are tightened to half the insert’s pull-out force, at most 60 % of the proof load (common practice, no source).'
          : 'The fixings are tightened to 60 % of their proof load (common practice, no source).',
      ),
      friction: taken(
        attach?.friction,
        DEFAULTS.friction,
        `Friction between bracket and mount ${DEFAULTS.friction} (common practice, no source).`,
      ),
    };
  }
  const thin = Math.min(spec.thicknessMm, seat?.thicknessMm ?? Infinity);
  const weld = welded
    ? {
        throatMm: taken(
          attach?.weldThroatMm,
          DEFAULTS.throatShare * thin,
          `The weld’s throat is 0.7 of the thinner part (common practice, no source).`,
        ),
        edges: taken(attach?.weldEdges, 'all' as WeldEdges, 'All edges of the fixed leg are welded: nothing is said.'),
      }
    : null;
  if (spec.attachedBy === 'both')
    assumptions.push(
      'Welded and bolted: the weld is stiffer and counts for all of it, the bolts for none (EN 1993-1-8 3.9.3).',
    );
  const end = strut.ends[bracket.end];
  const { fitting, assumed } = sizedFitting(end.fitting, strut.spec.rodMm);
  const thread = fitting.thread ?? { name: 'M6', diameterMm: 6, pitchMm: 1 };
  if (assumed)
    assumptions.push(
      `The rod’s end counts as ${thread.name}: the joint’s size is not said (common practice, no source).`,
    );
  return {
    spec,
    ballMm: ballAt(spec),
    stem: stemOfBracket(spec),
    centreYMm: -spec.studHole.acrossMm,
    fixings,
    studHole: holes.find((h) => h.role !== 'fixing')!,
    ...footprints(spec, fixings),
    material: materialStrength(bracket.material, spec.thicknessMm),
    seat: seat
      ? {
          thicknessMm: seat.thicknessMm,
          name: seat.material.name,
          material: materialStrength(seat.material, seat.thicknessMm),
          spreader: seat.spreader ?? null,
        }
      : null,
    stud,
    bolts,
    weld,
    rod: {
      thread,
      ballMm: fitting.ballMm ?? thread.diameterMm * 1.6,
      pinned: ['fork', 'eye'].includes(fittingKind(end.fitting)),
    },
    shockFactor,
    assumptions,
  };
}
