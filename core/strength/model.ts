import {
  type BracketSpec,
  type PlacedHole,
  type Thread,
  ballAt,
  bracketSpecOf,
  coarseThread,
  hardwareOf,
  isPinned,
  placedHoles,
  stemOfBracket,
} from '../bracket';
import type { Bracket, FixedInto, Strut } from '../job';
import { type RodThread, fittingKind, sizedFitting } from '../joint';
import type { Vec3 } from '../space';
import { type FixingForces, fixingForces } from './fixing-forces';
import { type MaterialStrength, materialStrength } from './materials';
import { type PropertyClass, propertyClass } from './property-classes';
import { type Plates, footprints } from './shape';
import type { WeldEdges } from './welds';
import { SCREW_LENGTHS_MM, type ServiceClass, type WoodRow, type WoodScrew, woodRow, woodScrew } from './wood';

/** Where the job says nothing, and what each stands on. */
export const DEFAULTS = {
  /** Common practice, no source. */
  shockFactor: 1.5,
  /** ISO 898-1; common practice for ball studs, no source. */
  studClass: '5.6',
  boltClass: '8.8',
  /** Coach screws are sold as 3.6 to 4.8; common practice, no source. */
  screwClass: '4.6',
  /** Wood in the weather: the weakest. */
  serviceClass: 3 as ServiceClass,
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
  readonly into: FixedInto;
  /** Wood or coach screws; null: the wood is too thin for any, or nobody knows how thick it is. */
  readonly woodScrew: WoodScrew | null;
  /** What the maker states of a blind rivet's shear. */
  readonly rivetShearN: number | null;
  /** Outside diameter of the washers under heads and nuts. */
  readonly washerMm: number;
  readonly engagementMm: number | null;
  readonly insertPullN: number | null;
  readonly preloadN: number;
  readonly friction: number;
}

/** A panel or beam that a bracket sits on. */
export interface Seat {
  readonly thicknessMm: number;
  readonly name: string;
  /** Null: in no table, or wood. */
  readonly material: MaterialStrength | null;
  readonly wood: WoodRow | null;
  /** Characteristic bending strength where the job states one, N/mm²; of wood only. */
  readonly bendingMPa: number | undefined;
  readonly serviceClass: ServiceClass;
  readonly spreader: { readonly thicknessMm: number; readonly widthMm: number; readonly lengthMm: number } | null;
}

/** A bracket as numbers that strength works on, in the bracket's frame. Lengths mm, forces N. */
export interface StrengthModel extends Plates {
  readonly spec: BracketSpec;
  readonly ballMm: Vec3;
  readonly stem: Vec3;
  /** y of the bracket's centre line. */
  readonly centreYMm: number;
  readonly fixings: readonly PlacedHole[];
  readonly studHole: PlacedHole;
  /** What a force at the ball (N) does to the fixings, where it is bolted. */
  readonly forcesOf: (force: Vec3) => FixingForces;
  readonly material: MaterialStrength | null;
  readonly seat: Seat | null;
  readonly stud: Screw | null;
  /** Null where it is welded, or no thread goes through its holes. */
  readonly bolts: BoltedDown | null;
  readonly weld: { readonly throatMm: number; readonly edges: WeldEdges } | null;
  readonly rod: { readonly thread: RodThread; readonly ballMm: number; readonly pinned: boolean };
  readonly shockFactor: number;
  /** Everything taken where the job says nothing, in words. */
  readonly assumptions: readonly string[];
}

/** A bracket bolted, screwed or riveted down by fixings of a known class. */
export interface Bolted extends StrengthModel {
  readonly bolts: BoltedDown;
  readonly cls: PropertyClass;
}

const screw = (thread: Thread['name'], className: string): Screw => {
  const sizes = coarseThread(thread);
  return { thread: sizes, className, class: propertyClass(className, sizes.diameterMm) ?? null };
};

/** What is taken where the job says nothing, in words. */
const TAKEN = {
  shock: `Forces are multiplied by ${DEFAULTS.shockFactor} for shocks (common practice, no source).`,
  counts: (what: string, thread: string, className: string): string =>
    `${what} as ${thread}, class ${className}: nothing is said (common practice, no source).`,
  engagement: 'The thread carries over the whole thickness of the mount: nothing else is said.',
  insertPreload:
    'The fixings are tightened to half the insert’s pull-out force, at most 60 % of the proof load (common practice, no source).',
  preload: 'The fixings are tightened to 60 % of their proof load (common practice, no source).',
  friction: `Friction between bracket and mount ${DEFAULTS.friction} (common practice, no source).`,
  woodScrew: ({ diameterMm, lengthMm }: WoodScrew): string =>
    `The fixings count as coach screws ${diameterMm} × ${lengthMm} mm in pre-drilled holes: nothing is said (common practice, no source).`,
  weather: 'The wood counts as standing in the weather (service class 3): nothing is said.',
  throat: 'The weld’s throat is 0.7 of the thinner part (common practice, no source).',
  edges: 'All edges of the fixed leg are welded: nothing is said.',
  both: 'Welded and bolted: the weld is stiffer and counts for all of it, the bolts for none (EN 1993-1-8 3.9.3).',
  rod: (thread: string): string =>
    `The rod’s end counts as ${thread}: the joint’s size is not said (common practice, no source).`,
};

/** A value, or what is taken in its stead, which is noted. */
type Take = <T>(value: T | undefined, otherwise: T, text: string) => T;

