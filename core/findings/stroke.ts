import { toDeg } from '../space';
import { deadCentres, lengthRange } from '../travel';
import { type Finding, check, degrees, describeRuns, formatter, runsWhere, strutName } from './finding';

/** closed-reserve and open-reserve: stroke left over at the shortest and at the longest. */
export const strokeReserve = check(
  'strokeReserve',
  { job: ['struts', 'limits', 'travel'], from: ['frame', 'plans', 'units'] },
  ({ job, frame, plans, units }) => {
    const f = formatter(units);
    const plan = plans[0]!;
    return plan.struts.flatMap((strut): Finding[] => {
      const name = strutName(job, strut.id);
      const { shortestMm, shortestDeg, longestMm, longestDeg } = lengthRange(strut.law, frame.openDeg);
      const limit = job.limits.reserveMm;
      const closed = shortestMm - (strut.extendedMm - strut.strokeMm);
      const open = strut.extendedMm - longestMm;
      const common = { case: plan.caseId, everyCase: true, subject: strut.id, unit: 'mm' } as const;
      const where = (deg: number, end: number): string => (deg === end ? '' : ` at ${degrees(deg)}`);
      const isStop = frame.stoppedBy === strut.id && job.travel.stop === 'strut';
      const openLimit = isStop ? 0 : limit;
      return [
        {
          id: 'closed-reserve',
          state: closed >= limit ? 'holds' : 'fails',
          value: closed,
          limit,
          margin: closed - limit,
          worstDeg: shortestDeg,
          text:
            closed < 0
              ? `${name} can't be pushed in far enough: the pivots come ${f(-closed, 'length')} nearer than its compressed length${where(shortestDeg, 0)}.`
              : `${name} has ${f(closed, 'length')} of stroke left when closed${where(shortestDeg, 0)} (wants ${f(limit, 'length')}).`,
          advice: '',
          ...common,
        },
        {
          id: 'open-reserve',
          state: open >= openLimit - 1e-6 ? 'holds' : 'fails',
          value: open,
          limit: openLimit,
          margin: open - openLimit,
          worstDeg: longestDeg,
          text: isStop
            ? `${name} stops the lid at ${degrees(frame.openDeg)} with its own full extension.`
            : open < 0
              ? `${name} is too short: the pivots get ${f(-open, 'length')} further apart than it extends${where(longestDeg, frame.openDeg)}.`
              : `${name} has ${f(open, 'length')} left before full extension when open${where(longestDeg, frame.openDeg)} (wants ${f(limit, 'length')}).`,
          advice: '',
          ...common,
        },
      ];
    });
  },
);

/** strut-fits: a strut outside its stroke can't be there, and nothing that needs its force is a number. */
export const strutFits = check(
  'strutFits',
  { job: ['struts'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }) => {
    const f = formatter(units);
    const table = tables[0]!;
    return plans[0]!.struts.map((strut, k): Finding => {
      const row = table.struts[k]!;
      const runs = runsWhere(table.angleDeg.length, (i) => Number.isNaN(row.compressionMm[i]!));
      const name = strutName(job, strut.id);
      let worst = 0;
      let worstDeg: number | null = null;
      for (let i = 0; i < table.angleDeg.length; i++) {
        const length = row.lengthMm[i]!;
        const out = Math.max(length - strut.extendedMm, strut.extendedMm - strut.strokeMm - length);
        if (out > worst && Number.isNaN(row.compressionMm[i]!)) [worst, worstDeg] = [out, table.angleDeg[i]!];
      }
      const fits = runs.length === 0;
      return {
        id: 'strut-fits',
        case: table.caseId,
        everyCase: true,
        subject: strut.id,
        state: fits ? 'holds' : 'fails',
        value: worst,
        limit: 0,
        margin: -worst,
        unit: 'mm',
        worstDeg,
        text: fits
          ? `${name} is inside its stroke over the whole travel.`
          : `${name} can't be there ${describeRuns(runs, table.angleDeg)}: up to ${f(worst, 'length')} outside its stroke. Hand and hinge forces are not known there.`,
        advice: '',
      };
    });
  },
);

/** A lever arm that shrinks under this share of its largest is near a dead centre. */
const WEAK_SHARE = 0.1;

/** dead-centre: the lever arm keeps its sign, so the strut never starts to work the other way. over-centre: it is meant to. */
export const deadCentre = check(
  'deadCentre',
  { job: ['struts', 'hinge'], from: ['frame', 'plans', 'tables', 'units'] },
  ({ job, frame, plans, tables, units }) => {
    const f = formatter(units);
    const table = tables[0]!;
    return plans[0]!.struts.map((strut, k): Finding => {
      const arms = table.struts[k]!.leverArmMm;
      const name = strutName(job, strut.id);
      const crossings = deadCentres(strut.law)
        .map(toDeg)
        .filter((a) => a > 1e-6 && a < frame.openDeg - 1e-6)
        .sort((a, b) => a - b);
      let least = Infinity;
      let most = 0;
      let leastDeg = 0;
      for (let i = 0; i < arms.length; i++) {
        const arm = Math.abs(arms[i]!);
        if (arm < least) [least, leastDeg] = [arm, table.angleDeg[i]!];
        most = Math.max(most, arm);
      }
      const crosses = crossings.length > 0 || most < 1e-6;
      const weak = least < WEAK_SHARE * most;
      if (job.hinge.overCentre === true && most >= 1e-6)
        return {
          id: 'over-centre',
          case: table.caseId,
          everyCase: true,
          subject: strut.id,
          state: crosses ? 'holds' : 'watch',
          value: crossings[0] ?? null,
          limit: null,
          margin: null,
          unit: '°',
          worstDeg: crossings[0] ?? leastDeg,
          text: crosses
            ? `${name} goes over its dead centre at ${crossings.map(degrees).join(' and ')}, as it is meant to: from there it works the other way.`
            : `${name} is meant to go over its dead centre and never does: its lever arm stays ${f(least, 'length')} or more.`,
          advice: crosses ? '' : 'Move a pivot, or say that the strut is not meant to go over its dead centre.',
        };
      return {
        id: 'dead-centre',
        case: table.caseId,
        everyCase: true,
        subject: strut.id,
        state: crosses ? 'fails' : weak ? 'watch' : 'holds',
        value: crosses ? 0 : least,
        limit: 0,
        margin: crosses ? 0 : least,
        unit: 'mm',
        worstDeg: crosses ? (crossings[0] ?? 0) : leastDeg,
        text:
          most < 1e-6
            ? `${name} pushes straight through the hinge axis and turns nothing.`
            : crosses
              ? `${name} goes through its dead centre at ${crossings.map(degrees).join(' and ')}: from there it works the other way.`
              : `${name} keeps its lever arm: ${f(least, 'length')} at the least, at ${degrees(leastDeg)}${weak ? `, which is little beside ${f(most, 'length')}` : ''}.`,
        advice: weak && !crosses ? 'Move a pivot further away from the line between hinge and other pivot.' : '',
      };
    });
  },
);
