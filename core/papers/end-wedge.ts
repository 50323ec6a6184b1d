import { bracketSpecOf, isBent, isPinned } from '../bracket';
import type { Bracket, EndName, ResolvedJob, Strut } from '../job';
import { USUAL_WEDGE, type UnderBracket, type WedgeHole, type WedgeSpec, wedgeUnderEnd } from '../joint';

/** Less than this is no wedge, degrees. */
const LEAST_DEG = 0.05;

/** The hands of a wedge that each strut of a pair asks for: one that serves both, or, where its holes lie unevenly, it and its mirror image. */
export function wedgeHands(wedge: WedgeSpec): readonly WedgeSpec[] {
  const turned = wedge.holes.map((h) => ({ ...h, yMm: 0 - h.yMm }));
  const same = (a: WedgeHole, b: WedgeHole): boolean =>
    Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm, a.diameterMm - b.diameterMm) < 1e-6;
  if (wedge.holes.every((h) => turned.some((t) => same(h, t)))) return [wedge];
  return [wedge, { ...wedge, id: `${wedge.id}-twin`, name: `${wedge.name}, mirrored one`, holes: turned }];
}

/** The bracket at a strut's end. */
export const bracketAt = (job: ResolvedJob, strut: Strut, end: EndName): Bracket | undefined =>
  job.brackets.find((b) => b.strut === strut.id && b.end === end);

/**
 * The wedge that the tilt of a strut's end asks for, one and the same on the screen and on paper: under the whole of a bent bracket, or as the job has
 * it under a stud. Null where the end does not lean, or its bracket leans by itself. Check it with `checkWedge`.
 */
export function endWedge(job: ResolvedJob, strut: Strut, end: EndName): WedgeSpec | null {
  const { stem, tiltDeg = 0, wedge } = strut.ends[end];
  if (stem || Math.abs(tiltDeg) < LEAST_DEG) return null;
  const bracket = bracketAt(job, strut, end);
  const typed = { ...USUAL_WEDGE, ...wedge };
  const named = (spec: WedgeSpec, id: string, name: string): WedgeSpec => ({ ...spec, id: `wedge-${id}`, name });
  const name = strut.name ?? strut.id;
  if (!bracket)
    return named(wedgeUnderEnd(end, tiltDeg, null, typed), `${strut.id}-${end}`, `Wedge, ${name}, ${end} end`);
  if (!isBent(bracket) || isPinned(bracket)) return null;
  const { baseLegMm, baseWidthMm, fixings } = bracketSpecOf(bracket);
  const under: UnderBracket = { baseLegMm, baseWidthMm, fixings };
  return named(wedgeUnderEnd(end, tiltDeg, under, typed), bracket.id, `Wedge under ${bracket.name ?? bracket.id}`);
}
