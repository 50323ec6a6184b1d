import { describe, expect, it } from 'vitest';
import { LidwrightError, attempt, fail, wordsOf } from '../../../core/error';

describe('attempt', () => {
  it('gives what came, with no error', () => {
    expect(attempt(() => 3)).toEqual({ value: 3, error: null });
    expect(attempt(() => null)).toEqual({ value: null, error: null });
  });

  it('gives the error of a refusal whole: what, where, advice and every further one', () => {
    const refusal = new LidwrightError({ what: 'a', where: ['points', 1], advice: 'b' }, [
      { what: 'c', where: [], advice: 'd' },
    ]);
    const { value, error } = attempt(() => {
      throw refusal;
    });
    expect(value).toBeNull();
    expect(error).toBe(refusal);
  });

  it('throws on what is no refusal: a fault of the program is never taken for an answer', () => {
    expect(() => attempt(() => (undefined as unknown as { x: number }).x)).toThrow(TypeError);
  });
});

describe('wordsOf', () => {
  it('says what and what to do, not where', () =>
    expect(wordsOf({ what: 'it is no number', where: ['points', 0], advice: 'Type one.' })).toBe(
      'it is no number. Type one.',
    ));

  it('sets one full stop', () => {
    const { error } = attempt(() => fail('It is no number.', [], 'Type one.'));
    expect(wordsOf(error!)).toBe('It is no number. Type one.');
  });
});
