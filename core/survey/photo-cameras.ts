import { attempt, wordsOf } from '../error';
import type { Observation, Photo } from '../job';
import {
  ADJUSTED_PARAMETERS,
  type AdjustedCamera,
  type Camera,
  type SpaceMark,
  adjustedCamera,
  adjustedParameters,
  adjustedScale,
  adjustedSigma,
  markEquation,
  pivotFor,
  projectAdjusted,
  resectCamera,
  triangulate,
} from '../photo';
import type { EquationBlock } from '../solve';
import { type Mat3, type Rad, type Vec3, rad, rotatePoint, rotateVec, sub, toRad, unit } from '../space';
import { sigmaOf } from './instruments';
import { type Layout, pointAt } from './layout';

/** A photo whose camera is adjusted with the points: its start, and its eight variables behind those of the points. */
export interface PhotoCamera {
  readonly photo: Photo;
  readonly marks: readonly Observation[];
  readonly camera: AdjustedCamera;
  readonly variables: readonly number[];
}

/** Photos whose marks take part in the adjustment, and those that can't. */
export interface PhotoPart {
  readonly cameras: readonly PhotoCamera[];
  /** Photos whose marks are left out, and why, in words. */
  readonly leftOut: readonly { readonly photo: Photo; readonly why: string }[];
  /** Marked points that count as known. */
  readonly known: ReadonlySet<string>;
  /** Start places of points that only photos show, from their lines of sight; base frame, lid closed, mm. */
  readonly starts: ReadonlyMap<string, Vec3>;
  /** Values, typical sizes, and indices that stay, of the cameras' variables; the first has the index `first`. */
  readonly values: readonly number[];
  readonly scale: readonly number[];
  readonly fixed: readonly number[];
  readonly equations: readonly EquationBlock[];
}

/**
 * The cameras of all marks in use. A camera starts from the marks of its known points and of those that other readings or
 * relations hold (`tied`); it needs six of them. Points that nothing but photos shows start where their lines of sight meet.
 */
export function photoPart(marks: readonly Observation[], layout: Layout, tied: ReadonlySet<string>): PhotoPart {
  const first = layout.values.length;
  const photos = layout.job.photos.filter((p) => marks.some((o) => o.photo === p.id));
  const known = new Set(photos.flatMap((p) => p.camera?.known ?? []));
  const cameras: PhotoCamera[] = [];
  const leftOut: { photo: Photo; why: string }[] = [];
  for (const photo of photos) {
    const own = marks.filter((o) => o.photo === photo.id);
    const { value: camera, error } = attempt(() =>
      startCamera(photo, own, layout, (id) => known.has(id) || tied.has(id)),
    );
    if (error) {
      leftOut.push({ photo, why: wordsOf(error) });
      continue;
    }
    const at = first + ADJUSTED_PARAMETERS * cameras.length;
    const variables = Array.from({ length: ADJUSTED_PARAMETERS }, (_, k) => at + k);
    cameras.push({ photo, marks: own, camera, variables });
  }
  const equations = cameras.flatMap((c) => [
    ...c.marks.map((o) => markBlock(o, c, layout)),
    ...(drawnFocal(c.photo) ? [focalBlock(c)] : []),
  ]);
  return {
    cameras,
    leftOut,
    known,
    starts: sightedPoints(cameras, layout, (id) => known.has(id) || tied.has(id)),
    values: cameras.flatMap((c) => adjustedParameters(c.camera)),
    scale: cameras.flatMap((c) => adjustedScale(c.camera)),
    fixed: cameras.flatMap((c) => [
      ...(c.camera.heldFocal ? [c.variables[5]!] : []),
      ...(c.photo.camera?.radial === true ? [] : [c.variables[7]!]),
    ]),
    equations,
  };
}

const focalUsed = (photo: Photo): Photo['focal'] => (photo.camera?.solveFocal === true ? undefined : photo.focal);
const heldFocal = (photo: Photo): boolean => {
  const focal = focalUsed(photo);
  return focal !== undefined && focal.sigmaPx === undefined;
};
const drawnFocal = (photo: Photo): boolean => focalUsed(photo)?.sigmaPx !== undefined;

/** How far a point turns when the lid stands as in the photo; null where it does not. */
function turnOf(photo: Photo, pointId: string, layout: Layout): Rad | null {
  const atDeg = photo.camera?.atDeg ?? 0;
  if (atDeg === 0 || layout.job.points[layout.indexOf(pointId)]!.on !== 'lid') return null;
  return toRad(atDeg * layout.opening);
}

function hingeOf(layout: Layout): { readonly a: Vec3; readonly axis: Vec3 } {
  const { a, b } = layout.job.hinge;
  const from = pointAt(layout.values, layout.indexOf(a));
  return { a: from, axis: unit(sub(pointAt(layout.values, layout.indexOf(b)), from)) };
}

function startCamera(
  photo: Photo,
  marks: readonly Observation[],
  layout: Layout,
  placed: (id: string) => boolean,
): AdjustedCamera {
  const known = marks.flatMap((o): SpaceMark[] => {
    const id = o.points[0]!;
    if (!placed(id)) return [];
    const at = pointAt(layout.values, layout.indexOf(id));
    const turn = turnOf(photo, id, layout);
    const hinge = turn === null ? null : hingeOf(layout);
    return [{ px: o.px!, atMm: hinge ? rotatePoint(at, hinge.a, hinge.axis, turn!) : at }];
  });
  const focal = focalUsed(photo);
  const { camera } = resectCamera(known, {
    widthPx: photo.widthPx,
    heightPx: photo.heightPx,
    ...(focal ? { focalPx: focal.px } : {}),
    ...(focal?.sigmaPx !== undefined ? { sigmaFocalPx: focal.sigmaPx } : {}),
    solveK1: photo.camera?.radial === true,
  });
  const pivotMm = pivotFor(
    camera,
    known.map((m) => m.atMm),
  );
  return { start: camera, pivotMm, heldFocal: heldFocal(photo) };
}

