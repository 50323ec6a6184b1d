import { attempt, fail, type Issue } from '../error';
import type { Mass, ResolvedJob } from '../job';
import { type Vec3, add, cross, dot, norm, perpendicularTo, rotateVec, scale, sub, toRad, unit } from '../space';
import { openingAxis } from '../travel';
import { carriedThrough } from './fit';
import { type MassFound, type Weighing, massFromWeighings } from './lifted';
import { type KnownItem, type MassProposal, proposalFromLifted, withoutKnown } from './proposal';
import { type ReadingCheck, onLidAt, weighedItems } from './pulls-of-job';

/** How sure weighings are where nobody says (common practice, no source): a bathroom scale, a level, edges a few mm wide. */
export const USUAL_LIFTED = { sigmaN: 3, sigmaDeg: 0.5, sigmaMm: 3 } as const;

const UP: Vec3 = [0, 0, 1];

/** How the lid stood in one weighing; lid coordinates (base frame, lid closed). */
export interface Stand {
  readonly up: Vec3;
  /** Along both edges. */
  readonly edge: Vec3;
  readonly firstMm: Vec3;
  /** Shifted along its edge to be straight across from the first. */
  readonly secondMm: Vec3;
}

/** What the weighings of the lifted lid in a job say. What can't be found is null, and `trouble` says why. */
export interface LiftedFound {
  readonly stands: readonly (Stand | null)[];
  /** Two for each weighing, first and second edge; null where a block stood. */
  readonly readings: readonly (readonly [ReadingCheck | null, ReadingCheck | null])[];
  readonly whole: MassFound | null;
  readonly item: Mass | null;
  readonly known: readonly KnownItem[];
  readonly proposal: MassProposal | null;
  readonly trouble: readonly Issue[];
}

/**
 * How the lid stands on two edges that run through the given points: along the hinge where the points lie apart across it, and
 * square to the hinge, towards the grip, where they lie apart along it. The edges lie level; without a tilt the lid lies as
 * it does when closed, as far as level edges let it. Tilted about its edges, the second one up where positive. Throws a LidwrightError as openingAxis does.
 */
export function standOf(job: ResolvedJob, between: readonly [string, string], tiltDeg: number): Stand | null {
  const at = new Map(job.points.map((p) => [p.id, p.at as Vec3]));
  const [first, second, grip] = [at.get(between[0]), at.get(between[1]), at.get(job.grip)];
  if (!first || !second || !grip) return null;
  const { opening, origin } = openingAxis(job);
  const apart = sub(second, first);
  const along = Math.abs(dot(apart, opening));
  const edge =
    norm(perpendicularTo(apart, opening)) >= along ? opening : unit(perpendicularTo(sub(grip, origin), opening));
  const across = perpendicularTo(apart, edge);
  // both edges lie on level scales
  const raised = perpendicularTo(UP, edge);
  const up = norm(raised) > 0.01 ? unit(raised) : unit(cross(opening, edge));
  const turn = dot(cross(edge, across), up) < 0 ? scale(edge, -1) : edge;
  return { up: rotateVec(up, turn, toRad(-tiltDeg)), edge, firstMm: first, secondMm: add(first, across) };
}

/** A place as the stand is seen along its edges: mm level from the first edge towards the second, and mm up. */
export const seenAlongEdges = ({ up, edge, firstMm, secondMm }: Stand): ((p: Vec3) => readonly [number, number]) => {
  const level = unit(cross(up, edge));
  const across = dot(sub(secondMm, firstMm), level) < 0 ? scale(level, -1) : level;
  return (p) => [dot(sub(p, firstMm), across), dot(sub(p, firstMm), up)];
};

const centre = (items: readonly KnownItem[]): Vec3 => {
  const kg = items.reduce((s, i) => s + i.kg, 0);
  return scale(
    items.reduce<Vec3>((s, i) => add(s, scale(i.atMm, i.kg)), [0, 0, 0]),
    1 / kg,
  );
};

/** Nothing was measured along these directions, so nothing there varies. */
function fixedAlong(p: MassProposal, directions: readonly Vec3[]): MassProposal {
  const keep = [0, 1, 2].map((i) => [
    0,
    ...[0, 1, 2].map((j) => (i === j ? 1 : 0) - directions.reduce((s, d) => s + d[i]! * d[j]!, 0)),
  ]);
  const covariance = carriedThrough([[1, 0, 0, 0], ...keep], p.covariance);
  const root = (k: number): number => Math.sqrt(Math.max(0, covariance[k]![k]!));
  return { ...p, covariance, sigma: { kg: root(0), atMm: [root(1), root(2), root(3)] } };
}

