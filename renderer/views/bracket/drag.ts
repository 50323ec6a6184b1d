import { bracketSpecOf, type Face, type Handle, handlesOf, type Point2 } from '../../../core/bracket';
import { attempt, wordsOf } from '../../../core/error';
import { type Job, resolveJob } from '../../../core/job';
import { MM_PER_INCH } from '../../../core/quantity';
import { bench, cancelDrag, finishDrag, moveDrag, notify, startDrag } from '../../state/store';

/** Values that are dragged come to whole steps of this; with Alt to the finest that is kept. Inches: 1/64. */
const stepMm = (fine: boolean): number =>
  fine ? 0.05 : bench.getState().units.length === 'in' ? MM_PER_INCH / 64 : 0.5;

/** Rounds to whole steps. */
const rounder =
  (fine: boolean) =>
  (mm: number): number =>
    Math.round(mm / stepMm(fine)) * stepMm(fine);

/** The handle of a job's bracket, or undefined when it has none of that name any more. */
export function handleIn(job: Job, bracketId: string, face: Face, id: string): Handle | undefined {
  const bracket = resolveJob(job).brackets.find((b) => b.id === bracketId);
  return bracket && handlesOf(bracketSpecOf(bracket), face).find((h) => h.id === id);
}

/**
 * Takes a handle by the pointer until it is let go, as one undo step; Esc goes back. Each move is computed from the job at
 * the start. What core refuses is said where the pointer is, and the last that could be made stays.
 */
export function dragHandle(
  e: React.PointerEvent<HTMLElement>,
  input: {
    readonly bracketId: string;
    readonly handle: Handle;
    readonly face: Face;
    readonly pxPerMm: number;
    readonly refused: (why: string) => void;
  },
): void {
  const { bracketId, handle, face, pxPerMm, refused } = input;
  const target = e.currentTarget;
  const id = e.pointerId;
  const from: Point2 = [e.clientX, e.clientY];
  let good: Job | null = null;
  let why = '';
  let frame = 0;
  let last: PointerEvent | null = null;
  startDrag({ kind: 'bracket', bracket: bracketId, handle: handle.id, face });
  target.setPointerCapture(id);

  const apply = (to: PointerEvent): void => {
    const by: Point2 = [(to.clientX - from[0]) / pxPerMm, (from[1] - to.clientY) / pxPerMm];
    moveDrag((start) => {
      const { value, error } = attempt(() => handle.move(start, by, rounder(to.altKey)));
      good = value ?? good;
      why = error ? wordsOf(error) : '';
      refused(why);
      return good ?? start;
    });
  };
  const flush = (): void => {
    frame = 0;
    if (last) apply(last);
    last = null;
  };
  const move = (to: PointerEvent): void => {
    if (to.pointerId !== id) return;
    last = to;
    if (frame === 0) frame = requestAnimationFrame(flush);
  };
  const stop = (): void => {
    cancelAnimationFrame(frame);
    target.removeEventListener('pointermove', move);
    target.removeEventListener('pointerup', up);
    target.removeEventListener('pointercancel', cancel);
    target.removeEventListener('lostpointercapture', cancel);
    window.removeEventListener('keydown', key, true);
    if (target.hasPointerCapture(id)) target.releasePointerCapture(id);
    refused('');
  };
  const up = (): void => {
    if (last) apply(last);
    stop();
    finishDrag(`Drag the ${lower(handle.name)}`);
    if (why) notify(why, 'bad');
  };
  const cancel = (): void => {
    stop();
    cancelDrag();
  };
  const key = (press: KeyboardEvent): void => {
    if (press.key !== 'Escape') return;
    press.preventDefault();
    press.stopPropagation();
    cancel();
  };
  target.addEventListener('pointermove', move);
  target.addEventListener('pointerup', up);
  target.addEventListener('pointercancel', cancel);
  target.addEventListener('lostpointercapture', cancel);
  window.addEventListener('keydown', key, true);
}

/** A name inside a sentence. */
export const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
