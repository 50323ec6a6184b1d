import { sizedFitting, turnsAboutPin } from '../joint';
import { BUCKLING_FACTOR, strutBuckling, usualBody } from '../strut';
import { LEAST_ARM_MM, type Plan, type TravelTable } from '../travel';
import { type Finding, check, degrees, extremeIndex, formatter, strutName, worstCase } from './finding';

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
          limit: BUCKLING_FACTOR,
          unit: '×',
        } as const;
        if (i < 0)
          return [
            {
              state: 'unknown',
              value: null,
              margin: null,
              worstDeg: null,
              text: `${name}: the load on its rod is not known, because it can't be there.`,
              advice: 'Mend the strut’s lengths first.',
              ...common,
            },
          ];
        const { wallMm } = usualBody(spec.rodMm, spec.tubeMm);
        const bears = strutBuckling(spec.extendedMm, spec.strokeMm, spec.rodMm, spec.tubeMm, wallMm);
        const forceN = row.compressingN[i]!;
        // a strut that pulls does not buckle
        const safetyFactor = Math.min(bears.steppedN / Math.max(forceN, 1e-9), 1e6);
        const plain = bears.plainN / Math.max(forceN, 1e-9);
        const state = safetyFactor < BUCKLING_FACTOR ? 'fails' : plain < BUCKLING_FACTOR ? 'watch' : 'holds';
        return [
          {
            state,
            value: safetyFactor,
            margin: safetyFactor - BUCKLING_FACTOR,
            worstDeg: tables[c]!.angleDeg[i]!,
            text:
              state === 'fails'
                ? `${name} may buckle: ${f(forceN, 'force')} at ${degrees(tables[c]!.angleDeg[i]!)}, ends pinned, buckling at ${f(bears.steppedN, 'force')} (wants ${BUCKLING_FACTOR} times the load).`
                : state === 'watch'
                  ? `${name} bears ${f(forceN, 'force')} without buckling only as rod and tube together (${safetyFactor.toFixed(1)} times, ends pinned, tube wall ${f(wallMm, 'length', 2)} assumed); the rod alone over the whole length would have ${plain.toFixed(1)} times.`
                  : `${name} bears its ${f(forceN, 'force')} without buckling, ends pinned: the rod alone over the whole length has ${plain.toFixed(1)} times (wants ${BUCKLING_FACTOR}).`,
            advice: state === 'holds' ? '' : 'Never load the strut sideways.',
            ...common,
          },
        ];
      }),
    );
  },
);

/** Lengths off by less than this are the same, mm. */
const SAME_MM = 1e-6;

/** strut-exists: rod and tube must both hold the stroke, and most struts need room for piston, seal and ends besides. */
export const strutExists = check('strutExists', { job: ['struts', 'loadCases'], from: ['units'] }, ({ job, units }) => {
  const f = formatter(units);
  return job.struts.map(({ id, spec }): Finding => {
    const { endAllowanceMm } = usualBody(spec.rodMm, spec.tubeMm);
    const { extendedMm, strokeMm } = spec;
    const usualMm = 2 * strokeMm + endAllowanceMm;
    const listed = spec.listedMm?.[0] === extendedMm && spec.listedMm[1] === strokeMm;
    const spareMm = extendedMm - 2 * strokeMm;
    const none = spareMm < -SAME_MM;
    const state =
      none && !listed ? 'fails' : !listed && spareMm < endAllowanceMm - 1 ? 'watch' : none ? 'watch' : 'holds';
    const could = Math.max(0, (extendedMm - endAllowanceMm) / 2);
    const name = strutName(job, id);
    return {
      id: 'strut-exists',
      case: job.loadCases[0]!.id,
      everyCase: true,
      subject: id,
      state,
      value: spareMm,
      limit: 0,
      margin: spareMm,
      unit: 'mm',
      worstDeg: null,
      text: none
        ? `${name}: a stroke of ${f(strokeMm, 'length')} does not go into an extended length of ${f(extendedMm, 'length')}: rod and tube would have to overlap${listed ? ', though your list has it' : ''}.`
        : state === 'watch'
          ? `${name}: ${f(strokeMm, 'length')} of stroke leave ${f(spareMm, 'length')} of its length for piston, seal and ends, where ${f(endAllowanceMm, 'length')} are usual (common practice); such a strut mostly has a stroke of ${f(could, 'length')} or less.`
          : `${name} can be had${listed ? ': it is from your list' : ` as far as its lengths go: extended ${f(extendedMm, 'length')}, ${f(usualMm, 'length')} are usual for its stroke`}.`,
      advice:
        state === 'holds'
          ? ''
          : listed
            ? 'Check the list: it may give the lengths between other points.'
            : 'Look for one in a list before anything is made for it.',
    };
  });
});

