import { type Rad, type Vec3, atan2, cos, norm, sin, toDeg } from '../space';
import type { SurveyReading } from './survey-reading';
import { sentence } from './readings';

const amount = (r: SurveyReading): string => {
  const v = Math.abs(r.blunder ?? r.residual);
  if (r.unit === 'px') return `${v.toFixed(v < 9.5 ? 1 : 0)} px`;
  return r.unit === 'deg' ? `${v.toFixed(1)}°` : `${v.toFixed(v < 9.5 ? 1 : 0)} mm`;
};

/** What a suspicious reading does: "reads 11 mm long against the rest". */
function charge(r: SurveyReading): string {
  const more = (r.blunder ?? 0) > 0;
  switch (r.kind) {
    case 'tape':
    case 'known-length':
      return `reads ${amount(r)} ${more ? 'long' : 'short'} against the rest`;
    case 'on-line':
    case 'on-plane':
      return `is ${amount(r)} off against the rest`;
    case 'photo-mark':
      return `lies ${amount(r)} off against the rest`;
    case 'mirror-twin':
    case 'square-corner':
    case 'rectangle':
      return `does not fit by ${amount(r)} against the rest`;
    case 'coordinate':
    case 'height-difference':
    case 'angle-level':
    case 'angle-between':
      return `reads ${amount(r)} too ${more ? 'much' : 'little'} against the rest`;
  }
}

const REMEDY: Partial<Record<SurveyReading['kind'], string>> = {
  'mirror-twin': 'Measure both sides.',
  'on-line': 'Look at it again.',
  'on-plane': 'Look at it again.',
  'square-corner': 'Hold a square to it.',
  rectangle: 'Measure both diagonals.',
  'photo-mark': 'Zoom in and mark it again; check that it is the same point.',
};

/** The worst reading as a sentence with what to do; with all those it can't be told from. */
export function suspicionText(first: SurveyReading, alike: readonly SurveyReading[]): string {
  if (alike.length === 0)
    return `${sentence(first.name)} ${charge(first)}. ${REMEDY[first.kind] ?? 'Measure it again.'}`;
  const others = alike.map((r) => r.name).join(', or ');
  return `${sentence(first.name)} ${charge(first)}, or else ${others}: these readings can't tell which. Measure them again, or one thing more.`;
}

/** Readings in which a blunder of any size would pass unseen. */
export function uncontrolledText(readings: readonly SurveyReading[]): string | null {
  const names = readings.filter((r) => r.verdict === 'uncontrolled').map((r) => r.name);
  if (names.length === 0) return null;
  const some = names.length > 4 ? [...names.slice(0, 3), `${names.length - 3} more`] : names;
  return `No other reading controls ${some.join('; ')}: a slip there would pass unseen. Measure something that checks ${names.length === 1 ? 'it' : 'them'}.`;
}

/** Both ways along an axis of the frame: X forward, Y left, Z up. */
const WAYS = ['forward and back', 'left and right', 'up and down'] as const;
/** Off an axis by less than 5°, it is called along it. */
const NEARLY = 0.996;
const ASIDE = 0.087;
const degrees = (v: Rad): string => `${Math.round(Math.abs(toDeg(v)))}°`;

/**
 * A direction that a point can go both ways along, in words: "up and down"; else its level part and its rise, as
 * "forward and 20° to the left, 30° up".
 * @example directionText([1, 0, 0]) // 'forward and back'
 * @example directionText([0, 0.866, -0.5]) // 'left, 30° down'
 */
export function directionText(d: Vec3): string {
  for (const k of [0, 1, 2] as const) if (Math.abs(d[k]) > NEARLY * norm(d)) return WAYS[k];
  const level = Math.hypot(d[0], d[1]);
  // written from its forward end, or its left one
  const sign = d[0] < -1e-9 * norm(d) || (Math.abs(d[0]) <= 1e-9 * norm(d) && d[1] < 0) ? -1 : 1;
  const rise = atan2(sign * d[2], level);
  const turn = atan2(sign * d[1], sign * d[0]);
  const side = turn > 0 ? 'left' : 'right';
  const aside = Math.abs(sin(turn)) > ASIDE;
  const way = cos(turn) <= ASIDE ? side : aside ? `forward and ${degrees(turn)} to the ${side}` : 'forward';
  return Math.abs(rise) < ASIDE ? way : `${way}, ${degrees(rise)} ${rise > 0 ? 'up' : 'down'}`;
}
