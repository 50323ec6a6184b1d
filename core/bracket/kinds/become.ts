import { fixingHoles } from '../pattern';
import type { Before, Change } from './kind';

/** To the next half millimetre up. */
export const halfUp = (mm: number): number => Math.ceil(mm * 2 - 1e-9) / 2;

/** Room round a screw, mm, from its hole: half a washer. A rule of thumb for defaults only. */
export const washerMm = (holeMm: number): number => holeMm;
/** Room round a stud, mm, from its hole: half a joint’s socket. A rule of thumb for defaults only. */
export const socketMm = (holeMm: number): number => 1.3 * holeMm + 2;

/** A plain number of a change, else the other one. */
export const plainOr = (value: unknown, other: number | undefined): number =>
  typeof value === 'number' ? value : (other ?? 0);

/** A longer base leg where the one there is too short for its holes and `moreMm`; not where a given or an expression holds it. */
function longEnough({ raw, plain }: Before, moreMm: number): Change {
  const reach = fixingHoles(plain).map((f) => f.fromEndMm + f.slotMm / 2 + washerMm(f.diameterMm));
  const need = Math.max(0, ...reach) + moreMm;
  return typeof raw.baseLegMm === 'number' && plain.baseLegMm < need ? { baseLegMm: halfUp(need) } : {};
}

/** Bend and upright as usual where the job gives none. */
export function becomeBent({ raw, plain }: Before): Change {
  const { thicknessMm: t } = plain;
  const d = plain.studHole.diameterMm;
  const r = plain.insideRadiusMm ?? halfUp(1.5 * t);
  const heightMm = plain.studHole.heightMm ?? halfUp(r + 3 * t + 1.2 * d);
  return {
    ...(raw.insideRadiusMm === undefined ? { insideRadiusMm: r } : {}),
    ...(raw.studHole.heightMm === undefined ? { studHole: { ...raw.studHole, heightMm } } : {}),
    ...(raw.uprightLegMm === undefined ? { uprightLegMm: halfUp(heightMm + 1.5 * d) } : {}),
  };
}

/** A bent angle: the base leg as long as its fixings and the bend need. */
export function becomeAngle(before: Before): Change {
  const bent = becomeBent(before);
  const { thicknessMm: t, insideRadiusMm } = before.plain;
  return { ...bent, ...longEnough(before, plainOr(bent.insideRadiusMm, insideRadiusMm ?? t) + t) };
}

/** A plate: the stud from its end, and as long as fixings and the joint's socket need. */
export function becomePlate(before: Before): Change {
  const { raw, plain } = before;
  const d = plain.studHole.diameterMm;
  const fromEndMm = plain.studHole.fromEndMm ?? halfUp(Math.max(1.5 * d, plain.topCornerRadiusMm ?? 0));
  return {
    ...(raw.studHole.fromEndMm === undefined ? { studHole: { ...raw.studHole, fromEndMm } } : {}),
    ...longEnough(before, socketMm(d) + fromEndMm),
  };
}