/** The wood screw that the job states, or the longest coach screw whose point stays in the wood. */
function woodScrewOf({ attach, seat }: Bracket, plateMm: number, diameterMm: number, take: Take): WoodScrew | null {
  const { screw: own } = attach ?? {};
  if (own) return woodScrew(own.diameterMm, own.lengthMm, own);
  const lengthMm = seat && SCREW_LENGTHS_MM.findLast((mm) => mm <= plateMm + seat.thicknessMm - 1);
  if (!lengthMm || lengthMm <= plateMm) return null;
  const usual = woodScrew(diameterMm, lengthMm);
  return take(undefined, usual, TAKEN.woodScrew(usual));
}

function boltsOf(bracket: Bracket, spec: BracketSpec, thread: Thread['name'], take: Take): BoltedDown {
  const { attach, seat } = bracket;
  const { into } = spec;
  const { boltClass, screwClass, preloadShare, friction } = DEFAULTS;
  const usualClass = into === 'wood' ? screwClass : boltClass;
  const coarse = screw(
    thread,
    take(attach?.propertyClass, usualClass, TAKEN.counts('The fixings count', thread, usualClass)),
  );
  const wood = into === 'wood' ? woodScrewOf(bracket, spec.thicknessMm, coarse.thread.diameterMm, take) : null;
  const area = wood && (Math.PI / 4) * wood.rootMm ** 2;
  const base =
    wood && area
      ? {
          ...coarse,
          thread: {
            ...coarse.thread,
            ...{ diameterMm: wood.diameterMm, rootDiameterMm: wood.rootMm, stressAreaMm2: area },
          },
        }
      : coarse;
  const inWood = seat !== undefined && woodRow(seat.material.name) !== undefined;
  // wood gives way under a bolt in time: nothing of its preload is counted
  const lasting = into === 'wood' || into === 'rivet' || inWood ? 0 : preloadShare;
  const usual = base.class ? lasting * base.class.proofMPa * base.thread.stressAreaMm2 : 0;
  const insertPullN = attach?.insertPullN ?? null;
  const insert = into === 'insert';
  const held = insert && insertPullN !== null ? Math.min(usual, insertPullN / 2) : usual;
  return {
    ...base,
    into,
    woodScrew: wood,
    rivetShearN: attach?.rivetShearN ?? null,
    washerMm: hardwareOf(base.thread.name).washerDiameterMm,
    engagementMm:
      into === 'tapped'
        ? take(attach?.engagementMm, seat?.thicknessMm ?? 0, TAKEN.engagement)
        : (attach?.engagementMm ?? null),
    insertPullN,
    preloadN:
      lasting > 0
        ? take(attach?.preloadN, held, insert ? TAKEN.insertPreload : TAKEN.preload)
        : (attach?.preloadN ?? 0),
    friction: take(attach?.friction, friction, TAKEN.friction),
  };
}

function seatOf({ seat }: Bracket, take: Take): Seat | null {
  if (!seat) return null;
  const { thicknessMm, material, serviceClass, spreader = null } = seat;
  const wood = woodRow(material.name) ?? null;
  return {
    ...{ thicknessMm, name: material.name, wood, spreader },
    material: wood ? null : materialStrength(material, thicknessMm),
    bendingMPa: material.yieldMPa,
    serviceClass: wood ? take(serviceClass, DEFAULTS.serviceClass, TAKEN.weather) : DEFAULTS.serviceClass,
  };
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
  const take: Take = (value, otherwise, text) => {
    if (value === undefined) assumptions.push(text);
    return value ?? otherwise;
  };
  const shockFactor = take(bracket.shockFactor, DEFAULTS.shockFactor, TAKEN.shock);
  const { attach, seat } = bracket;
  const welded = spec.attachedBy !== 'bolts';
  const { studThread, fixingThread } = spec;
  const what = isPinned(spec) ? 'The pin counts' : 'The stud counts';
  const { studClass, throatShare } = DEFAULTS;
  const stud = studThread
    ? screw(studThread, take(bracket.stud?.propertyClass, studClass, TAKEN.counts(what, studThread, studClass)))
    : null;
  // a hole too small for any bolt still takes a wood screw
  const smallest = spec.into === 'wood' ? 'M4' : null;
  const through = fixingThread ?? smallest;
  const bolts = !welded && through && fixings.length > 0 ? boltsOf(bracket, spec, through, take) : null;
  const thinMm = Math.min(spec.thicknessMm, seat?.thicknessMm ?? Infinity);
  const weld = welded
    ? {
        throatMm: take(attach?.weldThroatMm, throatShare * thinMm, TAKEN.throat),
        edges: take<WeldEdges>(attach?.weldEdges, 'all', TAKEN.edges),
      }
    : null;
  if (spec.attachedBy === 'both') assumptions.push(TAKEN.both);
  const end = strut.ends[bracket.end];
  const { fitting, assumed } = sizedFitting(end.fitting, strut.spec.rodMm);
  const thread = fitting.thread ?? { name: 'M6', diameterMm: 6, pitchMm: 1 };
  if (assumed) assumptions.push(TAKEN.rod(thread.name));
  const ballMm = ballAt(spec);
  const plates = footprints(spec, fixings);
  return {
    spec,
    ballMm,
    stem: stemOfBracket(spec),
    centreYMm: -spec.studHole.acrossMm,
    fixings,
    studHole: holes.find((h) => h.role !== 'fixing')!,
    ...plates,
    forcesOf: fixingForces(ballMm, plates.footprint, fixings),
    material: materialStrength(bracket.material, spec.thicknessMm),
    seat: seatOf(bracket, take),
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
