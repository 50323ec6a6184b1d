import { BUCKLING_RESERVE, strutBuckling, usualBody } from '../strut';
import { type Finding, check, degrees, extremeIndex, formatter, strutName } from './finding';

/**
 * rod-buckling: Euler, both ends pinned at the ball centres, fully extended, against the largest compressing force of
 * the load case. Held by the plain rule (rod inertia over the whole length) it holds; only as a stepped column it is
 * to be watched.
 */
export const rodBuckling = check(
  'rodBuckling',
  { job: ['struts', 'loadCases'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }) => {
    const f = formatter(units);
    return plans.flatMap((plan, c) =>
      plan.struts.flatMap((strut, k): Finding[] => {
        if (strut.quantity === 0) return [];
        const { spec } = job.struts[k]!;
        const row = tables[c]!.struts[k]!;
        const i = extremeIndex(row.compressingN, 'max');
        const name = `${job.loadCases[c]!.name}: ${strutName(job, strut.id)}`;
        const common = {
          id: 'rod-buckling',
          case: plan.caseId,
          everyCase: false,
          subject: strut.id,
          limit: BUCKLING_RESERVE,
          unit: '×',
        } as const;
        if (i < 0)
          return [
            {
              ...common,
              state: 'unknown',
              value: null,
              margin: null,
              worstDeg: null,
              text: `${name}: the load on its rod is not known, because it can't be there.`,
              advice: 'Mend the strut’s lengths first.',
            },
          ];
        const { wallMm } = usualBody(spec.rodMm, spec.tubeMm);
        const bears = strutBuckling(spec.extendedMm, spec.strokeMm, spec.rodMm, spec.tubeMm, wallMm);
        const forceN = row.compressingN[i]!;
        // a strut that pulls does not buckle
        const reserve = Math.min(bears.steppedN / Math.max(forceN, 1e-9), 1e6);
        const plain = bears.plainN / Math.max(forceN, 1e-9);
        const state = reserve < BUCKLING_RESERVE ? 'fails' : plain < BUCKLING_RESERVE ? 'watch' : 'holds';
        return [
          {
            ...common,
            state,
            value: reserve,
            margin: reserve - BUCKLING_RESERVE,
            worstDeg: tables[c]!.angleDeg[i]!,
            text:
              state === 'fails'
                ? `${name} may buckle: ${f(forceN, 'force')} at ${degrees(tables[c]!.angleDeg[i]!)}, ends pinned, buckling at ${f(bears.steppedN, 'force')} (wants ${BUCKLING_RESERVE} times the load).`
                : state === 'watch'
                  ? `${name} bears ${f(forceN, 'force')} without buckling only as rod and tube together (${reserve.toFixed(1)} times, ends pinned, tube wall ${f(wallMm, 'length', 2)} assumed); the rod alone over the whole length would have ${plain.toFixed(1)} times.`
                  : `${name} bears its ${f(forceN, 'force')} without buckling, ends pinned: the rod alone over the whole length has ${plain.toFixed(1)} times (wants ${BUCKLING_RESERVE}).`,
            advice:
              state === 'holds' ? '' : 'Take a thicker rod or a shorter strut, and never load the strut sideways.',
          },
        ];
      }),
    );
  },
);
