import type { EndName, StrutEnd } from '../job';
import { fittingKind, turnsAboutPin } from '../joint';
import {
  type CheckContext,
  type Finding,
  check,
  degrees,
  describeRuns,
  formatter,
  runsWhere,
  strutName,
} from './finding';
import { cureOf, harmOf } from './joint-advice';
import { swingAboutPin, swingOf } from './joint-travel';

const DEG_WATCH = 2;
/** Nearer than this to its limit an end of the travel is said to be on it. */
const ON_LIMIT_DEG = 0.05;

/** base-joint and lid-joint: the stem's angle to the strut over the whole travel; base-swing and lid-swing: a fork's own turn. */
export const jointRange = check(
  'jointRange',
  { job: ['struts'], from: ['plans', 'tables', 'units'] },
  (context) => joints(context, false),
  // what mends a joint is searched for on the whole sphere
  { slow: () => true, brief: (context) => joints(context, true) },
);

type Context = CheckContext<'struts', 'plans' | 'tables' | 'units'>;

const joints = (context: Context, brief: boolean): Finding[] =>
  context.plans[0]!.struts.flatMap((_, k) =>
    (['base', 'lid'] as const).flatMap((end) => [rangeOf(context, k, end, brief), ...pinSwing(context, k, end)]),
  );

function rangeOf({ job, plans, tables, units }: Context, k: number, end: EndName, brief: boolean): Finding {
  const f = formatter(units);
  const plan = plans[0]!;
  const table = tables[0]!;
  const strut = plan.struts[k]!;
  const spec: StrutEnd = job.struts[k]!.ends[end];
  const kind = fittingKind(spec.fitting);
  const axial = kind === 'axial-ball';
  const pinned = turnsAboutPin(spec.fitting);
  const row = end === 'base' ? table.struts[k]!.baseJointDeg : table.struts[k]!.lidJointDeg;
  const limit = spec.rangeDeg;
  /** How far off its nominal angle the joint is at a row of the table. */
  const off = (i: number): number => (axial ? Math.min(row[i]!, 180 - row[i]!) : Math.abs(90 - row[i]!));
  let worst = -1;
  let worstAt = 0;
  for (let i = 0; i < row.length; i++) if (off(i) > worst) [worst, worstAt] = [off(i), i];
  const known = worst >= 0;
  const isBroken = (i: number): boolean => off(i) > limit + 1e-9;
  const broken = known && worst > limit + 1e-9;
  const runs = runsWhere(row.length, isBroken);
  const name = `${strutName(job, strut.id)}, ${end} ${pinned ? (kind === 'fork' ? 'fork' : 'eye') : 'joint'}`;
  const at = row[worstAt]!;
  const need = axial
    ? `${degrees(limit)} or less from the strut’s line`
    : at < 90
      ? `${degrees(90 - limit)} or more`
      : `${degrees(90 + limit)} or less`;
  const last = row.length - 1;
  const onLimit = [...new Set([0, last])].filter((i) => !isBroken(i) && Math.abs(off(i) - limit) < ON_LIMIT_DEG);
  const also = onLimit
    .map((i) => ` ${i === 0 ? 'Closed' : 'Open'} it is on the limit: ${f(row[i]!, 'angle')}.`)
    .join('');
  const nominal = axial ? 'in line' : pinned ? 'square to its pin' : 'square';
  const cure =
    broken && !brief
      ? cureOf(swingOf(plan, strut, end, table.angleDeg), strut, end, spec, ['struts', k, 'ends', end], f)
      : { advice: '' };
  const harm = broken && !brief ? harmOf(job, plans, tables, k, end, isBroken, worst - limit, f) : '';
  const shown = axial ? `${f(off(worstAt), 'angle')} off the line` : f(at, 'angle');
  return {
    id: `${end}-joint`,
    case: plan.caseId,
    everyCase: true,
    subject: strut.id,
    state: !known ? 'unknown' : broken ? 'fails' : limit - worst < DEG_WATCH ? 'watch' : 'holds',
    value: known ? worst : null,
    limit,
    margin: known ? limit - worst : null,
    unit: '°',
    worstDeg: table.angleDeg[worstAt]!,
    text: !known
      ? `${name}: no angle, because both pivots are at one place.`
      : broken
        ? `${name} leaves its range ${describeRuns(runs, table.angleDeg)}: ${shown}, needs ${need}.${also}`
        : `${name} stays within ${f(worst, 'angle')} of ${nominal} (range ${f(limit, 'angle')}), worst at ${degrees(table.angleDeg[worstAt]!)}.${also}`,
    ...cure,
    // what would break stands before what to do about it
    ...(broken && brief ? { more: true } : {}),
    advice: `${harm}${harm !== '' && cure.advice !== '' ? ' ' : ''}${cure.advice}`.trim(),
  };
}

/** A fork or eye turns freely about its pin, unless the job says how far its own housing lets it. */
function pinSwing({ job, plans, units }: Context, k: number, end: EndName): Finding[] {
  const spec: StrutEnd = job.struts[k]!.ends[end];
  if (spec.swingDeg === undefined || !turnsAboutPin(spec.fitting)) return [];
  const f = formatter(units);
  const plan = plans[0]!;
  const strut = plan.struts[k]!;
  const name = `${strutName(job, strut.id)}, ${end} ${fittingKind(spec.fitting)}`;
  const swing = swingAboutPin(plan, strut, end, spec);
  const limit = spec.swingDeg;
  const common = {
    id: `${end}-swing`,
    case: plan.caseId,
    everyCase: true,
    subject: strut.id,
    limit,
    unit: '°',
  } as const;
  if (!swing)
    return [
      {
        ...common,
        state: 'unknown',
        value: null,
        margin: null,
        worstDeg: null,
        text: `${name}: its swing about the pin is limited to ${f(limit, 'angle')}, but not from where.`,
        advice: 'Give the direction in which the strut leaves in the middle of its swing, square to the pin.',
      },
    ];
  const broken = swing.worstDeg > limit + 1e-9;
  const span = `from ${f(swing.fromDeg, 'angle')} to ${f(swing.toDeg, 'angle')}`;
  return [
    {
      ...common,
      state: broken ? 'fails' : limit - swing.worstDeg < DEG_WATCH ? 'watch' : 'holds',
      value: swing.worstDeg,
      margin: limit - swing.worstDeg,
      worstDeg: swing.atDeg,
      text: broken
        ? `${name} swings ${span} about its pin and meets its housing at ${f(limit, 'angle')}: worst at ${degrees(swing.atDeg)}.`
        : `${name} swings ${span} about its pin, inside ±${f(limit, 'angle')}.`,
      advice: '',
    },
  ];
}
