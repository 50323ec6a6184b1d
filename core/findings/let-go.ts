import { MUCH } from '../demands';
import type { ResolvedJob } from '../job';
import { type Axis, type LetGo, NEARLY_UPRIGHT_DEG, latchN, leanDeg } from '../travel';
import { type CheckContext, type Finding, check, degrees, formatter, worstCase } from './finding';

type Context = CheckContext<'limits' | 'loadCases', 'plans' | 'tables' | 'letGos' | 'units'>;

/** What a lid that is let go does, in words: one that opens upward is thrown open and falls shut, one that opens downward falls open. */
export function letGoVerb({ opens }: ResolvedJob['hinge'], axis: Axis, way: 'opening' | 'shutting'): string {
  const rises = (opens === 'up') === (way === 'opening');
  const to = way === 'opening' ? 'open' : 'shut';
  return leanDeg(axis) < NEARLY_UPRIGHT_DEG ? `swings ${to}` : rises ? `throws itself ${to}` : `falls ${to}`;
}

const LENGTHS_FIRST = 'Mend the strut’s lengths first.';

/** One of the three, its worst load case named: fails over the job's own limit, without one is watched over the measure. */
function told(
  { job, plans, tables }: Context,
  id: 'let-go-open' | 'let-go-shut' | 'grip-at-shut',
  values: readonly (number | null)[],
  words: {
    readonly unit: 'J' | 'N';
    readonly limit: number | undefined;
    readonly much: number;
    readonly worstDeg: (c: number) => number | null;
    readonly none: string;
    readonly some: (value: number, c: number) => string;
    readonly keep: string;
  },
): Finding {
  const worst = worstCase(job.loadCases, values);
  const out = tables.some((t, c) => job.loadCases[c]!.mustHold && t.openingMomentNm.includes(NaN));
  const gap = worst.gap || (out && words.unit === 'J');
  const { value } = worst;
  const over = value !== null && value > (words.limit ?? words.much);
  const state =
    value === null ? 'unknown' : over ? (words.limit === undefined ? 'watch' : 'fails') : gap ? 'unknown' : 'holds';
  const name = worst.c < 0 ? '' : `${job.loadCases[worst.c]!.name}: `;
  return {
    id,
    case: plans[Math.max(0, worst.c)]!.caseId,
    everyCase: false,
    subject: words.unit === 'N' ? 'grip' : 'lid',
    state,
    value,
    limit: words.limit ?? null,
    margin: value === null || words.limit === undefined ? null : words.limit - value,
    unit: words.unit,
    worstDeg: worst.c < 0 ? null : words.worstDeg(worst.c),
    text:
      value === null
        ? `What the lid does ${words.unit === 'N' ? 'at its grip' : 'when it is let go'} is not known, because a strut can't be there.`
        : `${value > 0 ? `${name}${words.some(value, worst.c)}` : words.none}${gap ? '; where a strut can’t be there it is not known' : ''}.`,
    advice: over ? words.keep : state === 'unknown' ? LENGTHS_FIRST : '',
  };
}

/** let-go-open and let-go-shut: the energy with which an unlatched lid throws itself open, or falls shut, with nobody holding it. */
export const letGoEnergy = check(
  'letGoEnergy',
  { job: ['limits', 'loadCases', 'hinge'], from: ['frame', 'plans', 'tables', 'letGos', 'units'] },
  (context) => {
    const { job, letGos, frame } = context;
    const f = formatter(context.units);
    const limit = job.limits.letGoJ;
    const wants = limit === undefined ? '' : ` (limit ${f(limit, 'energy')})`;
    const one = (id: 'let-go-open' | 'let-go-shut', way: 'opening' | 'shutting', none: string): Finding => {
      const verb = letGoVerb(job.hinge, frame.axis, way);
      const from = (c: number): LetGo['opening'] => letGos[c]![way];
      return told(
        context,
        id,
        letGos.map((l) => l[way]?.energyJ ?? null),
        {
          ...{ unit: 'J', limit, much: MUCH.energyJ, none },
          worstDeg: (c) => from(c)?.fromDeg ?? null,
          some: (value, c) =>
            `${verb} with ${f(value, 'energy')} from ${degrees(from(c)!.fromDeg!)} to ${degrees(from(c)!.toDeg!)} when nobody holds it, undamped at most${wants}`,
          keep: `Keep a hand on it ${way === 'opening' ? 'when it is unlatched' : 'all the way shut'}.`,
        },
      );
    };
    return [
      one('let-go-open', 'opening', 'Let go, it never opens by itself'),
      one('let-go-shut', 'shutting', 'Let go, it never shuts by itself'),
    ];
  },
);