/** socket-pull: a strut that stops the lid is pulled by what still pushes it, wind and a hand too; a ball socket lets go of it. */
export const socketPull = check(
  'socketPull',
  { job: ['struts', 'limits', 'loadCases'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }) => {
    const f = formatter(units);
    return job.struts.flatMap((strut, k): Finding[] => {
      if (plans[0]!.stoppedBy !== strut.id) return [];
      const sockets = (['base', 'lid'] as const).flatMap((end) => {
        const { fitting: id, separatingN } = strut.ends[end];
        if (turnsAboutPin(id)) return [];
        if (separatingN !== undefined) return [{ end, holdsN: separatingN, assumed: false, clip: false }];
        const { fitting, assumed } = sizedFitting(id, strut.spec.rodMm);
        return fitting.separatingN
          ? [{ end, holdsN: fitting.separatingN.value, assumed, clip: id.endsWith('-clip') }]
          : [];
      });
      if (sockets.length === 0) return [];
      const { c, value, gap } = worstCase(
        job.loadCases,
        plans.map((plan, i) => pullOnStopN(plan, tables[i]!, k, job.limits.handOpenN)),
      );
      // the one that lets go first: without a clip before one that has it
      const weakest = sockets.reduce((a, b) => ((Number(a.clip) - Number(b.clip) || a.holdsN - b.holdsN) <= 0 ? a : b));
      const over = value !== null && value > weakest.holdsN;
      const sure = over && !weakest.clip && !weakest.assumed;
      const name = strutName(job, strut.id);
      return [
        {
          id: 'socket-pull',
          case: plans[Math.max(0, c)]!.caseId,
          everyCase: false,
          subject: strut.id,
          state: sure ? 'fails' : over ? 'watch' : value === null || gap ? 'unknown' : 'holds',
          value,
          limit: weakest.holdsN,
          margin: value === null ? null : weakest.holdsN - value,
          unit: 'N',
          worstDeg: plans[0]!.openDeg,
          text:
            value === null
              ? `${name} stops the lid; what pulls at its sockets is not known, because another strut can’t be there.`
              : `${job.loadCases[c]!.name}: ${name.replace(/^The/, 'the')} stops the lid, and a hand that opens it further pulls with ${f(value, 'force')}; the ${weakest.end} ball socket${weakest.assumed ? ', its size assumed from the rod,' : ''} lets go at ${f(weakest.holdsN, 'force')}${weakest.clip ? ', but has a safety clip' : ''}.`,
          advice: !over
            ? value === null || gap
              ? 'Mend the strut’s lengths first.'
              : ''
            : weakest.clip
              ? 'See that the clip is in, and ask its maker what it holds.'
              : `${weakest.assumed ? 'Name the fitting to be sure. ' : ''}A safety clip keeps a socket on its ball longer; nobody states how long.`,
        },
      ];
    });
  },
);

/** Pull along a strut that stops the lid, N: what is left over and a hand at its limit, less the strut's own push. */
function pullOnStopN(plan: Plan, table: TravelTable, k: number, handN: number): number | null {
  const row = table.struts[k]!;
  const last = table.angleDeg.length - 1;
  const { quantity } = plan.struts[k]!;
  const arm = row.leverArmMm[last]!;
  const leftNmm = table.openingMomentNm[last]! * 1000;
  // one that is pushed in to its end is pressed by the lid, not pulled
  if (quantity === 0 || arm < -LEAST_ARM_MM) return 0;
  if (Number.isNaN(leftNmm) || arm < LEAST_ARM_MM) return null;
  const pulls = (Math.max(leftNmm, 0) + handN * plan.gripRadiusMm) / (quantity * arm);
  return Math.max(0, pulls - row.extendingN[last]!);
}
