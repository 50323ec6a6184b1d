import { type BracketStand, bracketMesh, bracketSpecOf, checkBracket, outOfBracket, standBracket } from '../bracket';
import {
  type Clearance,
  type ClearanceOptions,
  type StrutPart,
  type StrutSizes,
  obstacleSolid,
  panelSolid,
  smallestGap,
} from '../clearance';
import type { Bracket, EndName } from '../job';
import { sizedFitting } from '../joint';
import { LidwrightError, attempt } from '../error';
import { type Solid, type TriangleMesh, meshSolid } from '../solid';
import { type Vec3, add, dot, rad, scale } from '../space';
import { type Passage, type StrutGeometry, turned, turning } from '../travel';
import { type CheckContext, type Finding, check, degrees, formatter, strutName } from './finding';
import { rodEnd } from './joint-travel';

/** A gap that clears its limit by less than this is watched, mm. */
const CLOSE_MM = 1;
/** The panel, and a bracket, are let be this far round the pivot of a strut that stands on them where the job says nothing, mm. */
export const PANEL_FREE_MM = 60;
/** So many gaps are worked out, some seconds' work: those of the first struts in the job. */
const MOST_LOOKS = 300;
type ClosestPair = ReturnType<typeof strutClearance>;
/** Facets on the round of a bracket: a gap is off by the sagitta, 0.1 mm on a 6 mm corner. */
const BRACKET_FACETS = 16;
/** A bracket's body as coarse as clearances need it; null where it can't be made as drawn, and why where it can't be drawn. */
export function clearanceMesh(bracket: Bracket): TriangleMesh | LidwrightError | null {
  const spec = bracketSpecOf(bracket);
  if (checkBracket(spec).some((issue) => issue.severity === 'fails')) return null;
  const { value, error } = attempt(() => bracketMesh(spec, BRACKET_FACETS));
  return value ?? error;
}

/**
 * The sizes a strut is reckoned with for clearances: its own tube and rod, its fittings' sizes or those usual for its rod.
 * Where the job does not say which way round it hangs, the rod is at the lower end with the lid closed (common practice, no
 * source: oil then stays on the seal), as the views draw it.
 */
export function strutSizes(plan: Passage, k: number): StrutSizes {
  const strut = plan.job.struts[k]!;
  const end = (name: EndName) => {
    const { fitting } = sizedFitting(strut.ends[name].fitting, strut.spec.rodMm);
    return {
      headRadiusMm: fitting.headRadiusMm?.value ?? 0,
      shankRadiusMm: fitting.shankRadiusMm?.value ?? 0,
      offsetMm: fitting.offsetMm?.value ?? 0,
    };
  };
  return {
    tubeMm: strut.spec.tubeMm,
    rodMm: strut.spec.rodMm,
    rodAt: rodEnd(plan, k),
    base: end('base'),
    lid: end('lid'),
  };
}

/** The mirror twin of a quantity-2 strut, about the middle plane of the hinge. */
export function twinOf<S extends StrutGeometry>(plan: Pick<Passage, 'axis'>, strut: S): S {
  const { along, opening, spanMm } = plan.axis;
  const mirror = (v: Vec3): Vec3 => add(v, scale(along, spanMm - 2 * dot(v, along)));
  return { ...strut, base: mirror(strut.base), lid: turning(mirror(turned(strut.lid, rad(0))), opening) };
}

/** The smallest gap of a strut, its twin included, to a solid. */
export function strutClearance(
  plan: Passage,
  strut: Passage['struts'][number],
  sizes: StrutSizes,
  solid: Solid,
  options: ClearanceOptions,
): (Clearance & { readonly twin: boolean }) | null {
  const own = smallestGap(plan, strut, sizes, solid, options);
  const other = strut.quantity === 2 ? smallestGap(plan, twinOf(plan, strut), sizes, solid, options) : null;
  if (other && (!own || other.gapMm < own.gapMm)) return { ...other, twin: true };
  return own && { ...own, twin: false };
}

