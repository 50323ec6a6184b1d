import type { Vec3 } from '../space';
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
      return `does not fit by ${amount(r)} against the rest`;
    case 'coordinate':
    case 'height-difference':
    case 'angle-level':
    case 'angle-between':
      return `reads ${amount(r)} too ${more ? 'much' : 'little'} against the rest`;
  }
}

/** The worst reading as a sentence with what to do; with those it can't be told from. */
export function suspicionText(first: SurveyReading, alike: readonly SurveyReading[]): string {
  const remedy =
    first.kind === 'mirror-twin'
      ? 'Measure both sides.'
      : first.kind.startsWith('on-')
        ? 'Look at it again.'
        : first.kind === 'photo-mark'
          ? 'Zoom in and mark it again; check that it is the same point.'
          : 'Measure it again.';
  if (alike.length === 0) return `${sentence(first.name)} ${charge(first)}. ${remedy}`;
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

const AXES = ['x', 'y', 'z'] as const;

/** A direction in words: "along x", or its components. */
export function directionText(d: Vec3): string {
  for (const k of [0, 1, 2] as const) if (Math.abs(d[k]) > 0.996) return `along ${AXES[k]}`;
  return `along (${d.map((v) => v.toFixed(2)).join(', ')})`;
}
