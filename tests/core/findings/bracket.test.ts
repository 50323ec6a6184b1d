import { setBracketKind } from '../../../core/bracket';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bracketSpecOf, checkBracket } from '../../../core/bracket';
import { bracketShape } from '../../../core/findings/bracket';
import { type CheckContext, settingsOf } from '../../../core/findings/finding';
import { BRACKET_KINDS, type Job, readJob, resolveJob, setValue } from '../../../core/job';

const example = readJob(readFileSync('tests/fixtures/jobs/workboat-hatch.lidjob', 'utf8'));
const look = (job: Job) => {
  const resolved = resolveJob(job);
  const issues = resolved.brackets.map((bracket) => checkBracket(bracketSpecOf(bracket)));
  return bracketShape.run({ job: resolved, issues } as unknown as CheckContext);
};
const stem = (job: Job) => look(job).find((f) => f.id === 'bracket-stem');

describe('a bracket’s stem against its joint’s', () => {
  it.each(BRACKET_KINDS)('%s: says how far it is off, and the proposal mends it', (kind) => {
    const job = setBracketKind(example, { id: 'b1', kind });
    const found = stem(job);
    const flat = kind === 'flat-tab' || kind === 'wedge-plate';
    expect(found?.text).toEqual(
      flat ? expect.stringMatching(/points \d+° away from where this bracket holds it/) : undefined,
    );
    if (!found) return;
    const mended = settingsOf(found.proposal!).reduce((next, { path, value }) => setValue(next, { path, value }), job);
    expect(stem(mended)).toBeUndefined();
  });

  it('mends a stem given as a direction too', () => {
    const end = ['struts', 0, 'ends', 'base'];
    const job = setValue(example, { path: [...end, 'stem'], value: [0.8, 0.3, 0.4] });
    const found = stem(job)!;
    expect(found.state).toBe('watch');
    const mended = settingsOf(found.proposal!).reduce((next, { path, value }) => setValue(next, { path, value }), job);
    expect(stem(mended)).toBeUndefined();
  });

  it('says that a bare stem knows no mount', () => {
    const end = ['struts', 0, 'ends', 'base'];
    const bare = setValue(setValue(example, { path: [...end, 'stem'], value: [1, 0, 0] }), {
      path: [...end, 'mount'],
      value: undefined,
    });
    expect(look(bare).map((f) => f.id)).toContain('bracket-mount');
  });
});
