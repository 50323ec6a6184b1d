import { demandOf } from '../demands';
import { type Dimension, type ShownUnits, formatQuantity } from '../quantity';
import type { Finding, FindingState } from './finding';

/** What a check is called and asks, for who works on the lid, and how it is worked out, for who wants to follow. */
export interface About {
  readonly name: string;
  readonly what: string;
  readonly how: string;
}

const row = (name: string, what: string, how: string): About => ({ name, what, how });

/** One text a check; ids that end in a thing's own name (`clearance-…`, `bracket-…`) go by what they begin with. */
const ABOUT: Readonly<Record<string, About>> = {
  'strut-fits': row(
    'Strut within its stroke',
    'Between its two pivots the strut must be neither longer than pulled out nor shorter than pushed in, at any angle.',
    'Compression s = extended length − distance of the pivots; 0 ≤ s ≤ stroke over the whole travel.',
  ),
  'closed-reserve': row(
    'Stroke left when closed',
    'A strut that is pushed in to its very end breaks its ends or keeps the lid from shutting. Some stroke must be left.',
    'Stroke − greatest compression over the travel, against the reserve asked for.',
  ),
  'open-reserve': row(
    'Stroke left when open',
    'A strut pulled to its very end becomes the lid’s stop. Unless it is meant to be, some stroke must be left.',
    'Extended length − greatest distance of the pivots, against the reserve asked for.',
  ),
  'opening-angle': row(
    'How far it opens',
    'Where the strut is the stop, its length says how far the lid opens.',
    'First angle at which the distance of the pivots is the extended (or compressed) length.',
  ),
  'dead-centre': row(
    'Distance to dead centre',
    'Where the strut points through the hinge it turns the lid neither way, and beyond it works the other way.',
    'Lever arm h = dℓ/dθ; a dead centre is where it is 0.',
  ),
  'over-centre': row(
    'Over centre, as wanted',
    'The strut is meant to hold the lid closed as well as open: it must cross its dead centre once, inside the travel.',
    'Zeros of the lever arm h = dℓ/dθ over the travel.',
  ),
  'base-joint': row(
    'Joint at the base',
    'A ball joint turns only so far from square to its stud. Beyond that its rim levers on the neck until something breaks.',
    'Angle between stud and strut, off 90°, greatest over the travel; against the fitting’s working range.',
  ),
  'lid-joint': row(
    'Joint at the lid',
    'A ball joint turns only so far from square to its stud. Beyond that its rim levers on the neck until something breaks.',
    'Angle between stud (turned with the lid) and strut, off 90°; against the fitting’s working range.',
  ),
  'base-thread': row(
    'Threads at the base',
    'Strut, end fitting and the bracket’s stud are screwed together: they must have one thread.',
    'Thread of the fitting as the job names it (DIN 71802, DIN 71752), of the bracket’s stud, and the one usual on a rod of this size (common practice); a fork’s pin against the bracket’s holes.',
  ),
  'lid-thread': row(
    'Threads at the lid',
    'Strut, end fitting and the bracket’s stud are screwed together: they must have one thread.',
    'Thread of the fitting as the job names it (DIN 71802, DIN 71752), of the bracket’s stud, and the one usual on a rod of this size (common practice); a fork’s pin against the bracket’s holes.',
  ),
  'base-swing': row(
    'Fork or eye at the base',
    'A fork turns about its pin only; across it, a few degrees are all it takes.',
    'Angle of the strut out of the plane square to the pin, over the travel.',
  ),
  'lid-swing': row(
    'Fork or eye at the lid',
    'A fork turns about its pin only; across it, a few degrees are all it takes.',
    'Angle of the strut out of the plane square to the pin, over the travel.',
  ),
  'hand-opening': row(
    'Lifting it open',
    'What a hand must pull at the grip to open the lid, at the hardest place.',
    'Hand force = −M/r at the grip; M = weight + struts with their extending force − hinge friction + seal + wind.',
  ),
  'hand-closing': row(
    'Pulling it shut',
    'What a hand must pull at the grip to shut the lid, at the hardest place.',
    'Hand force = −M/r at the grip; M = weight + struts with their compressing force + hinge friction + seal + wind.',
  ),
  'stays-open': row(
    'Holding open',
    'Fully open, the struts must hold the lid by themselves, with some to spare. Friction is not counted on.',
    'Mean of opening and closing moment fully open, against the moment asked for.',
  ),
  'rest-range': row(
    'Where it stays by itself',
    'Angles at which the lid stops where it is let go.',
    'Angles with opening moment ≤ 0 ≤ closing moment.',
  ),
  'let-go-open': row(
    'Thrown open when let go',
    'What the lid gathers on its way open if nobody holds it. A measure: 10 J bruise. Damping is not counted.',
    'Greatest ∫ M dθ over any stretch opening; undamped, so an upper bound.',
  ),
  'let-go-shut': row(
    'Falling shut when let go',
    'What the lid gathers on its way shut if nobody holds it. A measure: 10 J bruise. Damping is not counted.',
    'Greatest ∫ −M dθ over any stretch closing; undamped, so an upper bound.',
  ),
  'grip-at-shut': row(
    'Push when unlatched',
    'How hard the lid pushes at the grip in the moment it is unlatched.',
    'Opening moment shut over the grip’s distance from the hinge.',
  ),
  'stays-shut': row(
    'Staying shut without a latch',
    'A lid that its struts push open needs a latch.',
    'Mean of opening and closing moment with the lid closed; over 0 it opens.',
  ),
  'latch-holds': row(
    'What the latch holds',
    'What struts, seal and wind push against the latch with the lid closed, against what the latch is rated for.',
    'Mean of opening and closing moment shut over the latch’s distance from the hinge.',
  ),
  'rod-buckling': row(
    'Rod against buckling',
    'A long thin rod bends out sideways under its own force.',
    'Euler’s load of rod and tube as a stepped column, pinned at both ends, over the greatest force.',
  ),
  'strut-exists': row(
    'Whether such a strut is made',
    'Piston, seal and ends take room: a strut is longer than twice its stroke.',
    'Extended length − 2 × stroke, against what ends usually take (common practice).',
  ),
  'socket-pull': row(
    'Pull on the ball sockets',
    'Where the strut stops the lid, a hand or the wind pulls at its ball joints. A socket comes off at some force.',
    'Tension in the strut fully open, against the fitting’s pull-off force.',
  ),
  'hinge-load': row(
    'Load on the hinges',
    'Struts press on the hinges harder than the lid weighs.',
    'Radial reaction of the worse hinge over the travel, against its rating.',
  ),
  'hinge-screws': row(
    'Screws of the hinges',
    'Hinges are torn out of wood by their screws long before they break.',
    'Radial reaction of the worse hinge, against all screws of one leaf pulled out or pushed sideways, whichever is less.',
  ),
  'upright-hinge': row(
    'Lean of an upright hinge',
    'A hinge that stands nearly upright opens or shuts by its lean alone.',
    'Angle of the hinge line off the vertical.',
  ),
  'rod-down': row(
    'Rod pointing down',
    'A rod that points down keeps oil on its seal and brakes the end of the stroke.',
    'Angle of the strut to the level, shut and open, over all load cases.',
  ),
  'one-sided': row(
    'Pushing on one side',
    'Struts away from the lid’s middle twist it and load one hinge more.',
    'Moment of all strut forces about the middle of the hinge line.',
  ),
  'spring-travel': row(
    'Springs within their travel',
    'A spring wound or pressed beyond its travel is overloaded or goes slack.',
    'Deflection or turn over the travel, against what it may take.',
  ),
  temperature: row(
    'Temperature of the seals',
    'Seals and oil of common struts are made for −30 to +80 °C.',
    'Lowest and highest temperature of the load cases (common practice, no source).',
  ),
  asked: row(
    'What nobody has asked',
    'What may hurt is told only where a load case asks: cold, heat, slope, age, wind, a lost strut, the load off.',
    'Questions without a load case; each can be left out with a reason.',
  ),
  'assumed-values': row(
    'Assumed numbers',
    'A mass, a force ratio, friction and tolerance that nobody stated are taken as usual; every force follows with them.',
    'Common practice; the ends of the usual range are given in Strut.',
  ),
  'drop-energy': row(
    'If a strut is lost',
    'What falls, and how hard, if a strut fails. No design clears it: keep a prop.',
    'Σ m·g·(height open − height shut) along the load case’s gravity, for the greatest fall.',
  ),
  'unknown-key': row(
    'Words the file uses',
    'The job file holds a word that this program does not know and that is nearly one it knows.',
    'Distance of spelling to the known words of its place.',
  ),
  'bracket-strength': row(
    'Strength of the bracket',
    'What every part of the bracket bears against what the joint puts on it.',
    'Stress or load by handbook formulas, each named with its source in Bracket; shocks counted.',
  ),
  'bracket-mount': row(
    'Bracket on its mount',
    'The bracket must stand on the surface that it is made for.',
    'Place and normal of the bracket against those of the strut’s end.',
  ),
  'bracket-stem': row(
    'Stud as the bracket holds it',
    'The stud must point the way the joint was checked for.',
    'Angle between the bracket’s stud and the ball stud of the strut’s end.',
  ),
  bracket: row(
    'Making the bracket',
    'Whether the part can be bent, cut and drilled as it is drawn.',
    'Bend radii, distances of holes from edges and bends, overlaps.',
  ),
  room: row(
    'Room for the lid',
    'The lid itself, and what lies on it, must go past walls, roof and brackets.',
    'Least distance of their bodies over the travel; angles are passed by only as far as the gap lets them.',
  ),
  'free-opening': row(
    'Free to open',
    'How far the lid opens before anything on it comes nearer to the base than is wanted.',
    'First angle at which the gap of two bodies is the one that is wanted.',
  ),
  clearance: row(
    'Room for the strut',
    'Rod, tube and joints must go past everything that stands by their way.',
    'Smallest distance of two solids over the whole travel.',
  ),
};