/** grip-at-shut: what pushes at the grip the moment that the lid is unlatched. */
export const gripAtShut = check(
  'gripAtShut',
  { job: ['limits', 'loadCases'], from: ['plans', 'tables', 'letGos', 'units'] },
  (context) => {
    const f = formatter(context.units);
    const limit = context.job.limits.letGoN;
    const wants = limit === undefined ? '' : ` (limit ${f(limit, 'force')})`;
    return [
      told(
        context,
        'grip-at-shut',
        context.letGos.map((l) => l.gripAtShutN),
        {
          ...{ unit: 'N', limit, much: MUCH.forceN, worstDeg: () => 0 },
          none: 'Unlatched, it does not push at the grip',
          some: (value) => `unlatched, it pushes at the grip with ${f(value, 'force')}${wants}`,
          keep: 'Unlatch it with a hand on the grip and nobody leaning over it.',
        },
      ),
    ];
  },
);

/** latch-holds: what the latch must hold against its rating. stays-shut: without one, whether the lid stays shut by itself. */
export const staysShut = check(
  'staysShut',
  { job: ['latch', 'loadCases'], from: ['plans', 'tables', 'frame', 'units'] },
  ({ job, plans, tables, frame, units }): Finding[] => {
    const f = formatter(units);
    const latched = job.latch !== undefined;
    // shut it must stay in every load case, in those too that are only told: nobody opens it in a vehicle that brakes
    const worst = worstCase(
      job.loadCases.map((c) => ({ ...c, mustHold: true })),
      plans.map((plan, c) => {
        const { openingMomentNm, closingMomentNm } = tables[c]!;
        return latched ? latchN(plan) : (openingMomentNm[0]! + closingMomentNm[0]!) / 2;
      }),
    );
    const { value, c, gap } = worst;
    const name = c < 0 ? '' : job.loadCases[c]!.name;
    const limit = latched ? (job.latch.ratedN ?? null) : 0;
    const over = value !== null && limit !== null && value > limit;
    const state = over ? (latched ? 'fails' : 'watch') : gap || value === null ? 'unknown' : 'holds';
    const rating = limit === null ? '; what it may hold is not stated' : ` (rated ${f(limit, 'force')})`;
    return [
      {
        id: latched ? 'latch-holds' : 'stays-shut',
        case: plans[Math.max(0, c)]!.caseId,
        everyCase: false,
        subject: 'lid',
        state,
        value,
        limit,
        margin: value === null || limit === null ? null : limit - value,
        unit: latched ? 'N' : 'N·m',
        worstDeg: 0,
        text:
          value === null
            ? `What keeps the lid closed is not known, because a strut can't be there${latched ? ', or the latch stands on the hinge’s line' : ''}.`
            : latched
              ? `${name}: the latch holds ${f(value, 'force')} with the lid closed, friction not counted${rating}.`
              : over
                ? `${name}: without a latch it does not stay shut: ${f((value * 1000) / frame.gripRadiusMm, 'force')} push it open at the grip.`
                : 'It stays closed by itself.',
        advice: over ? (latched ? '' : 'Give it a latch.') : state === 'unknown' ? LENGTHS_FIRST : '',
      },
    ];
  },
);
