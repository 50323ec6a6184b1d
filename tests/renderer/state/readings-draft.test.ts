import { describe, expect, it } from 'vitest';
import { type Job, type JobObservation, setGivens } from '../../../core/job';
import { METRIC } from '../../../core/quantity';
import { type SurveyReading, TYPED_KINDS } from '../../../core/survey';
import {
  type Draft,
  cellsOf,
  draftOf,
  emptyDraft,
  firstGap,
  nextDraft,
  patchOf,
  readDraft,
  textOf,
  withKind,
  withText,
} from '../../../renderer/state/readings-draft';
import { scatterWords } from '../../../renderer/stages/measure/readings/result-words';
import { inUnit, verdictWords } from '../../../renderer/stages/measure/readings/row-words';
import { example } from '../../core/examples/example';

const job = (): Job =>
  setGivens(
    { ...example('workboat-hatch'), observations: [], relations: [] },
    { givens: [{ name: 'reach', expression: '800 mm' }] },
  );
const typed = (kind: Draft['kind'], cells: Partial<Record<string, string>>): Draft =>
  Object.entries(cells).reduce((d, [cell, text]) => withText(d, cell as 'value', text!), emptyDraft(kind));
const read = (draft: Draft, units = METRIC) => readDraft(draft, job(), units);

describe('a reading while it is typed', () => {
  it('goes from gap to gap until it is whole', () => {
    let draft = emptyDraft('coordinate');
    const order: string[] = [];
    for (let gap = firstGap(draft); gap; gap = firstGap(draft)) {
      order.push(gap);
      expect(read(draft)).toMatchObject({ cell: gap, message: expect.stringMatching(/\.$/) });
      draft = withText(draft, gap, { p0: 'lift handle', axis: 'z', value: '430' }[gap as 'p0']);
    }
    expect(order).toEqual(['p0', 'axis', 'value']);
    expect(read(draft)).toEqual({ reading: { kind: 'coordinate', points: ['grip'], axis: 'z', valueMm: 430 } });
  });

  it('takes beginnings of names, any unit and expressions', () => {
    expect(read(typed('tape', { p0: 'po hi', p1: 's1-lid', value: '32 3/8 in', sigma: '±2', lid: '40' }))).toEqual({
      reading: { kind: 'tape', points: ['hingeA', 's1-lid'], valueMm: 822.325, sigmaMm: 2, atDeg: 40 },
    });
    expect(read(typed('tape', { p0: 'po hi', p1: 'lift', value: 'reach + 20' }))).toMatchObject({
      reading: { valueMm: { expression: 'reach + 20', unit: 'mm' } },
    });
    // a bare number is in the shown unit
    expect(read(typed('tape', { p0: 'po hi', p1: 'lift', value: '10' }), { ...METRIC, length: 'in' })).toMatchObject({
      reading: { valueMm: 254 },
    });
  });

  it.each([
    ['p1', { p0: 'po hi', p1: 'corner', value: '800' }, 'No one point'],
    ['p1', { p0: 'po hi', p1: 'Port hinge pin', value: '800' }, 'twice'],
    ['value', { p0: 'po hi', p1: 'lift', value: '800 kg' }, 'kg'],
    ['value', { p0: 'po hi', p1: 'lift', value: '-3' }, 'over 0'],
    ['sigma', { p0: 'po hi', p1: 'lift', value: '800', sigma: '0' }, '0'],
    ['lid', { p0: 'po hi', p1: 'lift', value: '800', lid: '400' }, '400'],
  ] as const)('is refused at the cell %s', (cell, cells, words) => {
    const found = read(typed('tape', cells));
    expect(found).toMatchObject({ cell });
    expect((found as { message: string }).message).toContain(words);
  });

  it('of every kind has cells, and comes back from the job as it was typed', () => {
    for (const kind of TYPED_KINDS) {
      const draft = typed(kind, {
        p0: 'Port hinge pin',
        p1: 'Lift handle',
        p2: 'Strut, base end',
        p3: 'Strut, lid end',
        value: '12.5',
        axis: 'y',
        datum: '3',
        sigma: '0.4',
        lid: '20',
      });
      const cells = cellsOf(kind);
      const found = read(draft) as { reading: Omit<JobObservation, 'id'> };
      expect(found.reading.kind).toBe(kind);
      const back = draftOf({ id: 'r', ...found.reading }, job(), METRIC);
      for (const cell of cells) expect(textOf(back, cell)).toBe(textOf(draft, cell));
    }
  });

  it('is followed by one of the same kind, instrument and lid', () => {
    const next = nextDraft(
      typed('coordinate', { p0: 'grip', axis: 'z', datum: '40', value: '3', sigma: '2', lid: '30' }),
    );
    expect(next).toMatchObject({ kind: 'coordinate', axis: 'z', datum: '40', sigma: '2', lid: '30', value: '' });
    expect(firstGap(next)).toBe('p0');
  });
});

