import { MUCH } from '../demands';
import type { ResolvedJob } from '../job';
import { type ShownUnits, formatQuantity } from '../quantity';
import { dot, sub } from '../space';
import { type Plan, holdingNm, letGo, makeFrame, makePlan, sweep, travelAngles } from '../travel';

/** Who moves the lid: anybody at home, or grown-ups at work. */
export const MOVERS = ['home', 'work'] as const;
export type Mover = (typeof MOVERS)[number];

/**
 * Greatest isometric forces, N: one arm upwards (seated), the whole body pulling (standing), for 99 % at home, 85 % at work. Source: EN 1005-3
 * (from a page that reproduces it, not checked against the standard's text).
 */
const GREATEST_N: Readonly<Record<Mover, { readonly oneHand: number; readonly bothHands: number }>> = {
  home: { oneHand: 31, bothHands: 96 },
  work: { oneHand: 50, bothHands: 145 },
};
/** Factors of EN 1005-3: for a thing that moves (from memory); the share that is recommended, and beyond which it is to be avoided. */
const MOVING = 0.8;
const RECOMMENDED = 0.5;
const AVOID = 0.7;

export const NEED_SOURCE =
  'EN 1005-3, recommended force limits for machinery operation: pulling with the whole body, one arm upwards; moved now and then, for under an hour (not checked against the standard’s text)';

/** How a hand force is judged, from easy to too much. */
export const EFFORTS = ['one hand', 'both hands', 'watch', 'too much'] as const;
export type Effort = (typeof EFFORTS)[number];

/** Most hand force for each effort but the last, N. */
export function effortLimitsN(mover: Mover): Readonly<Record<Exclude<Effort, 'too much'>, number>> {
  const { oneHand, bothHands } = GREATEST_N[mover];
  return {
    'one hand': RECOMMENDED * MOVING * oneHand,
    'both hands': RECOMMENDED * MOVING * bothHands,
    watch: AVOID * MOVING * bothHands,
  };
}

const effortOf = (handN: number, mover: Mover): Effort => {
  const limits = effortLimitsN(mover);
  return (['one hand', 'both hands', 'watch'] as const).find((effort) => handN <= limits[effort]) ?? 'too much';
};

/** What a lid asks of the hand in its worst load case, and what it does when it is let go. */
export interface Handling {
  /** The greatest force at the grip either way over the travel, N, where, and in which load case. */
  readonly handN: number;
  readonly atDeg: number;
  readonly caseId: string;
  readonly effort: Effort;
  /** The least moment that keeps it open by itself, N·m; under the job's limit it does not stay. */
  readonly holdsNm: number;
  readonly stays: boolean;
  /** The greatest energy with which it falls shut or open, J, which way, and in which load case. */
  readonly fallJ: number;
  readonly falls: 'open' | 'shut';
  readonly fallCaseId: string;
}

/** One thing that could serve, tried where it can be. */
export interface Serves {
  readonly what: 'nothing' | 'prop' | 'spring' | 'strut' | 'pair';
  readonly serves: boolean;
  readonly why: string;
}

/** Whether a lid needs help at all. */
export interface Need {
  readonly mover: Mover;
  readonly limitsN: ReturnType<typeof effortLimitsN>;
  readonly source: string;
  /** Without struts and springs. */
  readonly bare: Handling;
  /** From the least to the most; what serves first is the answer. */
  readonly serves: readonly Serves[];
  readonly answer: Serves['what'];
  readonly text: string;
  /** A spring round the hinge that was tried; null where none carries any of it. */
  readonly spring: (Torsion & { readonly handling: Handling }) | null;
}

/** A lid wider than this is twisted by one strut at its side, mm. Common practice, no source. */
const ONE_STRUT_MM = 700;
/** Energy over the travel that one strut of the usual lists gives, J: 1200 N over 150 mm. Common practice, no source. */
const ONE_STRUT_J = 180;
/** Moment that a spring round a hinge usually gives, N·m. Common practice, no source. */
const SPRING_NM = 40;
/** Share of the weight moment that a spring may take when shut: the lid must stay shut. */
const STAYS_SHUT = 0.9;

/** The load cases that a lid must stand; all where none is marked so. */
const plansOf = (job: ResolvedJob): Plan[] => {
  const frame = makeFrame(job);
  const must = job.loadCases.filter((c) => c.mustHold);
  return (must.length > 0 ? must : job.loadCases).map((c) => makePlan(frame, c.id));
};

