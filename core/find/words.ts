import { KINDS } from '../bracket';
import { demandOf } from '../demands';
import { valueText } from '../findings';
import type { ResolvedJob } from '../job';
import { type Dimension, METRIC, type ShownUnits, formatQuantity } from '../quantity';
import type { Answer } from './answer';
import type { Place } from './place';
import type { Fails, Relaxed } from './relax';

const LIMIT_WORDS: Readonly<Record<string, string>> = {
  handOpenN: 'the most to lift',
  handCloseN: 'the most to pull shut',
  holdOpenNm: 'what is wanted of holding open',
  reserveMm: 'the stroke that is wanted to spare at either end',
  clearanceMm: 'the gap that is wanted',
  letGoJ: 'the energy it may let go with',
  letGoN: 'the push it may have at the grip',
};

const zoneName = (job: ResolvedJob, id: string): string => {
  const i = job.zones.findIndex((z) => z.id === id);
  const zone = job.zones[i];
  return zone?.name ?? `zone ${i + 1}, on the ${zone?.on ?? 'base'}`;
};
const caseName = (job: ResolvedJob, id: string | null): string => job.loadCases.find((c) => c.id === id)?.name ?? '';

/** "660 long, 300 stroke, rod 10, 450 N": a strut as one looks for it. */
export function strutWords({ spec, quantity }: Pick<Place, 'spec' | 'quantity'>, units: ShownUnits = METRIC): string {
  const f = (v: number): string => formatQuantity(v, 'length', units, 0);
  return `${quantity === 2 ? 'a pair, each ' : ''}${f(spec.extendedMm)} long, ${f(spec.strokeMm)} stroke, rod ${f(spec.rodMm)}, ${formatQuantity(spec.forceN, 'force', units)}`;
}

/** What decides a place, in words: "holding open (Cold), 6 % to spare". */
export const decidedBy = (job: ResolvedJob, { tightest, spare }: Pick<Place, 'tightest' | 'spare'>): string => {
  const at = caseName(job, tightest.case);
  return `${demandOf(tightest.id)?.words ?? tightest.id}${at === '' ? '' : ` (${at})`}, ${Math.round(spare * 100)} % to spare`;
};

/** First brackets of a place, a sentence an end that has one. */
export function bracketLines(
  { brackets = {}, ends }: Pick<Place, 'brackets' | 'ends'>,
  units: ShownUnits = METRIC,
): string[] {
  return (['base', 'lid'] as const).flatMap((end) => {
    const bracket = brackets[end];
    if (!bracket) return [];
    const { kind, thicknessMm, material } = bracket;
    const thick = formatQuantity(thicknessMm as number, 'length', units, 1);
    return `${end === 'base' ? 'Base' : 'Lid'} bracket: ${lower(KINDS[kind].name)}, ${thick} ${material.name}${kind === 'wedge-plate' ? `, its top leaning ${90 - ends[end].tiltDeg}°` : ''}.`;
  });
}
const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** A place in lines for a terminal. */
export function placeLines(job: ResolvedJob, place: Place, units: ShownUnits = METRIC): string[] {
  const f = (v: number | null, d: Dimension): string => (v === null ? 'not known' : formatQuantity(v, d, units));
  const hand = (v: number | null): string => (v !== null && v <= 0 ? 'nothing' : f(v, 'force'));
  const at = (p: Place['base']): string => p.map((v) => formatQuantity(v, 'length', units, 1)).join(', ');
  const end = (name: 'base' | 'lid'): string => {
    const { zoneId, azimuthDeg, tiltDeg } = place.ends[name];
    return `${name === 'base' ? 'Base' : 'Lid'} ball at ${at(place[name])} on ${zoneName(job, zoneId)}; ball stud’s axis turned ${azimuthDeg}° from the line to the other ball, leaning ${tiltDeg}°.`;
  };
  return [
    `Strut: ${strutWords(place, units)}. Opens ${f(place.openDeg, 'angle')}.`,
    end('base'),
    end('lid'),
    ...bracketLines(place, units),
    `At most ${hand(place.liftN)} to lift, ${hand(place.pullN)} to pull shut; one strut presses with ${f(place.greatestForceN, 'force')}, a hinge carries ${f(place.greatestHingeN, 'force')}.`,
    `Decided by ${decidedBy(job, place)}. Both balls may be off by ${formatQuantity(place.playMm, 'length', units, 1)} any way.`,
    ...new Set(place.unknown.map((u) => u.text)),
  ];
}

