// What the page does with relations around an edit, apart from any screen.
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { type Job, RELATION_KINDS, type RelationKind, movePoint, readJob, setValue } from '../../../core/job';
import {
  addRelation,
  answerRelation,
  answered,
  movedText,
  presentValue,
  relationsOff,
  setRelation,
  tryRelation,
} from '../../../core/survey';
import { FORMS, emptyDraft, relationOf, rolesOf, withPoint } from '../../../renderer/state/relations-draft';
import { keepRelations } from '../../../renderer/state/relations-keep';
import { bench, edit, onRelationQuestion, openJob, undoStep } from '../../../renderer/state/store';
import { refusal } from '../../support/refusal';

const text = readFileSync(new URL('../../../tests/fixtures/jobs/workboat-hatch.lidjob', import.meta.url), 'utf8');
const plain = (): Job => readJob(text);
const at = (job: Job, id: string): readonly number[] => job.points.find((p) => p.id === id)!.at as readonly number[];
const level = (): Job => {
  const kept = tryRelation(plain(), { relation: { kind: 'level-with', points: ['s1-lid', 'grip'] } });
  if (!kept.ok) throw new Error(kept.text);
  return kept.job;
};

describe('an edit of a job with relations', () => {
  it('that touches no geometry, or a job without relations, is taken as it is', () => {
    const job = level();
    const titled = setValue(job, { path: ['title'], value: 'x' });
    expect(keepRelations(job, titled)).toEqual({ job: titled, moved: [] });
    const moved = movePoint(plain(), { id: 'grip', at: [-900, 60, 500] });
    expect(keepRelations(plain(), moved)).toEqual({ job: moved, moved: [] });
  });

  it('a typed coordinate stays, the others follow and are named', () => {
    const job = level();
    const typed = movePoint(job, { id: 'grip', at: [-900, 60, 500] });
    const kept = keepRelations(job, typed);
    if (!('job' in kept)) throw new Error('not found at once');
    expect(at(kept.job, 'grip')).toEqual([-900, 60, 500]);
    expect(at(kept.job, 's1-lid')[2]).toBeCloseTo(500, 6);
    expect(kept.moved.map((m) => m.id)).toEqual(['s1-lid']);
    const words = movedText(kept.job, kept.moved, (mm) => `${mm.toFixed(0)} mm`);
    expect(words).toBe('To keep what must hold: Strut, lid end by 72 mm.');
  });

  it('a typed coordinate that can’t be becomes a question, whose answer names what it fights', () => {
    const job = addRelation(level(), { relation: { kind: 'fixed', points: ['s1-lid'] } });
    const kept = keepRelations(job, movePoint(job, { id: 'grip', at: [-900, 60, 500] }));
    if (!('question' in kept)) throw new Error('it was taken');
    expect(kept.question).toMatchObject({ kind: 'put', point: 'grip', axes: [2] });
    const answer = answerRelation(kept.question);
    if (answer.ok || 'failed' in answer) throw new Error('no refusal');
    expect([...answer.fights].sort()).toEqual(['relation', 'relation2']);
    expect(answer.text).toContain('fixed');
  });

  it('where relations did not hold before, it is taken as it is', () => {
    const job = addRelation(plain(), { relation: { kind: 'level-with', points: ['s1-lid', 'grip'] } });
    const next = movePoint(job, { id: 'grip', at: [-900, 60, 500] });
    expect(keepRelations(job, next)).toEqual({ job: next, moved: [] });
  });

  it('a relation spoilt by the edit is refused in words', () => {
    const kept = tryRelation(plain(), { relation: { kind: 'distance', points: ['s1-lid', 'grip'], valueMm: 600 } });
    if (!kept.ok) throw new Error(kept.text);
    const spoilt = setRelation(kept.job, { id: 'relation', patch: { valueMm: -3 } });
    expect(refusal(() => keepRelations(kept.job, spoilt)).what).toMatch(/-3 mm/);
  });

  it('an answer brings the points and the relations; all else stays as it is', () => {
    const job = level();
    expect(job.photos?.length).toBeGreaterThan(0);
    const { photos: _, ...bare } = job;
    const answer = answerRelation({ kind: 'settle', job: bare as Job });
    if (!answer.ok) throw new Error('refused');
    expect(answered(job, answer).photos).toBe(job.photos);
  });
});