function handlingOf(job: ResolvedJob, mover: Mover): Handling {
  const plans = plansOf(job);
  let hand = { n: 0, deg: 0, caseId: plans[0]!.caseId };
  let fall = { j: 0, way: 'shut' as 'open' | 'shut', caseId: plans[0]!.caseId };
  for (const plan of plans) {
    const { caseId } = plan;
    const table = sweep(plan, travelAngles(plan.openDeg));
    for (const force of [table.handOpeningN, table.handClosingN])
      force.forEach((n, i) => {
        if (Math.abs(n) > hand.n) hand = { n: Math.abs(n), deg: table.angleDeg[i]!, caseId };
      });
    const { opening, shutting } = letGo(plan);
    for (const [gain, way] of [
      [opening, 'open'],
      [shutting, 'shut'],
    ] as const)
      if (gain && gain.energyJ > fall.j) fall = { j: gain.energyJ, way, caseId };
  }
  const holdsNm = Math.min(...plans.map((plan) => holdingNm(plan)));
  return {
    ...{ handN: hand.n, atDeg: hand.deg, caseId: hand.caseId, effort: effortOf(hand.n, mover) },
    ...{ holdsNm, stays: holdsNm >= job.limits.holdOpenNm },
    ...{ fallJ: fall.j, falls: fall.way, fallCaseId: fall.caseId },
  };
}

const byHand = ({ effort }: Handling): boolean => effort === 'one hand' || effort === 'both hands';

type Torsion = { readonly turns: 'open' | 'shut'; readonly preloadNm: number; readonly rateNmPerDeg: number };

/**
 * The torsion spring nearest to what the weight asks for over the travel in the first load case, by least squares; one that opens the lid lets it lie
 * shut in every case. Null where none carries any of it.
 */
function springFor(bare: ResolvedJob): Torsion | null {
  const tables = plansOf(bare).map((plan) => sweep(plan, travelAngles(plan.openDeg)));
  const { angleDeg, weightMomentNm } = tables[0]!;
  const n = angleDeg.length;
  const mean = (of: (i: number) => number): number => angleDeg.reduce((sum, _, i) => sum + of(i), 0) / n;
  const middle = mean((i) => weightMomentNm[i]!);
  const turns = middle > 0 ? 'shut' : 'open';
  const asked = (i: number): number => Math.abs(middle) + Math.sign(middle) * (weightMomentNm[i]! - middle);
  const mid = mean((i) => angleDeg[i]!);
  const slope =
    mean((i) => (angleDeg[i]! - mid) * asked(i)) /
    Math.max(
      1e-9,
      mean((i) => (angleDeg[i]! - mid) ** 2),
    );
  // wound up by what it works against: it slackens as it turns the lid its way
  const rateNmPerDeg = Math.max(0, turns === 'open' ? -slope : slope);
  const shut = Math.abs(middle) + (turns === 'open' ? 1 : -1) * rateNmPerDeg * mid;
  const most = turns === 'open' ? STAYS_SHUT * Math.min(...tables.map((t) => -t.weightMomentNm[0]!)) : Infinity;
  const preloadNm = Math.min(turns === 'shut' ? Math.max(0, shut) : shut, most);
  return preloadNm > 0 || (turns === 'shut' && rateNmPerDeg > 0) ? { turns, preloadNm, rateNmPerDeg } : null;
}

/** Width along the hinge line of all that the lid's outline and masses span, mm. */
function widthMm(job: ResolvedJob): number {
  const at = new Map(job.points.map((p) => [p.id, p.at]));
  const [a, b] = [at.get(job.hinge.a)!, at.get(job.hinge.b)!];
  const along = sub(b, a);
  const length = Math.hypot(...along);
  const places = [...job.outline, job.hinge.a, job.hinge.b].map((id) => dot(sub(at.get(id)!, a), along) / length);
  return Math.max(...places) - Math.min(...places);
}

