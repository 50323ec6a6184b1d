import { demandOf } from '../demands';
import type { ResolvedJob } from '../job';
import { type Dimension, METRIC, type ShownUnits, formatQuantity } from '../quantity';
import { ASSUMED_WORDS, type StrutListEntry, assumedOf } from '../strut';
import type { Measured, Refusal } from './judge';
import type { Ranked } from './rank';

const DIMENSION: Record<string, Dimension> = { mm: 'length', N: 'force', N·m: 'moment', '°': 'angle' };

const amount = (m: Measured, value: number, units: ShownUnits): string => {
  const dimension = DIMENSION[m.unit];
  return dimension ? formatQuantity(value, dimension, units) : `${value.toFixed(1)} ${m.unit}`.trim();
};

const inCase = (job: ResolvedJob, caseId: string | null): string => {
  const name = job.loadCases.find((c) => c.id === caseId)?.name;
  return name === undefined ? '' : `${name}: `;
};

/** Why a candidate is refused, in words with numbers. */
export function refusalWords(job: ResolvedJob, why: Refusal, units: ShownUnits = METRIC): string {
  const at = inCase(job, why.caseId);
  const limit = amount(why, why.limit, units);
  if (why.text !== undefined) return why.text;
  if (why.value === null) return `${at}not known, because another strut can’t be there.`;
  const value = amount(why, why.value, units);
  switch (why.id) {
    case 'strut-fits':
      return `It can’t be there: up to ${value} outside its stroke.`;
    case 'closed-reserve':
      return why.value < 0
        ? `Too long to shut: ${amount(why, -why.value, units)} short of stroke when closed.`
        : `Too long to shut: only ${value} of stroke left when closed (wants ${limit}).`;
    case 'open-reserve':
      return why.value < 0
        ? `Too short to reach: ${amount(why, -why.value, units)} short when open.`
        : `Too short to reach: only ${value} left before full extension (wants ${limit}).`;
    case 'opening-angle':
      return `It stops the lid at ${value}, which shall open to ${limit}.`;
    case 'hand-opening':
      return `${at}too weak, ${value} to lift (limit ${limit}).`;
    case 'hand-closing':
      return `${at}too strong, ${value} to shut (limit ${limit}).`;
    case 'stays-open':
      return why.value < 0
        ? `${at}too weak, falls shut ${amount(why, -why.value, units)} short.`
        : `${at}too weak, held open with only ${value} (wants ${limit}).`;
    case 'rod-buckling':
      return `${at}its rod may buckle: bears ${value} the load (wants ${limit}).`;
    default:
      return `${at}${demandOf(why.id)?.words ?? why.id}${ofBracket(job, why)} comes to ${value} (limit ${limit}).`;
  }
}

const ofBracket = (job: ResolvedJob, { id, subject }: Measured): string =>
  id.startsWith('bracket') ? ` (${job.brackets.find((b) => b.id === subject)?.name ?? subject})` : '';

const TIGHT: Readonly<Record<string, string>> = {
  'closed-reserve': 'stroke left when closed',
  'open-reserve': 'stroke left when open',
  'hand-opening': 'lifting',
  'hand-closing': 'shutting',
  'stays-open': 'holding open',
  'rod-buckling': 'buckling',
};

/** Why a candidate stands where it stands: its tightest demand first, then what it gives, then what is assumed. */
export function meritWords(
  job: ResolvedJob,
  list: readonly StrutListEntry[],
  ranked: Ranked,
  units: ShownUnits = METRIC,
): string[] {
  const { tightest, liftN, pullN, holdNm } = ranked.merits;
  const say = (m: Measured): string => (m.value === null ? '' : amount(m, m.value, units));
  const lines = [
    `Tightest is ${TIGHT[tightest.id] ?? demandOf(tightest.id)?.words ?? tightest.id}${ofBracket(job, tightest)}: ${inCase(job, tightest.caseId)}${say(tightest)} (limit ${amount(tightest, tightest.limit, units)}), ${Math.round(tightest.share * 100)} % to spare.`,
  ];
  if (liftN.caseId && liftN.value !== null)
    lines.push(
      liftN.value <= 0
        ? 'Opens by itself throughout.'
        : `At most ${say(liftN)} to lift (${inCase(job, liftN.caseId).slice(0, -2)}).`,
    );
  if (pullN.caseId && pullN.value !== null)
    lines.push(
      pullN.value <= 0
        ? 'Shuts by itself throughout.'
        : `At most ${say(pullN)} to shut (${inCase(job, pullN.caseId).slice(0, -2)}).`,
    );
  if (holdNm.caseId && holdNm.value !== null) lines.push(`Holds open with ${say(holdNm)} at the least.`);
  const assumed = assumedOf(list[ranked.entry]!);
  if (assumed.length > 0) lines.push(`Assumed (common practice): ${assumed.map((k) => ASSUMED_WORDS[k]).join(', ')}.`);
  return lines;
}
