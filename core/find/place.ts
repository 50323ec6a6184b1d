import type { Finding } from '../findings';
import type { Spec } from '../job';
import { type Vec3, distance } from '../space';
import type { Fitted } from './apply';
import { type Aim, type Candidate, heldOrNot } from './aim';
import { bracketsFor } from './brackets';
import { toAxes } from './field';
import { playOf } from './play';
import type { Hit } from './quick';
import { holds, referenceOn } from './site';
import { type Verdict, verdictOf } from './verdict';
import type { Workings } from '../workings';

/** A place for the strut, with what it gives. */
export interface Place extends Fitted, Omit<Verdict, 'refused' | 'workings'> {
  /** Order name of the list's entry. */
  readonly entry: string;
  readonly playMm: number;
}

/** A place that was worked out in full, and what stands against it. */
export interface Tried {
  readonly place: Place;
  readonly refused: readonly Finding[];
  readonly workings: Workings;
}

/** Balls are given to this, mm. */
const GRAIN_MM = 0.1;

/** Whether two places are truly different: see the design, "Different". */
export function different(a: Pick<Place, 'base' | 'lid' | 'quantity' | 'entry'>, b: typeof a): boolean {
  const apart = Math.max(distance(a.base, b.base), distance(a.lid, b.lid));
  return a.quantity !== b.quantity || apart > 30 || (a.entry !== b.entry && apart > 10);
}

/** The eight places of a tenth of a millimetre round a ball that still stand over its zone; the ball itself where none does. */
function grains(site: Parameters<typeof holds>[0], at: Vec3): Vec3[] {
  const found: Vec3[] = [];
  for (let i = 0; i < 8; i++) {
    const to = at.map((v, k) => {
      const down = Math.floor(v / GRAIN_MM);
      return Number(((down + ((i >> k) & 1)) * GRAIN_MM).toFixed(1));
    }) as unknown as Vec3;
    if (holds(site, to)) found.push(to);
  }
  return found.length > 0 ? found : [at];
}

/** Six decimals: enough for a direction, and short in a file. */
const fine = (v: Vec3): Vec3 => v.map((c) => Number(c.toFixed(6)) + 0) as unknown as Vec3;

/**
 * A point of the search as a place that can be marked out: balls to a tenth of a millimetre (of the eight round either the two
 * that leave most to spare), whole degrees, the best force there, the best stems of whole degrees. Held against the full findings.
 */
export function placeOf(aim: Aim, candidate: Candidate, before?: Workings): Tried {
  const { field, quick, pairings } = aim;
  const body = field.bodies[candidate.body]!;
  const { base: ground, lid: above } = pairings[candidate.pairing]!;
  const rough = aim.balls(candidate.pairing, candidate.at);
  const o = aim.openIndex(candidate.at);
  const hit: Hit = { score: 0, force: 0 };
  let best = { score: -Infinity, force: 0, base: rough.base, lid: rough.lid };
  for (const base of grains(ground.site, rough.base))
    for (const lid of grains(above.site, rough.lid)) {
      quick.pose(toAxes(field, base), toAxes(field, lid), o, 1);
      quick.best(body, candidate.quantity, hit);
      let { score } = hit;
      score = Math.min(score, heldOrNot(quick.joint('base')), heldOrNot(quick.joint('lid')));
      if (candidate.quantity === 1 && quick.twinGapMm(body) < 0) score = Math.min(score, -1);
      if (score > best.score) best = { score, force: hit.force, base, lid };
    }
  quick.pose(toAxes(field, best.base), toAxes(field, best.lid), o, 1);
  quick.lengths(body);
  const set = aim.stems(candidate.pairing, body, best.base, best.lid);
  const endOf = (end: 'base' | 'lid'): Fitted['ends']['base'] => {
    const { site } = end === 'base' ? ground : above;
    const { azimuthDeg, tiltDeg, stem } = set[end];
    const { fitting, rangeDeg } = field.ends[end];
    const { x, y, axis } = field;
    const inBase = [0, 1, 2].map(
      (i) => stem[0] * x[i]! + stem[1] * y[i]! + stem[2] * axis.opening[i]!,
    ) as unknown as Vec3;
    return {
      ...{ zoneId: site.zone.id, fitting, rangeDeg, azimuthDeg, tiltDeg },
      normal: site.normal,
      reference: fine(referenceOn(site, best.base, best.lid)),
      stem: inBase,
    };
  };
  const bare: Fitted = {
    base: best.base,
    lid: best.lid,
    quantity: candidate.quantity === 1 ? 2 : 1,
    openDeg: field.opens[o]!.deg,
    spec: body.specs[best.force] as Spec,
    ends: { base: endOf('base'), lid: endOf('lid') },
  };
  const plain = verdictOf(field, bare, before);
  const { brackets, lacking } =
    plain.refused.length > 0 ? { brackets: {}, lacking: [] } : bracketsFor(field, bare, plain.workings);
  const fitted: Fitted = Object.keys(brackets).length > 0 ? { ...bare, brackets } : bare;
  const { refused, workings, ...verdict } = fitted === bare ? plain : verdictOf(field, fitted, plain.workings);
  const place: Place = { ...fitted, ...verdict, entry: field.list[body.entry]!.name, playMm: 0 };
  const twinTouches = candidate.quantity === 1 && quick.twinGapMm(body) < 0;
  const standing = [
    ...refused,
    ...(twinTouches ? [twinFinding(quick.twinGapMm(body), field.job)] : []),
    ...lacking.map((end) => noBracket(end, field.job)),
  ];
  return {
    place:
      standing.length === 0
        ? { ...place, playMm: playOf(field, quick, place, { body, force: best.force, workings }) }
        : place,
    refused: standing,
    workings,
  };
}

const fails = (
  job: Aim['field']['job'],
): Pick<Finding, 'case' | 'everyCase' | 'subject' | 'state' | 'unit' | 'worstDeg'> => ({
  ...{ case: job.loadCases[0]!.id, everyCase: true, subject: job.struts[0]!.id, unit: 'mm', worstDeg: null },
  state: 'fails',
});

function twinFinding(shortMm: number, job: Aim['field']['job']): Finding {
  const limit = job.limits.clearanceMm;
  return {
    ...fails(job),
    id: 'clearance-twin',
    ...{ value: shortMm + limit, limit, margin: shortMm },
    text: 'The two struts of the pair come too near to each other.',
    advice: 'Fix them further from the middle of the hinge.',
  };
}

function noBracket(end: 'base' | 'lid', job: Aim['field']['job']): Finding {
  return {
    ...fails(job),
    id: `${end}-bracket`,
    ...{ value: null, limit: null, margin: null },
    text: `No first bracket that was tried at the ${end} end bears its strut.`,
    advice: 'Choose a stronger spot, or let the ball stand nearer to the surface.',
  };
}
