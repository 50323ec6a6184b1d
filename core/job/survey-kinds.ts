/** Kinds of reading, in the order a table offers them. */
export const OBSERVATION_KINDS = [
  'tape',
  'coordinate',
  'height-difference',
  'on-line',
  'on-plane',
  'angle-level',
  'angle-between',
  'mirror-twin',
  'square-corner',
  'rectangle',
  'known-length',
  'photo-mark',
] as const;
export type ObservationKind = (typeof OBSERVATION_KINDS)[number];

/** What a person may know of a lid without measuring; readings that follow from it bear its name as `known`. */
export const KNOWN_KINDS = ['rectangle', 'square', 'hinge', 'alike'] as const;
export type KnownKind = (typeof KNOWN_KINDS)[number];

/** Kinds of relation, in the order a list offers them. */
export const RELATION_KINDS = [
  'fixed',
  'distance',
  'level-with',
  'plumb-with',
  'in-line',
  'on-line',
  'on-plane',
  'on-circle',
  'mirrored',
  'equal-distance',
  'angle',
  'closed-length',
  'open-length',
] as const;
export type RelationKind = (typeof RELATION_KINDS)[number];

/** What a kind of reading takes: the points in their order, and the unit of its value (null: it has none). */
export const OBSERVATION_SHAPE: Readonly<
  Record<ObservationKind, { readonly points: readonly string[]; readonly unit: 'mm' | 'deg' | 'px' | null }>
> = {
  tape: { points: ['from', 'to'], unit: 'mm' },
  coordinate: { points: ['point'], unit: 'mm' },
  'height-difference': { points: ['from', 'to'], unit: 'mm' },
  'on-line': { points: ['point', 'line from', 'line to'], unit: null },
  'on-plane': { points: ['point', 'plane 1', 'plane 2', 'plane 3'], unit: null },
  'angle-level': { points: ['line from', 'line to'], unit: 'deg' },
  'angle-between': { points: ['line 1 from', 'line 1 to', 'line 2 from', 'line 2 to'], unit: 'deg' },
  'mirror-twin': { points: ['point', 'twin'], unit: null },
  'square-corner': { points: ['corner', 'side to', 'other side to'], unit: null },
  rectangle: { points: ['corner 1', 'corner 2', 'corner 3', 'corner 4'], unit: null },
  'known-length': { points: ['from', 'to'], unit: 'mm' },
  // its value is `px`, the pixel in the photo `photo`
  'photo-mark': { points: ['point'], unit: 'px' },
};

/** What a kind of relation takes: how few and how many points, whether a view makes sense, and which value it needs. */
export const RELATION_SHAPE: Readonly<
  Record<
    RelationKind,
    {
      readonly points: readonly [least: number, most: number];
      readonly view: boolean;
      readonly value: 'valueMm' | 'valueDeg' | null;
    }
  >
> = {
  fixed: { points: [1, 1], view: false, value: null },
  distance: { points: [2, 2], view: true, value: 'valueMm' },
  'level-with': { points: [2, 2], view: true, value: null },
  'plumb-with': { points: [2, 2], view: true, value: null },
  'in-line': { points: [3, 20], view: true, value: null },
  'on-line': { points: [3, 3], view: true, value: null },
  'on-plane': { points: [1, 4], view: false, value: null },
  'on-circle': { points: [1, 1], view: false, value: 'valueMm' },
  mirrored: { points: [2, 2], view: false, value: null },
  'equal-distance': { points: [4, 4], view: true, value: null },
  angle: { points: [2, 4], view: true, value: 'valueDeg' },
  'closed-length': { points: [0, 0], view: false, value: 'valueMm' },
  'open-length': { points: [0, 0], view: false, value: 'valueMm' },
};