/** What a place fails, in words. */
export function failWords(job: ResolvedJob, fail: Fails, units: ShownUnits = METRIC): string {
  const [head, id, off] = fail.id.split(':');
  const value = fail.value === null ? 'not known' : valueText(fail.value, fail.unit, units);
  if (head === 'zone')
    return `${zoneName(job, id!)}: the ball stands ${value} ${off ? 'too near to it or too far off it' : 'outside its edge'}`;
  if (fail.id.endsWith('-bracket'))
    return `no first bracket that was tried at the ${fail.id.slice(0, -8)} end bears its strut`;
  const at = caseName(job, fail.case);
  const limit = fail.limit === null ? '' : ` (limit ${valueText(fail.limit, fail.unit, units)})`;
  return `${demandOf(fail.id)?.words ?? fail.id}${at === '' ? '' : `, ${at}`}: ${value}${limit}`;
}

/** What would have to give, in words. */
export function relaxWords(job: ResolvedJob, { what, by, unit }: Relaxed, units: ShownUnits = METRIC): string {
  const much = valueText(by, unit, units);
  const [head, id, off] = what.split(':');
  if (head === 'zone')
    return off
      ? `let the ball stand ${much} nearer to or further off ${zoneName(job, id!)}`
      : `let ${zoneName(job, id!)} reach ${much} further all round`;
  if (what.endsWith('-joint')) return `a joint at the ${what.slice(0, -6)} that may lean ${much} further`;
  const key = what.replace('limits.', '');
  const falls = key === 'holdOpenNm' || key === 'reserveMm' || key === 'clearanceMm';
  return `${falls ? 'lower' : 'raise'} ${LIMIT_WORDS[key] ?? key} by ${much}`;
}

/** The whole answer for a terminal, a line an entry; '' between paragraphs. */
export function answerLines(job: ResolvedJob, found: Answer, units: ShownUnits = METRIC): string[] {
  const { places, relaxed, nearest, tried } = found;
  const looked = `${tried.pairs.toLocaleString('en')} pairs of places and ${tried.struts.toLocaleString('en')} struts looked at`;
  if (places.length > 0)
    return [
      `${job.title}: ${places.length === 1 ? 'one place works' : `${places.length} places that differ work`} (${looked}).`,
      ...places.flatMap((place, i) => ['', `Place ${i + 1}`, ...placeLines(job, place, units).map((l) => `  ${l}`)]),
    ];
  const lines = [`${job.title}: no place works (${looked}).`];
  const near = relaxed?.place ?? nearest?.place;
  if (!near) return lines;
  const fails =
    relaxed?.fails ??
    nearest!.refused.map(({ id, case: at, everyCase, ...f }) => ({ ...f, id, case: everyCase ? null : at }));
  lines.push('', 'The nearest:', `  ${strutWords(near, units)}; it fails`);
  for (const fail of fails.slice(0, 12)) lines.push(`  - ${failWords(job, fail, units)}`);
  if (!relaxed)
    lines.push('', 'Nothing that was tried to relax makes a place appear: draw other zones, or give another list.');
  else {
    lines.push('', `A place appears with ${relaxed.relax.length === 1 ? 'this alone' : 'all of this'}:`);
    for (const item of relaxed.relax) lines.push(`  - ${relaxWords(job, item, units)}`);
  }
  return lines;
}