/** Every check that is told of, in the order of the guide. */
export const CHECK_NAMES: readonly string[] = Object.keys(ABOUT);

/** Under which of `CHECK_NAMES` a finding is told of; null for an id that nobody knows (a newer file's). */
export const checkNameOf = (id: string): string | null =>
  Object.hasOwn(ABOUT, id) ? id : (CHECK_NAMES.find((key) => id.startsWith(`${key}-`)) ?? null);

/** What is told of a check; of an id that nobody knows the id alone. */
export const aboutOf = (id: string): About => ABOUT[checkNameOf(id) ?? ''] ?? { name: id, what: '', how: '' };

const DIMENSIONS: Readonly<Record<string, Dimension>> = {
  ...{ mm: 'length', N: 'force', N·m: 'moment', J: 'energy', '°': 'angle', '°C': 'temperature', kg: 'mass' },
};

/** A value of a finding in the units shown: "224 N", "×1.8". */
export function valueText(value: number, unit: string, units: ShownUnits): string {
  const dimension = DIMENSIONS[unit];
  if (dimension) return formatQuantity(value, dimension, units);
  const text = Number(value.toPrecision(3)).toString().replace('-', '−');
  return unit === '' || unit === '×' ? `×${text}` : `${text} ${unit}`;
}

/** Whether its limit is a most (true) or a least. */
export function isMost({ id, value, limit, margin }: Finding): boolean {
  const better = demandOf(id)?.better;
  if (better) return better === 'less';
  return value !== null && limit !== null && margin !== null && value > limit === margin < 0;
}

