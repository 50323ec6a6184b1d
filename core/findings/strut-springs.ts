import { coilDeflectionMm } from '../strut';
import { type Finding, check, degrees, formatter } from './finding';

/** spring-travel: coil springs stay inside the deflection they may have, torsion springs inside their moment. */
export const springTravel = check(
  'springTravel',
  { job: ['springs'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }) => {
    const f = formatter(units);
    const table = tables[0]!;
    return plans[0]!.springs.flatMap((spring, k): Finding[] => {
      const given = job.springs[k]!;
      const name = given.name ?? (job.springs.length > 1 ? `Spring ${k + 1}` : 'The spring');
      const row = table.springs[k]!;
      const torsion = spring.torsion !== null;
      const limit = (torsion ? given.mostNm : given.mostDeflectionMm) ?? null;
      let [worst, at, slack] = [0, 0, 0];
      for (let i = 0; i < table.angleDeg.length; i++) {
        const value = spring.torsion
          ? Math.abs(row.momentNm[i]!) / spring.quantity
          : coilDeflectionMm(spring.coil, row.lengthMm[i]!);
        if (value > worst) [worst, at] = [value, i];
        if (value === 0) slack++;
      }
      const fails = limit !== null && worst > limit;
      const idle = slack === table.angleDeg.length;
      const amount = (v: number): string => f(v, torsion ? 'moment' : 'length');
      return [
        {
          id: 'spring-travel',
          case: table.caseId,
          everyCase: true,
          subject: spring.id,
          state: fails ? 'fails' : limit === null || idle ? 'watch' : 'holds',
          value: worst,
          limit,
          margin: limit === null ? null : limit - worst,
          unit: torsion ? 'N·m' : 'mm',
          worstDeg: table.angleDeg[at]!,
          text: idle
            ? `${name} is slack over the whole travel and does nothing.`
            : `${name} is ${torsion ? 'loaded with' : 'deflected by'} ${amount(worst)} at ${degrees(table.angleDeg[at]!)}${limit === null ? '; how much it may have is not stated' : ` (may have ${amount(limit)})`}${slack > 0 ? ', and is slack over part of the travel' : ''}.`,
          advice: fails
            ? ''
            : idle
              ? 'Check its length and its ends.'
              : limit === null
                ? 'Give the most it may have: a spring that goes solid or yields breaks its mounts.'
                : '',
        },
      ];
    });
  },
);
