// What a slider does to the job and to undo, apart from any screen.
import { beforeEach, describe, expect, it } from 'vitest';
import { removePoint, setPhoto, writeJob } from '../../../core/job';
import { bench, cancelDrag, dispatch, edit, finishDrag, openJob, undoStep } from '../../../renderer/state/store';
import { example } from '../../core/examples/example';

const state = () => bench.getState();
const opacity = (): number | undefined => state().history.present.photos![0]!.opacity;
const slide = (to: number): boolean =>
  dispatch({
    ...{ name: 'Set the photo’s opacity', step: 'gesture' },
    edit: (job) => setPhoto(job, { id: job.photos![0]!.id, patch: { opacity: to } }),
  });

describe('a gesture', () => {
  beforeEach(() => {
    const job = example('workboat-hatch');
    openJob(job, { name: 'a', token: null, photosFrom: null, saved: job, draftId: 'a' });
  });

  it('of twenty ticks is one undo step, each shown at once', () => {
    const before = writeJob(state().history.present);
    for (let i = 1; i <= 20; i++) {
      expect(slide(i / 20)).toBe(true);
      expect(opacity()).toBe(i / 20);
    }
    finishDrag('Set the photo’s opacity');
    expect(state().history.past.map((s) => s.label)).toEqual(['Set the photo’s opacity']);
    expect(opacity()).toBe(1);
    undoStep();
    expect(writeJob(state().history.present)).toBe(before);
    expect(state().history.past).toEqual([]);
  });

  it('taken back leaves the very job of its start, and undo and redo as they were', () => {
    edit('Title', (job) => ({ ...job, title: 'x' }));
    undoStep();
    const { present, past, future } = state().history;
    slide(0.1);
    slide(0.9);
    cancelDrag();
    expect(state().history).toMatchObject({ mark: null });
    expect(state().history.present).toBe(present);
    expect([state().history.past, state().history.future]).toEqual([past, future]);
  });

  it('that core refuses changes nothing, at its start and on the way', () => {
    const bad = () => dispatch({ name: 'x', step: 'gesture', edit: (job) => removePoint(job, { id: 'grip' }) });
    const { history } = state();
    expect(bad()).toBe(false);
    expect(state().history).toBe(history);
    slide(0.3);
    expect(bad()).toBe(false);
    expect(opacity()).toBe(0.3);
    expect(state().notices.at(-1)).toMatchObject({ tone: 'bad' });
    finishDrag('x');
    expect(state().history.past).toHaveLength(1);
  });

  it('undone while it goes on goes back to its start', () => {
    const { present } = state().history;
    slide(0.3);
    undoStep();
    expect(state().history).toMatchObject({ present, mark: null });
  });

  it('ended twice, or where none goes on, is no step', () => {
    finishDrag('x');
    expect(state().history.past).toEqual([]);
    slide(0.3);
    finishDrag('x');
    finishDrag('x');
    expect(state().history.past).toHaveLength(1);
  });
});

describe('an action that can’t be undone', () => {
  it('begins the history anew, and what changes with it changes in the same moment', () => {
    edit('Title', (job) => ({ ...job, title: 'x' }));
    let seen = 0;
    const off = bench.subscribe((now) => {
      seen++;
      expect([now.history.present.title, now.stage]).toEqual(['fresh', 'weigh']);
    });
    dispatch({ name: 'Open', step: 'never', edit: (job) => ({ ...job, title: 'fresh' }) }, { stage: 'weigh' });
    off();
    expect(seen).toBe(1);
    expect(state().history).toMatchObject({ past: [], future: [], mark: null });
  });
});
