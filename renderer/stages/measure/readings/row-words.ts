import { type JobObservation, type Observation } from '../../../../core/job';
import { type ShownUnits, formatEntry, formatQuantity, shownUnit, toShown } from '../../../../core/quantity';
import { KIND_WORDS, type SurveyReading, measureOf, sigmaOf } from '../../../../core/survey';
import { numText } from '../../../state/readings-draft';

/** A number with its sign and unit as the reading's own instrument shows it. */
export function inUnit(value: number, unit: string, units: ShownUnits, signed = false): string {
  const text =
    unit === 'px'
      ? `${value.toFixed(1)} px`
      : formatQuantity(value, unit === 'deg' ? 'angle' : 'length', units, unit === 'deg' ? 2 : undefined);
  return signed && value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/** Kind and points: "tape: Port hinge pin → Lift handle". */
export function rowWords(o: Observation, name: (id: string) => string): string {
  const [a, b, c, d] = o.points.map(name);
  const kind = KIND_WORDS[o.kind] ?? o.kind;
  switch (o.kind) {
    case 'coordinate':
      return `${o.axis ?? ''} of ${a}`;
    case 'height-difference':
      return `height of ${b} over ${a}`;
    case 'on-line':
      return `${a} on the line ${b} → ${c}`;
    case 'on-plane':
      return `${a} on the plane of ${b}, ${c}, ${d}`;
    case 'angle-level':
      return `${kind}: ${a} → ${b}`;
    case 'angle-between':
      return `angle between ${a} → ${b} and ${c} → ${d}`;
    case 'mirror-twin':
      return `${kind}: ${a} ↔ ${b}${o.axis ? `, across ${o.axis}` : ''}`;
    case 'square-corner':
      return `${kind} at ${a}, to ${b} and ${c}`;
    case 'rectangle':
      return `${kind}: ${a}, ${b}, ${c}, ${d}`;
    case 'tape':
    case 'known-length':
      return `${kind}: ${a} → ${b}`;
    case 'photo-mark':
      return `${kind}: ${a}`;
  }
}

/** What was read, with its unit; an expression as typed and worked out. */
export function valueWords(raw: JobObservation, o: Observation, units: ShownUnits): string {
  const px = (o as { px?: readonly [number, number] }).px;
  if (px) return `${px[0].toFixed(0)}, ${px[1].toFixed(0)} px`;
  const { dimension, unit, hasValue } = measureOf(o.kind);
  if (!hasValue) return '—';
  const value = unit === 'mm' ? o.valueMm : o.valueDeg;
  if (value === undefined) return '—';
  const source = unit === 'mm' ? raw.valueMm : raw.valueDeg;
  const sign = shownUnit(dimension, units).sign;
  // finer than any tape or gauge shows
  const rounded = Number(toShown(value, dimension, units).toFixed(units.length === 'mm' || sign === '°' ? 2 : 3));
  const number = `${String(rounded).replace('-', '−')}${sign === '°' ? '°' : ` ${sign}`}`;
  return typeof source === 'object' ? `${numText(source, dimension, units)} = ${number}` : number;
}

export function sigmaWords(o: Observation, units: ShownUnits): string {
  const { value, unit } = sigmaOf(o);
  const text =
    (unit as string) === 'px'
      ? `${value} px`
      : `${formatEntry(value, unit === 'deg' ? 'angle' : 'length', units)}${unit === 'deg' ? '°' : ''}`;
  return `±${text}`;
}

/** The verdict on a reading in words; null: the adjustment has not seen it. */
export function verdictWords(r: SurveyReading | undefined, off: boolean, units: ShownUnits): string {
  if (off) return 'switched off';
  if (!r) return 'not worked out yet';
  switch (r.verdict) {
    case 'uncontrolled':
      return 'nothing checks it';
    case 'suspicious':
      return r.blunder === null
        ? 'in doubt'
        : `in doubt: ${inUnit(Math.abs(r.blunder), r.unit, units)} too ${r.blunder > 0 ? 'much' : 'little'}`;
    case 'fits':
      return r.detectable === null ? 'fits' : `fits; a slip over ${inUnit(r.detectable, r.unit, units)} would show`;
  }
}