/** Where lines of sight to points that nothing else places meet. */
function sightedPoints(
  cameras: readonly PhotoCamera[],
  layout: Layout,
  placed: (id: string) => boolean,
): Map<string, Vec3> {
  const starts = new Map<string, Vec3>();
  for (const id of new Set(cameras.flatMap((c) => c.marks.map((o) => o.points[0]!)))) {
    if (placed(id)) continue;
    const sightings = cameras.flatMap((c) =>
      c.marks.filter((o) => o.points[0] === id).map((o) => ({ camera: closedCamera(c, id, layout), px: o.px! })),
    );
    // one sighting, or lines of sight that run alike: it starts where the job has it, and the result says what it lacks
    const seen = attempt(() => triangulate(sightings)).value;
    if (seen) starts.set(id, seen.atMm);
  }
  return starts;
}

/** The camera as a point on the lid sees it, turned back with the lid to closed. */
function closedCamera(c: PhotoCamera, pointId: string, layout: Layout): Camera {
  const turn = turnOf(c.photo, pointId, layout);
  const { start } = c.camera;
  if (turn === null) return start;
  const { a, axis } = hingeOf(layout);
  return {
    ...start,
    eyeMm: rotatePoint(start.eyeMm, a, axis, rad(-turn)),
    rotation: start.rotation.map((row) => rotateVec(row, axis, rad(-turn))) as unknown as Mat3,
  };
}

/** A mark as two equations, px; of a lid point in a photo of the open lid it hangs on the hinge too. */
function markBlock(o: Observation, c: PhotoCamera, layout: Layout): EquationBlock {
  const id = o.points[0]!;
  const turn = turnOf(c.photo, id, layout);
  const { camera, variables } = c;
  const point = layout.variablesOf(id);
  const px = o.px!;
  const sigmaPx = sigmaOf(o).value;
  if (turn === null) return markEquation({ name: o.id, camera: { camera, variables }, point, px, sigmaPx });
  const { a, b } = layout.job.hinge;
  return {
    name: o.id,
    kind: 'soft',
    variables: [...variables, ...point, ...layout.variablesOf(a), ...layout.variablesOf(b)],
    size: 2,
    sigma: sigmaPx,
    residual(v, out) {
      const [at, from, to] = [0, 1, 2].map((k) => pointAt(v.subarray(ADJUSTED_PARAMETERS), k)) as [Vec3, Vec3, Vec3];
      const [x, y] = projectAdjusted(camera, v, rotatePoint(at, from, unit(sub(to, from)), turn));
      out[0] = x - px[0];
      out[1] = y - px[1];
    },
  };
}

/** What is known of the focal length beforehand, as a reading of its own: px to one mm over nearness. */
const focalBlock = (c: PhotoCamera): EquationBlock => ({
  name: `focal length of ${c.photo.id}`,
  kind: 'soft',
  variables: [c.variables[5]!, c.variables[6]!],
  size: 1,
  sigma: c.photo.focal!.sigmaPx!,
  residual: (v, out) => void (out[0] = v[0]! / v[1]! - c.photo.focal!.px),
  jacobian: (v, rows) => {
    rows[0] = 1 / v[1]!;
    rows[1] = -v[0]! / v[1]! ** 2;
  },
});

/** A camera after the adjustment. */
export interface SurveyCamera {
  readonly photo: string;
  readonly name: string;
  /** Null where its marks are left out: `problem` says why. */
  readonly camera: Camera | null;
  readonly problem: string | null;
  /** One standard deviation of the eye, mm, and of the focal length, px. */
  readonly sigmaEyeMm: Vec3 | null;
  readonly sigmaFocalPx: number | null;
  /** Root mean square of a mark's residuals along x and y, px. */
  readonly rmsPx: number | null;
  /** Adjusted less marked, px, by the reading's id. */
  readonly residualsPx: ReadonlyMap<string, readonly [number, number]>;
}

/** The cameras as an adjustment leaves them; `x` are its variables, `covariance` theirs (size × size). */
export function camerasAfter(
  part: PhotoPart,
  x: Float64Array,
  covariance: Float64Array,
  residuals: readonly { readonly name: string; readonly residual: number }[],
): SurveyCamera[] {
  const size = x.length;
  const found = part.cameras.map((c): SurveyCamera => {
    const p = c.variables.map((j) => x[j]!);
    const sigma = adjustedSigma(
      c.camera,
      p,
      c.variables.map((i) => c.variables.map((j) => covariance[i * size + j]!)),
    );
    const residualsPx = new Map(
      c.marks.map((o) => {
        const [u, v] = residuals.filter((r) => r.name === o.id);
        return [o.id, [u!.residual, v!.residual] as const];
      }),
    );
    const squares = [...residualsPx.values()].reduce((s, [u, v]) => s + u * u + v * v, 0);
    return {
      photo: c.photo.id,
      name: c.photo.name ?? c.photo.id,
      camera: adjustedCamera(c.camera, p),
      problem: null,
      sigmaEyeMm: sigma.eyeMm,
      sigmaFocalPx: sigma.focalPx,
      rmsPx: Math.sqrt(squares / (2 * residualsPx.size)),
      residualsPx,
    };
  });
  const out = part.leftOut.map(({ photo, why }): SurveyCamera => ({
    photo: photo.id,
    name: photo.name ?? photo.id,
    camera: null,
    problem: why,
    sigmaEyeMm: null,
    sigmaFocalPx: null,
    rmsPx: null,
    residualsPx: new Map(),
  }));
  return [...found, ...out];
}
