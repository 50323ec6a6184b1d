import { COLD_C, HOT_C, type LoadCase, type ResolvedJob } from '../job';
import { type Finding, check, formatter, worstCase } from './finding';

/** A base that leans this much is on a slope, degrees. Common practice, no source. */
const SLOPE_DEG = 1;

/** What may hurt when nobody asked for it, and how a job asks for it. */
export const QUESTIONS = ['cold', 'hot', 'slope', 'aged', 'one-lost', 'wind', 'load-off'] as const;
export type Question = (typeof QUESTIONS)[number];

/** What each question is about, as a person reads it. */
export const QUESTION_WORDS: Readonly<Record<Question, string>> = {
  cold: 'cold',
  hot: 'heat',
  slope: 'a slope',
  aged: 'aged struts',
  'one-lost': 'one strut lost',
  wind: 'wind',
  'load-off': 'what comes off the lid taken off',
};

/** What a dismissal of the file is about, in words; undefined where it names no question. */
export const questionWords = (about: string | undefined): string | undefined =>
  (QUESTION_WORDS as Partial<Record<string, string>>)[about ?? ''] ?? about;

const leans = (c: LoadCase): boolean =>
  Math.max(Math.abs(c.pitchDeg), Math.abs(c.rollDeg)) >= SLOPE_DEG || c.accelG.some((a) => a !== 0);

type AskedJob = Pick<ResolvedJob, 'loadCases' | 'struts' | 'masses' | 'dismissed'>;

/** The questions that concern a job, and whether a load case asks each. */
export function questionsOf({ loadCases, struts, masses }: Omit<AskedJob, 'dismissed'>): Map<Question, boolean> {
  const any = (asks: (c: LoadCase) => boolean): boolean => loadCases.some(asks);
  const found = new Map<Question, boolean>();
  if (struts.length > 0) {
    found.set(
      'cold',
      any((c) => c.tempC <= COLD_C),
    );
    found.set(
      'hot',
      any((c) => c.tempC >= HOT_C),
    );
  }
  found.set('slope', any(leans));
  if (struts.length > 0)
    found.set(
      'aged',
      any((c) => c.ageLossPercent > 0),
    );
  // a single strut that is lost is told of in every job
  if (struts.reduce((n, s) => n + s.quantity, 0) > 1)
    found.set(
      'one-lost',
      any((c) => c.lost.length > 0),
    );
  found.set(
    'wind',
    any((c) => c.wind !== undefined),
  );
  if (masses.length > 1)
    found.set(
      'load-off',
      any((c) => c.off.length > 0),
    );
  return found;
}

/** asked: what no load case asks for is not known, until somebody says why it need not be. */
export const asked = check(
  'asked',
  { job: ['loadCases', 'struts', 'masses', 'dismissed'], from: [] },
  ({ job }): Finding[] => {
    const told = (job.dismissed ?? []).filter((d) => d.finding === 'asked');
    const open: Question[] = [];
    const reasons: string[] = [];
    for (const [question, is] of questionsOf(job)) {
      const reason = is ? undefined : told.find((d) => d.about === undefined || d.about === question);
      if (reason) reasons.push(`${QUESTION_WORDS[question]} (${reason.reason})`);
      else if (!is) open.push(question);
    }
    const left = reasons.length === 0 ? '' : ` Left out on purpose: ${reasons.join('; ')}.`;
    return [
      {
        id: 'asked',
        case: job.loadCases[0]!.id,
        everyCase: true,
        subject: 'lid',
        state: open.length > 0 ? 'unknown' : 'holds',
        value: null,
        limit: null,
        margin: null,
        unit: '',
        worstDeg: null,
        text:
          open.length > 0
            ? `Not known: no load case for ${open.map((q) => QUESTION_WORDS[q]).join(', ')}.${left}`
            : `What usually matters has a load case.${left}`,
        advice: open.length > 0 ? 'Add the usual load cases (Strut), or say why one is not needed.' : '',
      },
    ];
  },
);

/** Outside this most seals and oils of gas springs are not made to work, °C. Common practice, no source. */
const SEALS_C = { low: -30, high: 80 } as const;

/** temperature: no load case is colder or hotter than gas springs are usually made for. */
export const temperature = check(
  'temperature',
  { job: ['loadCases', 'struts'], from: ['units'] },
  ({ job, units }): Finding[] => {
    if (job.struts.length === 0) return [];
    const f = formatter(units);
    const beyond = (c: number): number => Math.max(SEALS_C.low - c, c - SEALS_C.high);
    const all = job.loadCases.map((c) => ({ ...c, mustHold: true }));
    const { c } = worstCase(
      all,
      job.loadCases.map((l) => beyond(l.tempC)),
    );
    const { id, name, tempC } = job.loadCases[c]!;
    const out = beyond(tempC) > 0;
    const limit = tempC - SEALS_C.low < SEALS_C.high - tempC ? SEALS_C.low : SEALS_C.high;
    const range = `${f(SEALS_C.low, 'temperature')} to ${f(SEALS_C.high, 'temperature')}`;
    return [
      {
        id: 'temperature',
        case: id,
        everyCase: false,
        subject: 'lid',
        state: out ? 'watch' : 'holds',
        value: tempC,
        limit,
        margin: -beyond(tempC),
        unit: '°C',
        worstDeg: null,
        text: out
          ? `${name}: ${f(tempC, 'temperature')} is outside what gas springs are usually made for (${range}): seals leak, and the forces worked out are no promise.`
          : `Every load case is within what gas springs are usually made for (${range}).`,
        advice: out ? 'Ask the supplier for struts made for it.' : '',
      },
    ];
  },
);
