import { ballAt, bodyHoles, bodyLayout, holesOf, isBent, isPinned, studDepthMm } from '../body';
import { KINDS, type Room } from '../kinds';
import { type Hardware, hardwareOf } from '../tables';
import type { BracketSpec } from '../types';
import { fixingToBendMm, holesApartMm } from './holes';
import { bolted, fixingWhere, type IssueList, mm, spannerRoomMm } from './issue';

/** Thread cut into a plate carries from about this many diameters of engagement, steel. Common practice, no source. */
export const LEAST_TAPPED_DIAMETERS = 0.8;

/** Space left between the ball's socket and what stands beside it, mm. Ours. */
const BALL_CLEAR_MM = 1;

/** Height of washer and head over the plate, mm. */
const headMm = (hw: Hardware): number => hw.washerThicknessMm + Math.max(hw.headHeightMm, hw.nutHeightMm);

function checkScrews(spec: BracketSpec, hw: Hardware, list: IssueList): void {
  const layout = bodyLayout(spec);
  const holes = bodyHoles(spec, layout).filter((h) => h.role === 'fixing');
  const washer = hw.washerDiameterMm / 2;
  holes.forEach((one, i) => {
    for (const two of holes.slice(i + 1)) {
      const apart = holesApartMm(one, two);
      const where = fixingWhere(spec, i, 'acrossMm');
      if (apart < hw.acrossCornersMm)
        list.fails(
          'heads-meet',
          where,
          `Two ${spec.fixingThread} heads run into each other: ${mm(apart)} apart, ${mm(hw.acrossCornersMm)} across corners.`,
          'Space the holes further apart or take smaller screws.',
        );
      else if (apart < hw.washerDiameterMm)
        list.watch(
          'washers-meet',
          where,
          `Two ${spec.fixingThread} washers overlap: ${mm(apart)} apart, ⌀ ${mm(hw.washerDiameterMm)}.`,
          'Space the holes further apart.',
        );
    }
  });
  if (!isBent(spec)) return;
  holes.forEach((hole, i) => {
    const toBend = fixingToBendMm(hole, layout);
    const toUpright = toBend + spec.insideRadiusMm;
    const where = fixingWhere(spec, i, 'fromEndMm');
    if (toUpright < hw.acrossCornersMm / 2)
      list.fails(
        'head-upright',
        where,
        `The ${spec.fixingThread} head would stand in the upright: ${mm(toUpright)} away, ${mm(hw.acrossCornersMm / 2)} needed.`,
        'Move the hole away from the upright or take a smaller screw.',
      );
    else if (toBend < washer)
      list.watch(
        'washer-bend',
        where,
        `The ${spec.fixingThread} washer rides up on the bend: ${mm(toBend)} to where the flat ends, ${mm(washer)} needed.`,
        'Move the hole away from the bend, or turn the washer’s edge down there.',
      );
    else if (toUpright < spannerRoomMm(hw.acrossFlatsMm))
      list.watch(
        'spanner-room',
        where,
        `A spanner for ${spec.fixingThread} has ${mm(toUpright)} to the upright; ${mm(spannerRoomMm(hw.acrossFlatsMm))} is the usual room for a socket (common practice).`,
        'Move the hole away, or put the nut on the other side.',
      );
  });
}