/** What is said of each thing that could serve. */
function servesOf(job: ResolvedJob, bare: Handling, spring: Need['spring'], f: Format): Serves[] {
  const light = byHand(bare);
  const soft = bare.fallJ <= MUCH.energyJ;
  const falls = `falls ${bare.falls} with up to ${f(bare.fallJ, 'energy')}`;
  const much = `${f(MUCH.energyJ, 'energy')} is the measure for powered guards (EN 953 5.2.5.2)`;
  const lift = `the hand needs ${f(bare.handN, 'force')}, ${bare.effort === 'watch' ? 'more than is recommended' : bare.effort === 'too much' ? 'which is to be avoided' : `which ${bare.effort} may do`}`;
  const wide = widthMm(job);
  const one = wide <= ONE_STRUT_MM && bare.fallJ <= ONE_STRUT_J;
  const mostNm = spring && spring.preloadNm + (spring.turns === 'shut' ? spring.rateNmPerDeg * job.travel.openDeg : 0);
  const firm = mostNm !== null && mostNm <= SPRING_NM;
  const eased = spring !== null && byHand(spring.handling);
  return [
    {
      what: 'nothing',
      serves: light && soft && bare.stays,
      why: !light
        ? lift
        : !soft
          ? `let go it ${falls}; ${much}`
          : bare.stays
            ? `${lift}, and it stays open`
            : 'it does not stay open by itself',
    },
    {
      what: 'prop',
      serves: light,
      why: light
        ? `${lift}; a prop or stay keeps it open${soft ? '' : `. Knocked out it ${falls}: one that locks`}`
        : `${lift}: a prop lifts nothing`,
    },
    {
      what: 'spring',
      serves: firm && eased,
      why:
        spring === null
          ? 'no spring round the hinge carries any of it and lets it lie shut'
          : `a torsion spring round the hinge of ${f(mostNm!, 'moment')} at most, tried, leaves ${f(spring.handling.handN, 'force')} for the hand${firm ? '' : `; more than ${f(SPRING_NM, 'moment')} is hard to find`}${spring.handling.stays ? '' : ', and a prop or stay to keep it open'}. A coil spring does the same`,
    },
    {
      what: 'strut',
      serves: one,
      why: one
        ? 'it carries and holds it; at one side it twists the lid a little'
        : wide > ONE_STRUT_MM
          ? `at one side it twists a lid of ${f(wide, 'length')}`
          : `${f(bare.fallJ, 'energy')} is more than one usual strut gives`,
    },
    {
      what: 'pair',
      serves: true,
      why: 'they carry and hold it without twisting; with one lost, the other lets it down slower',
    },
  ];
}

type Format = (value: number, dimension: 'force' | 'energy' | 'moment' | 'length') => string;

const ANSWERS: Readonly<Record<Serves['what'], string>> = {
  nothing: 'No help is needed: it can be moved by hand, stays open, and does little when it is let go',
  prop: 'A prop or stay is enough',
  spring: 'A torsion or coil spring would do',
  strut: 'One strut would do',
  pair: 'A pair of struts would do',
};

/**
 * Whether a lid needs help at all: what the bare lid, without the job's struts and springs, asks of the hand over the travel and does when it is let
 * go, in every load case that must hold, against EN 1005-3; and what would serve, from nothing to a pair of struts. A spring is tried, struts go by
 * the lid's width and energy. Throws a LidwrightError where the job can't be worked out.
 */
export function needOf(job: ResolvedJob, mover: Mover, units: ShownUnits): Need {
  const bareJob: ResolvedJob = {
    ...job,
    struts: [],
    springs: [],
    brackets: [],
    loadCases: job.loadCases.map((c) => ({ ...c, lost: [] })),
    travel: { ...job.travel, stop: 'lid' },
  };
  const f: Format = (value, dimension) => formatQuantity(value, dimension, units);
  const bare = handlingOf(bareJob, mover);
  const law = springFor(bareJob);
  const spring = law && {
    ...law,
    handling: handlingOf({ ...bareJob, springs: [{ id: 'tried', kind: 'torsion', quantity: 1, ...law }] }, mover),
  };
  const serves = servesOf(bareJob, bare, spring, f);
  const answer = serves.find((s) => s.serves)!;
  // of a bare lid only how it stands matters, never a strut's cold or age
  const stands = (id: string): string => {
    const { pitchDeg, rollDeg } = job.loadCases.find((c) => c.id === id)!;
    return pitchDeg === 0 && rollDeg === 0 ? '' : ' on the worst slope';
  };
  const weighed = !job.masses.some(({ id }) => job.assumed?.includes(`masses.${id}.kg`));
  return {
    ...{ mover, limitsN: effortLimitsN(mover), source: NEED_SOURCE, bare, spring, serves },
    answer: answer.what,
    text: `${ANSWERS[answer.what]}: ${answer.why}. Bare, it asks for ${f(bare.handN, 'force')} at the grip at ${Math.round(bare.atDeg)}°${stands(bare.caseId)}${bare.fallJ > 0 ? ` and falls ${bare.falls} with up to ${f(bare.fallJ, 'energy')}${stands(bare.fallCaseId)}` : ''}.${weighed ? '' : ' Its mass is assumed: weigh it before you go by this.'}`,
  };
}
