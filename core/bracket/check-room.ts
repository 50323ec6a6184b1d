import { fixingWhere } from './check-numbers';
import { holesApartMm } from './check-holes';
import { checkGusset } from './check-gusset';
import { bodyHoles } from './cuts';
import { type BracketIssue, IssueList, mm } from './issue';
import type { BracketSpec } from './kinds';
import { bodyLayout } from './layout';
import { leanOf, thicknessAtMm } from './lean';
import { isBent } from './spec';
import { bolted, spannerRoomMm } from './room';
import { ballAt, originFromEndMm, studDepthMm } from './stem';
import { type Hardware, hardwareOf } from './tables';

/** Thread cut into a plate carries from about this many diameters of engagement, steel. Common practice, no source. */
export const LEAST_TAPPED_DIAMETERS = 0.8;

/** A thin edge this thin is a feather: it chips and cuts, mm. Common practice, no source. */
const LEAST_WEDGE_MM = 1.5;
const STEEP_WEDGE_DEG = 30;
/** Space left between the ball's socket and what stands beside it, mm. Ours. */
const BALL_CLEAR_MM = 1;

interface Screw {
  /** In the bracket frame; the head stands on the plate from `atMm` up. */
  readonly x: number;
  readonly y: number;
  readonly atMm: number;
  readonly index: number;
}

function screws(spec: BracketSpec): Screw[] {
  const lean = leanOf(spec);
  return spec.fixings.map((f, index) => ({
    x: f.fromEndMm - originFromEndMm(spec),
    y: f.acrossMm - spec.studHole.acrossMm,
    atMm: thicknessAtMm(spec, lean, [-f.acrossMm, f.fromEndMm]),
    index,
  }));
}

/** Height of washer and head over the plate, mm. */
const headMm = (hw: Hardware): number => hw.washerThicknessMm + Math.max(hw.headHeightMm, hw.nutHeightMm);