describe('the store’s edit', () => {
  beforeEach(() => {
    const job = level();
    openJob(job, { name: 'a.lidjob', token: null, photosFrom: null, saved: job, draftId: 'a' });
  });

  it('settles in the same undo step and says what went along', () => {
    const before = bench.getState().history.present;
    expect(edit('Set z', (job) => movePoint(job, { id: 'grip', at: [-900, 60, 500] }))).toBe(true);
    expect(relationsOff(bench.getState().history.present)).toEqual([]);
    expect(bench.getState().notices.at(-1)?.text).toContain('Strut, lid end');
    expect(bench.getState().history.past).toHaveLength(1);
    undoStep();
    expect(bench.getState().history.present).toBe(before);
  });

  it('hands over what takes longer and leaves the job meanwhile', () => {
    const asked: string[] = [];
    onRelationQuestion((question, _base, label) => asked.push(`${label}: ${question.kind}`));
    edit('Fix it', (job) => addRelation(job, { relation: { kind: 'fixed', points: ['s1-lid'] } }));
    const before = bench.getState().history;
    expect(edit('Set z', (job) => movePoint(job, { id: 'grip', at: [-900, 60, 500] }))).toBe(false);
    expect(asked).toEqual(['Set z: put']);
    expect(bench.getState().history).toBe(before);
    onRelationQuestion(null);
  });
});

describe('a relation put together', () => {
  const ids = ['s1-base', 's1-lid', 'grip', 'c1', 'c2'];
  const whole = RELATION_KINDS.flatMap((kind) => FORMS[kind].map((_, form) => [kind, form] as const));

  it.each(whole)(
    '%s, form %i: points by clicks, the value as it is; demanded so, nothing has to move',
    (kind, form) => {
      const job = plain();
      let draft = emptyDraft(kind as RelationKind, job, form);
      expect(rolesOf(draft)).toHaveLength(draft.points.length);
      if (draft.points.length > 0) expect(relationOf(draft, job)).toBeNull();
      for (let i = 0; draft.points.includes(''); i++) draft = withPoint(draft, ids[i]!)!;
      const relation = relationOf(draft, job)!;
      const value = presentValue(job, relation);
      if (!value) return; // "level" and the like have no value that could be the present one
      // the schema asks for an angle between two lines that is not none, and a length over 0: the example has both
      const kept = tryRelation(job, { relation: { ...relation, [value.key]: value.value } });
      if (!kept.ok) throw new Error(kept.text);
      // a mirror image across a plane is more than its value
      if (kind !== 'mirrored') expect(kept.moved).toEqual([]);
    },
  );

  it('a point is taken once, except as an end of both lines; "in line" takes more', () => {
    const twice = withPoint(withPoint(emptyDraft('distance', plain()), 'grip')!, 'grip');
    expect(twice).toBeNull();
    const fan = ['hingeA', 'grip', 'hingeB', 'grip'].reduce(
      (d, id) => withPoint(d, id)!,
      emptyDraft('equal-distance', plain()),
    );
    expect(fan.points).toEqual(['hingeA', 'grip', 'hingeB', 'grip']);
    expect(withPoint(fan, 'c1')).toBeNull();
    const row = ['c1', 'c2', 'grip', 's1-lid'].reduce((d, id) => withPoint(d, id)!, emptyDraft('in-line', plain()));
    expect(row.points).toHaveLength(4);
    expect(rolesOf(row)[3]).toBe('Point 4');
  });
});
