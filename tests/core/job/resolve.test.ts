// Givens and expressions become numbers; defaults are the expected ones; what can't be is refused with its place.
import { describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS, type Job, jobIssues, resolveGivens, resolveJob } from '../../../core/job';
import { lid } from '../../support/build';
import { expectClose, within } from '../../support/close';
import { exampleFiles, jobAt } from '../../support/files';
import { deepFreeze } from '../../support/freeze';
import { refusal, said } from '../../support/refusal';

const base = (over: Partial<Job> = {}): Job =>
  deepFreeze({
    ...lid({
      a: [0, 310, 20],
      b: [4, -290, 22],
      grip: [705, 12, 31],
      masses: [{ kg: 17, at: [350, 5, 60] }],
      struts: [{ base: [110, 280, -300], lid: [260, 285, 8] }],
    }),
    ...over,
  } as Job);
const givens = (...pairs: [string, string][]): Job =>
  base({ givens: pairs.map(([name, expression]) => ({ name, expression })) });
const withPoint = (job: Job, x: unknown): Job =>
  ({ ...job, points: job.points.map((p, i) => (i === 2 ? { ...p, at: [x, 12, 31] } : p)) }) as Job;

describe('givens', () => {
  it('keep their units and may use each other in any order', () => {
    const job = withPoint(givens(['reach', 'half * 2 + 5 mm'], ['half', 'width/2'], ['width', '12 in'], ['n', '3']), {
      expression: 'n * reach',
    });
    expectClose(resolveJob(job).points[2]!.at[0], 3 * (12 * 25.4 + 5), within(1e-9, 'mm'));
  });
  it('a field may name a given outright, with or without a unit of its own', () => {
    expectClose(
      resolveJob(withPoint(givens(['reach', '2 ft']), { given: 'reach' })).points[2]!.at[0],
      609.6,
      within(1e-9, 'mm'),
    );
    expectClose(
      resolveJob(withPoint(givens(['reach', '610']), { given: 'reach' })).points[2]!.at[0],
      610,
      within(0, 'mm'),
    );
  });
  it('bare numbers of an expression count in the unit beside it', () => {
    expectClose(
      resolveJob(withPoint(base(), { expression: '24', unit: 'in' })).points[2]!.at[0],
      609.6,
      within(1e-9, 'mm'),
    );
  });
  it.each<[string, [string, string][], RegExp]>([
    ['itself', [['a', 'a + 1']], /circle: a → a/],
    [
      'two',
      [
        ['a', 'b'],
        ['b', 'a'],
      ],
      /circle: a → b → a/,
    ],
    [
      'three behind a tail',
      [
        ['t', 'a'],
        ['a', 'b'],
        ['b', 'c'],
        ['c', 'a'],
      ],
      /circle: a → b → c → a/,
    ],
  ])('a circle of %s is named, not followed', (_, pairs, wanted) => {
    expect(said(refusal(() => resolveGivens(givens(...pairs)))).join('\n')).toMatch(wanted);
  });
  it('a chain of 500 resolves', () => {
    const pairs = Array.from({ length: 500 }, (_, i): [string, string] => [
      `g${i}`,
      i === 499 ? '1 mm' : `g${i + 1} + 1 mm`,
    ]);
    const scope = resolveGivens(givens(...pairs));
    expect(scope.size).toBe(500);
  });
  it('each fault of the givens is listed with its place', () => {
    const error = refusal(() =>
      resolveGivens(givens(['mm', '1'], ['x', '1 +'], ['x', '2'], ['y', 'gone + 1'], ['', '1'])),
    );
    expect(said(error)).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^givens\[0\]\.name: "mm" can't/),
        expect.stringMatching(/^givens\[1\]\.expression: /),
        expect.stringMatching(/^givens\[2\]\.name: the given "x" stands twice/),
        expect.stringMatching(/^givens\[3\]\.expression: "gone" is neither/),
        expect.stringMatching(/^givens\[4\]\.name: /),
      ]),
    );
  });
  it.each([
    ['a given that is not there', { given: 'nowhere' }, /points\[2\]\.at\[0\]: there is no given "nowhere"/],
    ['an expression of another kind', { expression: '3 kg' }, /points\[2\]\.at\[0\]: "3 kg" is not a length/],
    [
      'a number beyond all measure',
      1e7,
      /points\[2\]\.at\[0\]: 1e\+?7 mm is out of bounds|10000000 mm is out of bounds/,
    ],
    ['an expression beyond all measure', { expression: '2000 km' }, /out of bounds/],
  ])('%s is refused with its place', (_, x, wanted) => {
    expect(said(refusal(() => resolveJob(withPoint(base(), x)))).join('\n')).toMatch(wanted);
  });
});

