import { bracketSpecOf, standBracket } from '../bracket';
import { attempt } from '../error';
import type { Bracket, ResolvedJob } from '../job';
import { wrapDeg } from '../joint';
import { type Finding, type Proposal, degrees } from './finding';

/** Stems closer than this count as the same, degrees: finer than anybody bends. */
const SAME_DEG = 0.05;

const rounded = (deg: number): number => Math.round(deg * 1000) / 1000;

/** What a makeable bracket's stem has to say against that of its strut's end, with the azimuth and tilt that would agree; null when they do. */
export function bracketStem(
  job: Pick<ResolvedJob, 'struts' | 'points'>,
  bracket: Bracket,
  name: string,
): Pick<Finding, 'id' | 'state' | 'text' | 'advice' | 'proposal'> | null {
  const i = job.struts.findIndex((s) => s.id === bracket.strut);
  const strut = job.struts[i];
  const end = strut?.ends[bracket.end];
  const ball = strut && job.points.find((p) => p.id === strut[bracket.end])?.at;
  if (!end || !ball) return null;
  const stand = attempt(() => standBracket({ end, ball, spec: bracketSpecOf(bracket) })).value;
  if (!stand || stand.stemMismatchDeg < SAME_DEG) return null;
  const at = ['struts', i, 'ends', bracket.end];
  const azimuthDeg = rounded(wrapDeg(stand.azimuthDeg));
  const tiltDeg = rounded(stand.tiltDeg);
  const proposal: Proposal = end.stem
    ? {
        label: 'Point the stud as the bracket holds it',
        path: [...at, 'stem', 0],
        value: stand.stem[0],
        more: [1, 2].map((k) => ({ path: [...at, 'stem', k], value: stand.stem[k]! })),
      }
    : {
        label: `Set azimuth ${degrees(azimuthDeg)}, tilt ${degrees(tiltDeg)}`,
        path: [...at, 'tiltDeg'],
        value: tiltDeg,
        more: [{ path: [...at, 'azimuthDeg'], value: azimuthDeg }],
      };
  return {
    id: 'bracket-stem',
    state: 'watch',
    text: `${name}: the joint’s stud in the job points ${degrees(stand.stemMismatchDeg)} away from where this bracket holds it.`,
    advice:
      'Set the stud’s azimuth and tilt to the bracket’s, put a wedge of that angle under the bracket, or choose a kind that leans.',
    proposal,
  };
}