/** How a bracket stands where its strut's end puts it, in that end's body axes; null for a bare stem. */
export function bracketStand(
  plan: Pick<Passage, 'axis' | 'job'>,
  strut: StrutGeometry,
  bracket: Bracket,
): BracketStand | null {
  const end = plan.job.struts.find((s) => s.id === strut.id)?.ends[bracket.end];
  if (!end?.mount) return null;
  const pivot = bracket.end === 'base' ? strut.base : turned(strut.lid, rad(0));
  // a mount whose reference stands along its normal gives a bracket no direction: the job's check says so
  const ball = add(plan.axis.origin, pivot);
  return attempt(() => standBracket({ end, ball, spec: bracketSpecOf(bracket) })).value;
}

/** A bracket of this mesh as a solid where its strut end puts it, in its body's axes; null for a bare stem. */
export function bracketSolid(plan: Passage, strut: StrutGeometry, bracket: Bracket, mesh: TriangleMesh): Solid | null {
  const stand = bracketStand(plan, strut, bracket);
  return stand && meshSolid(mesh, (p) => add(stand.originMm, outOfBracket(stand, p)));
}

/** clearance-…: the smallest gap of each strut to each obstacle, to the lid's panel and to brackets, over the whole travel. */
export const clearances = check(
  'clearances',
  {
    job: ['obstacles', 'panel', 'outline', 'points', 'brackets', 'limits'],
    from: ['passage', 'loads', 'meshes', 'units'],
  },
  (context) => {
    const { job, passage: plan, meshes } = context;
    let looks = 0;
    const solids = new Map<TriangleMesh, Solid | null>();
    const solidOf = (bracket: Bracket, mesh: TriangleMesh): Solid | null => {
      if (!solids.has(mesh)) {
        const holder = plan.struts.find((s) => s.id === bracket.strut);
        solids.set(mesh, holder ? bracketSolid(plan, holder, bracket, mesh) : null);
      }
      return solids.get(mesh)!;
    };
    const found = plan.struts.flatMap((strut, k): Finding[] => {
      const sizes = strutSizes(plan, k);
      const found: Finding[] = [];
      const gapTo = (solid: () => Solid, options: ClearanceOptions): ClosestPair =>
        ++looks > MOST_LOOKS ? null : strutClearance(plan, strut, sizes, solid(), options);
      const say = (id: string, name: string, gap: ClosestPair, limit: number): void => {
        if (gap) found.push(speak(context, strut, id, name, gap, limit));
      };
      const { clearanceMm } = job.limits;
      for (const { id, name, on, freeMm = 0, ...shape } of job.obstacles)
        say(
          id,
          name ?? id,
          gapTo(() => obstacleSolid(shape), { on, freeMm }),
          clearanceMm,
        );
      const freeMm = job.panel?.freeMm ?? PANEL_FREE_MM;
      for (const { id, name, body } of context.loads)
        say(
          `load-${id}`,
          name,
          gapTo(() => obstacleSolid(body), { on: 'lid' }),
          clearanceMm,
        );
      const panel = panelSolid(job, plan.axis);
      if (panel)
        say(
          'panel',
          'the lid’s panel',
          gapTo(() => panel, { on: 'lid', freeMm }),
          clearanceMm,
        );
      // brackets alike share their mesh, and stand in one place
      const known = new Map<TriangleMesh, { readonly near: ClosestPair; readonly rest: ClosestPair }>();
      for (const [i, bracket] of job.brackets.entries()) {
        const mesh = meshes[i];
        if (mesh instanceof LidwrightError) continue;
        const solid = mesh && solidOf(bracket, mesh);
        if (!solid) continue;
        const name = bracket.name ?? bracket.id;
        const own = bracket.strut === strut.id;
        const { end: on } = bracket;
        if (!known.has(mesh))
          known.set(mesh, {
            near: own ? gapTo(() => solid, { on }) : null,
            rest: gapTo(() => solid, { on, freeMm: own ? freeMm : 0 }),
          });
        const { near, rest } = known.get(mesh)!;
        // its own joint stands on it: round that it must only not touch
        say(`joint-${bracket.id}`, name, near, 0);
        say(bracket.id, name, rest, clearanceMm);
      }
      return found;
    });
    meshes.forEach((mesh, i) => {
      if (mesh instanceof LidwrightError) found.push(notDrawn(plan.caseId, job.brackets[i]!, mesh));
    });
    return looks > MOST_LOOKS ? [...found, notLooked(plan.caseId, looks)] : found;
  },
  { slow: ({ obstacles, outline, brackets }) => obstacles.length + outline.length + brackets.length > 0 },
);

