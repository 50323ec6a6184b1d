import type { Job } from '../job';
import { add, scale, type Vec3 } from '../space';
import { bendTakesMm, bodyLayout, isBent, isPinned } from './body';
import type { Point2 } from './contour';
import { dragEdge, dragHole, dragSize } from './drag';
import type { Face } from './faces';
import { type BracketEdge, KINDS, type OwnHandle } from './kinds';
import type { BracketSpec } from './types';
import type { ViewDirection } from './view-lines';

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

/** Where a handle is, ways in which its values grow, and the lengths that tell them: in space or in a face. */
interface Stand<P> {
  readonly at: P;
  readonly grows: readonly P[];
  readonly lengths: readonly (readonly [from: P, to: P, words: string])[];
  /** 'near' where not given. */
  readonly stays?: Handle['stays'];
}

/**
 * A handle before it is seen in a face. Places [along, across, up], mm: along from the stud's end of a plate or the upright's outer face towards the free end,
 * across from the centre line, up from the mount. See `faces.ts` for the blank's.
 */
interface Grip extends Stand<Vec3> {
  readonly id: string;
  readonly name: string;
  readonly shape: Handle['shape'];
  readonly faces: readonly ViewDirection[];
  readonly blank?: Stand<Point2>;
  readonly values: readonly number[];
  readonly set: (job: Job, values: readonly number[]) => Job;
}

const SHOWN: Readonly<Record<ViewDirection, readonly [0 | 1, 1 | 2] | readonly [1, 0]>> = {
  top: [1, 0],
  side: [0, 2],
  front: [1, 2],
};

/** A value changed by a way; one that hardly changes stays as it is, rounded or not. */
const moved = (value: number, by: number, step: (mm: number) => number): number =>
  Math.abs(by) < 0.02 ? value : step(value + by);

function seenIn(grip: Grip, face: Face): Handle[] {
  const { id, name, shape, values, set } = grip;
  let stand = grip.blank;
  if (face !== 'flat') {
    const [right, up] = SHOWN[face];
    const flat = (p: Vec3): Point2 => [p[right], p[up]];
    stand = {
      stays: grip.stays,
      at: flat(grip.at),
      grows: grip.grows.map(flat),
      lengths: grip.lengths.map(([from, to, words]) => [flat(from), flat(to), words]),
    };
  }
  const goes = (k: 0 | 1): boolean => stand?.grows.some((way) => way[k] !== 0) ?? false;
  if (!stand || (face !== 'flat' && !grip.faces.includes(face)) || !(goes(0) || goes(1))) return [];
  const dims = stand.lengths.map(([from, to, words]): Dim => {
    return { from, to, mm: Math.hypot(to[0] - from[0], to[1] - from[1]), words };
  });
  const told = dims.filter((dim) => dim.mm > 1e-9);
  return [
    {
      ...{ id, name, shape, at: stand.at, stays: stand.stays ?? 'near' },
      ways: [...(goes(0) ? (['across'] as const) : []), ...(goes(1) ? (['up'] as const) : [])],
      // lengths seen end-on say nothing; one that is 0 does
      dims: told.length > 0 ? told : dims.slice(-1),
      move: (job, by, step) =>
        set(
          job,
          values.map((value, i) => moved(value, by[0] * stand.grows[i]![0] + by[1] * stand.grows[i]![1], step)),
        ),
    },
  ];
}

/** All that can be dragged in a face, the bracket's own sizes in mm; see `faces.ts` for where 0 lies. */
export const handlesOf = (spec: BracketSpec, face: Face): Handle[] =>
  gripsOf(spec).flatMap((grip) => seenIn(grip, face));

function gripsOf(spec: BracketSpec): Grip[] {
  const { edges, handles } = KINDS[spec.kind];
  const sizes = [...(handles?.(spec) ?? []), ...ballSize(spec)].map((own): Grip => {
    const at = add(own.from, scale(own.way, own.valueMm));
    return {
      ...{ id: own.id, name: own.name, shape: own.id === 'ball' ? 'ball' : 'edge', faces: own.faces },
      ...{ at, grows: [own.way], lengths: [[own.from, at, own.words]], values: [own.valueMm] },
      set: (job, [toMm]) => dragSize(job, { id: spec.id, path: own.path, called: own.called, toMm: toMm! }),
    };
  });
  return [...edges.map((edge) => edgeGrip(spec, edge)), studGrip(spec), ...fixingGrips(spec), ...sizes];
}

