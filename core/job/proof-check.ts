import type { Issue } from '../error';
import { type ProofKind, PROOF_UNIT } from './proof-kinds';
import type { CheckedJob } from './parts';
import type { ProofReading } from './types';

const WORDS: Record<ProofKind, string> = {
  'strut-length': 'a strut length',
  'free-length': 'a free length',
  'pivot-to-hinge': 'a distance to the hinge',
  'hand-force': 'a hand force',
  'lifts-from': 'an angle from which the lid lifts',
  'falls-from': 'an angle from which the lid falls',
  'rests-at': 'a rest angle',
  'opens-to': 'an opening angle',
  'joint-angle': 'a joint angle',
  'lid-mass': "the lid's mass",
};

/** Value of a proof reading in its kind's own unit; undefined where it is not filled in. */
export function proofValue(r: ProofReading): number | undefined {
  return { mm: r.valueMm, N: r.valueN, deg: r.valueDeg, kg: r.valueKg }[PROOF_UNIT[r.what]];
}

/** What the proof refers to that isn't there, and measurements that don't say enough to be compared. */
export function proofIssues(job: CheckedJob): Issue[] {
  const { proof } = job;
  if (!proof) return [];
  const issues: Issue[] = [];
  const cases = new Set(job.loadCases.map((c) => c.id));
  const struts = new Set(job.struts.map((s) => s.id));
  const say = (what: string, where: (string | number)[], advice: string): void =>
    void issues.push({ what, where: ['proof', ...where], advice });

  if (proof.loadCase !== undefined && !cases.has(proof.loadCase))
    say(`the proof was done in the load case "${proof.loadCase}", which is not there`, ['loadCase'], 'Choose another.');
  const seen = new Set<string>();
  (proof.readings ?? []).forEach((r, i) => {
    const where = ['readings', i];
    const name = `measurement ${i + 1}, ${WORDS[r.what]},`;
    if (seen.has(r.id)) say(`the id "${r.id}" stands twice in the proof`, [...where, 'id'], 'Rename one.');
    seen.add(r.id);
    if (r.loadCase !== undefined && !cases.has(r.loadCase))
      say(
        `${name} was read in the load case "${r.loadCase}", which is not there`,
        [...where, 'loadCase'],
        'Choose another.',
      );
    const ofStrut = r.what === 'strut-length' || r.what === 'joint-angle';
    const ofEnd = r.what === 'joint-angle' || r.what === 'pivot-to-hinge';
    if ((ofStrut || ofEnd || r.what === 'free-length') && r.strut === undefined)
      say(`${name} names no strut`, [...where, 'strut'], 'Choose the strut.');
    if (r.strut !== undefined && !struts.has(r.strut))
      say(`${name} is of the strut "${r.strut}", which is not there`, [...where, 'strut'], 'Choose another.');
    if (ofEnd && r.end === undefined)
      say(`${name} names no end of the strut`, [...where, 'end'], 'Say "base" or "lid".');
    if (
      (ofStrut && r.at === undefined && r.angleDeg === undefined) ||
      (r.what === 'hand-force' && r.angleDeg === undefined)
    )
      say(`${name} does not say at which angle of the lid`, [...where, 'angleDeg'], 'Give the angle.');
    if (r.what === 'hand-force' && r.way === undefined)
      say(`${name} does not say which way the lid moved`, [...where, 'way'], 'Say "opening" or "closing".');
    if (proofValue(r) === undefined) say(`${name} has no value`, where, 'Type what was measured, or remove it.');
  });
  return issues;
}
