import type { Bracket, JobBracket, Strut } from '../../job';
import type { IssueList } from '../check/issue';
import type { Contour } from '../contour';
import type { Hardware } from '../tables';
import type { BracketSpec } from '../types';
import type { Vec3 } from '../../space';

/** Edges that can be dragged; see `dragEdge` for what each one's value is. */
export type BracketEdge = 'free-end' | 'stud-end' | 'upright-top' | 'side' | 'stud-side' | 'gap';

/** A plate welded into the open angle, upright along the bracket. */
export interface Plate {
  readonly id: string;
  readonly name: string;
  readonly thicknessMm: number;
  /** [along the base, up the upright], mm, from the sharp inner corner of the bend. */
  readonly outline: Contour;
  /** Where each of them stands, from the centre line, mm. */
  readonly acrossMm: readonly number[];
}

/** A size of its own that a kind lets be dragged: by its edge, square to that edge. Places as in `Handle`, mm. */
export interface OwnHandle {
  readonly id: string;
  readonly name: string;
  /** Its path in the job's bracket, and what it is called where it can't be so large. */
  readonly path: readonly string[];
  readonly called: string;
  readonly words: string;
  /** [along, across, up] of where it is measured from, and its value from there along one of them. */
  readonly from: Vec3;
  readonly way: Vec3;
  readonly valueMm: number;
  readonly faces: readonly ('top' | 'side' | 'front')[];
}

/** What is known when room is checked: screws and stud with their parts, the joint's socket. Null: none, or no thread goes through. */
export interface Room {
  readonly screw: Hardware | null;
  readonly stud: Hardware | null;
  readonly ball: { readonly at: Vec3; readonly radiusMm: number } | null;
}

/** What a kind is made into: the job's bracket as written and resolved, and its strut. */
export interface Before {
  readonly raw: JobBracket;
  readonly plain: Bracket;
  readonly strut: Strut | undefined;
}

export type Change = { -readonly [K in keyof JobBracket]?: JobBracket[K] };

/**
 * Everything that is particular to one kind of bracket; all else (blank, views, mesh, volume, checks, handles, drawing) follows. A bracket is one sheet
 * or plate: a base leg on the mount, and uprights bent up from it by 90°.
 */
export interface Kind {
  readonly name: string;
  /** When a person would take it. */
  readonly use: string;
  /** Its legs in the order of the blank. The stud stands on the last. */
  readonly legs: readonly ('base' | 'upright')[];
  /** A stud through the last leg, or a pin through all uprights with the joint between them. */
  readonly holds: 'stud' | 'pin';
  /** The ball may also stand on the inside. */
  readonly bothSides: boolean;
  /** Lengths it must have beyond those that follow from its legs: path in the job's bracket, and name. */
  readonly sizes: readonly (readonly [path: readonly string[], name: string])[];
  readonly edges: readonly BracketEdge[];
  /** The part of its spec that is its own or follows from other sizes. */
  readonly settle?: (bracket: Bracket, spec: BracketSpec) => Partial<BracketSpec>;
  readonly plates?: (spec: BracketSpec) => readonly Plate[];
  readonly handles?: (spec: BracketSpec) => readonly OwnHandle[];
  readonly checkNumbers?: (spec: BracketSpec, list: IssueList) => void;
  readonly checkShape?: (spec: BracketSpec, list: IssueList) => void;
  readonly checkRoom?: (spec: BracketSpec, room: Room, list: IssueList) => void;
  /** What a bracket needs to become this kind and does not say yet, as far as nothing holds it. */
  readonly become: (before: Before) => Change;
  readonly sample: Omit<Bracket, 'strut' | 'end'>;
}

export const BASE_LEG = [['baseLegMm'], 'base leg'] as const;