/** The joint's socket against the base, the upright and fixings; under a plate its stud's nut. */
function checkBall(spec: BracketSpec, { screw, stud, ball }: Room, list: IssueList): void {
  const inside = spec.ballSide === 'inside';
  if (inside && !isPinned(spec) && !KINDS[spec.kind].bothSides)
    list.fails(
      'ball-inside',
      ['ballSide'],
      'A wedge plate carries its ball on its leaning top only: its underside lies on the mount.',
      'Set the ball outside.',
    );
  else if (stud && ball) {
    const socket = `The joint’s socket (about ⌀ ${mm(stud.jointHeadDiameterMm)})`;
    const over = ball.at[2] - spec.thicknessMm;
    if (isBent(spec) && inside) {
      if (!isPinned(spec) && spec.ballOffsetMm < stud.jointHeadDiameterMm / 2)
        list.watch(
          'ball-face',
          ['ballOffsetMm'],
          `${socket} stands against the upright: the ball is ${mm(spec.ballOffsetMm)} from it.`,
          'Give the stud’s real offset, or put spacing washers under it.',
        );
      if (over < ball.radiusMm)
        list.fails(
          'ball-base',
          ['studHole', 'heightMm'],
          `${socket} stands in the base leg: its middle is ${mm(over)} over it.`,
          `Raise the stud by ${mm(ball.radiusMm - over)} or more.`,
        );
    }
    const d = Number(spec.studThread!.slice(1));
    if (!spec.bought && !isBent(spec) && !inside && studDepthMm(spec) < LEAST_TAPPED_DIAMETERS * d)
      list.watch(
        'tab-nut',
        ['thicknessMm'],
        `The stud’s nut lies under the plate: at ${mm(studDepthMm(spec))} the plate is too thin to take a ${spec.studThread} thread itself (about ${LEAST_TAPPED_DIAMETERS} diameters, common practice).`,
        'Let that end stand over the mount’s edge, sink the nut into the mount, or use a thicker plate with a tapped hole.',
      );
    // a socket over the fixed leg hangs over the heads
    if (screw && bolted(spec) && isBent(spec) === inside) checkUnderBall(spec, screw, ball, list);
  }
}

function checkUnderBall(spec: BracketSpec, screw: Hardware, ball: NonNullable<Room['ball']>, list: IssueList): void {
  const [x, y, z] = ball.at;
  const bent = isBent(spec);
  holesOf(spec).forEach(({ role, centreMm, thicknessMm }, i) => {
    if (role !== 'fixing') return;
    const aside = Math.max(0, Math.hypot(centreMm[0] - x, centreMm[1] - y) - screw.acrossCornersMm / 2);
    const away = Math.hypot(aside, Math.max(0, z - thicknessMm - headMm(screw)));
    if (away < ball.radiusMm)
      list.fails(
        'ball-fixing',
        fixingWhere(spec, i, bent ? 'acrossMm' : 'fromEndMm'),
        `The joint’s socket meets a fixing’s head: ${mm(away)} from the ball’s centre, ${mm(ball.radiusMm)} needed.`,
        bent
          ? 'Raise the stud, move the fixing out from under it, or use a countersunk screw.'
          : 'Move the fixing away from the stud, or use a countersunk screw.',
      );
  });
}

/** Room for heads, nuts, washers, spanners, plates and the joint. */
export function checkRoom(spec: BracketSpec, list: IssueList): void {
  const screw = spec.fixingThread ? hardwareOf(spec.fixingThread) : null;
  const stud = spec.studThread ? hardwareOf(spec.studThread) : null;
  if (bolted(spec)) {
    const d = spec.fixingThread ? Number(spec.fixingThread.slice(1)) : 0;
    spec.fixings.forEach((f, i) => {
      if (d > f.diameterMm)
        list.fails(
          'fixing-thread',
          fixingWhere(spec, i, 'diameterMm'),
          `${spec.fixingThread} does not go through a hole of ⌀ ${mm(f.diameterMm)}.`,
          'Make the hole larger or take a smaller screw.',
        );
    });
    if (screw) checkScrews(spec, screw, list);
  }
  if (spec.studThread && Number(spec.studThread.slice(1)) > spec.studHole.diameterMm + 1e-9)
    list.fails(
      'stud-thread',
      ['studHole', 'diameterMm'],
      `${spec.studThread} does not go into a hole of ⌀ ${mm(spec.studHole.diameterMm)}.`,
      'Make the hole larger or take a smaller stud.',
    );
  const ball = stud && { at: ballAt(spec), radiusMm: stud.jointHeadDiameterMm / 2 + BALL_CLEAR_MM };
  const room: Room = { screw, stud, ball };
  checkBall(spec, room, list);
  KINDS[spec.kind].checkRoom?.(spec, room, list);
}
