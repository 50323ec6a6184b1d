import { PROOF_UNIT, type ProofReading, type ResolvedJob, proofValue } from '../job';
import { USUAL_PROOF_SIGMA } from './sigma';
import type { Probe, Reading } from './types';

/** Temperature at which a lid counts as tried where nobody says, °C. */
export const USUAL_TEMP_C = 20;

/** The condition that a job's proof was done in, where a reading does not say its own. */
export const proofCondition = (job: ResolvedJob): { readonly loadCase: string; readonly tempC: number } => ({
  loadCase: job.proof?.loadCase ?? job.loadCases[0]!.id,
  tempC: job.proof?.tempC ?? USUAL_TEMP_C,
});

/** σ of a reading in its own unit: its row's, or its tool's usual one. */
export function sigmaOfReading(r: ProofReading): { readonly value: number; readonly usual: boolean } {
  const given = { mm: r.sigmaMm, N: r.sigmaN, deg: r.sigmaDeg, kg: r.sigmaKg }[PROOF_UNIT[r.what]];
  if (given !== undefined) return { value: given, usual: false };
  const usual = USUAL_PROOF_SIGMA[r.what].sigma;
  // a scale for heavy things reads no finer than half a percent of what hangs on it
  return { value: r.what === 'lid-mass' ? Math.max(usual, 0.005 * (r.valueKg ?? 0)) : usual, usual: true };
}

/** What a reading of the job measures, whether it has a value or not. */
export function probeOf(job: ResolvedJob, r: ProofReading): Probe {
  const condition = proofCondition(job);
  return {
    what: r.what,
    ...(r.strut === undefined ? {} : { strut: r.strut }),
    ...(r.end === undefined ? {} : { end: r.end }),
    ...(r.way === undefined ? {} : { way: r.way }),
    at: r.what === 'hand-force' ? 'angle' : (r.at ?? 'angle'),
    angleDeg: r.angleDeg ?? (PROOF_UNIT[r.what] === 'deg' ? (r.valueDeg ?? 0) : 0),
    pull: r.pull ?? 'square',
    loadCase: r.loadCase ?? condition.loadCase,
    tempC: r.tempC ?? condition.tempC,
    strutsOff: r.strutsOff ?? false,
  };
}

/** All measurements of a job that have a value and are not left out. */
export function readingsOf(job: ResolvedJob): Reading[] {
  return (job.proof?.readings ?? []).flatMap((r): Reading[] => {
    const value = proofValue(r);
    if (value === undefined || r.use === false) return [];
    return [{ ...probeOf(job, r), id: r.id, value, sigma: sigmaOfReading(r).value }];
  });
}