describe('a reading changed in its row', () => {
  const old: JobObservation = {
    id: 'r',
    kind: 'tape',
    points: ['hingeA', 'grip'],
    valueMm: 812.34567,
    sigmaMm: { given: 'reach' },
  };
  const before = draftOf(old, job(), METRIC);
  const change = (draft: Draft) => patchOf(old, before, draft, (read(draft) as { reading: never }).reading);

  it('keeps to the last digit what was not touched', () => {
    expect(change(withText(before, 'p1', 'c1'))).toMatchObject({
      points: ['hingeA', 'c1'],
      valueMm: 812.34567,
      sigmaMm: { given: 'reach' },
    });
    expect(change(withText(before, 'value', '900')).valueMm).toBe(900);
  });

  it('lets go of what another kind has no place for', () => {
    const patch = change(withText(withKind(before, 'on-line'), 'p2', 'c2'));
    expect(patch).toMatchObject({
      kind: 'on-line',
      points: ['hingeA', 'grip', 'c2'],
      valueMm: undefined,
      sigmaMm: undefined,
    });
  });
});

describe('words of the result', () => {
  const r: SurveyReading = {
    id: 'r',
    kind: 'tape',
    name: 'the tape',
    unit: 'mm',
    residual: 0.7,
    sigma: 1,
    redundancy: 0.5,
    w: 1,
    detectable: 6,
    blunder: -1.4,
    verdict: 'fits',
  };
  it('say a verdict and its size', () => {
    expect(verdictWords(r, false, METRIC)).toBe('fits; a slip over 6.0 mm would show');
    expect(verdictWords({ ...r, verdict: 'suspicious', blunder: 11.2 }, false, METRIC)).toBe(
      'in doubt: 11.2 mm too much',
    );
    expect(verdictWords({ ...r, verdict: 'uncontrolled', w: null }, false, METRIC)).toBe('nothing checks it');
    expect(verdictWords(r, true, METRIC)).toBe('switched off');
    expect(verdictWords(undefined, false, METRIC)).toContain('not worked out');
  });
  it('sign a residual only where it shows', () => {
    expect(inUnit(0.7, 'mm', METRIC, true)).toBe('+0.7 mm');
    expect(inUnit(0.01, 'mm', METRIC, true)).toBe('0.0 mm');
    expect(inUnit(-0.7, 'mm', METRIC, true)).toBe('−0.7 mm');
    expect(inUnit(0.25, 'deg', METRIC, true)).toBe('+0.25°');
  });
  it('say how the readings agree', () => {
    const base = { readings: [r, r, r], freedom: 2, s0: 1.04, chance: 0.3, widened: false, problem: null };
    const words = (patch: object): string => scatterWords({ ...base, ...patch } as never);
    expect(words({})).toBe(
      '3 readings in use, 2 more than needed: they check one another twice. They scatter 1.04 times as much as their ± says (s₀ 1.04): chance alone would do that.',
    );
    expect(words({ widened: true, s0: 3 })).toContain('more than chance does');
    expect(words({ freedom: 0, s0: null })).toContain('Nothing checks them yet');
  });
});
