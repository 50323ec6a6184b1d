import { headline, worstFirst } from '../../core/findings';
import { STANDARD_GRAVITY, formatQuantity } from '../../core/quantity';
import { massCentre } from '../../core/travel';
import { type BenchState, type Stage, stageOf } from '../state/store';
import { useToldMade } from '../state/told';

const count = (n: number, one: string, many = `${one}s`): string => `${n === 0 ? 'No' : n} ${n === 1 ? one : many}`;

/** What fails of a stage, its worst first in one line; or that nothing does. */
function standing(s: BenchState, stage: Stage, holds: string): string {
  if (!s.outcome) return 'It can’t be worked out yet.';
  const own = worstFirst(s.findings).filter((f) => !f.caution && stageOf(f) === stage);
  const [worst, ...more] = own.filter((f) => f.state === 'fails');
  if (worst) {
    const others = new Set(more.map((f) => `${f.id} ${f.subject}`));
    others.delete(`${worst.id} ${worst.subject}`);
    return `Not yet. ${headline(worst, s.units)}${others.size > 0 ? `, and ${others.size} more` : ''}.`;
  }
  const unknown = own.find((f) => f.state === 'unknown');
  return unknown ? `Not known yet. ${headline(unknown, s.units)}.` : holds;
}

/** What the weakest place of all brackets bears over what it must. */
function bears({ resolved, outcome }: BenchState): string {
  const reserves = resolved.brackets.flatMap(
    (b) => outcome?.knownAssessment(b.id)?.results.map((r) => r.safetyFactor) ?? [],
  );
  const least = Math.min(...reserves);
  return Number.isFinite(least)
    ? `Yes: the weakest place bears ${least.toFixed(2)} times what it must, shocks counted.`
    : 'Nothing of it fails.';
}

function answer(s: BenchState, stage: Stage): string {
  const { resolved: job, outcome, units } = s;
  const mm = (v: number): string => formatQuantity(v, 'length', units);
  switch (stage) {
    case 'measure':
      return `${count(job.observations.length, 'reading')} and ${count(job.photos.length, 'photo').toLowerCase()}.`;
    case 'weigh': {
      const all = massCentre(job);
      if (!all) return 'Nothing has a mass yet.';
      const kg = formatQuantity(all.kg, 'mass', units, 1);
      const nm = outcome && Math.abs(outcome.plans[0]!.cosNmm) / 1000;
      if (!outcome || nm === null || outcome.plans[0]!.massKg !== all.kg) return `${kg} with everything on.`;
      const arm = (1000 * nm) / (all.kg * STANDARD_GRAVITY);
      const handle = (1000 * nm) / outcome.frame.gripRadiusMm / STANDARD_GRAVITY;
      return `${kg}, acting ${formatQuantity(arm, 'length', units, units.length === 'in' ? 1 : 0)} from the hinge: ${formatQuantity(handle, 'mass', units, 1)} at the handle when closed.`;
    }
    case 'place': {
      const row = outcome?.tables[0]?.struts[0];
      const open = outcome ? `${Number(outcome.frame.openDeg.toFixed(1))}°` : '';
      if (!row) return standing(s, stage, 'There is no strut yet.');
      return `Between the balls ${mm(row.lengthMm[0]!)} closed and ${mm(row.lengthMm.at(-1)!)} open at ${open}.`;
    }
    case 'strut':
      return standing(s, stage, `What is fitted does it in all ${job.loadCases.length} load cases.`);
    case 'joints':
      return standing(s, stage, 'Yes: both do, over the whole travel.');
    case 'bracket':
      return job.brackets.length === 0 ? 'There is no bracket yet.' : standing(s, stage, bears(s));
    case 'papers':
      return 'Every paper is made from the job as it is now.';
    case 'prove':
      return `${count(job.proof?.readings?.length ?? 0, 'reading')} taken. Keep the prop in until every one is.`;
  }
}

/** How a stage stands, in the number that matters. */
export const useAnswer = (stage: Stage): string => useToldMade((s) => answer(s, stage));
