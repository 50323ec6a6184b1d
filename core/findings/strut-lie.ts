import { type Vec3, asin, dot, lengthOf, norm, scale, sub, toDeg, toRad } from '../space';
import { type Plan, type StrutPlan, turned } from '../travel';
import { type Finding, check, degrees, formatter, strutName } from './finding';
import { rodEnd } from './joint-travel';

/** How far the lid end lies over the base end, degrees over level, at an opening angle. */
function riseDeg(plan: Plan, strut: StrutPlan, angleDeg: number): number {
  const d: Vec3 = sub(turned(strut.lid, toRad(angleDeg)), strut.base);
  const up = scale(plan.gravity, -1 / norm(plan.gravity));
  const length = norm(d);
  return length > 0 ? toDeg(asin(Math.max(-1, Math.min(1, dot(d, up) / length)))) : NaN;
}

/** Under this, m/s², nothing says where down is. */
const NO_WEIGHT = 0.01;

/** Nearer to level than this the oil no longer surely covers the seal, degrees (common practice, no source). */
export const NEARLY_LEVEL_DEG = 5;

/**
 * rod-down: a strut keeps its seal wet, and brakes at the end of its stroke, when the rod hangs down. Closed counts more
 * than open: the lid is closed most of its life. It never fails; it tells, with the worst slope of all load cases.
 */
export const rodDown = check('rodDown', { job: ['struts'], from: ['plans', 'frame'] }, ({ job, plans, frame }) =>
  plans[0]!.struts.flatMap((strut, k): Finding[] => {
    const rodAt = rodEnd(plans[0]!, k);
    const stated = job.struts[k]!.rodAt !== undefined;
    let worst = { deg: Infinity, at: 0, plan: plans[0]! };
    let turnedRound = Infinity;
    const least = { closed: Infinity, open: Infinity };
    for (const plan of plans.filter((p) => norm(p.gravity) > NO_WEIGHT))
      for (const [pose, at] of [
        ['closed', 0],
        ['open', frame.openDeg],
      ] as const) {
        const rise = riseDeg(plan, plan.struts[k]!, at);
        // down: how far the rod's end lies under the tube's
        const down = rodAt === 'base' ? rise : -rise;
        least[pose] = Math.min(least[pose], down);
        turnedRound = Math.min(turnedRound, -down);
        if (down < worst.deg) worst = { deg: down, at, plan };
      }
    const name = strutName(job, strut.id);
    if (!Number.isFinite(worst.deg)) return [];
    const holds = worst.deg >= NEARLY_LEVEL_DEG;
    const other = rodAt === 'base' ? 'lid' : 'base';
    const say = (deg: number): string =>
      deg >= NEARLY_LEVEL_DEG
        ? `down by ${degrees(deg)}`
        : deg > -NEARLY_LEVEL_DEG
          ? 'nearly level'
          : `up by ${degrees(-deg)}`;
    return [
      {
        id: 'rod-down',
        case: worst.plan.caseId,
        everyCase: false,
        subject: strut.id,
        state: holds ? 'holds' : 'watch',
        value: worst.deg,
        limit: NEARLY_LEVEL_DEG,
        margin: worst.deg - NEARLY_LEVEL_DEG,
        unit: '°',
        worstDeg: worst.at,
        text: `${name}, rod at the ${rodAt}${stated ? '' : ' (taken so)'}: closed the rod points ${say(least.closed)}, open ${say(least.open)}${holds ? ', so oil stays on its seal' : ''}.`,
        advice: holds
          ? ''
          : turnedRound >= NEARLY_LEVEL_DEG
            ? `Turn the strut round, rod to the ${other}: then it points down closed and open.`
            : least.closed >= NEARLY_LEVEL_DEG
              ? 'Closed it lies well, and that is where it mostly is. Open, the seal may dry and the end of the stroke is not braked.'
              : 'Rod down when closed keeps the seal wet: turn the strut round, or use one that is made for any position.',
      },
    ];
  }),
);

