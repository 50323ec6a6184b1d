import { type BracketSpec, bendTakesMm, bodyLayout, isBent, type Point2 } from '../../../core/bracket';
import {
  type BracketEdge,
  type BracketSize,
  dragEdge,
  dragHole,
  dragSize,
  type Job,
  type LegPlace,
} from '../../../core/job';
import type { Face } from '../../state/bracket-desk';

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

/** All that can be dragged in a face, the bracket's own sizes in mm; see `faces.ts` for where 0 lies. */
export function handlesOf(spec: BracketSpec, face: Face): Handle[] {
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
  const dim = (from: Point2, to: Point2, mm: number, words: string): Dim => ({ from, to, mm, words });
  const fixingName = (i: number): string => `Fixing ${i + 1}`;
  const studAlong = bent ? stud.heightMm : stud.fromEndMm;
  const studPlace: LegPlace = { acrossMm: stud.acrossMm, alongMm: studAlong };

  if (face === 'top') {
    // up the sheet: from the stud's end towards the free end
    const end = (fromEndMm: number): number => leg - fromEndMm;
    if (channel)
      edge({
        id: 'gap',
        name: 'Gap between the uprights',
        at: [half * 0.55, t + spec.gapMm],
        grows: [0, 1],
        value: spec.gapMm,
        dim: dim([half * 0.55, t], [half * 0.55, t + spec.gapMm], spec.gapMm, 'clear gap'),
      });
    else
      edge({
        id: 'free-end',
        name: bent ? 'Free end of the base leg' : 'Free end of the plate',
        at: [0, leg],
        grows: [0, 1],
        value: leg,
        dim: dim([-half, 0], [-half, leg], leg, bent ? 'base leg' : 'whole length'),
      });
    edge({
      id: 'side',
      name: 'Side of the base',
      at: [half, bent ? (takes + leg) / 2 : leg - spec.baseCornerRadiusMm],
      grows: [1, 0],
      value: half,
      dim: dim([-half, leg + 0], [half, leg + 0], 2 * half, 'width'),
    });
    if (!bent) {
      edge({
        id: 'stud-end',
        name: 'Stud’s end of the plate',
        at: [0, 0],
        grows: [0, -1],
        value: leg,
        dim: dim([half, 0], [half, leg], leg, 'whole length'),
        stays: 'far',
      });
      edge({
        id: 'stud-side',
        name: 'Side at the stud’s end',
        at: [topHalf, spec.topCornerRadiusMm],
        grows: [1, 0],
        value: topHalf,
        dim: dim([-topHalf, 0], [topHalf, 0], 2 * topHalf, 'width at the stud’s end'),
      });
      hole({
        id: studId,
        name: studName,
        at: [stud.acrossMm, studAlong],
        place: studPlace,
        across: [1, 0],
        along: [0, 1],
        dims: [
          dim([stud.acrossMm, 0], [stud.acrossMm, studAlong], studAlong, 'from the stud’s end'),
          ...(stud.acrossMm === 0
            ? []
            : [dim([0, studAlong], [stud.acrossMm, studAlong], Math.abs(stud.acrossMm), 'off the centre line')]),
        ],
      });
    }
    if (gusset)
      edge({
        id: 'gusset-along',
        name: 'Gusset along the base',
        at: [gusset.acrossMm, t + gusset.alongMm],
        grows: [0, 1],
        value: gusset.alongMm,
        dim: dim([gusset.acrossMm, t], [gusset.acrossMm, t + gusset.alongMm], gusset.alongMm, 'gusset along'),
      });
    spec.fixings.forEach((f, i) => {
      const at: Point2 = [f.acrossMm, end(f.fromEndMm)];
      hole({
        id: f.id,
        name: fixingName(i),
        at,
        place: { acrossMm: f.acrossMm, alongMm: f.fromEndMm },
        across: [1, 0],
        along: [0, -1],
        dims: [
          dim([at[0], leg], at, f.fromEndMm, channel ? 'from the far upright' : 'from the end'),
          ...(f.acrossMm === 0 ? [] : [dim([0, at[1]], at, Math.abs(f.acrossMm), 'from the centre line')]),
        ],
      });
    });
  } else if (face === 'front') {
    if (bent) {
      edge({
        id: 'upright-top',
        name: 'Top of the upright',
        at: [0, up],
        grows: [0, 1],
        value: up,
        dim: dim([-Math.max(half, topHalf), 0], [-Math.max(half, topHalf), up], up, 'upright'),
      });
      edge({
        id: 'stud-side',
        name: 'Side at the top',
        at: [topHalf, up - spec.topCornerRadiusMm],
        grows: [1, 0],
        value: topHalf,
        dim: dim([-topHalf, up], [topHalf, up], 2 * topHalf, 'top width'),
      });
      hole({
        id: studId,
        name: studName,
        at: [stud.acrossMm, stud.heightMm],
        place: studPlace,
        across: [1, 0],
        along: [0, 1],
        dims: [
          dim([stud.acrossMm, 0], [stud.acrossMm, stud.heightMm], stud.heightMm, 'over the mount'),
          ...(stud.acrossMm === 0
            ? []
            : [
                dim([0, stud.heightMm], [stud.acrossMm, stud.heightMm], Math.abs(stud.acrossMm), 'off the centre line'),
              ]),
        ],
      });
    }
    edge({
      id: 'side',
      name: 'Side of the base',
      at: [half, bent ? takes / 2 : t / 2],
      grows: [1, 0],
      value: half,
      dim: dim([-half, 0], [half, 0], 2 * half, 'width'),
    });
    if (gusset)
      edge({
        id: 'gusset-up',
        name: 'Gusset up the upright',
        at: [gusset.acrossMm, t + gusset.upMm],
        grows: [0, 1],
        value: gusset.upMm,
        dim: dim([gusset.acrossMm, t], [gusset.acrossMm, t + gusset.upMm], gusset.upMm, 'gusset up'),
      });
  } else if (face === 'side') {
    if (channel)
      edge({
        id: 'gap',
        name: 'Gap between the uprights',
        at: [t + spec.gapMm, up * 0.8],
        grows: [1, 0],
        value: spec.gapMm,
        dim: dim([t, up * 0.8], [t + spec.gapMm, up * 0.8], spec.gapMm, 'clear gap'),
      });
    else
      edge({
        id: 'free-end',
        name: bent ? 'Free end of the base leg' : 'Free end of the plate',
        at: [leg, t / 2],
        grows: [1, 0],
        value: leg,
        dim: dim([0, 0], [leg, 0], leg, bent ? 'base leg' : 'whole length'),
      });
    if (bent) {
      edge({
        id: 'upright-top',
        name: 'Top of the upright',
        at: [t / 2, up],
        grows: [0, 1],
        value: up,
        dim: dim([0, 0], [0, up], up, 'upright'),
      });
      hole({
        id: studId,
        name: studName,
        at: [t / 2, stud.heightMm],
        place: studPlace,
        across: [0, 0],
        along: [0, 1],
        dims: [dim([t / 2, 0], [t / 2, stud.heightMm], stud.heightMm, 'over the mount')],
      });
    } else {
      edge({
        id: 'stud-end',
        name: 'Stud’s end of the plate',
        at: [0, t / 2],
        grows: [-1, 0],
        value: leg,
        dim: dim([0, 0], [leg, 0], leg, 'whole length'),
        stays: 'far',
      });
      hole({
        id: studId,
        name: studName,
        at: [studAlong, t / 2],
        place: studPlace,
        across: [0, 0],
        along: [1, 0],
        dims: [dim([0, t / 2], [studAlong, t / 2], studAlong, 'from the stud’s end')],
      });
    }
    if (gusset) {
      edge({
        id: 'gusset-along',
        name: 'Gusset along the base',
        at: [t + gusset.alongMm, t],
        grows: [1, 0],
        value: gusset.alongMm,
        dim: dim([t, t], [t + gusset.alongMm, t], gusset.alongMm, 'gusset along'),
      });
      edge({
        id: 'gusset-up',
        name: 'Gusset up the upright',
        at: [t, t + gusset.upMm],
        grows: [0, 1],
        value: gusset.upMm,
        dim: dim([t, t], [t, t + gusset.upMm], gusset.upMm, 'gusset up'),
      });
    }
    // one handle for a row: the holes of a row lie one behind another here
    const seen = new Set<string>();
    spec.fixings.forEach((f, i) => {
      const key = f.fromEndMm.toFixed(2);
      if (seen.has(key)) return;
      seen.add(key);
      const at: Point2 = [leg - f.fromEndMm, 0];
      hole({
        id: f.id,
        name: fixingName(i),
        at,
        place: { acrossMm: f.acrossMm, alongMm: f.fromEndMm },
        across: [0, 0],
        along: [-1, 0],
        dims: [dim([leg, 0], at, f.fromEndMm, channel ? 'from the far upright' : 'from the end')],
      });
    });
  } else flatHandles();
  if (face === 'side' && !channel) ballHandle();
  return found;

  /** The blank is seen from the inside of its bends: across runs to the left. */
  function flatHandles(): void {
    const layout = bodyLayout(spec);
    const long = layout.lengthMm;
    if (!channel)
      edge({
        id: 'free-end',
        name: bent ? 'Free end of the base leg' : 'Free end of the plate',
        at: [0, 0],
        grows: [0, -1],
        value: leg,
        dim: dim([-half, 0], [-half, long], long, 'blank'),
        stays: 'far',
      });
    edge({
      id: bent ? 'upright-top' : 'stud-end',
      name: bent ? 'Top of the upright' : 'Stud’s end of the plate',
      at: [0, long],
      grows: [0, 1],
      value: bent ? up : leg,
      dim: dim([-half, 0], [-half, long], long, 'blank'),
    });
    const middle = (layout.baseFlat[0] + layout.baseFlat[1]) / 2;
    edge({
      id: 'side',
      name: 'Side of the base',
      at: [half, bent ? middle : spec.baseCornerRadiusMm],
      grows: [1, 0],
      value: half,
      dim: dim([-half, middle], [half, middle], 2 * half, 'width'),
    });
    edge({
      id: 'stud-side',
      name: 'Side at the stud’s end',
      at: [topHalf, long - spec.topCornerRadiusMm],
      grows: [1, 0],
      value: topHalf,
      dim: dim([-topHalf, long], [topHalf, long], 2 * topHalf, 'top width'),
    });
    const last = layout.bends.at(-1);
    const studY = bent ? (last?.endMm ?? 0) + stud.heightMm - takes : leg - stud.fromEndMm;
    hole({
      id: studId,
      name: studName,
      at: [-stud.acrossMm, studY],
      place: studPlace,
      across: [-1, 0],
      along: [0, bent ? 1 : -1],
      dims: [dim([-stud.acrossMm, long], [-stud.acrossMm, studY], long - studY, 'from the end of the blank')],
    });
    spec.fixings.forEach((f, i) => {
      const at: Point2 = [-f.acrossMm, layout.baseEndMm + f.fromEndMm];
      hole({
        id: f.id,
        name: fixingName(i),
        at,
        place: { acrossMm: f.acrossMm, alongMm: f.fromEndMm },
        across: [-1, 0],
        along: [0, 1],
        dims: [
          dim([at[0], layout.baseEndMm], at, f.fromEndMm, 'from the end'),
          ...(f.acrossMm === 0 ? [] : [dim([0, at[1]], at, Math.abs(f.acrossMm), 'from the centre line')]),
        ],
      });
    });
  }

  function ballHandle(): void {
    const off = spec.ballOffsetMm;
    const inside = spec.ballSide === 'inside';
    if (bent) {
      const face0 = inside ? t : 0;
      const sign = inside ? 1 : -1;
      const at: Point2 = [face0 + sign * off, stud.heightMm];
      edge({
        id: 'ball',
        name: 'Ball',
        at,
        grows: [sign, 0],
        value: off,
        dim: dim([face0, stud.heightMm], at, off, 'ball to its face'),
      });
    } else if (spec.kind === 'flat-tab') {
      const face0 = inside ? 0 : t;
      const sign = inside ? -1 : 1;
      const at: Point2 = [studAlong, face0 + sign * off];
      edge({
        id: 'ball',
        name: 'Ball',
        at,
        grows: [0, sign],
        value: off,
        dim: dim([studAlong, face0], at, off, 'ball to its face'),
      });
    }
  }
}
