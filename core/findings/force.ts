import { type TravelTable, holdingNm, largestFall, restAngles } from '../travel';
import { type Finding, check, degrees, describeRuns, extremeIndex, formatter, runsWhere } from './finding';

/** stays-open: what holds the lid open when it is fully open, with no friction counted. */
export const staysOpen = check(
  'staysOpen',
  { job: ['limits', 'loadCases'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }) => {
    const f = formatter(units);
    return plans.map((plan, c): Finding => {
      const table = tables[c]!;
      const closing = table.closingMomentNm.at(-1)!;
      const limit = job.limits.holdOpenNm;
      const name = job.loadCases[c]!.name;
      const value = Number.isNaN(closing) ? null : holdingNm(plan);
      const state = value === null ? 'unknown' : value < limit ? 'fails' : 'holds';
      const friction =
        state !== 'fails'
          ? ''
          : closing >= limit
            ? ' Friction holds it there, but it is not counted: it wears off.'
            : '';
      return {
        id: 'stays-open',
        case: plan.caseId,
        everyCase: false,
        subject: 'lid',
        state,
        value,
        limit,
        margin: value === null ? null : value - limit,
        unit: 'N·m',
        worstDeg: plan.openDeg,
        text:
          value === null
            ? `${name}: whether it stays open is not known, because a strut can't be there when open.`
            : value < 0
              ? `${name}: falls shut from fully open, ${f(-value, 'moment')} short without friction.${friction}`
              : `${name}: held open with ${f(value, 'moment')}, friction not counted (wants ${f(limit, 'moment')}).${friction}`,
        advice: state === 'unknown' ? 'Mend the strut’s lengths first.' : '',
      };
    });
  },
);

/** hand-opening and hand-closing: the largest pull at the grip either way, in each load case. */
export const handForce = check(
  'handForce',
  { job: ['limits', 'loadCases'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }) => {
    const f = formatter(units);
    return plans.flatMap((plan, c): Finding[] => {
      const table = tables[c]!;
      const name = job.loadCases[c]!.name;
      const gap = runsWhere(table.angleDeg.length, (i) => Number.isNaN(table.handOpeningN[i]!)).length > 0;
      const rest = gap ? ' where the strut can be' : '';
      const one = (id: 'hand-opening' | 'hand-closing'): Finding => {
        const opening = id === 'hand-opening';
        const limit = opening ? job.limits.handOpenN : job.limits.handCloseN;
        const i = opening ? extremeIndex(table.handOpeningN, 'max') : extremeIndex(table.handClosingN, 'min');
        const value = i < 0 ? null : opening ? table.handOpeningN[i]! : -table.handClosingN[i]!;
        const state =
          value === null
            ? 'unknown'
            : value > limit
              ? 'fails'
              : gap
                ? 'unknown'
                : value > 0.9 * limit
                  ? 'watch'
                  : 'holds';
        const verb = opening ? 'lift' : 'pull';
        return {
          id,
          case: plan.caseId,
          everyCase: false,
          subject: 'grip',
          state,
          value,
          limit,
          margin: value === null ? null : limit - value,
          unit: 'N',
          worstDeg: i < 0 ? null : table.angleDeg[i]!,
          text:
            value === null
              ? `${name}: the hand force is not known, because a strut can't be there.`
              : value <= 0
                ? `${name}: nothing to ${verb}, it ${opening ? 'opens' : 'shuts'} by itself${rest}.`
                : `${name}: ${f(value, 'force')} to ${verb} ${opening ? 'open' : 'shut'} at ${degrees(table.angleDeg[i]!)}${rest} (limit ${f(limit, 'force')}).`,
          advice: state === 'unknown' ? 'Mend the strut’s lengths first.' : '',
        };
      };
      return [one('hand-opening'), one('hand-closing')];
    });
  },
);