/** A headline is no longer than this, letters. */
const LINE = 80;

/** What a finding without a number says first, where it fits a line. */
function firstWords({ id, text }: Finding): string {
  const first = text.replace(/^Not known: /, '').split(/(?<=\w)\. |\.$/)[0]!;
  return first.length > LINE ? aboutOf(id).name : first.charAt(0).toUpperCase() + first.slice(1);
}

/** A finding in one line: what it is about, its number, and how far over or short where it fails. */
export function headline(finding: Finding, units: ShownUnits): string {
  const { value, limit, margin, state, unit } = finding;
  const { name } = aboutOf(finding.id);
  if (value === null) return firstWords(finding);
  const told = `${name}: ${valueText(value, unit, units)}`;
  if (state !== 'fails' || limit === null || margin === null) return told;
  return `${told}, ${valueText(Math.abs(margin), unit, units)} ${isMost(finding) ? 'too much' : 'short'}`;
}

/**
 * How much of what is allowed is used, 0 and up; 1 is the limit. Null where value and limit can't be set against each
 * other (no limit, a limit of nothing).
 */
export function usedShare(finding: Finding): number | null {
  const { value, limit } = finding;
  if (value === null || limit === null || finding.margin === null || !(limit > 0)) return null;
  if (isMost(finding)) return Math.max(0, value / limit);
  return value > 0 ? limit / value : Infinity;
}

/** Lines that findings of a state take: one a check and thing, whatever the load case; cautions left out. */
export const lineCount = (findings: readonly Finding[], state: FindingState): number =>
  new Set(findings.filter((f) => f.state === state && !f.caution).map((f) => `${f.id} ${f.subject}`)).size;

/**
 * The verdict on all findings: cautions left out, one line a check, thing and state. Nothing is ready while a check is still
 * to be made (`pending`).
 */
export function verdict(
  findings: readonly Finding[],
  pending = false,
): { readonly words: string; readonly state: FindingState } {
  const [fails, unknown] = [lineCount(findings, 'fails'), lineCount(findings, 'unknown')];
  const things = (n: number): string => (n === 1 ? '1 thing' : `${n} things`);
  if (fails > 0) return { words: `Not yet: ${things(fails)} fail${fails === 1 ? 's' : ''}`, state: 'fails' };
  if (pending) return { words: 'Not all is worked out yet', state: 'unknown' };
  if (unknown > 0)
    return {
      words: `Nothing fails, but ${things(unknown)} ${unknown === 1 ? 'is' : 'are'} not known`,
      state: 'unknown',
    };
  return { words: 'Ready to order', state: 'holds' };
}
