import { formatOnScale } from '../../../core/quantity';
import {
  type Mat3,
  type Vec3,
  add,
  cross,
  perpendicularTo,
  rotateVec,
  scale,
  sub,
  toRad,
  unit,
} from '../../../core/space';
import { ellipseFactor, ellipseIn } from '../../../core/survey';
import { poseAt } from '../../../core/travel';
import type { MassProposal, PullsFound } from '../../../core/weigh';
import type { BenchState } from '../../state/store';
import { weighedOf } from '../../state/weighed';
import { type ViewFace, drawBeside } from './drag-overlay';
import * as ink from './draw';
import { toPx } from './projection';
import type { Scene } from './scene';

/** An arrow for the greatest pull read, px; shorter ones in proportion. */
const LONGEST_PX = 70;
const OVAL_STEPS = 48;

/** Covariance of a proposal's place as the lid stands now: C turned with the lid, R·C·Rᵀ. */
export function placeCovariance(proposal: MassProposal, axis: Vec3 | null, angleRad: number): Mat3 {
  const c = proposal.covariance;
  // columns of R are the base axes turned with the lid
  const turn = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((e) => (axis ? rotateVec(e, axis, angleRad) : e));
  const entry = (i: number, j: number): number => {
    let sum = 0;
    for (let k = 0; k < 3; k++) for (let l = 0; l < 3; l++) sum += turn[k]![i]! * c[k + 1]![l + 1]! * turn[l]![j]!;
    return sum;
  };
  const row = (i: number): Vec3 => [entry(i, 0), entry(i, 1), entry(i, 2)];
  return [row(0), row(1), row(2)];
}

/** Where the weighed centre of mass lies, with the oval that holds it in 95 of 100 cases. */
function drawFound(
  pen: ink.Pen,
  state: BenchState,
  scene: Scene,
  face: ViewFace,
  proposal: MassProposal,
  words: string,
  below: boolean,
): void {
  const { palette: c, projection, size } = face;
  const { axis } = scene;
  const at = axis ? poseAt(axis, proposal.at, toRad(state.angleDeg)) : proposal.at;
  const [x, y] = toPx(at, projection, state.sheet, size);
  const oval = ellipseIn(placeCovariance(proposal, axis?.opening ?? null, toRad(state.angleDeg)), projection.plane);
  const factor = ellipseFactor(0.95) * state.sheet.pxPerMm;
  const [cos, sin] = [Math.cos(oval.angleRad), Math.sin(oval.angleRad)];
  const ring = Array.from({ length: OVAL_STEPS }, (_, k): [number, number] => {
    const t = (2 * Math.PI * k) / OVAL_STEPS;
    const [u, v] = [oval.majorMm * factor * Math.cos(t), oval.minorMm * factor * Math.sin(t)];
    return [x + projection.rightSign * (u * cos - v * sin), y - (u * sin + v * cos)];
  });
  ink.drawLine(pen, ring, c.accent, 1.5, ink.DASH.full, true);
  const cross: [number, number][][] = [
    [
      [x - 8, y],
      [x + 8, y],
    ],
    [
      [x, y - 8],
      [x, y + 8],
    ],
  ];
  for (const line of cross) ink.drawLine(pen, line, c.accent, 2);
  const reach = Math.max(...ring.map((p) => p[0])) - x;
  drawBeside(pen, words, x + Math.min(reach, 60) - 8, y + (below ? 26 : 6), face);
}

/** Arrow at the grip for every pull read, as long as it is strong; the one at the present angle is labelled. */
function drawReadings(pen: ink.Pen, state: BenchState, scene: Scene, face: ViewFace, found: PullsFound): void {
  const { geometry } = found;
  const rows = state.resolved.weighings?.pulls?.readings ?? [];
  const { axis } = scene;
  if (!geometry || !axis) return;
  const { palette: c, projection, size } = face;
  const most = Math.max(...rows.map((r) => Math.abs(r.forceN)), 1e-9);
  const px = (p: Vec3): [number, number] => toPx(p, projection, state.sheet, size);
  const raising = state.resolved.hinge.opens === 'down' ? -1 : 1;
  const unitOf = state.resolved.weighings?.scale ?? (state.units.force === 'lbf' ? 'lb' : 'kg');
  rows.forEach((r) => {
    const grip = poseAt(axis, geometry.gripMm, toRad(r.angleDeg));
    const square = scale(unit(cross(axis.opening, perpendicularTo(sub(grip, axis.origin), axis.opening))), raising);
    const way = scale(r.pull === 'upright' ? geometry.up : square, Math.sign(r.forceN));
    const length = (LONGEST_PX * Math.abs(r.forceN)) / most;
    const [a, b] = [px(grip), px(add(grip, scale(way, length / state.sheet.pxPerMm)))];
    const seen = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const now = Math.abs(r.angleDeg - state.angleDeg) < 0.6;
    pen.globalAlpha = r.use === false ? 0.35 : 1;
    ink.drawDisc(pen, a, 3, c.accent, null);
    if (seen > 8) {
      const [ux, uy] = [(b[0] - a[0]) / seen, (b[1] - a[1]) / seen];
      const wing = (side: number): [number, number] => [b[0] - ux * 9 + side * uy * 5, b[1] - uy * 9 - side * ux * 5];
      ink.drawLine(pen, [a, b], c.accent, now ? 3 : 1.5, r.use === false ? ink.DASH.hidden : ink.DASH.full);
      ink.drawLine(pen, [wing(1), b, wing(-1)], c.accent, now ? 3 : 1.5);
    }
    pen.globalAlpha = 1;
    if (now && seen > 8) drawBeside(pen, formatOnScale(r.forceN, unitOf), b[0], b[1], face);
  });
}

/** Where the lifted lid rested: a small stand under each of the points. */
function drawRests(pen: ink.Pen, state: BenchState, scene: Scene, { palette: c, projection, size }: ViewFace): void {
  const ids = new Set((state.resolved.weighings?.lifted?.readings ?? []).flatMap((r) => r.between));
  for (const id of ids) {
    const p = scene.posed.get(id);
    if (!p) continue;
    const [x, y] = toPx(p, projection, state.sheet, size);
    ink.drawLine(
      pen,
      [
        [x, y + 9],
        [x + 8, y + 22],
        [x - 8, y + 22],
      ],
      c.accent,
      1.5,
      ink.DASH.full,
      true,
    );
  }
}

/** What was weighed, over the views of the Weigh stage. */
export function drawWeighed(pen: ink.Pen, state: BenchState, scene: Scene, face: ViewFace): void {
  const { pulls, lifted } = weighedOf(state.resolved);
  if (pulls) drawReadings(pen, state, scene, face, pulls);
  if (lifted) drawRests(pen, state, scene, face);
  const both = pulls?.proposal && lifted?.proposal;
  const name = (item: { id: string; name?: string | undefined } | null): string => item?.name ?? item?.id ?? 'New item';
  if (pulls?.proposal)
    drawFound(
      pen,
      state,
      scene,
      face,
      pulls.proposal,
      `${name(pulls.item)}, ${both ? 'from pulls' : 'as weighed'}`,
      false,
    );
  if (lifted?.proposal)
    drawFound(
      pen,
      state,
      scene,
      face,
      lifted.proposal,
      `${name(lifted.item)}, ${both ? 'lifted off' : 'as weighed'}`,
      !!both,
    );
}