/** Whether a lid that is nudged from a balance runs away from it: the moment grows with the angle there. */
function tips({ angleDeg, openingMomentNm, closingMomentNm }: TravelTable, deg: number): boolean {
  const after = angleDeg.findIndex((a) => a > deg);
  const i = after < 0 ? angleDeg.length - 1 : after;
  const mean = (k: number): number => (openingMomentNm[k]! + closingMomentNm[k]!) / 2;
  return mean(i) > mean(Math.max(0, i - 1));
}

/** rest-range: where friction alone keeps the lid still. It tells; it demands nothing. */
export const restRange = check(
  'restRange',
  { job: ['loadCases'], from: ['plans', 'tables'] },
  ({ job, plans, tables }) =>
    plans.map((plan, c): Finding => {
      const table = tables[c]!;
      const n = table.angleDeg.length;
      const runs = runsWhere(n, (i) => table.openingMomentNm[i]! <= 0 && table.closingMomentNm[i]! >= 0);
      const roots = restAngles(plan);
      const name = job.loadCases[c]!.name;
      const balanced = roots
        .map((deg) => `${degrees(deg)}${tips(table, deg) ? ' (tips from there)' : ''}`)
        .join(' and ');
      const known = !Number.isNaN(table.openingMomentNm[0]!) || !Number.isNaN(table.openingMomentNm[n - 1]!);
      return {
        id: 'rest-range',
        case: plan.caseId,
        everyCase: false,
        subject: 'lid',
        state: known ? 'holds' : 'unknown',
        value: roots[0] ?? null,
        limit: null,
        margin: null,
        unit: '°',
        worstDeg: roots[0] ?? null,
        text: !known
          ? `${name}: where it comes to rest is not known, because a strut can't be there.`
          : runs.length > 0
            ? `${name}: stays where it is left ${describeRuns(runs, table.angleDeg)}${roots.length > 0 ? `; in balance at ${balanced}` : ''}.`
            : roots.length > 0
              ? `${name}: in balance at ${balanced}, and does not stay anywhere else.`
              : `${name}: comes to rest nowhere between closed and open.`,
        advice: known ? '' : 'Mend the strut’s lengths first.',
      };
    }),
);

/** Under this a falling lid is no more than a nudge, J. */
const NUDGE_J = 1;

/** drop-energy: what a lost strut lets loose, and what a hand would have to hold. A caution: no design clears it. */
export const dropEnergy = check(
  'dropEnergy',
  { job: ['loadCases'], from: ['frame', 'plans', 'tables', 'units'] },
  ({ job, frame, plans, tables, units }) => {
    const f = formatter(units);
    return plans.map((plan, c): Finding => {
      const table = tables[c]!;
      const fall = largestFall(plan);
      const name = job.loadCases[c]!.name;
      // without the strut, only weight and springs are left for the hand
      let holdN = 0;
      for (let i = 0; i < table.angleDeg.length; i++)
        holdN = Math.max(
          holdN,
          (Math.abs(table.weightMomentNm[i]! + table.springMomentNm[i]!) * 1000) / frame.gripRadiusMm,
        );
      const harmless = fall.energyJ <= NUDGE_J;
      return {
        id: 'drop-energy',
        caution: true,
        case: plan.caseId,
        everyCase: false,
        subject: 'lid',
        state: harmless ? 'holds' : 'watch',
        value: fall.energyJ,
        limit: NUDGE_J,
        margin: NUDGE_J - fall.energyJ,
        unit: 'J',
        worstDeg: fall.fromDeg,
        text: harmless
          ? `${name}: if the strut is lost the lid hardly moves.`
          : `${name}: if the strut is lost the lid falls from ${degrees(fall.fromDeg)} to ${degrees(fall.toDeg)} with ${f(fall.energyJ, 'energy')}; a hand at the grip would have to hold ${f(holdN, 'force')}.`,
        advice: harmless
          ? ''
          : 'Keep a prop in until the strut is proven, and never work under a lid that a strut alone holds.',
      };
    });
  },
);