function checkScrews(spec: BracketSpec, hw: Hardware, list: IssueList): void {
  const layout = bodyLayout(spec);
  const holes = bodyHoles(spec, layout).filter((h) => h.role === 'fixing');
  const washer = hw.washerDiameterMm / 2;
  holes.forEach((one, i) => {
    for (const two of holes.slice(i + 1)) {
      const apart = holesApartMm(one, two);
      const where = spec.patterned ? ['baseHole', 'spacingMm'] : fixingWhere(spec, i, 'acrossMm');
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
  const [from, to] = layout.baseFlat;
  holes.forEach((hole, i) => {
    const reach = Math.abs(Math.sin(hole.slotRad) * hole.slotMm) / 2;
    const gaps = [to - hole.centre[1] - reach];
    if (spec.kind === 'channel') gaps.push(hole.centre[1] - from - reach);
    const toBend = Math.min(...gaps);
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

function checkBall(spec: BracketSpec, screwHw: Hardware | null, list: IssueList): void {
  if (spec.kind === 'wedge-plate' && spec.ballSide === 'inside') {
    list.fails(
      'ball-inside',
      ['ballSide'],
      'A wedge plate carries its ball on its leaning top only: its underside lies on the mount.',
      'Set the ball outside.',
    );
    return;
  }
  if (!spec.studThread) return;
  const radius = hardwareOf(spec.studThread).jointHeadDiameterMm / 2 + BALL_CLEAR_MM;
  const [x, y, z] = ballAt(spec);
  const where = spec.kind === 'channel' ? ['gapMm'] : ['ballOffsetMm'];
  if (spec.kind === 'channel') {
    if (spec.gapMm < 2 * radius)
      list.watch(
        'joint-gap',
        where,
        `A joint for ${spec.studThread} is about ${mm(2 * radius - 2 * BALL_CLEAR_MM)} across: the gap is ${mm(spec.gapMm)}.`,
        'Measure your joint and set the gap to its width with washers and a little play.',
      );
  } else if (spec.ballOffsetMm < radius - BALL_CLEAR_MM && isBent(spec) && spec.ballSide === 'inside')
    list.watch(
      'ball-face',
      where,
      `The joint’s socket (about ⌀ ${mm(2 * (radius - BALL_CLEAR_MM))}) stands against the upright: the ball is ${mm(spec.ballOffsetMm)} from it.`,
      'Give the stud’s real offset, or put spacing washers under it.',
    );
  const clearOfHeads = (key: 'acrossMm' | 'fromEndMm', advice: string): void => {
    if (!screwHw || !bolted(spec)) return;
    for (const screw of screws(spec)) {
      const aside = Math.max(0, Math.hypot(screw.x - x, screw.y - y) - screwHw.acrossCornersMm / 2);
      const away = Math.hypot(aside, Math.max(0, z - screw.atMm - headMm(screwHw)));
      if (away < radius)
        list.fails(
          'ball-fixing',
          fixingWhere(spec, screw.index, key),
          `The joint’s socket meets a fixing’s head: ${mm(away)} from the ball’s centre, ${mm(radius)} needed.`,
          advice,
        );
    }
  };
  const inside = spec.kind === 'channel' || (isBent(spec) && spec.ballSide === 'inside');
  if (inside) {
    const over = z - spec.thicknessMm;
    if (over < radius)
      list.fails(
        'ball-base',
        ['studHole', 'heightMm'],
        `The joint’s socket (about ⌀ ${mm(2 * (radius - BALL_CLEAR_MM))}) stands in the base leg: its middle is ${mm(over)} over it.`,
        `Raise the stud by ${mm(radius - over)} or more.`,
      );
    clearOfHeads('acrossMm', 'Raise the stud, move the fixing out from under it, or use a countersunk screw.');
    const g = spec.gusset;
    if (g)
      for (const across of g.count === 1 ? [0] : [-g.acrossMm, g.acrossMm]) {
        const aside = Math.max(0, Math.abs(across - spec.studHole.acrossMm - y) - g.thicknessMm / 2);
        // distance from the gusset's sloping edge, in its own plane
        const [along, up] = [-x - spec.thicknessMm, z - spec.thicknessMm];
        const out = Math.max(0, (along * g.upMm + up * g.alongMm - g.alongMm * g.upMm) / Math.hypot(g.alongMm, g.upMm));
        if (Math.hypot(aside, out) < radius)
          list.fails(
            'ball-gusset',
            ['gusset'],
            'The joint’s socket meets the gusset.',
            'Put the ball outside, make the gusset lower, or set two gussets further apart.',
          );
      }
  }
  if (spec.kind === 'flat-tab' || spec.kind === 'wedge-plate') {
    const d = Number(spec.studThread.slice(1));
    if (spec.ballSide === 'outside' && studDepthMm(spec) < LEAST_TAPPED_DIAMETERS * d)
      list.watch(
        'tab-nut',
        ['thicknessMm'],
        `The stud’s nut lies under the plate: at ${mm(studDepthMm(spec))} the plate is too thin to take a ${spec.studThread} thread itself (about ${LEAST_TAPPED_DIAMETERS} diameters, common practice).`,
        'Let that end stand over the mount’s edge, sink the nut into the mount, or use a thicker plate with a tapped hole.',
      );
    if (spec.ballSide === 'outside')
      clearOfHeads('fromEndMm', 'Move the fixing away from the stud, or use a countersunk screw.');
  }
}

function checkWedge(spec: BracketSpec, list: IssueList): void {
  if (!spec.wedge) return;
  if (spec.thicknessMm < LEAST_WEDGE_MM)
    list.watch(
      'wedge-thin',
      ['thicknessMm'],
      `The wedge runs out to ${mm(spec.thicknessMm)}: a feather edge chips and cuts.`,
      `Leave ${mm(LEAST_WEDGE_MM)} or more at the thin edge (common practice).`,
    );
  if (spec.wedge.tiltDeg > STEEP_WEDGE_DEG)
    list.watch(
      'wedge-steep',
      ['wedge', 'tiltDeg'],
      `At ${spec.wedge.tiltDeg}° the fixings’ heads sit on a steep face.`,
      'Spot-face the holes square to the mount, or bend an angle instead.',
      'Spot-face the fixing holes square to the underside.',
    );
  else if (spec.wedge.tiltDeg > 3 && bolted(spec))
    list.watch(
      'wedge-face',
      ['wedge', 'tiltDeg'],
      `The fixings’ heads sit ${Number(spec.wedge.tiltDeg.toFixed(1))}° askew on the leaning top: they bend when tightened.`,
      'Spot-face the holes square to the underside, or use taper washers.',
      'Spot-face the fixing holes square to the underside, or use taper washers.',
    );
}

/** Room for heads, nuts, washers, spanners, gussets and the joint. */
export function checkRoom(spec: BracketSpec): BracketIssue[] {
  const list = new IssueList();
  const screwHw = spec.fixingThread ? hardwareOf(spec.fixingThread) : null;
  const studHw = spec.studThread ? hardwareOf(spec.studThread) : null;
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
    if (screwHw) checkScrews(spec, screwHw, list);
  }
  if (spec.studThread && Number(spec.studThread.slice(1)) > spec.studHole.diameterMm + 1e-9)
    list.fails(
      'stud-thread',
      ['studHole', 'diameterMm'],
      `${spec.studThread} does not go into a hole of ⌀ ${mm(spec.studHole.diameterMm)}.`,
      'Make the hole larger or take a smaller stud.',
    );
  checkGusset(spec, bolted(spec) ? screwHw : null, studHw, list);
  checkBall(spec, screwHw, list);
  checkWedge(spec, list);
  return list.issues;
}
