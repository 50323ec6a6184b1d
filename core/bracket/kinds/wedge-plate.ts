import { bolted, mm } from '../check/issue';
import { becomePlate } from './become';
import { BASE_LEG, type Kind } from './kind';

/** A thin edge this thin is a feather: it chips and cuts, mm. Common practice, no source. */
const LEAST_MM = 1.5;
const STEEP_DEG = 30;
export const STEEPEST_DEG = 45;
const USUAL_DEG = 10;

export const wedgePlate: Kind = {
  name: 'Wedge plate',
  use: 'A plate with a leaning top: the stud leans with it.',
  legs: ['base'],
  holds: 'stud',
  bothSides: false,
  sizes: [BASE_LEG],
  edges: ['free-end', 'stud-end', 'side', 'stud-side'],
  settle: ({ wedge }) => ({ wedge: wedge ? { tiltDeg: wedge.tiltDeg, directionDeg: wedge.directionDeg ?? 0 } : null }),
  checkNumbers({ wedge }, list) {
    if (!wedge) {
      list.fails('number', ['wedge'], 'The wedge has no angle.', 'Give how far its top leans.');
      return;
    }
    const { tiltDeg, directionDeg } = wedge;
    if (!Number.isFinite(directionDeg))
      list.fails(
        'number',
        ['wedge', 'directionDeg'],
        `The direction is ${directionDeg}°.`,
        'Give an angle in degrees.',
      );
    if (!Number.isFinite(tiltDeg) || tiltDeg < 0 || tiltDeg > STEEPEST_DEG)
      list.fails(
        'wedge-steep',
        ['wedge', 'tiltDeg'],
        `The wedge leans ${tiltDeg}°.`,
        `Up to ${STEEPEST_DEG}°: past that the stud pulls along the mount; bend an angle instead.`,
      );
  },
  checkRoom(spec, _room, list) {
    const tiltDeg = spec.wedge!.tiltDeg;
    if (spec.thicknessMm < LEAST_MM)
      list.watch(
        'wedge-thin',
        ['thicknessMm'],
        `The wedge runs out to ${mm(spec.thicknessMm)}: a feather edge chips and cuts.`,
        `Leave ${mm(LEAST_MM)} or more at the thin edge (common practice).`,
      );
    if (tiltDeg > STEEP_DEG)
      list.watch(
        'wedge-steep',
        ['wedge', 'tiltDeg'],
        `At ${tiltDeg}° the fixings’ heads sit on a steep face.`,
        'Spot-face the holes square to the mount, or bend an angle instead.',
        'Spot-face the fixing holes square to the underside.',
      );
    else if (tiltDeg > 3 && bolted(spec))
      list.watch(
        'wedge-face',
        ['wedge', 'tiltDeg'],
        `The fixings’ heads sit ${Number(tiltDeg.toFixed(1))}° askew on the leaning top: they bend when tightened.`,
        'Spot-face the holes square to the underside, or use taper washers.',
        'Spot-face the fixing holes square to the underside, or use taper washers.',
      );
  },
  become(before) {
    const { raw, plain, strut } = before;
    const change = becomePlate(before);
    const lean = 90 - (strut?.ends[plain.end].tiltDeg ?? 0);
    if (!raw.wedge) change.wedge = { tiltDeg: lean > 0 && lean <= STEEPEST_DEG ? lean : USUAL_DEG };
    if (raw.ballSide === 'inside') change.ballSide = 'outside';
    return change;
  },
  /** Its top leans along and across. */
  sample: {
    id: 'b7',
    name: 'Rail wedge',
    kind: 'wedge-plate',
    thicknessMm: 5,
    baseLegMm: 86,
    baseWidthMm: 48,
    topWidthMm: 40,
    baseCornerRadiusMm: 5,
    topCornerRadiusMm: 9,
    fixings: [
      { id: 'f1', acrossMm: -12, fromEndMm: 14, diameterMm: 6.6 },
      { id: 'f2', acrossMm: 12, fromEndMm: 14, diameterMm: 6.6 },
    ],
    studHole: { diameterMm: 8.4, fromEndMm: 26, acrossMm: 2 },
    ballOffsetMm: 13,
    wedge: { tiltDeg: 14, directionDeg: 20 },
    material: { name: 'Aluminium EN AW-6082', densityKgM3: 2700 },
  },
};
