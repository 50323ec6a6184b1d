import { lengthOf } from '../space';
import { NEARLY_UPRIGHT_DEG, leanDeg, turnOf } from '../travel';
import type { ResolvedJob } from '../job';
import { DEFAULTS, WATCH_FACTOR, pulledTogether, screwInWood, woodRow, woodScrew } from '../strength';
import { type Finding, check, degrees, formatter, worstCase } from './finding';

/** Steel of wood screws, N/mm²: as class 4.6. Leaves of hinges, mm: thin. Common practice, no source. */
const SCREW_MPA = 400;
const LEAF_MM = 2;
/** No leaf has room for more. Common practice, no source. */
const MOST_SCREWS = 8;

/** hinge-screws: what the wood screws of one leaf hold of the reaction; whichever way it goes, the weaker of pull and shear counts. */
function screwsOfHinge(
  { screws }: ResolvedJob['hinge'],
  worst: { forceN: number; hinge: number; atDeg: number } | null,
  gap: boolean,
  caseId: string,
  f: ReturnType<typeof formatter>,
): Finding[] {
  if (!screws) return [];
  const { count, diameterMm, lengthMm, material, thicknessMm, serviceClass = DEFAULTS.serviceClass } = screws;
  const wood = woodRow(material);
  const common = { id: 'hinge-screws', case: caseId, everyCase: false, subject: 'lid', unit: 'N' } as const;
  const value = worst?.forceN ?? null;
  const not = (text: string, advice: string): Finding[] => [
    { ...common, state: 'unknown', value, limit: null, margin: null, worstDeg: worst?.atDeg ?? null, text, advice },
  ];
  if (!wood)
    return not(
      `What the screws of a hinge hold in “${material}” is in no table.`,
      'Name the wood, say “C24” or “birch plywood”.',
    );
  const one = screwInWood(wood, thicknessMm, woodScrew(diameterMm, lengthMm), LEAF_MM, {
    ...{ tensileMPa: SCREW_MPA, serviceClass },
  });
  const bears = (n: number): number => n * Math.min(one.axialN * pulledTogether(n), one.lateralN);
  const limit = bears(count);
  const over = value !== null && value > limit;
  if (!over && (gap || !worst))
    return not(
      'What the hinges carry is not known, because a strut can’t be there.',
      'Mend the strut’s lengths first.',
    );
  const state = over ? 'fails' : value! * WATCH_FACTOR > limit ? 'watch' : 'holds';
  const enough = Array.from({ length: Math.max(0, MOST_SCREWS - count) }, (_, i) => count + 1 + i).find(
    (n) => bears(n) >= WATCH_FACTOR * value!,
  );
  return [
    {
      ...{ ...common, state, value, limit, margin: limit - value!, worstDeg: worst!.atDeg },
      text: `${count} screws ${diameterMm} × ${lengthMm} mm hold hinge ${worst!.hinge === 0 ? 'A' : 'B'} in ${wood.id}: they bear ${f(limit, 'force')}, ${f(value!, 'force')} is asked of them at ${degrees(worst!.atDeg)} (pull-out by ${one.axialSource}).${one.shallow ? ` ${one.shallow}` : ''}`,
      ...(state !== 'holds' && enough !== undefined
        ? {
            proposal: {
              label: `Take ${enough} such screws in each leaf`,
              path: ['hinge', 'screws', 'count'],
              value: enough,
            },
          }
        : {}),
      advice:
        state === 'holds'
          ? ''
          : 'Don’t trust the hinges to these screws: take longer ones, more of them, or bolts through.',
    },
  ];
}

/** The greatest reaction square to the axis of either hinge over the travel, N, and where; null where none is known. */
function greatest(hinges: readonly Float64Array[]): { forceN: number; i: number; hinge: number } | null {
  let worst: { forceN: number; i: number; hinge: number } | null = null;
  hinges.forEach((row, hinge) => {
    for (let i = 0; i < row.length / 3; i++) {
      const forceN = lengthOf(row[3 * i]!, row[3 * i + 1]!, row[3 * i + 2]!);
      if (forceN > (worst?.forceN ?? -1)) worst = { forceN, i, hinge };
    }
  });
  return worst;
}

/** hinge-load: the reactions square to the hinge against what one hinge is rated for; without a rating they are told. */
export const hingeLoad = check(
  'hingeLoad',
  { job: ['hinge', 'loadCases'], from: ['plans', 'tables', 'units'] },
  ({ job, plans, tables, units }): Finding[] => {
    const f = formatter(units);
    const all = tables.map(({ hingeAN, hingeBN }) => greatest([hingeAN, hingeBN]));
    const { c, value } = worstCase(
      job.loadCases,
      all.map((found) => found?.forceN ?? null),
    );
    const found = c < 0 ? null : all[c]!;
    const gap = tables.some((t, k) => job.loadCases[k]!.mustHold && t.hingeAN.includes(NaN));
    const limit = job.hinge.ratedN ?? null;
    const over = value !== null && limit !== null && value > limit;
    const known = found !== null && (over || limit === null || !gap);
    const at = found ? tables[c]!.angleDeg[found.i]! : null;
    return [
      ...screwsOfHinge(
        job.hinge,
        found && { forceN: found.forceN, hinge: found.hinge, atDeg: at! },
        gap,
        plans[Math.max(0, c)]!.caseId,
        f,
      ),
      {
        id: 'hinge-load',
        case: plans[Math.max(0, c)]!.caseId,
        everyCase: false,
        subject: 'lid',
        state: over ? 'fails' : known ? 'holds' : 'unknown',
        value,
        limit,
        margin: value === null || limit === null ? null : limit - value,
        unit: 'N',
        worstDeg: at,
        text:
          found === null
            ? 'What the hinges carry is not known, because a strut can’t be there.'
            : `${job.loadCases[c]!.name}: hinge ${found.hinge === 0 ? 'A' : 'B'} carries ${f(found.forceN, 'force')} square to its axis at ${degrees(at!)}${gap ? ' where the struts can be' : ''}, the hand on the grip${limit === null ? '; what it may carry is not stated' : ` (rated ${f(limit, 'force')})`}.`,
        advice: known ? '' : 'Mend the strut’s lengths first.',
      },
    ];
  },
);

/** Upright as far as a file can say: there the sense is fixed by itself, degrees. */
const EXACTLY_DEG = 1e-6;

/** upright-hinge: of a hinge that is nearly upright but not quite, the lean alone says which way "up" turns. */
export const uprightHinge = check(
  'uprightHinge',
  { job: ['hinge', 'loadCases'], from: ['frame'] },
  ({ job, frame }): Finding[] => {
    const lean = leanDeg(frame.axis);
    if (lean >= NEARLY_UPRIGHT_DEG || lean < EXACTLY_DEG) return [];
    return [
      {
        id: 'upright-hinge',
        case: job.loadCases[0]!.id,
        everyCase: true,
        subject: 'lid',
        state: 'watch',
        value: lean,
        limit: NEARLY_UPRIGHT_DEG,
        margin: lean - NEARLY_UPRIGHT_DEG,
        unit: '°',
        worstDeg: null,
        text: `The hinge leans ${degrees(lean)} from upright: that lean alone decides that opening "${job.hinge.opens}" turns ${turnOf(frame.axis)} seen from above.`,
        advice: 'See that it turns the way your lid does, and measure the lean well: weight moves it by nothing else.',
      },
    ];
  },
);