describe('defaults', () => {
  const bare = {
    ...base(),
    hinge: { a: 'A', b: 'B', opens: 'up' },
    loadCases: [{ id: 'only' }],
    struts: base().struts.map(({ quantity: _q, ...s }) => {
      const { frictionN: _f, toleranceN: _t, ...spec } = s.spec;
      return { ...s, spec };
    }),
  } as Job;
  it('are none, level, 20 °C, one strut, nominal force, and the usual limits', () => {
    const job = resolveJob(bare);
    expect(job.hinge.frictionNm).toBe(0);
    expect(job.struts[0]!.quantity).toBe(1);
    expect(job.struts[0]!.spec.frictionN).toBe(0);
    expect(job.struts[0]!.spec.toleranceN).toEqual([0, 0]);
    expect(job.loadCases[0]).toMatchObject({
      id: 'only',
      name: 'As used, 20 °C',
      off: [],
      pitchDeg: 0,
      rollDeg: 0,
      tempC: 20,
      force: 'nominal',
    });
    expect(job.limits).toEqual(DEFAULT_LIMITS);
    expect([job.outline, job.photos, job.brackets]).toEqual([[], [], []]);
  });
  it('one limit given leaves the others as they are', () => {
    expect(resolveJob({ ...bare, limits: { handOpenN: 90 } } as Job).limits).toEqual({
      ...DEFAULT_LIMITS,
      handOpenN: 90,
    });
  });
  it('resolving never writes into the job', () => {
    for (const file of exampleFiles()) {
      const job = deepFreeze(jobAt(file));
      const text = JSON.stringify(job);
      resolveJob(job);
      expect(JSON.stringify(job)).toBe(text);
    }
  });
});

describe('a job that can’t be computed says why', () => {
  const strut = (over: object): Partial<Job> =>
    ({ struts: base().struts.map((s) => ({ ...s, ...over })) }) as Partial<Job>;
  const end = (over: object): Partial<Job> =>
    strut({ ends: { base: { fitting: 'ball-stud', rangeDeg: 18, ...over }, lid: base().struts[0]!.ends.lid } });
  it.each<[string, Partial<Job>, RegExp]>([
    [
      'hinge points in one place',
      { hinge: { a: 'A', b: 'A', opens: 'up' } } as Partial<Job>,
      /^hinge\.b: both hinge points/,
    ],
    [
      'a hinge point that is not there',
      { hinge: { a: 'A', b: 'gone', opens: 'up' } } as Partial<Job>,
      /^hinge\.b: .*"gone", which is not there/,
    ],
    ['a grip on the base', { grip: 'B' }, /^grip: .*rides on the base/],
    ['a mass on the base', { masses: [{ id: 'm', kg: 3, at: 's0-base' }] }, /^masses\[0\]\.at: .*rides on the base/],
    ['a mass nowhere', { masses: [{ id: 'm', kg: 3, at: 'gone' }] }, /^masses\[0\]\.at: .*not there/],
    [
      'two masses of one id',
      {
        masses: [
          { id: 'm', kg: 3, at: 'm0' },
          { id: 'm', kg: 4, at: 'm0' },
        ],
      },
      /^masses\[1\]\.id: the id "m" stands twice/,
    ],
    ['a corner nowhere', { outline: ['grip', 'gone'] }, /^outline\[1\]: /],
    [
      'a load case that takes off nothing known',
      { loadCases: [{ id: 'c', off: ['gone'] }] },
      /^loadCases\[0\]\.off\[0\]: .*no mass/,
    ],
    ['strut ends exchanged', strut({ base: 's0-lid', lid: 's0-base' }), /^struts\[0\]\.base: .*rides on the lid/],
    [
      'a stroke of nothing',
      strut({ spec: { ...base().struts[0]!.spec, strokeMm: 0 } }),
      /^struts\[0\]\.spec\.strokeMm: /,
    ],
    ['a stem of no length', end({ stem: [0, 0, 0] }), /^struts\[0\]\.ends\.base\.stem: .*no length/],
    ['neither stem nor mount', end({}), /^struts\[0\]\.ends\.base: .*neither/],
    [
      'both stem and mount',
      end({ stem: [0, 1, 0], mount: { normal: [0, 0, 1], reference: [1, 0, 0] } }),
      /^struts\[0\]\.ends\.base\.stem: .*both/,
    ],
    [
      'a normal of no length',
      end({ mount: { normal: [0, 0, 0], reference: [1, 0, 0] } }),
      /mount\.normal: .*no length/,
    ],
    [
      'a reference along the normal',
      end({ mount: { normal: [0, 0, 2], reference: [0, 0, -5] } }),
      /mount\.reference: .*along its normal/,
    ],
    ['a reference of no length', end({ mount: { normal: [0, 0, 2], reference: [0, 0, 0] } }), /mount\.reference: /],
  ])('%s', (_, over, wanted) => {
    const issues = jobIssues(resolveJob(base(over)));
    expect(
      issues
        .map(
          (i) =>
            `${i.where
              .map((w) => (typeof w === 'number' ? `[${w}]` : `.${w}`))
              .join('')
              .slice(1)}: ${i.what}`,
        )
        .join('\n'),
    ).toMatch(wanted);
    for (const issue of issues) expect(issue.advice).not.toBe('');
  });
  it('a good job has no issues', () => expect(jobIssues(resolveJob(base()))).toEqual([]));
});