function edgeGrip(spec: BracketSpec, edge: BracketEdge): Grip {
  const bent = isBent(spec);
  const { thicknessMm: t, baseLegMm: leg, uprightLegMm: up, gapMm, baseCornerRadiusMm, topCornerRadiusMm } = spec;
  const [half, topHalf] = [spec.baseWidthMm / 2, spec.topWidthMm / 2];
  const takes = bendTakesMm(spec);
  const layout = bodyLayout(spec);
  // in the blank 0 is where the base leg ends; a channel's far upright lies below it
  const foot = -layout.baseEndMm;
  const head = foot + layout.lengthMm;
  const middle = foot + (layout.baseFlat[0] + layout.baseFlat[1]) / 2;
  const whole = [[[-half, foot], [-half, head], 'blank']] as const;
  const grip = (name: string, value: number, stand: Stand<Vec3> & Pick<Grip, 'faces' | 'blank'>): Grip => ({
    ...{ id: edge, name, shape: 'edge', values: [value], ...stand },
    set: (job, [toMm]) => dragEdge(job, { id: spec.id, edge, toMm: toMm! }),
  });
  switch (edge) {
    case 'gap':
      return grip('Gap between the uprights', gapMm, {
        faces: ['top', 'side'],
        at: [t + gapMm, half * 0.55, up * 0.8],
        grows: [[1, 0, 0]],
        lengths: [[[t, half * 0.55, up * 0.8], [t + gapMm, half * 0.55, up * 0.8], 'clear gap']],
      });
    case 'free-end':
      return grip(bent ? 'Free end of the base leg' : 'Free end of the plate', leg, {
        faces: ['top', 'side'],
        at: [leg, 0, t / 2],
        grows: [[1, 0, 0]],
        lengths: [[[0, -half, 0], [leg, -half, 0], bent ? 'base leg' : 'whole length']],
        blank: { at: [0, 0], grows: [[0, -1]], lengths: whole, stays: 'far' },
      });
    case 'stud-end':
      return grip('Stud’s end of the plate', leg, {
        faces: ['top', 'side'],
        at: [0, 0, t / 2],
        grows: [[-1, 0, 0]],
        lengths: [[[0, half, 0], [leg, half, 0], 'whole length']],
        stays: 'far',
        blank: { at: [0, head], grows: [[0, 1]], lengths: whole },
      });
    case 'upright-top': {
      const wide = Math.max(half, topHalf);
      return grip('Top of the upright', up, {
        faces: ['side', 'front'],
        at: [t / 2, 0, up],
        grows: [[0, 0, 1]],
        lengths: [[[0, -wide, 0], [0, -wide, up], 'upright']],
        blank: { at: [0, head], grows: [[0, 1]], lengths: whole },
      });
    }
    case 'side':
      return grip('Side of the base', half, {
        faces: ['top', 'front'],
        at: bent ? [(takes + leg) / 2, half, takes / 2] : [leg - baseCornerRadiusMm, half, t / 2],
        grows: [[0, 1, 0]],
        lengths: [[[leg, -half, 0], [leg, half, 0], 'width']],
        blank: {
          at: [half, bent ? middle : baseCornerRadiusMm],
          grows: [[1, 0]],
          lengths: [[[-half, middle], [half, middle], 'width']],
        },
      });
    case 'stud-side': {
      const words = bent ? 'top width' : 'width at the stud’s end';
      return grip(bent ? 'Side at the top' : 'Side at the stud’s end', topHalf, {
        faces: bent ? ['front'] : ['top'],
        at: [topCornerRadiusMm, topHalf, up - topCornerRadiusMm],
        grows: [[0, 1, 0]],
        lengths: [[[0, -topHalf, up], [0, topHalf, up], words]],
        blank: {
          at: [topHalf, head - topCornerRadiusMm],
          grows: [[1, 0]],
          lengths: [[[-topHalf, head], [topHalf, head], words]],
        },
      });
    }
  }
}