/**
 * All that the weighings of the lifted lid in a job give: mass and place of the whole, and of the item that was weighed when
 * the known items are taken off. Never throws for what was read: `trouble` says what keeps it from an answer.
 */
export function liftedFound(job: ResolvedJob): LiftedFound {
  const lifted = job.weighings?.lifted;
  const rows = lifted?.readings ?? [];
  const { item, place, known } = weighedItems(job, 'lifted');
  const found = {
    stands: rows.map((): Stand | null => null),
    readings: rows.map((r): readonly [ReadingCheck | null, ReadingCheck | null] => {
      const blank = (n: number | undefined): ReadingCheck | null =>
        n === undefined ? null : { id: r.id, used: r.use !== false, expectedN: null, offN: null, w: null };
      return [blank(r.firstN), blank(r.secondN)];
    }) as LiftedFound['readings'],
    whole: null as MassFound | null,
    item,
    known,
    proposal: null as MassProposal | null,
    trouble: [] as readonly Issue[],
  };
  const { error } = attempt(() => {
    found.stands = rows.map((r) => standOf(job, r.between, r.tiltDeg ?? 0));
    const used = rows.flatMap((r, i) => (r.use === false || !found.stands[i] ? [] : [i]));
    const on = onLidAt(job, 'lifted');
    const sorted = (i: number): string => [...on[i]!].sort().join();
    const other = used.find((i) => sorted(i) !== sorted(used[0]!));
    if (other !== undefined)
      fail(
        `weighing ${other + 1} was made with other things on the lid than weighing ${used[0]! + 1}`,
        ['weighings', 'lifted', 'readings', other, 'on'],
        'Weighings count together only with the same things on the lid: switch the others off.',
      );
    const sigmaN = lifted?.sigmaN ?? USUAL_LIFTED.sigmaN;
    const weighings = used.map((i): Weighing => {
      const { up, firstMm, secondMm } = found.stands[i]!;
      return {
        up,
        supports: [
          { atMm: firstMm, forceN: rows[i]!.firstN ?? null, sigmaN },
          { atMm: secondMm, forceN: rows[i]!.secondN ?? null, sigmaN },
        ],
        sigmaTiltDeg: lifted?.sigmaDeg ?? USUAL_LIFTED.sigmaDeg,
        sigmaAtMm: lifted?.sigmaMm ?? USUAL_LIFTED.sigmaMm,
      };
    });
    // along what was not measured the item stays where it is; where the whole then lies depends on the masses found
    let ownKg = item?.kg || 1;
    for (let pass = 0; pass < 2; pass++) {
      const whole = massFromWeighings(weighings, centre([...known, { kg: ownKg, atMm: place }]));
      found.whole = whole;
      const own = withoutKnown(proposalFromLifted(whole), known);
      ownKg = own.kg;
      found.proposal = fixedAlong(own, whole.assumed);
    }
    found.readings = checks(rows, used, found.whole!, weighings);
  });
  if (error) {
    found.trouble = error.issues;
    found.proposal = null;
  }
  return found;
}

/** The residuals come in the order of the scales that read something. */
function checks(
  rows: NonNullable<NonNullable<ResolvedJob['weighings']>['lifted']>['readings'] & object,
  used: readonly number[],
  whole: MassFound,
  weighings: readonly Weighing[],
): LiftedFound['readings'] {
  let k = 0;
  const byRow = new Map(
    used.map((i, n) => [
      i,
      weighings[n]!.supports.map((s): ReadingCheck | null => {
        if (s.forceN === null) return null;
        const [off, w] = [-whole.residualsN[k]!, whole.w[k]!];
        k++;
        return { id: rows[i]!.id, used: true, expectedN: s.forceN - off, offN: off, w };
      }) as [ReadingCheck | null, ReadingCheck | null],
    ]),
  );
  return rows.map((r, i) => {
    const off = (n: number | undefined): ReadingCheck | null =>
      n === undefined ? null : { id: r.id, used: false, expectedN: null, offN: null, w: null };
    return byRow.get(i) ?? [off(r.firstN), off(r.secondN)];
  });
}

/** The two corners of the lid farthest apart along its hinge, where its side edges can carry it; null where there are none. */
export function sideEdges(job: ResolvedJob): readonly [string, string] | null {
  const axis = attempt(() => openingAxis(job)).value;
  if (!axis) return null;
  const { opening, origin } = axis;
  const along = (id: string): number => dot(sub(job.points.find((p) => p.id === id)?.at ?? origin, origin), opening);
  const corners = [...job.outline].sort((a, b) => along(a) - along(b));
  return corners.length > 1 ? [corners[0]!, corners.at(-1)!] : null;
}