const notKnown = (caseId: string, id: string, subject: string): Omit<Finding, 'text' | 'advice'> => ({
  ...{ id, case: caseId, everyCase: true, subject, state: 'unknown', unit: 'mm' },
  ...{ value: null, limit: null, margin: null, worstDeg: null },
});
const notDrawn = (caseId: string, { id, name = id }: Bracket, { what, advice }: LidwrightError): Finding => ({
  ...notKnown(caseId, `clearance-${id}`, id),
  text: `How near struts come to ${name} is not known, because ${what}.`,
  advice,
});
const notLooked = (caseId: string, looks: number): Finding => ({
  ...notKnown(caseId, 'clearance-rest', 'struts'),
  text: `There are ${looks} gaps between struts and what may be in their way, those to brackets alike counted once; the first ${MOST_LOOKS} are worked out, the others are not known.`,
  advice: 'Remove what no strut comes near, or look at some of the struts in a job of their own.',
});

/** Whether the part's size was taken from the rod, because the job does not name the fitting. */
function sizeAssumed({ job }: Passage, k: number, part: StrutPart): boolean {
  if (part === 'tube' || part === 'rod') return false;
  const strut = job.struts[k]!;
  return sizedFitting(strut.ends[part.startsWith('base') ? 'base' : 'lid'].fitting, strut.spec.rodMm).assumed;
}

function speak(
  { passage, units }: CheckContext<never, 'passage' | 'units'>,
  strut: StrutGeometry,
  id: string,
  name: string,
  gap: Clearance & { readonly twin: boolean },
  limit: number,
): Finding {
  const f = formatter(units);
  const margin = gap.gapMm - limit;
  const broken = margin < 0;
  const k = passage.struts.findIndex((s) => s.id === strut.id);
  // a size that nobody has stated can warn, not condemn
  const assumed = sizeAssumed(passage, k, gap.part);
  const who = `${strutName(passage.job, strut.id)}${gap.twin ? ' (its twin)' : ''}`;
  const shown = f(Math.abs(gap.gapMm), 'length');
  const open = gap.atDeg < 1e-6 ? 'closed' : `open ${degrees(Math.round(gap.atDeg * 10) / 10)}`;
  return {
    id: `clearance-${id}`,
    case: passage.caseId,
    everyCase: true,
    subject: strut.id,
    state: broken && !assumed ? 'fails' : broken || margin < CLOSE_MM ? 'watch' : 'holds',
    value: gap.gapMm,
    limit,
    margin,
    unit: 'mm',
    worstDeg: gap.atDeg,
    text:
      gap.gapMm < 0
        ? `${who}, ${gap.part}, runs into ${name}: ${shown} or more deep with the lid ${open}.`
        : `${who} clears ${name} by ${shown}${limit > 0 ? ` (wants ${f(limit, 'length')})` : ''}: its ${gap.part}, with the lid ${open}.`,
    advice: broken && assumed ? 'The joint’s size is assumed from the rod: name the fitting to be sure.' : '',
  };
}