const setHole =
  (id: string, hole: string): Grip['set'] =>
  (job, [acrossMm, alongMm]) =>
    dragHole(job, { id, hole, to: { acrossMm: acrossMm!, alongMm: alongMm! } });

function studGrip(spec: BracketSpec): Grip {
  const bent = isBent(spec);
  const { acrossMm: y, heightMm, fromEndMm } = spec.studHole;
  const layout = bodyLayout(spec);
  const head = layout.lengthMm - layout.baseEndMm;
  const inBlank: Point2 = [-y, head - (bent ? spec.uprightLegMm - heightMm : fromEndMm)];
  const t = spec.thicknessMm;
  const at: Vec3 = bent ? [t / 2, y, heightMm] : [fromEndMm, y, t / 2];
  const [foot, words]: [Vec3, string] = bent
    ? [[t / 2, y, 0], 'over the mount']
    : [[0, y, t / 2], 'from the stud’s end'];
  return {
    ...{ id: isPinned(spec) ? 'pin' : 'stud', name: isPinned(spec) ? 'Pin' : 'Stud', shape: 'hole' },
    faces: bent ? ['side', 'front'] : ['top', 'side', 'front'],
    at,
    grows: [[0, 1, 0], bent ? [0, 0, 1] : [1, 0, 0]],
    lengths: [
      [foot, at, words],
      [[at[0], 0, at[2]], at, 'off the centre line'],
    ],
    blank: {
      at: inBlank,
      grows: [
        [-1, 0],
        [0, bent ? 1 : -1],
      ],
      lengths: [[[-y, head], inBlank, 'from the end of the blank']],
    },
    values: [y, bent ? heightMm : fromEndMm],
    set: setHole(spec.id, isPinned(spec) ? 'pin' : 'stud'),
  };
}

function fixingGrips(spec: BracketSpec): Grip[] {
  const leg = spec.baseLegMm;
  const rows = spec.fixings.map((f) => f.fromEndMm.toFixed(2));
  return spec.fixings.map(({ id, acrossMm: y, fromEndMm }, i): Grip => {
    const at: Vec3 = [leg - fromEndMm, y, 0];
    return {
      ...{ id, name: `Fixing ${i + 1}`, shape: 'hole' },
      // the holes of a row lie one behind another from the side: one handle for them
      faces: rows.indexOf(rows[i]!) === i ? ['top', 'side'] : ['top'],
      at,
      grows: [
        [0, 1, 0],
        [-1, 0, 0],
      ],
      lengths: [
        [[leg, y, 0], at, isPinned(spec) ? 'from the far upright' : 'from the end'],
        [[at[0], 0, 0], at, 'from the centre line'],
      ],
      blank: {
        at: [-y, fromEndMm],
        grows: [
          [-1, 0],
          [0, 1],
        ],
        lengths: [
          [[-y, 0], [-y, fromEndMm], 'from the end'],
          [[0, fromEndMm], [-y, fromEndMm], 'from the centre line'],
        ],
      },
      values: [y, fromEndMm],
      set: setHole(spec.id, id),
    };
  });
}

/** How far the ball stands off its face, where that is a size of its own and can be seen from the side. */
function ballSize(spec: BracketSpec): OwnHandle[] {
  const { studHole, ballOffsetMm, ballSide, thicknessMm: t } = spec;
  if (!KINDS[spec.kind].bothSides) return [];
  const inside = ballSide === 'inside';
  const stands: { from: Vec3; way: Vec3 } = isBent(spec)
    ? { from: [inside ? t : 0, 0, studHole.heightMm], way: [inside ? 1 : -1, 0, 0] }
    : { from: [studHole.fromEndMm, 0, inside ? 0 : t], way: [0, 0, inside ? -1 : 1] };
  return [
    {
      ...{ id: 'ball', name: 'Ball', path: ['ballOffsetMm'], called: 'distance of the ball from its face' },
      ...{ ...stands, valueMm: ballOffsetMm, words: 'from its face', faces: ['side'] },
    },
  ];
}
