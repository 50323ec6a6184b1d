// First brackets for a place: the stud leaning as the joint wants it, the ball as high over the mount as the place has it.
import type { Bracket, EndName, JobBracket, Strut } from '../job';
import { fittingKind } from '../joint';
import { cos, toRad } from '../space';
import { ballAt, bendTakesMm, isBent, isPinned } from './body';
import { checkBracket } from './check';
import { firstBracket } from './first';
import { KINDS } from './kinds';
import { readyPlate } from './ready';
import { bracketSpecOf } from './spec';

/** Tilts that first brackets are made for, degrees: a stud along the mount, or nearly square to it; between, nothing simple holds it. */
export const FIRST_TILTS = [0, 90, 85, 80, 75, 70] as const;

/** Thicknesses of plates that take the stud's own thread, and of sheet that is bent, mm: common practice, no source. */
const PLATES_MM = [5, 6, 8, 10, 12, 15, 20, 25];
const SHEETS_MM = [undefined, 4, 5, 6, 8, 10];
/** No first bracket stands higher, mm: past this one builds a post. */
const HIGHEST_MM = 150;

const plain = (bracket: JobBracket): Bracket => bracket as unknown as Bracket;
const fine = (mm: number): number => Number(mm.toFixed(2));
const makeable = (bracket: JobBracket): boolean =>
  !checkBracket(bracketSpecOf(plain(bracket))).some(({ severity }) => severity === 'fails');

/** How high over its mount a bracket holds its ball, mm. */
export const ballHeightMm = (bracket: Bracket): number => ballAt(bracketSpecOf(bracket))[2];

/** One thickness between stud's hole and bend: nearer, bending spoils the hole. A channel's socket hangs over the heads: as it is begun. */
function lowestBentMm(bracket: JobBracket): number {
  const spec = bracketSpecOf(plain(bracket));
  if (isPinned(spec)) return spec.studHole.heightMm;
  return Math.ceil(bendTakesMm(spec) + spec.studHole.diameterMm / 2 + spec.thicknessMm);
}

function plate(strut: Strut, end: EndName, tiltDeg: number, thicknessMm: number): JobBracket {
  const { bought: _made, ...flat } = readyPlate(strut, end, '', '');
  return { ...flat, thicknessMm, wedge: { tiltDeg: 90 - tiltDeg } } as JobBracket;
}

/** An angle, for a pin a channel, as `firstBracket` begins it. */
function bent(strut: Strut, end: EndName, plateMm?: number): JobBracket {
  const raw = firstBracket(strut, end, '', '', plateMm);
  if (!['fork', 'eye'].includes(fittingKind(strut.ends[end].fitting))) return raw;
  return { ...raw, ...KINDS.channel.become({ raw, plain: plain(raw), strut }), kind: 'channel' } as JobBracket;
}

/**
 * The bracket with its ball so high over the mount (mm): a bent one with its stud's hole there and its upright as far over it as before,
 * a plate with a longer stud. Null where it can't be made so, or its numbers hang on others.
 */
export function withBallAt(bracket: JobBracket, heightMm: number): JobBracket | null {
  const now = ballHeightMm(plain(bracket));
  const by = heightMm - now;
  const { studHole, uprightLegMm, ballOffsetMm, wedge } = bracket;
  const numbers = [studHole.heightMm ?? 0, uprightLegMm ?? 0, ballOffsetMm, wedge?.tiltDeg ?? 0];
  if (!numbers.every((v) => typeof v === 'number')) return null;
  const [hole, upright, offset, lean] = numbers as [number, number, number, number];
  const moved: JobBracket = isBent(bracket)
    ? { ...bracket, studHole: { ...studHole, heightMm: fine(hole + by) }, uprightLegMm: fine(upright + by) }
    : { ...bracket, ballOffsetMm: fine(offset + by / cos(toRad(lean))) };
  return (moved.ballOffsetMm as number) >= 0 && makeable(moved) ? moved : null;
}

/** Plates of every thickness at a tilt that can be made, with how high each holds the ball on its usual stud, lowest first. */
const plates = (strut: Strut, end: EndName, tiltDeg: number): { bracket: JobBracket; heightMm: number }[] =>
  PLATES_MM.map((t) => plate(strut, end, tiltDeg, t))
    .filter((bracket) =>
      checkBracket(bracketSpecOf(plain(bracket))).every(({ id, severity }) => severity !== 'fails' && id !== 'tab-nut'),
    )
    .map((bracket) => ({ bracket, heightMm: ballHeightMm(plain(bracket)) }));

/**
 * How high over its mount a first bracket can hold the ball of a strut's end for a stem of a tilt of FIRST_TILTS, least and most, mm;
 * null where none can.
 */
export function firstHeights(strut: Strut, end: EndName, tiltDeg: number): readonly [number, number] | null {
  if (tiltDeg === 0) return [lowestBentMm(bent(strut, end)), HIGHEST_MM];
  if (['fork', 'eye'].includes(fittingKind(strut.ends[end].fitting))) return null;
  const all = plates(strut, end, tiltDeg);
  return all.length > 0 ? [all[0]!.heightMm, all.at(-1)!.heightMm] : null;
}

/**
 * First brackets for a strut's end whose ball stands `heightMm` over its mount and whose stem leans by a tilt of FIRST_TILTS: an angle, a
 * channel or a plate, the lightest first. Nothing of them is judged but that they can be made.
 */
export function bracketsTo(strut: Strut, end: EndName, tiltDeg: number, heightMm: number): JobBracket[] {
  const usual = bent(strut, end).thicknessMm as number;
  const begun =
    tiltDeg === 0
      ? SHEETS_MM.filter((t) => t === undefined || t > usual).map((t) => bent(strut, end, t))
      : plates(strut, end, tiltDeg)
          .filter((p) => p.heightMm <= heightMm + 1e-6)
          .slice(-1)
          .map((p) => p.bracket);
  return begun.flatMap((bracket) => withBallAt(bracket, heightMm) ?? []);
}
