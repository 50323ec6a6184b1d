import { add, scale, type Vec3 } from '../space';
import { ballAt, isBent } from './body';
import { LEAST_TAPPED_DIAMETERS } from './check/room';
import { placedHoles } from './folded';
import { hardwareOf } from './tables';
import type { BracketSpec, PlacedHole } from './types';

/** A round or six-sided body on an axis, in the bracket frame, mm. Six-sided: radiusMm is half of the width across corners. */
export interface HardwareBody {
  readonly of: string;
  readonly part: 'washer' | 'head' | 'nut' | 'shank' | 'stud' | 'pin';
  readonly shape: 'round' | 'hexagon';
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radiusMm: number;
}

/** How far a thread stands out of its nut, in diameters; how far a screw is shown into its mount. For show only. */
const END_DIAMETERS = 0.3;
const INTO_DIAMETERS = 1.2;
/** A pin's head, in diameters across and thick. For show only. */
const PIN_HEAD = { across: 1.5, thick: 0.3 };

const diameterOf = (thread: string): number => Number(thread.slice(1));

function screw(spec: BracketSpec, hole: PlacedHole): HardwareBody[] {
  if (!spec.fixingThread) return [];
  const hw = hardwareOf(spec.fixingThread);
  const d = diameterOf(spec.fixingThread);
  const at = (z: number): Vec3 => add(hole.centreMm, scale(hole.axis, z));
  const top = hole.thicknessMm;
  const seat = top + hw.washerThicknessMm;
  const round = { of: hole.id, shape: 'round' } as const;
  return [
    { ...round, part: 'shank', from: at(-INTO_DIAMETERS * d), to: at(seat), radiusMm: d / 2 },
    { ...round, part: 'washer', from: at(top), to: at(seat), radiusMm: hw.washerDiameterMm / 2 },
    {
      ...{ of: hole.id, part: 'head', shape: 'hexagon' },
      ...{ from: at(seat), to: at(seat + hw.headHeightMm), radiusMm: hw.acrossCornersMm / 2 },
    },
  ];
}

function stud(spec: BracketSpec, hole: PlacedHole): HardwareBody[] {
  if (!spec.studThread) return [];
  const hw = hardwareOf(spec.studThread);
  const d = diameterOf(spec.studThread);
  const at = (k: number): Vec3 => add(hole.centreMm, scale(hole.axis, k));
  const back = -hole.thicknessMm;
  const round = { of: hole.id, shape: 'round' } as const;
  const neck: HardwareBody = { ...round, part: 'stud', from: at(0), to: ballAt(spec), radiusMm: d / 2 };
  // a thick plate takes the thread itself
  const holdsStud = spec.bought || hole.thicknessMm >= LEAST_TAPPED_DIAMETERS * d;
  if (!isBent(spec) && spec.ballSide === 'outside' && holdsStud)
    return [neck, { ...round, part: 'stud', from: at(back), to: at(0), radiusMm: d / 2 }];
  const seat = back - hw.washerThicknessMm;
  const end = seat - hw.nutHeightMm;
  return [
    neck,
    { ...round, part: 'washer', from: at(seat), to: at(back), radiusMm: hw.washerDiameterMm / 2 },
    {
      ...{ of: hole.id, part: 'nut', shape: 'hexagon' },
      ...{ from: at(end), to: at(seat), radiusMm: hw.acrossCornersMm / 2 },
    },
    { ...round, part: 'stud', from: at(end - END_DIAMETERS * d), to: at(0), radiusMm: d / 2 },
  ];
}

function pin(spec: BracketSpec): HardwareBody[] {
  const d = spec.studHole.diameterMm;
  const h = spec.studHole.heightMm;
  const thick = PIN_HEAD.thick * d;
  const at = (x: number): Vec3 => [x, 0, h];
  const round = { of: 'pin', part: 'pin', shape: 'round' } as const;
  const far = -spec.baseLegMm;
  return [
    { ...round, from: at(far - thick), to: at(thick), radiusMm: d / 2 - 0.1 },
    { ...round, from: at(0), to: at(thick), radiusMm: (PIN_HEAD.across * d) / 2 },
    { ...round, from: at(far - thick), to: at(far), radiusMm: (PIN_HEAD.across * d) / 2 },
  ];
}

/**
 * What stands on the finished bracket, in the bracket frame: screws with washers, the stud with its nut up to the ball's centre, a channel's pin. Sizes by the
 * threads; how far screws and ends reach is for show. Throws a LidwrightError when the bracket cannot be made.
 */
export function hardwareBodies(spec: BracketSpec): HardwareBody[] {
  const bolted = spec.attachedBy !== 'weld';
  return placedHoles(spec).flatMap((hole) => {
    if (hole.role === 'fixing') return bolted ? screw(spec, hole) : [];
    if (hole.role === 'stud') return stud(spec, hole);
    return hole.id === 'pin-near' ? pin(spec) : [];
  });
}