/** Under this a lid hardly feels that its strut pushes on one side, N·m (common practice, no source). */
export const TWIST_NM = 5;

/**
 * one-sided: struts that push away from the middle of the hinge twist the lid and load one hinge more than the other.
 * Value: the largest moment of all strut forces about the middle of the hinge line that no twin balances.
 */
export const oneSided = check(
  'oneSided',
  { job: ['struts', 'loadCases'], from: ['plans', 'tables', 'units', 'frame'] },
  ({ job, plans, tables, units, frame }) => {
    if (job.struts.length === 0) return [];
    const { along, spanMm } = frame.axis;
    let worst = { nm: 0, deg: 0, c: 0, differN: 0, share: 0 };
    let gap = false as boolean;
    /** The same over the load cases in which no strut is lost. */
    let heldNm = 0 as number;
    plans.forEach((plan, c) => {
      const table = tables[c]!;
      // how far along the hinge from its middle each single strut pushes: the same at every angle
      const alone = plan.struts.flatMap(({ quantity, lid }, k) =>
        quantity === 1 ? [{ row: table.struts[k]!, arm: dot(lid.fixed, along) - spanMm / 2 }] : [],
      );
      for (let i = 0; i < table.angleDeg.length; i++) {
        let [x, y, z] = [0, 0, 0];
        for (const { row, arm } of alone) {
          const turn = Math.max(row.compressingN[i]!, row.extendingN[i]!) * arm;
          x += turn * row.radial[3 * i]!;
          y += turn * row.radial[3 * i + 1]!;
          z += turn * row.radial[3 * i + 2]!;
        }
        const nm = lengthOf(x, y, z) / 1000;
        gap ||= Number.isNaN(nm);
        if (job.loadCases[c]!.lost.length === 0) heldNm = Math.max(heldNm, nm);
        if (!(nm > worst.nm)) continue;
        const a = lengthOf(table.hingeAN[3 * i]!, table.hingeAN[3 * i + 1]!, table.hingeAN[3 * i + 2]!);
        const b = lengthOf(table.hingeBN[3 * i]!, table.hingeBN[3 * i + 1]!, table.hingeBN[3 * i + 2]!);
        worst = { nm, deg: table.angleDeg[i]!, c, differN: Math.abs(a - b), share: a > b ? 1 : 0 };
      }
    });
    const f = formatter(units);
    // with another strut out of its stroke the hinges' shares are not known
    const hinges = Number.isNaN(worst.differN)
      ? ''
      : `; hinge ${worst.share ? 'A' : 'B'} carries ${f(worst.differN, 'force')} more than the other`;
    const holds = worst.nm < TWIST_NM;
    if (holds && gap)
      return [
        {
          ...{
            id: 'one-sided',
            case: plans[0]!.caseId,
            everyCase: false,
            subject: 'lid',
            state: 'unknown',
            unit: 'N·m',
          },
          ...{ value: null, limit: TWIST_NM, margin: null, worstDeg: null },
          text: 'How evenly the struts push about the middle of the hinge is not known: one is out of its stroke somewhere.',
          advice: 'Mend the strut’s lengths first.',
        },
      ];
    return [
      {
        id: 'one-sided',
        case: plans[worst.c]!.caseId,
        everyCase: false,
        subject: 'lid',
        state: holds ? 'holds' : 'watch',
        // what only a lost strut does, no pair can clear
        ...(!holds && heldNm < TWIST_NM ? { caution: true } : {}),
        value: worst.nm,
        limit: TWIST_NM,
        margin: TWIST_NM - worst.nm,
        unit: 'N·m',
        worstDeg: worst.deg,
        text: holds
          ? 'The struts push evenly about the middle of the hinge.'
          : `${job.loadCases[worst.c]!.name}: the struts push on one side and twist the lid with ${f(worst.nm, 'moment')} at ${degrees(worst.deg)}${hinges}.`,
        advice: holds
          ? ''
          : 'See that lid and hinges are stiff enough for it, or use a pair, one on each side. A lid that twists may jam or crack.',
      },
    ];
  },
);
