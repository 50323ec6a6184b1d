import {
  type BracketSpec,
  bendTakesMm,
  isBent,
  type Point2,
  type BracketEdge,
  type BracketSize,
  dragEdge,
  dragHole,
  dragSize,
  type LegPlace,
} from '../../../core/bracket';
import { type Job } from '../../../core/job';

/** A length shown between two places of the face while its handle is held, mm. */
export interface Dim {
  readonly from: Point2;
  readonly to: Point2;
  readonly mm: number;
  /** What it is, for a reader: "from the end". */
  readonly words: string;
}

/** Something of the bracket that can be dragged or nudged in one face. */
export interface Handle {
  readonly id: string;
  readonly name: string;
  readonly shape: 'edge' | 'hole' | 'ball';
  readonly at: Point2;
  /** Ways it can go. */
  readonly ways: readonly ('across' | 'up')[];
  readonly dims: readonly Dim[];
  /** This end of the bracket keeps its place on the sheet while the handle is dragged. */
  readonly stays: 'near' | 'far';
  /** Moves it by a way in the face, mm; `step` rounds a value that changes. */
  readonly move: (job: Job, by: Point2, step: (mm: number) => number) => Job;
}

/** A value changed by a way; one that hardly changes stays as it is, rounded or not. */
const moved = (value: number, by: number, step: (mm: number) => number): number =>
  Math.abs(by) < 0.02 ? value : step(value + by);

const dot = (a: Point2, b: Point2): number => a[0] * b[0] + a[1] * b[1];
const waysOf = (...dirs: readonly Point2[]): ('across' | 'up')[] => [
  ...(dirs.some((d) => d[0] !== 0) ? (['across'] as const) : []),
  ...(dirs.some((d) => d[1] !== 0) ? (['up'] as const) : []),
];

interface EdgeInput {
  readonly id: BracketEdge | BracketSize;
  readonly name: string;
  readonly at: Point2;
  /** Way in which the value grows. */
  readonly grows: Point2;
  readonly value: number;
  readonly dim: Dim;
  readonly stays?: 'near' | 'far';
}

const SIZES: readonly string[] = ['ball', 'gusset-along', 'gusset-up'] satisfies BracketSize[];
const isSize = (id: string): id is BracketSize => SIZES.includes(id);

/** What makes the handles of one bracket, and its sizes by short names, mm. */
export function makeKit(spec: BracketSpec) {
  const found: Handle[] = [];
  const edge = (e: EdgeInput): void => {
    const { id } = e;
    found.push({
      id,
      name: e.name,
      shape: id === 'ball' ? 'ball' : 'edge',
      at: e.at,
      ways: waysOf(e.grows),
      dims: [e.dim],
      stays: e.stays ?? 'near',
      move: (job, by, step) => {
        const toMm = moved(e.value, dot(by, e.grows), step);
        return isSize(id)
          ? dragSize(job, { id: spec.id, size: id, toMm })
          : dragEdge(job, { id: spec.id, edge: id, toMm });
      },
    });
  };
  const hole = (h: {
    id: string;
    name: string;
    at: Point2;
    place: LegPlace;
    across: Point2;
    along: Point2;
    dims: Dim[];
  }): void => {
    found.push({
      id: h.id,
      name: h.name,
      shape: 'hole',
      at: h.at,
      ways: waysOf(h.across, h.along),
      dims: h.dims,
      stays: 'near',
      move: (job, by, step) =>
        dragHole(job, {
          id: spec.id,
          hole: h.id,
          to: {
            acrossMm: moved(h.place.acrossMm, dot(by, h.across), step),
            alongMm: moved(h.place.alongMm, dot(by, h.along), step),
          },
        }),
    });
  };

  const bent = isBent(spec);
  const channel = spec.kind === 'channel';
  const { thicknessMm: t, baseLegMm: leg, uprightLegMm: up, studHole: stud, gusset } = spec;
  const takes = bendTakesMm(spec);
  const [half, topHalf] = [spec.baseWidthMm / 2, spec.topWidthMm / 2];
  const studId = channel ? 'pin' : 'stud';
  const studName = channel ? 'Pin' : 'Stud';
  const studAlong = bent ? stud.heightMm : stud.fromEndMm;
  const studPlace: LegPlace = { acrossMm: stud.acrossMm, alongMm: studAlong };
  return {
    ...{ spec, found, edge, hole, bent, channel, t, leg, up, stud, gusset, takes, half, topHalf },
    ...{ studId, studName, studAlong, studPlace },
  };
}
export type Kit = ReturnType<typeof makeKit>;

export const dim = (from: Point2, to: Point2, mm: number, words: string): Dim => ({ from, to, mm, words });
export const fixingName = (i: number): string => `Fixing ${i + 1}`;
