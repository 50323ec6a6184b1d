import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { movePoint, readJob, removePoint, setValue, writeJob } from '../../../core/job';
import {
  bench,
  cancelDrag,
  edit,
  finishDrag,
  isUnsaved,
  moveDrag,
  openJob,
  redoStep,
  setAngle,
  setUnits,
  showFinding,
  startDrag,
  stageOf,
  undoStep,
} from '../../../renderer/state/store';

const text = readFileSync(new URL('../../../tests/fixtures/jobs/workboat-hatch.lidjob', import.meta.url), 'utf8');
const state = () => bench.getState();
const lidEnd = (): unknown => state().history.present.points.find((p) => p.id === 's1-lid')!.at;
const drag = { kind: 'point', pointId: 's1-lid', plane: 'side', from: [-290, -516, 372] } as const;

beforeEach(() => {
  const job = readJob(text);
  openJob(job, { name: 'a.lidjob', token: null, photosFrom: null, saved: job, draftId: 'a' });
});

describe('the store', () => {
  it('opens a job worked out, nothing to undo, nothing unsaved', () => {
    expect(state().outcome!.findings.length).toBeGreaterThan(10);
    expect(state().trouble).toEqual([]);
    expect(state().history.past).toEqual([]);
    expect(isUnsaved(state())).toBe(false);
  });

  it('a drag is one undo step, each move from the start, results live on the way', () => {
    const before = writeJob(state().history.present);
    const seen = new Set<unknown>();
    startDrag(drag);
    for (let i = 1; i <= 20; i++) {
      moveDrag((start) => movePoint(start, { id: 's1-lid', at: [-290 + 2 * i, -516, 372] }));
      seen.add(state().outcome!.tables[0]!.struts[0]!.lengthMm[0]);
    }
    expect(seen.size).toBe(20);
    finishDrag('Move it');
    expect(lidEnd()).toEqual([-250, -516, 372]);
    expect(state().history.past.map((s) => s.label)).toEqual(['Move it']);
    expect(isUnsaved(state())).toBe(true);
    undoStep();
    expect(writeJob(state().history.present)).toBe(before);
    expect(isUnsaved(state())).toBe(false);
    redoStep();
    expect(lidEnd()).toEqual([-250, -516, 372]);
  });

  it('what a drag shows live is what a fresh working-out gives', () => {
    startDrag(drag);
    for (const x of [-280, -120, -260]) moveDrag((start) => movePoint(start, { id: 's1-lid', at: [x, -516, 372] }));
    // costly advice, clearances and strength may lag behind while the drag goes on; every number else is live
    const numbers = () =>
      state()
        .outcome!.findings.filter((f) => !/^(clearance|bracket-strength)/.test(f.id))
        .map(({ id, case: c, state: s, value, margin, worstDeg }) => [id, c, s, value, margin, worstDeg]);
    const moving = JSON.stringify(numbers());
    finishDrag('Move it');
    const live = JSON.stringify(state().outcome!.findings);
    expect(JSON.stringify(numbers())).toBe(moving);
    const job = readJob(writeJob(state().history.present));
    openJob(job, { name: 'b', token: null, photosFrom: null, saved: job, draftId: 'b' });
    expect(JSON.stringify(state().outcome!.findings)).toBe(live);
  });

  it('a drag taken back leaves job, undo and redo as they were', () => {
    edit('Heavier', (job) => setValue(job, { path: ['masses', 0, 'kg'], value: 40 }));
    undoStep();
    const { history } = state();
    startDrag(drag);
    moveDrag((start) => movePoint(start, { id: 's1-lid', at: [0, 0, 0] }));
    cancelDrag();
    expect(state().history.present).toBe(history.present);
    expect(state().history.past).toEqual(history.past);
    expect(state().history.future).toEqual(history.future);
    expect(state().drag).toBeNull();
  });

  it('a press that moves nothing is no step', () => {
    startDrag(drag);
    finishDrag('Move it');
    expect(state().history.past).toEqual([]);
  });

  it('trouble is told and the drawing stays; mended, the results are back', () => {
    const b = state().history.present.points.find((p) => p.id === 'hingeB')!.at;
    const a = state().history.present.points.find((p) => p.id === 'hingeA')!.at as [number, number, number];
    const good = JSON.stringify(state().outcome!.findings);
    edit('On one spot', (job) => movePoint(job, { id: 'hingeB', at: a }));
    expect(state().outcome).toBeNull();
    expect(state().trouble.length).toBeGreaterThan(0);
    expect(state().trouble[0]!.what).toMatch(/hinge/i);
    expect(state().resolved.points.length).toBe(12);
    edit('Apart again', (job) => movePoint(job, { id: 'hingeB', at: b as [number, number, number] }));
    expect(state().trouble).toEqual([]);
    expect(JSON.stringify(state().outcome!.findings)).toBe(good);
    undoStep();
    expect(state().outcome).toBeNull();
    undoStep();
    expect(JSON.stringify(state().outcome!.findings)).toBe(good);
  });

  it('an edit that core refuses changes nothing and is said', () => {
    const { history } = state();
    expect(edit('Remove the grip', (job) => removePoint(job, { id: 'grip' }))).toBe(false);
    expect(state().history).toBe(history);
    expect(state().notices.at(-1)).toMatchObject({ tone: 'bad' });
  });

  it('units and the angle are no part of the job', () => {
    const { history } = state();
    setUnits({ length: 'in', force: 'lbf' });
    setAngle(200);
    expect(state().angleDeg).toBe(70);
    setAngle(-3);
    expect(state().angleDeg).toBe(0);
    expect(state().history).toBe(history);
    expect(state().outcome!.findings.some((f) => f.text.includes('lbf'))).toBe(true);
    setUnits({ length: 'mm', force: 'N' });
  });

  it('a finding is shown at its worst angle, with its thing chosen and its stage known', () => {
    for (const finding of state().outcome!.findings) {
      showFinding(finding);
      if (finding.worstDeg !== null) expect(state().angleDeg).toBeCloseTo(finding.worstDeg, 9);
      expect(['weigh', 'place', 'strut', 'joints', 'bracket']).toContain(stageOf(finding));
      if (finding.subject === 's1') expect(state().selection).toEqual({ kind: 'strut', id: 's1' });
    }
  });

  it('what an end turns in and is screwed with leads to the joints', () => {
    const found = bench.getState().findings.filter(({ id }) => /^(base|lid)-(joint|swing|thread)$/.test(id));
    expect(found.map(({ id }) => id)).toContain('base-thread');
    for (const finding of found) expect(stageOf(finding), finding.id).toBe('joints');
  });
});
