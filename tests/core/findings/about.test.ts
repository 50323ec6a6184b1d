import { describe, expect, it } from 'vitest';
import { type Finding, aboutOf, headline, isMost, usedShare, verdict, worstFirst } from '../../../core/findings';
import { METRIC } from '../../../core/quantity';
import { checkJob } from '../../../core/result';
import { exampleFiles, jobAt } from '../../support/files';

const finding = (patch: Partial<Finding>): Finding => ({
  ...{ id: 'hand-closing', case: 'a', everyCase: false, subject: 'grip', state: 'fails' },
  ...{ value: 224, limit: 200, margin: -24, unit: 'N', worstDeg: 0, text: 'x', advice: '' },
  ...patch,
});

describe('findings in a line', () => {
  it('says what it is about, its number, and how far over or short it is', () => {
    expect(headline(finding({}), METRIC)).toBe('Pulling it shut: 224 N, 24 N too much');
    const short = finding({ id: 'closed-reserve', unit: 'mm', value: 3, limit: 5, margin: -2 });
    expect(headline(short, METRIC)).toBe('Stroke left when closed: 3.0 mm, 2.0 mm short');
    expect(headline(finding({ state: 'holds', value: 120, margin: 80 }), METRIC)).toBe('Pulling it shut: 120 N');
    const none = { value: null, limit: null, margin: null } as const;
    expect(headline(finding({ ...none, text: 'Not known: no load case for wind.' }), METRIC)).toBe(
      'No load case for wind',
    );
    const long = finding({ ...none, id: 'asked', text: `${'long '.repeat(30)}. More.` });
    expect(headline(long, METRIC)).toBe('What nobody has asked');
  });

  it('tells a most from a least, and how much of it is used', () => {
    expect(isMost(finding({}))).toBe(true);
    expect(usedShare(finding({}))).toBeCloseTo(1.12, 12);
    const reserve = { id: 'closed-reserve', unit: 'mm', limit: 5 } as const;
    const least = finding({ ...reserve, value: 4, margin: -1 });
    expect(isMost(least)).toBe(false);
    expect(usedShare(least)).toBeCloseTo(1.25, 12);
    expect(usedShare(finding({ ...reserve, value: -3, margin: -8 }))).toBe(Infinity);
    expect(usedShare(finding({ ...reserve, state: 'holds', value: 20, margin: 15 }))).toBeCloseTo(0.25, 12);
    // just at the limit it is the demand that says which
    expect(isMost(finding({ ...reserve, state: 'holds', value: 5, margin: 0 }))).toBe(false);
    expect(isMost(finding({ state: 'holds', value: 200, margin: 0 }))).toBe(true);
    expect(usedShare(finding({ limit: 0, margin: -224 }))).toBeNull();
    expect(usedShare(finding({ limit: null, margin: null }))).toBeNull();
  });

  it('gives one verdict: what fails, then what is not known; cautions and further load cases count for nothing', () => {
    const caution = finding({ state: 'unknown', id: 'drop-energy', caution: true });
    expect(verdict([finding({}), finding({ case: 'b' }), finding({ subject: 'other' }), caution])).toEqual({
      words: 'Not yet: 2 things fail',
      state: 'fails',
    });
    expect(verdict([finding({})]).words).toBe('Not yet: 1 thing fails');
    expect(verdict([finding({ state: 'unknown' }), caution]).words).toBe('Nothing fails, but 1 thing is not known');
    expect(verdict([finding({ state: 'watch' }), caution]).words).toBe('Ready to order');
    // a check that is still to be made may fail
    expect(verdict([finding({ state: 'watch' })], true)).toEqual({
      words: 'Not all is worked out yet',
      state: 'unknown',
    });
    expect(verdict([finding({})], true).words).toBe('Not yet: 1 thing fails');
  });

  it('puts what fails worst first', () => {
    const [a, b] = [finding({ value: 210, margin: -10 }), finding({ subject: 's', value: 300, margin: -100 })];
    expect(worstFirst([finding({ state: 'holds' }), a, b])[0]).toBe(b);
  });

  it.each(exampleFiles())('every finding of %s has its text', (path) => {
    for (const { id } of checkJob(jobAt(path)).findings) {
      const { name: called, what, how } = aboutOf(id);
      expect(called, id).not.toBe(id);
      expect(`${what}${how}`.length, id).toBeGreaterThan(60);
    }
  });
});
