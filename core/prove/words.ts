import { PROOF_UNIT, type ProofKind, type ResolvedJob } from '../job';
import type { Dimension } from '../quantity';
import type { Probe } from './types';

const SIGN = { mm: 'mm', N: 'N', deg: '°', kg: 'kg' } as const;
const DIMENSION = { mm: 'length', N: 'force', deg: 'angle', kg: 'mass' } as const;

/** Unit of a kind as written. */
export const unitSign = (what: ProofKind): 'mm' | 'N' | '°' | 'kg' => SIGN[PROOF_UNIT[what]];

/** Dimension of a kind's value. */
export const dimensionOf = (what: ProofKind): Dimension => DIMENSION[PROOF_UNIT[what]];

const deg = (v: number): string => `${Number(v.toFixed(1))}°`;

/** A strut as a sentence names it: "the strut", or its name where there are several. */
export function strutWords(job: ResolvedJob, id: string): string {
  const i = job.struts.findIndex((s) => s.id === id);
  if (job.struts.length === 1) return 'the strut';
  return job.struts[i]?.name ?? `strut ${i + 1}`;
}

/** A measurement in plain words, as a line of a checklist: "Hand force opening, lid at 20°". */
export function probeWords(job: ResolvedJob, p: Probe): string {
  const where = p.at === 'closed' ? 'lid closed' : p.at === 'open' ? 'lid fully open' : `lid at ${deg(p.angleDeg)}`;
  const of = p.strut !== undefined && job.struts.length > 1 ? ` of ${strutWords(job, p.strut)}` : '';
  const off = p.strutsOff
    ? job.struts.length > 1 || job.struts[0]?.quantity === 2
      ? ', struts off'
      : ', strut off'
    : '';
  switch (p.what) {
    case 'strut-length':
      return `Distance between the pivots${of}, ${where}`;
    case 'free-length':
      return `Length${of || ' of the strut'}, free and fully extended`;
    case 'pivot-to-hinge':
      return `Distance from the nearer hinge pin to the ${p.end} pivot${of}`;
    case 'hand-force':
      return `Hand force ${p.way === 'closing' ? 'closing' : 'opening'}, ${where}${p.pull === 'upright' ? ', pulled straight up' : ''}${off}`;
    case 'lifts-from':
      return `Lid rises by itself from${off}`;
    case 'falls-from':
      return `Lid falls by itself below${off}`;
    case 'rests-at':
      return `Lid stays put around${off}`;
    case 'opens-to':
      return 'Lid opens to';
    case 'joint-angle':
      return `Joint angle at the ${p.end} end${of}, ${where}`;
    case 'lid-mass':
      return 'Mass of the whole lid with all that was on it, on a scale';
  }
}
