import type { Rad } from '../space';

/** A point on the sheet: true millimetres on paper, origin at the sheet's lower left corner, y up. */
export type Point = readonly [number, number];

/** What a line stands for; its width and dashes follow from this (ISO 128-2). */
export type LineRole = 'visible' | 'narrow' | 'hidden' | 'centre' | 'phantom' | 'bend' | 'frame';

/** A straight piece or a circular arc (positive sweep counter-clockwise) of a path. */
export type PathSegment =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | {
      readonly kind: 'arc';
      readonly centre: Point;
      readonly radiusMm: number;
      readonly startRad: Rad;
      readonly sweepRad: Rad;
    };

export interface LineMark {
  readonly kind: 'line';
  readonly role: LineRole;
  readonly from: Point;
  readonly to: Point;
}

/** Segments that follow each other end to start; `closed` joins the last to the first. */
export interface PathMark {
  readonly kind: 'path';
  readonly role: LineRole;
  readonly segments: readonly PathSegment[];
  readonly closed: boolean;
}

export interface ArcMark {
  readonly kind: 'arc';
  readonly role: LineRole;
  readonly centre: Point;
  readonly radiusMm: number;
  readonly startRad: Rad;
  readonly sweepRad: Rad;
}

export interface CircleMark {
  readonly kind: 'circle';
  readonly role: LineRole;
  readonly centre: Point;
  readonly radiusMm: number;
}

/** A filled polygon: arrowheads, ticks. */
export interface AreaMark {
  readonly kind: 'area';
  readonly points: readonly Point[];
}

/** One line of lettering. `sizeMm` is the height of its capitals (ISO 3098); `at` lies on the base line at the anchor. */
export interface TextMark {
  readonly kind: 'text';
  readonly at: Point;
  readonly text: string;
  readonly sizeMm: number;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Counter-clockwise: 0 reads from below, 90 from the right. */
  readonly rotationDeg: number;
}

/** What a dimension measures, as points on the sheet, so that its figure can be had from the drawing itself. */
export type Measured =
  | { readonly of: 'distance'; readonly from: Point; readonly to: Point; readonly along: Point }
  | { readonly of: 'radius' | 'diameter'; readonly centre: Point; readonly radiusMm: number }
  | { readonly of: 'angle'; readonly vertex: Point; readonly startRad: Rad; readonly sweepRad: Rad };

/** How a dimension is laid out. */
export type DimensionLayout =
  | {
      /** Dimension line through `through`, parallel to what is measured; extension lines start this far off each end. */
      readonly style: 'linear';
      readonly through: Point;
      readonly gapsMm: readonly [number, number];
      /** Beyond which end the figure goes when it does not fit between: as seen along the reading direction. */
      readonly outside: 'start' | 'end';
      /** How far beyond that end at least, where something else stands in between. */
      readonly clearMm?: number;
    }
  | {
      /** Arrow at `tip`, a slanted line to `landing`, a short level line, then the text, to the right (1) or the left (−1). */
      readonly style: 'leader';
      readonly tip: Point;
      readonly landing: Point;
      readonly side: 1 | -1;
    }
  | { readonly style: 'angular'; readonly radiusMm: number }
  | {
      /**
       * Running dimension from a common origin: extension line from the measured point to `foot` on the common dimension
       * line (drawn apart), an arrowhead there away from the origin, then on to `end`, where the figure stands along it.
       */
      readonly style: 'running';
      readonly foot: Point;
      readonly end: Point;
      readonly gapMm: number;
      readonly sizeMm: number;
    };

/** A dimension; its label is always `before` + the measured figure + `after`, so that it cannot say anything else. */
export interface DimensionMark {
  readonly kind: 'dimension';
  /** Name of what is sized, unique on its sheet. */
  readonly id: string;
  readonly measured: Measured;
  /** Paper mm for one real mm. */
  readonly scale: number;
  readonly before: string;
  readonly after: string;
  readonly decimals: number;
  readonly layout: DimensionLayout;
}

export type Mark = LineMark | PathMark | ArcMark | CircleMark | AreaMark | TextMark | DimensionMark;
/** What is left when dimensions are taken apart. */
export type PlainMark = Exclude<Mark, DimensionMark>;

/** A group of marks that belong together: one view, the frame, the notes. */
export interface Part {
  readonly name: string;
  /** For writers that have layers: all its marks lie on this one. Without it each mark lies on the layer of its line role. */
  readonly layer?: string;
  readonly marks: readonly Mark[];
}

/** One sheet of paper. */
export interface Sheet {
  readonly title: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Real mm for one mm on paper, where it shows something to a scale: a file that machines read then holds it at true size. */
  readonly realPerPaper?: number;
  /** Its part of a file's name, where a paper has several; else its page. */
  readonly fileTail?: string;
  readonly parts: readonly Part[];
}
